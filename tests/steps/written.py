"""Results files written by tests: short words for rows of one answer each."""

from collections.abc import Iterable, Sequence
from pathlib import Path

HEADER = ("date", "panellist", "method", "code", "compound", "level", "answer", "base beer",
          "beer family")  # fmt: skip


def results(path: Path, rows: Iterable[Sequence[object]]) -> Path:
    """A results file: rows of day, panellist, code, compound, level, answer."""
    lines = [",".join(HEADER)]
    for day, who, code, compound, level, answer in rows:
        lines.append(f"{day},{who},naming,{code},{compound},{level or ''},{answer},Pils,Pale")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def flight(day: str, who: str, answers: dict[str, str], first: int = 100) -> list[tuple]:
    """One person's glasses of a day: what was in the glass (or "blank") to what was said."""
    return [
        (day, who, first + i, compound.split("#")[0],
         None if compound.startswith("blank") else 3, said)
        for i, (compound, said) in enumerate(answers.items())
    ]  # fmt: skip
