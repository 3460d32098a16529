"""Weighed calls that were kept: the list, what the beers turned out to have, and their calibration."""

from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import call_address
from seatworthy.pages.figures import percent, short_day, spread
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import author, choose_author, listing, written
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.phrases import weighed_percent
from seatworthy.steps import weighings_kept
from seatworthy.steps.history_release_words import NOTHING, UNLISTED
from seatworthy.steps.weigh_views import BandLine, Choices, KeptLine, KeptView
from seatworthy.steps.weighings_kept import HOW_KNOWN

OUTCOME: Final = "sure_outcome"
_LATEST: Final = 8  # the others are opened with a click
_FOUND: Final = {NOTHING: "Nothing wrong", UNLISTED: "Something that is not on the list"}
_NOTE: Final = (
    "Each call counts with the likeliest compound that was named, or with any fault where none was. The "
    "limits hold nine chances in ten. Beers that nobody looked into count nowhere."
)


def show_kept(view: KeptView, today: date) -> None:
    """The list of kept calls and whether they keep their word; a sentence where there is none."""
    head = tag("h2", "Do such chances keep their word?")
    st.html(paper(head, tag("p", escaped(view.sentence)), class_="proof"))
    if any(band.calls for band in view.bands):
        st.html(paper(_bands(view.bands), tag("p", escaped(_NOTE), class_="note")))
    if view.lines:
        latest, earlier = view.lines[:_LATEST], view.lines[_LATEST:]
        more = ""
        if earlier:
            words = tag("summary", f"{len(earlier)} earlier ones")
            more = tag("details", words + _lines(earlier, today))
        head = tag("h2", "Weighed calls on record")
        st.html(paper(head, _lines(latest, today), more, class_="proof"))


def offer_outcome(weighing_id: str, choices: Choices) -> None:
    """State what the beer really had."""
    found = {**_FOUND, **labels_told_apart(choices.compounds)}
    with st.expander("State what it really had"):
        with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
            st.selectbox(
                "It had", list(found), format_func=found.get, key="outcome_what", width=320
            )
            st.selectbox(
                "Known", list(HOW_KNOWN), format_func=HOW_KNOWN.get, key="outcome_how", width=280
            )
        st.text_input("A remark (may stay empty)", key="outcome_remark", max_chars=500)
        choose_author()
        st.button("Record it", key="outcome_record", on_click=partial(_record, weighing_id))
    show_told(OUTCOME)


def _record(weighing_id: str) -> None:
    desk = source.the_desk()
    act(
        OUTCOME,
        lambda: weighings_kept.state_outcome(
            desk,
            weighing_id,
            written("outcome_what"),
            written("outcome_how"),
            written("outcome_remark"),
            author(),
        ),
    )


def _bands(bands: tuple[BandLine, ...]) -> str:
    heads = ("Given", "Calls", "Confirmed", "Share", "In words")
    rows = [
        (
            escaped(band.head),
            str(band.calls) if band.calls else "",
            f"{tag('b', str(band.confirmed))} of {band.calls}" if band.calls else "",
            _share(band),
            escaped(band.sentence),
        )
        for band in bands
    ]
    return listing(heads, rows, "kept")


def _share(band: BandLine) -> str:
    if band.limits is None:
        return "too few yet" if band.calls else ""
    return f"{percent(band.confirmed / band.calls)} {tag('small', f'({spread(band.limits)})')}"


def _lines(lines: tuple[KeptLine, ...], today: date) -> str:
    heads = ("Beer", "Weighed", "About", "Chance", "Turned out to have")
    return listing(heads, [_line(line, today) for line in lines], "kept")


def _line(line: KeptLine, today: date) -> tuple[str, ...]:
    name = tag(
        "a", escaped(line.label), href=call_address(line.weighing_id), target="_self", class_="way"
    )
    outcome = escaped(line.outcome) if line.outcome else "not known yet"
    return (
        name + tag("i", escaped(line.family_label)),
        short_day(line.weighed_on, today),
        escaped(line.what),
        escaped(weighed_percent(line.chance)),
        outcome,
    )
