"""The tables of the next session: its glasses, the gaps, what lies ahead."""

from collections.abc import Sequence

from seatworthy.pages.addresses import next_address, record_address
from seatworthy.pages.marks import mark
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.pages.shelf_parts import listing
from seatworthy.phrases import STANDING_WORDS
from seatworthy.steps.next_session_views import AheadLine, CompoundGaps, GapLine, JugLine


def jugs_table(jugs: Sequence[JugLine]) -> str:
    """One row a jug, with what it is there for."""
    rows = [(tag("b", escaped(j.what)), escaped(j.times), escaped(j.why)) for j in jugs]
    return listing(("Jug", "Poured", "Why"), rows, "changes")


def gaps_table(gaps: Sequence[GapLine], family: str, *, with_names: bool) -> str:
    """One row a gap, the dearest first."""
    heads = ("Compound", "What it is", "Named right", "Chance to name it", "Until it is decided")
    rows = [_gap(one, family, with_names=with_names) for one in gaps]
    return listing((("Who", *heads) if with_names else heads), rows, "changes")


def _gap(gap: GapLine, family: str, *, with_names: bool) -> tuple[str, ...]:
    address = record_address(gap.person_id, family=family, compound=gap.compound)
    critical = tag("i", "critical") if gap.is_critical else ""
    compound = escaped(gap.label) + critical
    cells = (_kind(gap), escaped(gap.count), escaped(gap.chance), escaped(gap.ahead))
    if not with_names:
        return (tag("a", compound, href=address, target="_self"), *cells)
    who = tag("a", escaped(gap.name), href=address, target="_self")
    return (who, compound, *cells)


def _kind(gap: GapLine) -> str:
    """The sort of gap, with the mark of what the rule says."""
    words = STANDING_WORDS[gap.standing]
    said = "" if words == gap.kind else unseen(f" ({words})")
    return mark(gap.standing) + escaped(gap.kind) + said


def compounds_table(gaps: Sequence[CompoundGaps]) -> str:
    """One row a compound: who covers it, and who lacks what; those not critical folded away."""
    critical = [one for one in gaps if one.is_critical]
    others = [one for one in gaps if not one.is_critical]
    if not critical or not others:
        return _compounds(gaps)
    folded = tag("summary", f"{len(others)} more that aren't critical") + _compounds(others)
    return _compounds(critical) + tag("details", folded)


def _compounds(gaps: Sequence[CompoundGaps]) -> str:
    heads = ("Compound", "Covered by", "Who lacks what")
    rows = []
    for one in gaps:
        noses = escaped(one.noses)
        cover = tag("span", noses, class_="suspicion") if one.is_weak else noses
        kinds = "".join(
            tag("div", f"{escaped(kind)}: {tag('b', escaped(names))}")
            for kind, names in one.by_kind
        )
        critical = tag("i", "critical") if one.is_critical else ""
        rows.append((escaped(one.label) + critical, cover, kinds))
    return listing(heads, rows, "changes needs")


def ahead_table(lines: Sequence[AheadLine], family: str) -> str:
    """The panel and the people with something open."""
    heads = ("Who", "Open", "Until all of it is decided", "Until the seat is settled")
    return listing(heads, [_line(one, family) for one in lines], "changes")


def _line(one: AheadLine, family: str) -> tuple[str, ...]:
    who = escaped(one.who)
    if one.person_id:
        who = tag("a", who, href=next_address(one.person_id, family), target="_self")
    return who, escaped(one.open), escaped(one.decided), escaped(one.seat)
