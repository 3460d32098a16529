"""Hostile TOML: a good text with values, keys, lines and sections that don't belong there."""

from random import Random
from typing import Final

import fuzz_hostile as hostile

_LITERALS: Final = (
    *("nan", "-nan", "inf", "-inf", "1e400", "-1", "0", "-0.0", "1e-400", "0.0000000001", "true"),
    *("false", '""', '"x"', "[]", "{}", "[[]]", '[""]', "[1]", "{a = 1}", "0x1F", "1_000", "01", "1."),
    *("9999-12-31", "0001-01-01", "2026-02-30", "2026-03-01T10:00:00Z", "07:32:00", "2026-3-1"),
    *("9" * 40, "9" * 5000, "[" * 400 + "]" * 400, "[" * 30 + "]" * 30, "{a=" * 60 + "1" + "}" * 60),
    *('"\\u202e"', '"a\\u0000b"', '"\\ud800"', "'a'", '"""\na\n"""', '"=1+1"', '"diacetyl"', "70 %"),
    *("0,85", "1,5", "0.5", "3", "12", "1e2", "99999", "2", '"yes"', '["dms", "dms"]', '"share"', "?"),
    *('"k_of_n"', '"chance"', '"nothing"', '"guessing"', '"Europe/Nowhere"', '"../../UTC"', '"ug/l"'),
    *('["3afc"]', '["naming", "3afc"]', '"' + "x" * 70 + '"', '"' + "x" * 3000 + '"', "ü", "2026-03-01"),
    *('["' + "x" * 3000 + '"]', '["a\\u0000b"]', '["\\u202e banana"]', '["banana", "banana"]', '["nothing"]'),
)  # fmt: skip
_LINES: Final = (
    *("unknown = 1", "[unknown]", "[[unknown]]", "[a.b.c]", "= 1", "key", "[", "]]", '"" = 1', "a.b = 1"),
    *("[[also]]", "[compound]", "[[compounds]]", "[seat]", "[knows_beer]", "[family.wheat]", "\x00"),
    *("[beer_families.x]", "[[base_beers]]", 'words = ["banana"]', '"by" = "share"', "# \u202e", "\x0c"),
    *(".".join("a" * 900) + " = 1", "x" * 2100 + " = 1", "[" + ".".join("b" * 300) + "]", "\ufeff"),
    *("# \udcff", f"[beer_families.{'y' * 200}]", "[family.dms]", "1 = 2", "words = []", "value = 1"),
)  # fmt: skip


def mutated(draw: Random, good: str) -> bytes:
    """A TOML text with up to four things done to it."""
    lines = good.splitlines()
    if draw.random() < 0.3:
        return _numbers_moved(draw, lines).encode()
    for _ in range(draw.choice((1, 1, 1, 2, 2, 4))):
        _do_one(draw, lines)
    text = draw.choice(("\n", "\n", "\n", "\r\n")).join(lines) + "\n"
    if draw.random() < 0.04:
        text = hostile.mutated(draw, text)
    data = text.encode("utf-8", "surrogatepass")
    return hostile.damaged(draw, data) if draw.random() < 0.06 else data


def _numbers_moved(draw: Random, lines: list[str]) -> str:
    """The text with a few of its numbers moved, as somebody does who tries a rule out."""
    places = [n for n, line in enumerate(lines) if line[-1:].isdigit() and line.count("-") < 2]
    for at in draw.sample(places, min(len(places), draw.randint(1, 4))):
        key, _, value = lines[at].partition("=")
        lines[at] = f"{key}= {_near(draw, value.strip())}"
    return "\n".join(lines)


def _do_one(draw: Random, lines: list[str]) -> None:
    values = [n for n, line in enumerate(lines) if "=" in line and not line.startswith("#")]
    what = draw.random()
    if not values or what > 0.95:
        lines.insert(draw.randint(0, len(lines)), draw.choice(_LINES))
        return
    at = draw.choice(values)
    key, _, value = lines[at].partition("=")
    if what < 0.35:
        lines[at] = f"{key}= {draw.choice(_LITERALS)}"
    elif what < 0.68:
        lines[at] = f"{key}= {_near(draw, value.strip())}"
    elif what < 0.8:
        del lines[at]
    elif what < 0.84:
        lines.insert(at, lines[at])
    elif what < 0.9:
        other = draw.choice(values)
        lines[at] = f"{key}={lines[other].partition('=')[2]}"
    else:
        lines[at] = f"{hostile.mutated(draw, key.strip())} = {value}"


def _near(draw: Random, value: str) -> str:
    """A value beside the one that stood there."""
    try:
        found = float(value)
    except ValueError:
        inner = value.strip("\"'[]")
        return f'"{hostile.text(draw)}"' if draw.random() < 0.5 else f'["{inner}"]'
    if not -1e6 < found < 1e6:
        return "1"
    factor = draw.choice((0.0, -1.0, 0.5, 0.9, 0.98, 1.0000001, 1.02, 1.1, 2.0, 10.0, 1000.0))
    whole = draw.choice((int(found * factor), round(found) + 1, round(found) - 1))
    return repr(round(found * factor, 9)) if "." in value or draw.random() < 0.2 else str(whole)
