"""How sure an added level is: pipette, filling and strength, after the GUM.

Source:
    JCGM 100:2008, Guide to the expression of uncertainty in measurement, 4.3.7 (rectangular limits)
    and 5.1 (combined standard uncertainty); from memory.
"""

from math import hypot, sqrt

from seatworthy.sessions.doses.equipment import Container
from seatworthy.sessions.doses.pipette_limits import errors_ul
from seatworthy.sessions.doses.recipe import Shots

_RECTANGULAR = sqrt(3)
_COVERAGE = 2  # k = 2, about 95%


def pipetting_uncertainty(shots: Shots) -> float:
    """Relative standard uncertainty of what the shots deliver together, a fraction.

    The systematic error is the same in each shot of one pipette and adds up; the random ones are
    independent and add in quadrature.
    """
    bias, spread = errors_ul(shots.pipette)
    systematic = shots.count * float(bias) / _RECTANGULAR
    return hypot(systematic, sqrt(shots.count) * float(spread)) / float(shots.total_ul)


def relative_uncertainty(
    shots: Shots | None, container: Container, strength_off_percent: float
) -> float:
    """Combined relative standard uncertainty of the added level, a fraction.

    Args:
        shots: How it is pipetted; None for whole units, which add nothing to it.
        container: What it is dosed in; its filling is off by at most `fill_off_ml`, either way.
        strength_off_percent: How far the strength may be off at most, percent.
    """
    fill = float(container.fill_off_ml / container.content_ml) / _RECTANGULAR
    strength = strength_off_percent / 100 / _RECTANGULAR
    return hypot(pipetting_uncertainty(shots) if shots else 0.0, fill, strength)


def expanded(added_level: float, relative: float) -> float:
    """Half the width of the range that holds the level with a chance of about 95% (k = 2)."""
    return _COVERAGE * added_level * relative
