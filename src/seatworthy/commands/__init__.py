"""The commands, one by one: each adds its words and runs one step.

A command's module is imported only when it is chosen, so that each starts as fast as it can.
"""

from importlib import import_module

from seatworthy.commands.command import Command

SUMMARIES: dict[str, str] = {
    "demo": "open an invented brewery with 18 months of results",
    "open": "open your panel in the browser",
    "import": "bring in a results file or a shelf file",
    "template": "write a results file or a shelf file to fill in",
    "verdicts": "say who can sit, for what, and why",
    "sessions": "list the sessions and what is next for each",
    "papers": "write the papers of a planned session as PDF",
    "rulebook": "say the rules in force, or try a rulebook of your own",
    "competence": "write one panellist's competence record for an audit",
    "seated": "write who was on the panel on a day, for an audit",
    "history": "list everything that was recorded, or write it as CSV or JSON",
    "pin": "give a signer who forgot theirs a new PIN",
    "people": "list people; merge or split spellings",
    "person": "say what is kept about somebody, or write their copy",
    "words": "list own words that mean no compound yet, or say what they mean",
    "backup": "write a backup and prove that it is equal",
    "restore": "put a backup in place of a store",
    "verify": "prove that nothing on record was changed",
    "write-plain": "write everything as text that needs no Seatworthy",
    "read-plain": "make a new store of such a plain copy",
}

_MODULES = {
    "opening": ("demo", "open"),
    "bringing": ("import", "template"),
    "asking": ("verdicts",),
    "printing": ("sessions", "papers"),
    "ruling": ("rulebook",),
    "auditing": ("competence", "seated", "history"),
    "naming": ("people", "words", "pin"),
    "privacy": ("person",),
    "keeping": ("backup", "restore", "verify", "write-plain", "read-plain"),
}


def command(name: str) -> Command:
    """One of the commands."""
    module = next(module for module, names in _MODULES.items() if name in names)
    return getattr(import_module(f"seatworthy.commands.{module}"), name.upper().replace("-", "_"))
