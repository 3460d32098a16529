"""Words to HTML: everything that a user may have typed passes through here first."""

import re
from html import escape
from typing import Final

_MARKDOWN: Final = re.compile(r"([\\`*_{}\[\]()#+\-.!|<>~$:^=/@&\"'])")


def escaped(text: object) -> str:
    """Text that is safe between tags and inside a quoted attribute."""
    return escape(str(text), quote=True)


def tag(name: str, inside: str = "", **attributes: str | int | None) -> str:
    """One HTML element.

    Args:
        name: The element's name.
        inside: HTML already; escape words before.
        attributes: Escaped here; a trailing underscore is dropped (``class_``), another one
            becomes a hyphen, and an attribute that is None or empty is left out.
    """
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escaped(value)}"'
        for key, value in attributes.items()
        if value is not None and value != ""
    )
    return f"<{name}{written}>{inside}</{name}>"


def unseen(text: str) -> str:
    """Words for a screen reader alone."""
    return tag("span", escaped(text), class_="unseen")


def plain_markdown(text: str) -> str:
    """Text for a widget's label, in which nothing is taken for Markdown.

    Labels load outside images and follow links otherwise.
    """
    return _MARKDOWN.sub(r"\\\1", text)
