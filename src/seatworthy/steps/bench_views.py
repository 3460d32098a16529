"""What the page of the bench is given to show; made in `bench.py`."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from seatworthy.steps.bench_facts import Limit
from seatworthy.steps.shelf_views import FirstThing


@dataclass(frozen=True)
class StockLine:
    """One lot.

    Attributes:
        compound_label: The compound's short name.
        label: As it stands in sentences.
        kind: One of `sessions.doses.stock.KINDS`.
        strength: In words.
        left: "0.7 of 1 ml"; "" if nobody knows.
        left_figure: What is left, microlitres or units; None likewise.
        expires_on: None if nobody knows.
        fault: Why nothing is dosed from it; "" if it may be used.
        state: What to look after: "expires on Thursday", "nearly empty".
        notes: What else matters when it is handled: ethanol, vial, where it was made from.
        care: What the vocabulary says of handling the compound.
    """

    stock_id: str
    compound: str
    compound_label: str
    label: str
    lot: str
    kind: str
    strength: str
    opened_on: date | None
    expires_on: date | None
    left: str
    left_figure: Decimal | None
    is_used_up: bool
    fault: str
    state: str
    notes: str
    care: str


@dataclass(frozen=True)
class PipetteLine:
    """One pipette; the figures as they stand in its form.

    Attributes:
        settings: "10 to 100 µl in steps of 0.5 µl".
        tip: What its tip reaches.
        accuracy: What is known of its errors, in words.
    """

    pipette_id: str
    label: str
    settings: str
    tip: str
    accuracy: str
    is_in_use: bool
    smallest: str
    largest: str
    step: str
    is_fine: bool
    bias: str
    spread: str


@dataclass(frozen=True)
class ContainerLine:
    """One kind of vessel; the figures as they stand in its form, millilitres."""

    container_id: str
    label: str
    kind: str
    content: str
    fill_off: str
    headspace: str
    dead: str
    is_in_use: bool


@dataclass(frozen=True)
class LimitLine:
    """What holds of one compound once it is dosed.

    Attributes:
        usual: What is usual for its kind, in words.
        own: What the brewery says itself; None if nothing.
        own_words: The same in words; "" for nothing.
        ceiling: Strongest level that may be served.
    """

    compound: str
    label: str
    usual: str
    own: Limit | None
    own_words: str
    ceiling: Decimal


@dataclass(frozen=True)
class BenchView:
    """The whole bench.

    Attributes:
        answer: First half of the sentence on top.
        catch: What needs a person; "" if nothing does.
        lead: One or two sentences.
        today: The day at the brewery.
        first_things: What to do on an empty bench; () once that is done.
        stocks: By compound, those that may be used first.
        pipettes: The smallest first; those out of use too.
        containers: The smallest first; those out of use too.
        limits: By label; compounds that may be served.
    """

    answer: str
    catch: str
    lead: str
    today: date
    first_things: tuple[FirstThing, ...]
    stocks: tuple[StockLine, ...]
    pipettes: tuple[PipetteLine, ...]
    containers: tuple[ContainerLine, ...]
    limits: tuple[LimitLine, ...]
