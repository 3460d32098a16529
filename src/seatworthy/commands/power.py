"""Whether this machine may fall asleep while a panel sits: on battery it soon does."""

import platform
from pathlib import Path
from typing import Final

_SUPPLIES: Final = Path("/sys/class/power_supply")
_ASLEEP = "A computer that falls asleep takes the ballots away until it wakes; what was sent stays."


def sleep_warning(system: str = "", supplies: Path = _SUPPLIES) -> str:
    """A sentence or two about sleep.

    Args:
        system: "Linux", "Darwin" or "Windows"; "" for the one this is.
        supplies: Where Linux keeps its power supplies, a folder each.
    """
    system = system or platform.system()
    if system == "Linux" and is_on_battery(supplies):
        return (
            "THIS COMPUTER RUNS ON BATTERY and may fall asleep in the middle of the session. "
            f"Plug it in, keep its lid open and switch its sleep off. {_ASLEEP}"
        )
    where = {
        "Darwin": "System Settings, Battery (or: caffeinate -i in another terminal)",
        "Windows": "Settings, System, Power: when plugged in, put to sleep never",
    }.get(system, "the power settings")
    return f"Keep it plugged in and awake: {where}. {_ASLEEP}"


def is_on_battery(supplies: Path) -> bool:
    """Whether a battery is being used up and no mains supply is connected."""
    if not supplies.is_dir():
        return False
    kinds = {folder: _word(folder / "type") for folder in supplies.iterdir()}
    mains = [folder for folder, kind in kinds.items() if kind in ("Mains", "USB")]
    if any(_word(folder / "online") == "1" for folder in mains):
        return False
    return any(
        kind == "Battery"
        and _word(folder / "scope") != "Device"  # a mouse's or a keyboard's
        and _word(folder / "status") == "Discharging"
        for folder, kind in kinds.items()
    )


def _word(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8", errors="replace").strip()
    except OSError:
        return ""
