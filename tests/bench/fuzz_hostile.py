"""Hostile values: what a slip, a broken export or somebody's ill will puts into a cell or a form.

Every maker takes a `random.Random`, so that a number names its input; the suites hand one of
hypothesis's in, which then makes a failing input smaller.
"""

from random import Random
from typing import Final

NUMBERS: Final = (
    *("0", "-0", "+0", "00", "-1", "1e9", "1e400", "1e-400", "1E5", "nan", "NaN", "inf", "-inf"),
    *("Infinity", "0x10", "1_000", "1,000", "2,5", "2.5", ".5", "5.", "1.2.3", "1e", "e5", "--3"),
    *("999999999999999999999999999999", "0.0000000001", "1/3", "3x", "x 3", "3 x 3", "x", "½"),
    *("10\u00b2", "\u2460", "\uff13", "\uff13.\uff15", "\u0663", "\u096b", "\u2167", "12\u2009000"),
    *("1e99", "-1e99", "9" * 40, "9" * 41, "0." + "0" * 41 + "1", "3\u00d7", "\u22123", "3 %"),
)  # fmt: skip
DAYS: Final = (
    *("2026-02-31", "31/02/2026", "0000-01-01", "0001-01-01", "9999-12-31", "10000-01-01"),
    *("2026-13-01", "13/13/2026", "1969-12-31", "1970-01-01", "2026-3-5", "2026-03-05T25:61"),
    *("29/02/2025", "29.2.2024", "05/03/26", "5 Mar 2026", "Mar 5, 2026", "Sept 9 2026", "0/0/2026"),
    *("2026\u201103\u201105", "\uff12\uff10\uff12\uff16-03-05", "2026-03-05 ", "today", "45000"),
    *("1e5/1/2026", "-1/-1/2026", "2026-03", "1 \u00c4rz 2026", "02/03/2026", "2099-01-01"),
)  # fmt: skip
WORDS: Final = (
    *("", " ", "\u00a0", "-", "?", "??", ".", "'", '"', '""', '"a""b"', "a;b,c\td", "=1+1", "+49 1"),
    *("=cmd|' /C calc'!A0", "@SUM(1)", "-1+1", "<script>alert(1)</script>", "{{7*7}}", "$HOME", "%s"),
    *("../../etc/passwd", "'; drop table answer; --", "null", "None", "true", "#REF!", "#N/A", "NULL"),
    *("diacetyl", "DIACETYL", "dia\u0063etyl", "d\u0456acetyl", "dms", "blank", "nothing", "nichts"),
    *("something", "right", "wrong", "yes", "no", "caf\u00e9", "cafe\u0301", "\ufb01ne", "Ann", "ANN"),
    *("\u202eabc", "a\u200bb", "a\u200db", "\u200d", "\ufeff", "a\x00b", "\x07", "a\nb", "a\r\nb", "\x85"),
    *("\u2028", "\ufffd", "\ud800", "\U0001f37a", "\u0130stanbul", "\u00df", "\u1e9e", "\u0345", "x" * 61),
    *("x" * 121, "x" * 501, "y" * 5000, "1" + " " * 3000 + "!", "\u0301" * 200, "a" + "\u0301" * 59, "\U000e0041", "\ufdfa" * 20),
    *("naming", "3-AFC", "triangle", "intensity", "a/not-a", "33 ug", "330 ml", "0,33 l", "1 kg", "5"),
)  # fmt: skip


def number(draw: Random) -> str:
    """A number as nobody should write it, now and then a good one."""
    if draw.random() < 0.3:
        return str(draw.choice((draw.randint(-3, 1200), round(draw.uniform(-1, 30), 3))))
    return draw.choice(NUMBERS)


def text(draw: Random) -> str:
    """A text of any kind: hostile, a number, a day, or letters drawn from all of Unicode."""
    kind = draw.random()
    if kind < 0.5:
        return draw.choice(WORDS)
    if kind < 0.65:
        return draw.choice(NUMBERS)
    if kind < 0.75:
        return draw.choice(DAYS)
    if kind < 0.9:
        return mutated(draw, draw.choice(WORDS)[:80])
    return "".join(chr(_code_point(draw)) for _ in range(draw.randint(0, 12)))


def _code_point(draw: Random) -> int:
    top = draw.choice((0x7F, 0xFF, 0x2FFF, 0xFFFF, 0x10FFFF))
    return draw.randint(0, top)


def mutated(draw: Random, good: str) -> str:
    """A text with a letter or so taken out, put in, doubled or replaced."""
    letters = list(good)
    for _ in range(draw.randint(1, 3)):
        at = draw.randint(0, len(letters))
        what = draw.randint(0, 3)
        if what == 0:
            letters[at : at + 1] = []
        elif what == 1:
            letters[at:at] = draw.choice(WORDS)[:30] or " "
        elif what == 2:
            letters[at:at] = letters[:at][-20:]
        else:
            letters[at : at + 1] = draw.choice(
                ("\x00", "\u202e", "'", '"', "9", "-", "\u00a0", "=", ".")
            )
    return "".join(letters)


def damaged(draw: Random, good: bytes) -> bytes:
    """Bytes of a good file with some changed, cut off, doubled, or in another encoding."""
    what = draw.randint(0, 7)
    at = draw.randint(0, len(good))
    if what == 0:
        return good[:at]
    if what == 1:
        return good[:at] + good[at + draw.randint(1, 60) :]
    if what == 2:
        return (
            good[:at] + bytes(draw.randint(0, 255) for _ in range(draw.randint(1, 8))) + good[at:]
        )
    if what == 3:
        return good[:at] + good[max(0, at - draw.randint(1, 300)) :]
    if what == 4:
        return (
            draw.choice((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff", b"\x00", b"PK\x03\x04")) + good
        )
    if what == 5:
        return _encoded_anew(draw, good)
    if what == 6:
        ends = draw.choice((b"\r\n", b"\r", b"\n\n", b"\x0b", b"\x0c", b"\n\r"))
        return good.replace(b"\n", ends, draw.choice((1, -1)))
    found = bytearray(good)
    for _ in range(draw.randint(1, 6)):
        if found:
            found[draw.randrange(len(found))] = draw.randint(0, 255)
    return bytes(found)


def _encoded_anew(draw: Random, good: bytes) -> bytes:
    encoding = draw.choice(
        ("utf-16", "utf-16-be", "utf-16-le", "utf-32", "cp1252", "utf-7", "cp037")
    )
    return good.decode("utf-8", "replace").encode(encoding, "replace")
