"""Do the model's chances and intervals come true? Invented panels, the model, plain counts.

    python tests/bench/calibration.py                    # every world, 8 and 24 answers a cell
    python tests/bench/calibration.py --quick            # a few panels, to see that it runs
    python tests/bench/calibration.py base slopes --answers 12 --panels 100 --seed 5
    python tests/bench/calibration.py --markdown table.md

Each line is one world of `world_scenarios.py` and one number of answers a cell in 18 months. ± is one
standard error of the simulation itself. Verdicts are those of the default rulebook as of one day,
on own answers; the plain ones judge the counted glasses with as many glasses asked for.
"""

import argparse
import time
from pathlib import Path

from calibration_checks import ask_the_prior, turn_colleagues_round
from calibration_estimates import estimate
from calibration_loss import look_after_losses
from calibration_table import KINDS, Line, markdown, measure
from world_scenarios import BASE, LATE_LOSS, SCENARIOS, Scenario, Size
from worlds import invent

PANELS, QUICK_PANELS = 30, 3
ANSWERS = (8, 24)
OTHER_SIZES = ((8, 4), (8, 12), (4, 8), (12, 8))  # people, answers: the base only
TURNED_PANELS = 3


def main() -> None:
    """Print the tables asked for."""
    asked = _read_words()
    panels = QUICK_PANELS if asked.quick else asked.panels
    chosen = [one for one in SCENARIOS if one.name in asked.worlds or not asked.worlds]
    lines, kinds = _run_worlds(chosen, asked.answers, panels, asked.seed)
    print()
    print(*(line.text() for line in kinds), sep="\n")
    if not asked.worlds:
        _print_losses(asked.answers, panels, asked.seed)
        _print_checks(min(panels, TURNED_PANELS), asked.seed)
    if asked.markdown:
        asked.markdown.write_text(markdown(lines, kinds), encoding="utf-8")


def _read_words() -> argparse.Namespace:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    names = [one.name for one in SCENARIOS]
    words.add_argument("worlds", nargs="*", help=f"all, or some of: {', '.join(names)}")
    words.add_argument("--answers", nargs="+", type=int, default=ANSWERS, help="a cell")
    words.add_argument("--panels", type=int, default=PANELS, help="for every line")
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--quick", action="store_true", help=f"{QUICK_PANELS} panels a line")
    words.add_argument("--markdown", type=Path, help="where to write the short table")
    asked = words.parse_args()
    unknown = set(asked.worlds) - set(names)
    if unknown:
        words.error(
            f"no world is called {', '.join(sorted(unknown))}; there are {', '.join(names)}"
        )
    return asked


def _run_worlds(
    chosen: list[Scenario], answers: list[int], panels: int, seed: int
) -> tuple[list[Line], list[Line]]:
    """Lines of all worlds, printed as they come, and those of the base by kind of cell."""
    lines, kinds = [], []
    for scenario in chosen:
        sizes = [(8, number) for number in answers]
        sizes += OTHER_SIZES if scenario == BASE and len(answers) > 1 else ()
        for people, number in sizes:
            size, start = Size(panels, people, answers=number), time.perf_counter()
            cells = estimate(invent(scenario, size, _seed(seed, scenario, size)))
            lines.append(measure(scenario.says, people, number, cells))
            print(lines[-1].text(), f"{time.perf_counter() - start:5.0f} s", flush=True)
            if scenario == BASE and people == 8 and number in answers:
                kinds += [
                    measure(name, people, number, cells.where(is_kind(cells)))
                    for name, is_kind in KINDS.items()
                ]
    return lines, kinds


def _seed(seed: int, scenario: Scenario, size: Size) -> int:
    """A seed of its own for every line, whichever lines are asked for."""
    place = [*SCENARIOS, LATE_LOSS].index(scenario)
    return ((seed * 100 + place) * 100 + size.people) * 100 + size.answers


def _print_losses(answers: list[int], panels: int, seed: int) -> None:
    print("\nThe half-year after a loss of 2.5 log2 in half of a person's compounds, lost cells:")
    for number in answers:
        size = Size(panels, answers=number)
        for found in look_after_losses(invent(LATE_LOSS, size, _seed(seed, LATE_LOSS, size))):
            print(
                f"{number:3} answers, {found.reads:18} cells {found.cells:4}  "
                f"alarm today {found.alarmed}  rate covered {found.rate_covered}  "
                f"threshold {found.threshold_covered}  wrongly met {found.wrongly_met}"
            )


def _print_checks(panels: int, seed: int) -> None:
    print("\nNobody's answers, chance of a rate (own, new panel):")
    for one in ask_the_prior():
        verdict = "DECIDES" if one.decides else "too little evidence"
        print(f"  {one.good_enough:.2f}: {one.own:.3f}, {one.pooled:.3f}  {verdict}")
    turned = turn_colleagues_round(invent(BASE, Size(panels), seed))
    print(
        f"Colleagues' answers turned round, {turned.cells} cells: own chances move by at most "
        f"{turned.own_moves:.1e}, pooled ones by {turned.pooled_moves:.2f}; "
        f"verdicts changed: {turned.verdicts_changed}"
    )


if __name__ == "__main__":
    main()
