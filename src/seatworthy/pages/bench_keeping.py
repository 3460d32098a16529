"""How long a compound keeps once it is dosed, and how strong it may be served."""

from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, listing, plain_number, written
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.bench_limits import state_limits
from seatworthy.steps.bench_views import BenchView, LimitLine
from seatworthy.steps.views import Choice

_MEANING: Final = (
    "Hours from dosing to serving, and the strongest level served, in multiples of the working threshold. "
    "What is usual comes from common practice, not from a measurement; state your own where you know "
    "better. Answers to what was kept too long stay on record and don't count for a seat."
)
_PLACE: Final = "limits"
_FIELDS: Final = ("keeps", "weak", "ceiling")


def show_keeping(view: BenchView) -> None:
    """A form for one compound, then what holds of every one; those of our own first."""
    st.html(paper(tag("h2", "How long it keeps, and how strong"),
                  tag("p", escaped(_MEANING), class_="note")))  # fmt: skip
    labels = labels_told_apart(Choice(line.compound, line.label) for line in view.limits)
    st.selectbox("Compound", list(labels), format_func=labels.get, key="limits_compound")
    line = next(line for line in view.limits if line.compound == written("limits_compound"))
    _form(line, view)
    show_told(_PLACE)
    ours = [line for line in view.limits if line.own]
    if ours:
        st.html(paper(tag("h2", "What you state yourselves"), _table(ours, view.today)))
    with st.expander(f"What is usual for the other {len(view.limits) - len(ours)} compounds"):
        st.html(paper(_table([line for line in view.limits if not line.own], view.today)))


def _form(line: LimitLine, view: BenchView) -> None:
    own = line.own
    figures = (own.keeps_h, own.keeps_weak_h, own.highest_level) if own else (None, None, None)
    words = (
        "Keeps capped, hours",
        "The same at threshold or weaker",
        "Strongest level, × threshold",
    )
    st.html(paper(tag("p", escaped(f"Usual: {line.usual}."), class_="note")))
    with st.form(f"limits_{line.compound}", border=False):
        *fields, since = st.columns(4)
        for place, field, label, figure in zip(fields, _FIELDS, words, figures, strict=True):
            stated = "" if figure is None else plain_number(figure)
            place.text_input(label, stated, max_chars=12, key=_key(line.compound, field))
        since.date_input(
            "Counts from", value=view.today, max_value=view.today, format="YYYY-MM-DD",
            min_value=date(1990, 1, 1), key=_key(line.compound, "since"),
        )  # fmt: skip
        st.form_submit_button(
            "Record it (an empty field: what is usual)", on_click=_record, args=(line.compound,)
        )


def _key(compound: str, field: str) -> str:
    return f"limits_{compound}_{field}"


def _record(compound: str) -> None:
    desk = source.the_desk()
    keeps, weak, ceiling = (written(_key(compound, field)) for field in _FIELDS)
    since = st.session_state[_key(compound, "since")] or desk.today()
    act(_PLACE, partial(state_limits, desk, compound, keeps, weak, ceiling, since, by=author()))


def _table(lines: list[LimitLine], today: date) -> str:
    heads = ("Compound", "Usual hours", "Your own", "Served up to")
    return listing(heads, [_row(line, today) for line in lines])


def _row(line: LimitLine, today: date) -> tuple[str, ...]:
    own = escaped(line.own_words)
    if line.own and line.own.since:
        own += tag("i", escaped(f"since {short_day(line.own.since, today)}"))
    return escaped(line.label), escaped(line.usual), own, f"{plain_number(line.ceiling)}×"
