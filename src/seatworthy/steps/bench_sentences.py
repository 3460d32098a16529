"""The sentence on top of the bench, the state of a stock, and what to do on an empty bench."""

from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal
from typing import Final

from seatworthy.sessions.doses.stock import Stock
from seatworthy.steps.sentences import day_in_sentence, joined, number_word, sentence_start
from seatworthy.steps.shelf_views import FirstThing

# When a stock is spoken of before it can't be used any more. Ours; common practice, no source.
SOON: Final = timedelta(days=14)
NEARLY_EMPTY: Final = Decimal("0.2")
LEAD: Final = (
    "Doses are worked out from what stands here. No food or drink where stocks are opened; each "
    "compound's own safety data sheet comes first."
)
_WEEK: Final = timedelta(days=7)


def bench_sentences(
    stocks: Sequence[tuple[Stock, Decimal | None]], today: date
) -> tuple[str, str, str]:
    """Answer, catch and lead.

    Args:
        stocks: Each with what it held when full; None if nobody knows.
        today: The day at the brewery.
    """
    standing = [(stock, full) for stock, full in stocks if not stock.is_used_up]
    if not standing:
        empty = "Nothing stands on the bench" if stocks else "The bench is empty"
        return empty, "put the first stock on it, or write each dose by hand.", LEAD
    verb = "stock stands" if len(standing) == 1 else "stocks stand"
    answer = f"{sentence_start(number_word(len(standing)))} {verb} on the bench"
    catch = joined(list(filter(None, [*_days(standing, today), *_amounts(standing, today)])))
    return answer, f"{catch}." if catch else "", LEAD


def stock_state(stock: Stock, full: Decimal | None, today: date) -> str:
    """What to look after in a stock that may be used: "expires on Thursday; nearly empty"."""
    said = []
    if stock.expires_on is not None and today <= stock.expires_on <= today + SOON:
        said.append(f"expires {_on(stock.expires_on, today)}")
    if is_nearly_empty(stock, full):
        said.append("nearly empty")
    return "; ".join(said)


def is_nearly_empty(stock: Stock, full: Decimal | None) -> bool:
    """Whether something, but less than a fifth of the full vial, can be got out of it."""
    if stock.left is None or full is None:
        return False
    return 0 < stock.left - stock.dead_ul < NEARLY_EMPTY * full


def first_things(
    *, has_stock: bool, has_container: bool, has_pipette: bool
) -> tuple[FirstThing, ...]:
    """What to do before doses can be worked out; nothing once there is a stock and a vessel."""
    if has_stock and has_container:
        return ()
    return (
        FirstThing(
            "Put the first stock on the bench: what is in the vial, its lot, its last day.",
            has_stock, "stocks",
        ),
        FirstThing("Say what the beer is dosed in: bottles, pitchers or a keg.",
                   has_container, "vessels"),
        FirstThing(
            "Add your pipettes. Without one the amounts are stated all the same, and how sure the "
            "level is stays open.",
            has_pipette, "pipettes",
        ),
    )  # fmt: skip


def _days(standing: Sequence[tuple[Stock, Decimal | None]], today: date) -> list[str]:
    last = [stock.expires_on for stock, _ in standing if stock.expires_on is not None]
    gone = [day for day in last if day < today]
    soon = sorted(day for day in last if today <= day <= today + SOON)
    said = [f"{number_word(len(gone))} {_have(gone)} expired"] if gone else []
    if soon and soon[0] == soon[-1]:
        said.append(f"{number_word(len(soon))} {_s(soon, 'expire')} {_on(soon[0], today)}")
    elif soon:
        said.append(f"{number_word(len(soon))} expire by {_by(soon[-1], today)}")
    return said


def _amounts(standing: Sequence[tuple[Stock, Decimal | None]], today: date) -> list[str]:
    usable = [
        (stock, full)
        for stock, full in standing
        if stock.expires_on is None or stock.expires_on >= today
    ]
    empty = [one for one, _ in usable if one.left is not None and one.left <= one.dead_ul]
    low = [stock for stock, full in usable if is_nearly_empty(stock, full)]
    said = [f"{number_word(len(empty))} {_are(empty)} empty"] if empty else []
    return [*said, f"{number_word(len(low))} {_are(low)} nearly empty"] if low else said


def _on(day: date, today: date) -> str:
    if day == today:
        return "today"
    return f"on {_by(day, today)}"


def _by(day: date, today: date) -> str:
    return f"{day:%A}" if today < day < today + _WEEK else day_in_sentence(day, today)


def _have(some: Sequence[object]) -> str:
    return "has" if len(some) == 1 else "have"


def _are(some: Sequence[object]) -> str:
    return "is" if len(some) == 1 else "are"


def _s(some: Sequence[object], verb: str) -> str:
    return f"{verb}s" if len(some) == 1 else verb
