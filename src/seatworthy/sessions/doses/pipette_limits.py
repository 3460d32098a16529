"""How far a piston pipette may be off: limits after ISO 8655-2, or its own calibration."""

from decimal import Decimal
from types import MappingProxyType
from typing import Final

from seatworthy.sessions.doses.equipment import Pipette

# Nominal volume (µl): greatest systematic and random error, percent of the nominal volume.
# After ISO 8655-2, piston pipettes with air interface. 10, 20, 100 and 1000 µl are checked values;
# the others are from memory: look at the standard itself.
PERCENT_OF_NOMINAL: Final = MappingProxyType(
    {
        Decimal(nominal): (Decimal(systematic), Decimal(random))
        for nominal, systematic, random in (
            (1, "5.0", "5.0"),
            (2, "4.0", "2.0"),
            (5, "2.5", "1.5"),
            (10, "1.2", "0.8"),
            (20, "1.0", "0.5"),
            (50, "1.0", "0.4"),
            (100, "0.8", "0.3"),
            (200, "0.8", "0.3"),
            (500, "0.8", "0.3"),
            (1000, "0.8", "0.3"),
            (2000, "0.8", "0.3"),
            (5000, "0.8", "0.3"),
            (10000, "0.6", "0.3"),
        )
    }
)


def limits_ul(nominal_ul: Decimal) -> tuple[Decimal, Decimal]:
    """Greatest systematic and random error (standard deviation) in microlitres, at every setting.

    A nominal volume between two of the table takes the microlitres of the next larger one; one above
    the table, the percent of its last line.

    Args:
        nominal_ul: Nominal volume, its highest setting; more than 0.

    Raises:
        ValueError: if the nominal volume is not more than 0.
    """
    if nominal_ul <= 0:
        message = f"A nominal volume is more than 0 µl, got {nominal_ul}."
        raise ValueError(message)
    largest = max(PERCENT_OF_NOMINAL)
    listed = min((n for n in PERCENT_OF_NOMINAL if n >= nominal_ul), default=largest)
    systematic, random = PERCENT_OF_NOMINAL[listed]
    volume = max(listed, nominal_ul)
    return volume * systematic / 100, volume * random / 100


def errors_ul(pipette: Pipette) -> tuple[Decimal, Decimal]:
    """Greatest systematic error and random error in microlitres; its own stand before the limits."""
    systematic, random = limits_ul(pipette.largest_ul)
    return (
        systematic if pipette.bias_ul is None else pipette.bias_ul,
        random if pipette.spread_ul is None else pipette.spread_ul,
    )
