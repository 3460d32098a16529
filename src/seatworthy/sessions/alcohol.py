"""Alcohol in the glasses, and how much of it one person takes; grams to two decimals."""

from decimal import ROUND_HALF_UP, Decimal
from typing import Final

# Grams per millilitre of pure ethanol at 20 °C; handbooks print 0.7893 (from memory).
ETHANOL_G_PER_ML: Final = Decimal("0.789")
_CENTIGRAM: Final = Decimal("0.01")


def alcohol_g(volume_ml: Decimal, abv_percent: Decimal) -> Decimal:
    """Grams of pure alcohol in a volume of beer, to two decimals.

    Args:
        volume_ml: Volume of beer, 0 or more.
        abv_percent: Alcohol by volume, 0 to 100.
    """
    return taken_g(volume_ml, abv_percent, Decimal(1))


def taken_g(volume_ml: Decimal, abv_percent: Decimal, share: Decimal) -> Decimal:
    """Grams of pure alcohol that count as swallowed, to two decimals.

    Args:
        volume_ml: Volume tasted, 0 or more.
        abv_percent: Alcohol by volume, 0 to 100.
        share: Share of the volume that counts as swallowed, 0 to 1; 1 if nothing is spat. How much
            of a spat glass stays behind is common practice, no source; the leader sets it.
    """
    grams = volume_ml * abv_percent / 100 * ETHANOL_G_PER_ML * share
    return grams.quantize(_CENTIGRAM, ROUND_HALF_UP)
