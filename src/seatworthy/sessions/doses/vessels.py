"""How many vessels a sample fills; nobody's glass is poured from two of them."""

from collections.abc import Sequence
from decimal import Decimal

from seatworthy.sessions.doses.equipment import KEG, Container
from seatworthy.sessions.wording import counted, plain


def glasses_in(volume_ml: Decimal, pour_ml: Decimal, container: Container) -> int:
    """Whole glasses that one vessel gives; 0 if not even one fits.

    Args:
        volume_ml: Beer in it with the dose.
        pour_ml: Beer in one glass, more than 0.
        container: What it is; what can't be poured out of it stays behind.
    """
    return max(0, int((volume_ml - container.dead_ml) // pour_ml))


def vessels_for(
    glasses: int, pour_ml: Decimal, container: Container, volume_ml: Decimal | None = None
) -> int:
    """How many vessels give so many glasses; 0 for none.

    Args:
        glasses: Glasses that are poured, 0 or more.
        pour_ml: Beer in one glass, more than 0.
        container: What the beer is dosed in.
        volume_ml: Beer in each; None for its whole content.

    Raises:
        ValueError: if not even one glass fits; `vessel_fault` says so first.
    """
    gives = glasses_in(volume_ml or container.content_ml, pour_ml, container)
    if glasses and not gives:
        message = f"{container.label} does not give one glass of {pour_ml} ml."
        raise ValueError(message)
    return -(-glasses // gives) if glasses else 0


def vessel_counts(
    glasses: Sequence[int], pour_ml: Decimal, container: Container, volume_ml: Decimal | None = None
) -> tuple[int, ...]:
    """Vessels for each sitting; for a keg the one that serves them all.

    Raises:
        ValueError: if not even one glass fits.
    """
    if container.kind == KEG:
        return (min(1, vessels_for(sum(glasses), pour_ml, container, volume_ml)),)
    return tuple(vessels_for(count, pour_ml, container, volume_ml) for count in glasses)


def vessel_fault(glasses: Sequence[int], pour_ml: Decimal, container: Container) -> str:
    """Why the glasses can't be poured from such vessels, and what to do; "" if they can."""
    if pour_ml <= 0 or container.content_ml <= 0:
        return (
            f"{container.label} holds {plain(container.content_ml)} ml and a glass "
            f"{plain(pour_ml)} ml: both are more than 0; correct them."
        )
    gives = glasses_in(container.content_ml, pour_ml, container)
    if not gives:
        return (
            f"{container.label} gives {plain(container.content_ml - container.dead_ml)} ml, less than "
            f"one glass of {plain(pour_ml)} ml: take a larger vessel or pour less."
        )
    if container.kind == KEG and sum(glasses) > gives:
        return (
            f"{container.label} gives {counted(gives, 'glass')} of {plain(pour_ml)} ml and "
            f"{sum(glasses)} are poured: take a larger one, or pour less."
        )
    return ""
