"""One panellist over all compounds: run of days, pairs, calls in blanks, and intensity ratings."""

from datetime import date
from typing import Any, Final

import streamlit as st

from seatworthy.charts.dressing import dressed
from seatworthy.charts.palette import Shade
from seatworthy.charts.run_of_days import run_of_days_chart
from seatworthy.pages.figures import guessing_chance, percent, short_day, spread
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.steps.figures_views import DayShare, OwnHistory, RatingRow

_RATING_HEADS: Final = (
    "Compound",
    "ratings",
    "pairs",
    "spread, own (9 in 10)",
    "spread, panel",
    "F between samples",
    "p",
    "s_r, s_R of the panel",
    "ICC (2,1)",
)
_RATINGS_NOTE: Final = (
    "Intensity ratings of the last 12 months; they judge nobody. Spread: of one rating, from hidden "
    "pairs, drawn towards the panel's while pairs are few. F: do ratings differ between samples more "
    "than within? s_r and s_R after ISO 5725-2. ICC: how alike those rate who rated every sample."
)


def history_words(history: OwnHistory, seen_on: date) -> str:
    """The run of days, pairs and calls, a line each; "" where there is none of them."""
    lines = [*_run(history, seen_on), *_pairs(history), *_calls(history), *_yes_and_no(history)]
    rows = [tag("dt", escaped(title)) + tag("dd", escaped(words)) for title, words in lines]
    return tag("dl", "".join(rows), class_="said") if rows else ""


def ratings_table(rows: tuple[RatingRow, ...]) -> str:
    """One row a compound that was rated; a figure that is not known is an empty cell."""
    heads = "".join(tag("th", escaped(head), scope="col") for head in _RATING_HEADS)
    body = "".join(_rating(row) for row in rows)
    table = tag("table", tag("thead", tag("tr", heads)) + tag("tbody", body), class_="figures")
    across = tag(
        "div", table, class_="across", tabindex=0, role="region", aria_label="Intensity ratings"
    )
    return tag("h3", "Intensity ratings") + across + tag("p", escaped(_RATINGS_NOTE), class_="note")


def show_run_of_days(history: OwnHistory, shade: Shade) -> None:
    """The share named right, day by day, with its moving average; nothing for a single day."""
    if len(history.days) > 1:
        alt = "Share named right on each day, and its moving average between its limits"
        spec = _run_spec(history.days, shade)
        st.html(paper(tag("h3", "Named right, day by day, over all compounds and beers")))
        st.vega_lite_chart(spec=spec, theme=None, width="stretch", alt=alt)


@st.cache_data(max_entries=64, show_spinner=False)
def _run_spec(days: tuple[DayShare, ...], shade: Shade) -> dict[str, Any]:
    return dressed(run_of_days_chart(days, shade), shade).to_dict()


def _run(history: OwnHistory, seen_on: date) -> list[tuple[str, str]]:
    if history.slope is None or history.slope_range is None:
        return []  # too few days for either
    last = history.days[-1]
    where = (
        "below its usual range" if last.average < last.low
        else "above its usual range" if last.average > last.high
        else "within its usual range"
    )  # fmt: skip
    limits = spread((last.low, last.high))
    words = (
        f"{percent(last.average)} named right up to {short_day(last.day, seen_on)}, the newest day "
        f"weighing a fifth; {where} ({limits}), three standard deviations if nothing changes."
    )
    over = [100 * history.years * end for end in (history.slope, *history.slope_range)]
    fell = f"one-sided p of a fall {guessing_chance(history.chance_falling)} (Kendall)"
    slope = (
        f"None to be read, most days are alike; {fell}."
        if not any(round(end) for end in over)
        else f"{over[0]:+.0f} points from the first day to the last ({over[1]:+.0f} to {over[2]:+.0f}, "
        f"9 in 10); {fell}."
    )
    return [("Moving average (EWMA)", words), ("Middle slope (Theil-Sen)", slope)]


def _pairs(history: OwnHistory) -> list[tuple[str, str]]:
    if not history.pairs:
        return []
    kappa = (
        "kappa says nothing: one and the same answer throughout"
        if history.kappa is None
        else f"kappa {history.kappa[0]:.2f}, standard error {history.kappa[1]:.2f}"
    )
    words = (
        f"The same answer twice in {history.same} of {history.pairs}; {kappa}. Both right or both "
        f"not in {history.agreed}; about {history.expected:.0f} would be usual at these rates."
    )
    return [("Hidden pairs", words)]


def _calls(history: OwnHistory) -> list[tuple[str, str]]:
    lines = []
    if history.false_call_rate is not None:
        mean, *limits = history.false_call_rate
        words = (
            f"{history.false_calls} of {history.blanks} blanks; {percent(mean)} "
            f"({spread((limits[0], limits[1]))}, 9 in 10)."
        )
        lines.append(("False calls", words))
    if history.d_prime is not None and history.d_prime_range is not None:
        reach = " to ".join(f"{end:.1f}" for end in history.d_prime_range)
        words = (
            f"Something called in {history.calls} of {history.spiked} spiked glasses that count; d′ "
            f"{history.d_prime:.2f}, c {history.criterion:.2f} (log-linear), d′ {reach}, 9 in 10."
        )
        lines.append(("Spiked against plain", words))
    return lines


def _yes_and_no(history: OwnHistory) -> list[tuple[str, str]]:
    """A/not-A answers: yes to spiked glasses against yes to plain ones."""
    asked = history.yes_no
    if asked is None:
        return []
    told = "" if asked.d_prime is None else f"; d′ {asked.d_prime:.2f}, c {asked.criterion:.2f}"
    words = (
        f"Yes to {asked.hits} of {asked.spiked} spiked and {asked.false_alarms} of {asked.blanks} plain "
        f"glasses{told} (log-linear). A yes to a plain one is no false call by the rule."
    )
    return [("A or not A", words)]


def _rating(row: RatingRow) -> str:
    words = (
        str(row.ratings),
        str(row.pairs or ""),
        _own_spread(row),
        _number(row.panel_sd),
        _number(row.f_ratio),
        guessing_chance(row.f_chance),
        ", ".join(filter(None, [_number(row.repeatability_sd), _number(row.reproducibility_sd)])),
        f"{row.correlation:.2f}, {row.raters} raters" if row.correlation is not None else "",
    )
    head = tag("th", escaped(row.label), scope="row")
    return tag("tr", head + "".join(tag("td", escaped(word)) for word in words))


def _own_spread(row: RatingRow) -> str:
    if row.sd is None or row.sd_range is None:
        return ""
    return f"{row.sd:.2g} ({row.sd_range[0]:.2g} to {row.sd_range[1]:.2g})"


def _number(value: float | None) -> str:
    if value is None:
        return ""
    return f"{value:.0f}" if value >= 99.5 else f"{value:.2g}"
