"""Who sits where with which glasses, as a table."""

from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.steps.session_views import GlassLine, SeatedView, SittingView

SEAT_WORDS = {"expected": "", "late": "came late", "left": "left early", "absent": "not tasting"}
EVENT_WORDS = {"spilled": "spilled", "short": "short", "swapped": "swapped"}


def sitting_head(sitting: SittingView) -> str:
    """Name, time and state of one sitting."""
    parts = [f"{sitting.starts_at:%H:%M}"] if sitting.starts_at else []
    parts += ["over"] if sitting.is_over else []
    if sitting.spares_left and not sitting.is_over:
        orders = "order" if sitting.spares_left == 1 else "orders"
        parts.append(f"{sitting.spares_left} spare {orders} left")
    return tag("h3", escaped(sitting.label) + tag("i", ", ".join(parts)))


def sitting_table(sitting: SittingView, *, with_letters: bool) -> str:
    """One row a person: name, whether they are here, their glasses.

    Args:
        sitting: The sitting.
        with_letters: Whether the letter of the jug stands beside each code; that is the key.
    """
    rows = "".join(_row(seat, with_letters=with_letters) for seat in sitting.seated)
    return tag("table", tag("tbody", rows), class_="seats")


def progress_words(seat: SeatedView) -> str:
    """How many of somebody's glasses are answered, and how many are still to come."""
    if seat.state == "absent":
        return ""
    answered = f"{sum(bool(glass.said) for glass in seat.glasses)} answered"
    return f"{answered}, {seat.waiting} to come" if seat.waiting else answered


def _row(seat: SeatedView, *, with_letters: bool) -> str:
    here = SEAT_WORDS.get(seat.state, "")
    aside = "own glasses set aside" if seat.own_aside else ""
    state = "; ".join(words for words in (here, aside) if words)
    glasses = "".join(_glass(glass, with_letters=with_letters) for glass in seat.glasses)
    cells = [
        tag("th", escaped(seat.name) + (tag("i", escaped(state)) if state else ""), scope="row"),
        tag("td", tag("ol", glasses), class_="glasses"),
    ]
    return tag("tr", "".join(cells), class_=f"is-{seat.state}")


def _glass(glass: GlassLine, *, with_letters: bool) -> str:
    inside = tag("span", escaped(glass.code), class_="code")
    if with_letters:
        inside += tag("b", unseen("jug ") + escaped(glass.mark))
    words = [EVENT_WORDS[glass.event]] if glass.event in EVENT_WORDS else []
    words += ["set aside"] if glass.is_aside else []
    if words:
        inside += tag("i", ", ".join(words))
    return tag("li", inside, class_="is-gone" if glass.event == "spilled" else None)
