"""A record's main table: one row a compound, with strip, counts, range and what is missing."""

from datetime import date

from seatworthy.pages.addresses import record_address
from seatworthy.pages.figures import percent, spread
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.pages.strip import strip
from seatworthy.phrases import STANDING_WORDS, multiple
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.views import RecordRow, RecordView, RuleLine

_TOO_NEAR = 0.16  # where a label of the axis would touch the one of the needed share


def record_table(view: RecordView, on: date | None, short_name: str) -> str:
    """Where one panellist stands on every compound, critical ones first.

    Args:
        view: What to show.
        on: The day the address asks for, kept in every link; None for today.
        short_name: What to call the panellist in the head.
    """
    critical = [row for row in view.rows if row.is_critical]
    others = [row for row in view.rows if not row.is_critical]
    lines = [_row(row, view, on) for row in critical]
    if critical and others:
        words = escaped(f"Not critical for {in_sentence(view.family.label)}")
        lines.append(tag("tr", tag("th", words, colspan=5, scope="rowgroup"), class_="section"))
    lines += [_row(row, view, on) for row in others]
    body = tag("tbody", "".join(lines))
    style = f"--needed:{100 * view.needed:.1f}%"
    return tag("table", _head(view, short_name) + body, class_="ledger", style=style)


def rules_table(rules: tuple[RuleLine, ...]) -> str:
    """The rules of the seat, each with its mark, its numbers and what would change it."""
    rows = []
    for rule in rules:
        word = unseen(f" {STANDING_WORDS[rule.standing]}")
        head = tag("th", mark(rule.standing) + tag("span", escaped(rule.title) + word), scope="row")
        change = tag("span", escaped(rule.change), class_="change") if rule.change else ""
        rows.append(tag("tr", head + tag("td", escaped(rule.sentence) + change)))
    return tag("table", tag("tbody", "".join(rows)), class_="rules")


def _head(view: RecordView, short_name: str) -> str:
    at = multiple(view.reference_level)
    chance = escaped(f"Chance of naming it right at {at}") + _axis(view.needed)
    cells = [
        tag("th", escaped(f"Where {short_name} stands"), scope="col"),
        tag("th", chance, scope="col", class_="strips"),
        tag("th", "named<br>right", scope="col", class_="count"),
        tag("th", "so about<br>(8 in 10)", scope="col", class_="chance"),
        tag("th", "What is missing", scope="col"),
    ]
    return tag("thead", tag("tr", "".join(cells)))


def _axis(needed: float) -> str:
    ends = [(0.0, "0"), (0.5, "50"), (1.0, "100%")]
    labels = [
        tag("span", words, style=f"left:{100 * at:.0f}%")
        for at, words in ends
        if at in (0.0, 1.0) or abs(at - needed) > _TOO_NEAR
    ]
    asked = tag("b", f"{percent(needed).rstrip('%')} needed", style=f"left:{100 * needed:.1f}%")
    return tag("span", asked + "".join(labels), class_="axis")


def _row(row: RecordRow, view: RecordView, on: date | None) -> str:
    address = record_address(
        view.person.person_id, family=view.family.key, on=on, compound=row.compound
    )
    cell = row.cell
    link = tag("a", escaped(row.label), href=address, title=cell.sentence, target="_self")
    word = unseen(f": {STANDING_WORDS[cell.standing]}")
    parts = [
        tag("th", mark(cell.standing) + tag("span", link + word), scope="row"),
        tag("td", strip(row, view.needed), class_="strips"),
        tag("td", _count(row), class_="count"),
        tag("td", _chance(row), class_="chance"),
        tag("td", escaped(row.missing), class_="missing"),
    ]
    return tag("tr", "".join(parts), class_=f"is-{cell.standing}")


def _count(row: RecordRow) -> str:
    if not row.cell.glasses:
        return ""
    return f"{tag('b', str(row.cell.named_right))} of {row.cell.glasses}"


def _chance(row: RecordRow) -> str:
    if row.chance_right is None or row.low is None or row.high is None:
        return ""
    return f"{percent(row.chance_right)} {tag('small', f'({spread((row.low, row.high))})')}"
