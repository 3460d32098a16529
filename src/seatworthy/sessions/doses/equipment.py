"""What stands on the bench besides stocks: pipettes, and what the beer is dosed and poured in."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

BOTTLE: Final = "bottle"
PITCHER: Final = "pitcher"
KEG: Final = "keg"
KINDS: Final = (BOTTLE, PITCHER, KEG)


@dataclass(frozen=True)
class Pipette:
    """An adjustable piston pipette.

    Attributes:
        pipette_id: Its id.
        label: "blue 100".
        smallest_ul: Lowest setting, microlitres.
        largest_ul: Highest setting, its nominal volume.
        step_ul: Between two settings.
        is_fine: Whether its tip reaches the bottom of a narrow vial.
        bias_ul: Greatest systematic error by its own last calibration, microlitres; None for the
            limit after ISO 8655-2.
        spread_ul: Random error (standard deviation) likewise.
    """

    pipette_id: str
    label: str
    smallest_ul: Decimal
    largest_ul: Decimal
    step_ul: Decimal
    is_fine: bool = False
    bias_ul: Decimal | None = None
    spread_ul: Decimal | None = None


@dataclass(frozen=True)
class Container:
    """A kind of vessel: a bottle, a pitcher or a keg.

    Attributes:
        container_id: Its id.
        label: "bottle 330 ml".
        kind: One of `KINDS`; a keg is dosed once for all sittings, the others for each.
        content_ml: Beer in it with the dose, as it is filled.
        fill_off_ml: How far the filling may be off, either way; 0 if nobody knows.
        headspace_ml: How much may be added before it overflows.
        dead_ml: What can't be poured out of it.
    """

    container_id: str
    label: str
    kind: str
    content_ml: Decimal
    fill_off_ml: Decimal = Decimal(0)
    headspace_ml: Decimal = Decimal(0)
    dead_ml: Decimal = Decimal(0)
