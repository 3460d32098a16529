"""Text that a spreadsheet would compute: disarmed by an apostrophe, and read back as it was meant."""

import re
from typing import Final

# What may stand before a formula without keeping a spreadsheet from seeing one: blanks, quotation
# marks, characters nobody sees.
_BEFORE: Final = "[ \\x0b\\x0c\\x1c-\\x1f\\x85\\xa0\u1680\u2000-\u200f\u2028\u2029\u202f\u205f\u2060\u3000\ufeff\"'`´‘’“”„«»]*"
# How a formula starts: OWASP's list against injection into CSV (its = + - @, tab, CR and LF; named from
# memory), and the same signs in full and small width.
_START: Final = "[=+\\-@\t\r\n＝＋－＠﹦﹢﹣﹫]"
# A cell starts at the start, and where a spreadsheet that parts cells by semicolons would start one.
_CELL: Final = "(?:^|(?<=[;\r\n]))"
_LIVE: Final = re.compile(f"{_CELL}(?={_BEFORE}{_START})")
_DISARMED: Final = re.compile(f"{_CELL}'(?={_BEFORE}{_START})")


def harmless(text: str) -> str:
    """Text that a spreadsheet shows and never computes; `as_meant` takes the apostrophes off again."""
    return _LIVE.sub("'", text)


def as_meant(text: str) -> str:
    """The text that `harmless` was given; any other text stays as it is."""
    return _DISARMED.sub("", text) if "'" in text else text
