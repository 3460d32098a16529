"""What every page of a ballot must be: well-formed, labelled, and without anything that runs."""

import re
from html.parser import HTMLParser

_EMPTY = {"meta", "link", "input", "br", "hr", "img"}
_FIELDS = {"text", "search", "radio", "checkbox", "password"}


class Reading(HTMLParser):
    """A page read tag by tag.

    Attributes:
        elements: Every start tag with its attributes.
        faults: What is wrong with it.
        words: Its text.
    """

    def __init__(self, page):
        super().__init__(convert_charrefs=True)
        self.elements, self.faults, self._open, self.words = [], [], [], []
        self.feed(page)
        self.close()
        self.faults += [f"{name} is never closed" for name in self._open]

    def handle_starttag(self, tag, attrs):
        """Note an element, and open it."""
        names = [name for name, _ in attrs]
        if len(set(names)) != len(names):
            self.faults.append(f"{tag} has an attribute twice: {names}")
        self.elements.append((tag, dict(attrs)))
        if tag == "form" and "form" in self._open:
            self.faults.append("a form in a form")
        if tag not in _EMPTY:
            self._open.append(tag)

    def handle_endtag(self, tag):
        """Close the element that was opened last."""
        if not self._open or self._open.pop() != tag:
            self.faults.append(f"{tag} is closed and was not open")

    def handle_data(self, data):
        """Keep what is read."""
        self.words.append(data)

    @property
    def text(self):
        """All that is read, in one line."""
        return " ".join("".join(self.words).split())

    def all_of(self, tag, **wanted):
        """Attributes of every element of that name that has these."""
        return [
            found
            for name, found in self.elements
            if name == tag and all(found.get(key) == value for key, value in wanted.items())
        ]


def read(page):
    return Reading(page.text)


def faults_of(page):
    """What is wrong with a page; empty for one that may be sent."""
    reading = read(page)
    return [
        *reading.faults,
        *_ids(reading),
        *_unlabelled(reading),
        *_forbidden(reading),
        *_shape(reading),
    ]


def _ids(reading):
    ids = [found["id"] for _, found in reading.elements if "id" in found]
    yield from (f"id {one} stands twice" for one in set(ids) if ids.count(one) > 1)
    for tag, found in reading.elements:
        for name in ("for", "list", "aria-labelledby", "aria-describedby"):
            if name in found and found[name] not in ids:
                yield f"{tag} names {found[name]}, which is nowhere"


def _unlabelled(reading):
    labelled = {found.get("for") for found in reading.all_of("label")}
    for found in reading.all_of("input"):
        if found.get("type", "text") in _FIELDS and found.get("id") not in labelled:
            yield f"input {found.get('name')} has no label"


def _forbidden(reading):
    for tag, found in reading.elements:
        if tag in ("script", "style", "iframe", "object", "img", "base", "svg"):
            yield f"{tag} may not stand on a ballot"
        for name, value in found.items():
            if name == "style" or name.startswith("on"):
                yield f"{tag} has {name}"
            if name in ("href", "src", "action") and not re.match(r"/[^/]|data:,$", value or ""):
                yield f"{tag} leads to {value}"


def _shape(reading):
    html = reading.all_of("html")
    if len(html) != 1 or not html[0].get("lang"):
        yield "the page names no language"
    for tag in ("title", "main", "h1"):
        if len(reading.all_of(tag)) != 1:
            yield f"{len(reading.all_of(tag))} times {tag}"
