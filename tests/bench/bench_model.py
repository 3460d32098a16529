"""The full ability model: estimates of today, a session more, growth, and the walk through the past.

Processor time of one thread, BLAS too; the best of some runs. References, on the same answers:

- a plain product of likelihoods over each cell's glasses as one matrix product, without dates,
  families or colleagues, read for its own chance and mean rate only;
- bare products of three 12 x 49 matrices with a 49 x 49 one, as many as there are days on which a
  cell was served: what no model that carries such messages from day to day can do without. The
  ratio to them hardly depends on how busy the machine is, seconds do: going by it the floors are
  reached where 1,000 of them take 10 ms;
- scipy's L-BFGS-B on one cell after another, for the most likely threshold and naming accuracy of
  the same undated curves; the first 40 cells, taken as typical of all.

    python tests/bench/bench_model.py
"""

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from copy import deepcopy
from dataclasses import fields, replace
from datetime import date
from pathlib import Path

import numpy as np
from scipy.optimize import minimize
from threadpoolctl import threadpool_limits

from seatworthy.evidence import day_number
from seatworthy.stats.ability.call_nodes import CallNodes
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.followed import Today
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.own import Own, read_own
from seatworthy.stats.ability.present import Present
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood
from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import open_desk
from seatworthy.steps.estimating import OUTLOOK_DAYS, arrays
from seatworthy.steps.seen import Seen

AS_OF = date(2026, 11, 24)
FIRST_DAY = 18_000
SCIPY_CELLS = 40

Answers = tuple[Glasses, Blanks, tuple[int, int, int], int]


def best(work: Callable[[], object], runs: int = 5) -> tuple[float, object]:
    """Processor seconds of the fastest run, and what it made."""
    seconds, made = [], None
    for _ in range(runs):
        start = time.process_time()
        made = work()
        seconds.append(time.process_time() - start)
    return min(seconds), made


def sample_answers() -> Answers:
    """Every answer of the sample brewery."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "panel.duckdb"
        set_up_demo(path, AS_OF)
        desk = open_desk(path)
        seen = Seen(desk, AS_OF, None, desk.rulebook)
        evidence = seen.evidence(seen.people(), seen.families())
        desk.store.close()
    return *arrays(evidence), evidence.shape, day_number(AS_OF)


def drawn_answers(number: int, shape: tuple[int, int, int], sessions: int) -> Answers:
    """Answers of chance, a fifth of them forced choices, four glasses to a blank."""
    draw = np.random.default_rng(number)
    people, compounds, families = shape
    glasses = Glasses(
        day=FIRST_DAY + 3 * draw.integers(0, sessions, number),
        person=draw.integers(0, people, number),
        compound=draw.integers(0, compounds, number),
        family=draw.integers(0, families, number),
        method=np.where(draw.random(number) < 0.2, "3afc", "naming"),
        level=draw.choice([1.0, 2.0, 3.0, 4.0], number),
        background=np.zeros(number),
        outcome=draw.integers(0, 2, number),
    )
    blanks = Blanks(
        day=FIRST_DAY + 3 * draw.integers(0, sessions, number // 4),
        person=draw.integers(0, people, number // 4),
        is_false_call=draw.random(number // 4) < 0.1,
    )
    return glasses, blanks, shape, FIRST_DAY + 3 * sessions


def every_cell(people: int, compounds: int, sessions: int) -> Answers:
    """One naming glass of every cell in every weekly session, no blanks."""
    cells = people * compounds
    person, compound = np.divmod(np.tile(np.arange(cells), sessions), compounds)
    number, draw = cells * sessions, np.random.default_rng(2)
    glasses = Glasses(
        day=FIRST_DAY + 7 * np.repeat(np.arange(sessions), cells),
        person=person,
        compound=compound,
        family=np.zeros(number, dtype=np.int64),
        method=np.full(number, "naming"),
        level=draw.choice([2.0, 3.0, 4.0], number),
        background=np.zeros(number),
        outcome=draw.integers(0, 3, number),
    )
    nobody = np.empty(0, dtype=np.int64)
    blanks = Blanks(nobody, nobody, nobody.astype(np.bool_))
    return glasses, blanks, (people, compounds, 1), FIRST_DAY + 7 * sessions


def full_model(answers: Answers) -> Today:
    """All messages and everybody's estimates of today, own and pooled."""
    glasses, blanks, shape, today = answers
    present = Present(shape)
    present.take_in(glasses, blanks)
    return present.read(today)


def nodes_of(answers: Answers) -> np.ndarray:
    """False-call nodes of everybody today."""
    _, blanks, (people, _, _), today = answers
    return CallNodes(blanks, DEFAULT).on(np.arange(people), np.full(people, today))


def undated_log(answers: Answers) -> tuple[np.ndarray, np.ndarray]:
    """Cell and kind of every glass, (2, A), and the log likelihood of each kind, (U, C, G)."""
    glasses, _, (_, compounds, _), _ = answers
    node = nodes_of(answers)[glasses.person]
    table = glass_table(glasses, DEFAULT, node)
    keys = np.stack([table.kind, glasses.outcome, node], axis=1)
    _, first, kind = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    weights = answer_weights(glasses.where(first), node[first], DEFAULT)
    log = np.log(likelihood(*weights, table.seen[table.kind[first]]))
    return np.stack([glasses.person * compounds + glasses.compound, kind.ravel()]), log


def plain_product(answers: Answers) -> Own:
    """Own estimates of all cells if every answer were of today and of one beer family."""
    people, compounds, _ = answers[2]
    places, log = undated_log(answers)
    counts = np.zeros((people * compounds, len(log)))
    np.add.at(counts, tuple(places), 1)
    height = counts @ log.reshape(len(log), -1)
    height -= height.max(axis=1, keepdims=True)
    product = np.exp(height).reshape(len(counts), *log.shape[1:])
    return read_own(product, np.repeat(nodes_of(answers), compounds), DEFAULT)


def bare_products(answers: Answers) -> tuple[float, float]:
    """Seconds for one product of messages with a kernel for each cell and day; for 1,000 of them."""
    glasses = answers[0]
    served = np.stack([glasses.day, glasses.person, glasses.compound, glasses.family])
    messages, kernel = np.ones((64, 3, 12, 49)), np.full((49, 49), 1 / 49)
    seconds, _ = best(lambda: [messages @ kernel for _ in range(20)])
    each = seconds / (20 * len(messages))
    return each * np.unique(served, axis=1).shape[1], 1000 * each


def by_scipy(answers: Answers) -> int:
    """Most likely threshold and accuracy, cell by cell; how many cells were fitted."""
    places, log = undated_log(answers)
    grid = build_grid(DEFAULT)
    log_prior = np.log(grid.naming_mass[:, None] * grid.own_prior)
    bins = np.arange(grid.naming_mass.size, dtype=np.float64)
    cells = np.unique(places[0])[:SCIPY_CELLS]
    for cell in cells:
        surface = log[places[1, places[0] == cell]].sum(axis=0) + log_prior

        def height(place: np.ndarray, surface: np.ndarray = surface) -> float:
            by_bin = [np.interp(place[0], grid.theta, row) for row in surface]
            return -float(np.interp(place[1], bins, by_bin))

        limits = [(grid.theta[0], grid.theta[-1]), (0.0, bins[-1])]
        minimize(height, [0.0, bins[-1] / 2], method="L-BFGS-B", bounds=limits)
    return cells.size


def worst_difference(one: Today, other: Today) -> float:
    """The largest difference of any estimate."""
    pairs = ((getattr(one, field.name), getattr(other, field.name)) for field in fields(Today))
    return max(float(np.abs(a.astype(float) - b).max(initial=0.0)) for a, b in pairs)


def show_sample(answers: Answers) -> None:
    """The full model on the sample brewery beside both references, and `follow`."""
    glasses, blanks, shape, today = answers
    cells = np.unique(glasses.person * shape[1] + glasses.compound).size
    full, now = best(lambda: full_model(answers))
    plain, _ = best(lambda: plain_product(answers))
    bare, of_thousand = bare_products(answers)
    seconds, fitted = best(lambda: by_scipy(answers), runs=1)
    scipy = seconds / fitted * cells
    walk, followed = best(lambda: follow(glasses, blanks, shape, today, DEFAULT, OUTLOOK_DAYS), 3)
    same_day = replace(glasses, day=np.full_like(glasses.day, today), family=0 * glasses.family)
    apart = full_model((same_day, blanks, (*shape[:2], 1), today)).chance_met_own.ravel()
    apart = np.abs(apart - plain_product(answers).chance_met).max()
    print(f"Sample brewery: {glasses.day.size} glasses, {shape} people, compounds, families")
    print(f"  full model, own and pooled, today   {full:8.3f} s   (floor .1)")
    print(f"  bare products of its messages       {bare:8.3f} s   {full / bare:6.1f} x as quick")
    print(f"  1,000 of these products             {1000 * of_thousand:8.1f} ms")
    print(f"  plain product without dates         {plain:8.3f} s   {full / plain:6.1f} x as quick")
    print(
        f"  scipy, cell by cell (of {fitted})        {scipy:8.3f} s   {scipy / full:6.1f} x as slow"
    )
    print(f"  follow: {followed.days.size} readings of the past   {walk:8.3f} s")
    print(f"  full model, all of today and one family, to plain product: {apart:.0e}")
    print(f"  present to follow's today: {worst_difference(now, followed.today):.0e}")


def show_session(answers: Answers) -> None:
    """One more session of 54 cells: taken in and read, beside a full recompute."""
    glasses, blanks, shape, today = answers
    people = np.repeat(np.arange(9), 6)
    draw = np.random.default_rng(3)
    new = Glasses(
        day=np.full(54, today),
        person=people,
        compound=np.tile(np.arange(6), 9),
        family=np.zeros(54, dtype=np.int64),
        method=np.full(54, "naming"),
        level=np.full(54, 3.0),
        background=np.zeros(54),
        outcome=draw.integers(0, 3, 54),
    )
    so_far = Present(shape)
    so_far.take_in(glasses, blanks)
    print("One session more: 54 cells taken in and read, own and pooled")
    for name, called in (("nobody's false-call node moves", 0), ("somebody's moves", 30)):
        calls = Blanks(np.full(called, today), np.zeros(called, int), np.ones(called, bool))
        together = [
            kind(*(np.concatenate([getattr(part, f.name) for part in parts]) for f in fields(kind)))
            for kind, parts in ((Glasses, (glasses, new)), (Blanks, (blanks, calls)))
        ]
        seconds = []
        for _ in range(7):
            present = deepcopy(so_far)
            start = time.process_time()
            present.take_in(new, calls)
            present.read_cells(today, new.person, new.compound, new.family)
            seconds.append(time.process_time() - start)
        full, recomputed = best(lambda both=together: full_model((*both, shape, today)))
        apart = worst_difference(present.read(today), recomputed)
        print(
            f"  {name:32} {1000 * min(seconds):6.1f} ms   (floor 20)"
            f"   full recompute {full / min(seconds):5.1f} x as slow, agrees to {apart:.0e}"
        )


def show_growth() -> None:
    """Seconds by number of answers, of 40 people and 25 compounds in two families."""
    print("Growth: 40 people, 25 compounds, 2 families")
    print(f"  {'answers':>8} {'sessions':>8} {'full model':>11} {'follow':>9} {'plain':>8}")
    for number, sessions in ((1_000, 4), (10_000, 36), (100_000, 358)):
        answers = drawn_answers(number, (40, 25, 2), sessions)
        full, _ = best(lambda given=answers: full_model(given), 2)
        plain, _ = best(lambda given=answers: plain_product(given), 2)
        walk, _ = best(lambda given=answers: follow(*given, DEFAULT, OUTLOOK_DAYS), 1)
        print(f"  {number:8} {sessions:8} {full:9.2f} s {walk:7.2f} s {plain:6.2f} s")


def show_large() -> None:
    """10,000 cells with 20 sessions each; alone in its process, for the memory."""
    answers = every_cell(100, 100, 20)
    seconds, _ = best(lambda: full_model(answers), 1)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024**2
    plain, _ = best(lambda: plain_product(answers), 1)
    bare, _ = bare_products(answers)
    print("10,000 cells, 20 sessions each, 200,000 glasses")
    print(f"  full model {seconds:6.2f} s (floor 5), at most {peak:.2f} GB in all (floor 1)")
    print(f"  bare products {bare:6.2f} s, {seconds / bare:.1f} x as quick")
    print(f"  plain product without dates {plain:6.2f} s, {seconds / plain:.1f} x as quick")


def main() -> None:
    """Print the figures."""
    with threadpool_limits(limits=1):
        if sys.argv[1:] == ["large"]:
            show_large()
            return
        answers = sample_answers()
        full_model(answers)  # the tables that everything shares
        show_sample(answers)
        show_session(answers)
        subprocess.run([sys.executable, __file__, "large"], check=True)
        show_growth()


if __name__ == "__main__":
    main()
