"""The recipes of a session as they are on record, with the vessels that they fill."""

from dataclasses import dataclass
from decimal import Decimal

from seatworthy.sessions.doses.amounts import ul_words
from seatworthy.steps.session_facts import SessionFacts


@dataclass(frozen=True)
class KeptRecipe:
    """What each vessel of one letter is to get.

    Attributes:
        pipette_id, setting_ul, shots: How it is pipetted; None for units and where there is none.
        amount: Microlitres, or whole units.
        solvent_ul: Pure ethanol that each vessel gets, with its dose or beside it, microlitres.
        is_out_first: Whether as much beer is taken out first.
        gives: Glasses that one vessel gives.
        is_shared: Whether the vessels serve every sitting.
        level: What it really will be, total, multiples; None for a blank.
        level_off: How far that may be off (k = 2); None if nothing is known of it.
    """

    mark: str
    container_id: str
    container: str
    container_kind: str
    volume_ml: Decimal
    stock_id: str | None
    stock: str
    lot: str
    stock_kind: str
    pipette_id: str | None
    pipette: str
    setting_ul: Decimal | None
    shots: int | None
    amount: Decimal
    solvent_ul: Decimal
    is_out_first: bool
    gives: int
    is_shared: bool
    level: Decimal | None
    level_off: Decimal | None

    @property
    def take(self) -> str:
        """What is done with the pipette, "3 shots of 110 µl"; "" where nothing is added."""
        return taken_words(self.stock_kind, self.amount, self.setting_ul, self.shots)

    @property
    def ethanol(self) -> str:
        """What a blank gets so that it equals the others; "" for nothing."""
        is_given = self.stock_id is None and self.solvent_ul
        return f"{ul_words(self.solvent_ul)} of ethanol" if is_given else ""


@dataclass(frozen=True)
class Vessel:
    """One bottle, pitcher or keg of one letter.

    Attributes:
        number: From 1 within the letter, over all sittings.
        sample_ids: Samples that are poured from it: one, or one for each sitting.
    """

    mark: str
    number: int
    sample_ids: tuple[str, ...]

    @property
    def name(self) -> str:
        """As it stands on its cap: "A2"."""
        return f"{self.mark}{self.number}"


def taken_words(kind: str, amount: Decimal, setting_ul: Decimal | None, shots: int | None) -> str:
    """What is taken from a stock, such as "3 shots of 110 µl", "2 units", "2.4 ml"; "" for nothing."""
    if not amount:
        return ""
    if kind == "unit":
        return f"{amount.normalize():f} unit{'' if amount == 1 else 's'}"
    if setting_ul and shots:
        return f"{shots} {'shot' if shots == 1 else 'shots'} of {ul_words(setting_ul)}"
    return ul_words(amount)


def kept_recipes(facts: SessionFacts) -> dict[str, KeptRecipe]:
    """Recipes of one session by letter; those whose dose is written by hand are absent."""
    rows = facts.desk.store.rows("session_recipes", session_id=facts.head.session_id)
    return {row["mark"]: KeptRecipe(**row) for row in rows}
