"""The plain figures an auditor redoes with a pencil, as one folded table."""

from seatworthy.pages.figures import guessing_chance, spread
from seatworthy.pages.markup import escaped, tag
from seatworthy.phrases import multiple
from seatworthy.steps.views import PlainFigures, RecordRow

_HEADS = (
    "Compound",
    "named right",
    "Wilson, 95%",
    "Jeffreys, 95%",
    "exact, 95%",
    "run of glasses",
    "sets right",
    "by guessing, p",
    "best-estimate threshold",
)


def figures_table(rows: tuple[RecordRow, ...]) -> str:
    """One row a compound with glasses; a figure that is not known is an empty cell."""
    heads = "".join(tag("th", escaped(head), scope="col") for head in _HEADS)
    body = "".join(_row(row) for row in rows if row.history)
    table = tag("table", tag("thead", tag("tr", heads)) + tag("tbody", body), class_="figures")
    # Where the table is wider than the screen, the arrow keys must reach its end.
    return tag("div", table, class_="across", tabindex=0, role="region", aria_label="Plain figures")


def _row(row: RecordRow) -> str:
    figures, cell = row.figures, row.cell
    words = (
        f"{cell.named_right} of {cell.glasses}" if cell.glasses else "",
        spread(figures.wilson),
        spread(figures.jeffreys),
        spread(figures.exact),
        figures.run,
        f"{figures.choice_right} of {figures.choice_sets}" if figures.choice_sets else "",
        guessing_chance(figures.chance_by_guessing),
        _best_estimate(figures),
    )
    head = tag("th", escaped(row.label), scope="row")
    return tag("tr", head + "".join(tag("td", escaped(word)) for word in words))


def _best_estimate(figures: PlainFigures) -> str:
    if figures.best_estimate is None:
        return ""
    edge = f"{figures.best_estimate_edge} " if figures.best_estimate_edge else ""
    return edge + multiple(figures.best_estimate)
