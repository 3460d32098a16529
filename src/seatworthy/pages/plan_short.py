"""The fields that both short forms share: when, who comes, how much is poured, and the sentence on top."""

from collections.abc import Sequence
from datetime import time, timedelta
from decimal import Decimal
from typing import Any, Final

import streamlit as st

from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.sessions.wish import WantedSitting
from seatworthy.steps.release_wishes import ShortWish, sitting_at
from seatworthy.steps.sentences import number_word
from seatworthy.steps.session_views import PlanChoices, PlanPreview
from seatworthy.steps.views import Choice

MOST_SITTINGS: Final = 3
KEPT: Final = {"persist_state": "session"}
_QUARTER: Final = timedelta(minutes=15)
_LATER_H: Final = 2  # between one sitting and the next, until somebody says so


class ShortForm:
    """The fields of one short form, each kept under a name of its own.

    Args:
        prefix: What the names begin with.
        choices: What may be chosen from.
    """

    def __init__(self, prefix: str, choices: PlanChoices) -> None:
        self.prefix, self.choices = prefix, choices

    def key(self, name: str) -> str:
        """Under which a field is kept."""
        return f"{self.prefix}_{name}"

    def typed(self, name: str) -> Any:  # noqa: ANN401
        """What a field holds."""
        return st.session_state.get(self.key(name))

    @property
    def is_new(self) -> bool:
        """Whether nothing was typed yet in this visit."""
        return self.key("started") not in st.session_state

    def start(self, label: str, people: Sequence[str], day: object, at: time, seed: int) -> None:
        """Fill the shared fields."""
        self.put(
            started=True, day=day, label=label, seed=seed, sittings=1, volume=30.0, spits=True,
            container=None, recorded={},
        )  # fmt: skip
        for number in range(MOST_SITTINGS):
            hour = min(23, at.hour + _LATER_H * number)
            self.put(**{
                f"label_{number}": f"Sitting {number + 1}",
                f"time_{number}": at.replace(hour=hour),
                f"people_{number}": list(people) if number == 0 else [],
            })  # fmt: skip

    def put(self, **values: object) -> None:
        """Fill some fields."""
        for name, value in values.items():
            st.session_state[self.key(name)] = value

    def show_when(self) -> None:
        """Day and name."""
        st.html(paper(tag("h2", "When")))
        with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
            st.date_input("Day", format="YYYY-MM-DD", key=self.key("day"), width=150, **KEPT)
            st.text_input("Name", max_chars=60, key=self.key("label"), width=300, **KEPT)

    def show_people(self, note: str) -> None:
        """Who comes, sitting by sitting; volume and spitting folded away."""
        names = labels_told_apart(
            Choice(p.person_id, f"{p.name} (not: {p.not_served})" if p.not_served else p.name)
            for p in self.choices.people
        )
        st.html(paper(tag("h2", "Who comes"), tag("p", escaped(note), class_="note")))
        st.segmented_control(
            "Sittings", list(range(1, MOST_SITTINGS + 1)), required=True, key=self.key("sittings"),
            **KEPT,
        )  # fmt: skip
        for number in range(self.typed("sittings") or 1):
            self._show_sitting(number, names)
        with st.expander("Glasses and codes"):
            self._show_glasses()

    def _show_sitting(self, number: int, names: dict[str, str]) -> None:
        with st.container(horizontal=True, vertical_alignment="top", gap="small"):
            st.text_input(
                "Sitting", max_chars=40, key=self.key(f"label_{number}"), width=150, **KEPT
            )
            st.time_input(
                "Starts", step=_QUARTER, key=self.key(f"time_{number}"), width=110, **KEPT
            )
            st.multiselect(
                "People", list(names), format_func=names.get, placeholder="Choose people",
                filter_mode="contains", select_all=False, key=self.key(f"people_{number}"),
                width="stretch", wrap=True, **KEPT,
            )  # fmt: skip

    def _show_glasses(self) -> None:
        st.checkbox("Everybody spits", key=self.key("spits"), **KEPT)
        with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
            st.number_input(
                "A glass, ml", min_value=5.0, max_value=200.0, step=5.0, format="%g",
                key=self.key("volume"), width=160, **KEPT,
            )  # fmt: skip
            st.number_input(
                "Seed of codes and orders", min_value=0, max_value=2**31 - 1, step=1,
                key=self.key("seed"), width=200, **KEPT,
            )  # fmt: skip

    def wish(self) -> tuple[str, ...] | ShortWish:
        """What is asked for, or what is missing, as sentences."""
        if self.typed("day") is None:
            return ("Choose a day.",)
        sittings = tuple(self._sitting(number) for number in range(self.typed("sittings") or 1))
        if any(sitting is None for sitting in sittings):
            return ("Say when each sitting starts.",)
        return ShortWish(
            session_on=self.typed("day"),
            label=(self.typed("label") or "").strip(),
            sittings=tuple(sitting for sitting in sittings if sitting is not None),
            volume_ml=Decimal(f"{self.typed('volume') or 30:.10g}"),
            spits=bool(self.typed("spits")),
            seed=int(self.typed("seed") or 0),
            container=self.typed("container"),
        )

    def _sitting(self, number: int) -> WantedSitting | None:
        start = self.typed(f"time_{number}")
        if start is None:
            return None
        label = (self.typed(f"label_{number}") or "").strip()
        return sitting_at(self.typed("day"), start, label, self.typed(f"people_{number}") or ())

    def show_container(self) -> None:
        """What a check glass is dosed in, where kinds of vessel stand on the bench."""
        if not self.choices.containers:
            return
        labels = labels_told_apart(self.choices.containers)
        st.selectbox(
            "Dosed from the bench, in", list(labels), index=None, format_func=labels.get,
            placeholder="Not from the bench, but by hand",
            key=self.key("container"), width=420, **KEPT,
        )  # fmt: skip


def open_short(where: str, preview: PlanPreview | None, faults: Sequence[str], lead: str) -> None:
    """The top of a short form: what comes of it, or how much is missing."""
    if preview is not None:
        st.html(opening([where], preview.answer, "", lead))
        return
    count = len(faults)
    catch = "one thing is missing" if count == 1 else f"{number_word(count)} things are missing"
    first = faults[0] if faults else lead
    st.html(opening([where], "This plan can't be recorded yet", catch, first))
