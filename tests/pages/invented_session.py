"""An invented session: nine people, two sittings, four jugs, in every state a page may show.

Nothing here is computed as the program would; everything is made up to be shown.
"""

from collections import OrderedDict
from dataclasses import replace
from datetime import date, datetime, time
from decimal import Decimal
from types import SimpleNamespace

from streamlit.testing.v1 import AppTest

from seatworthy.sessions.wish import WantedSample, WantedSitting, Wish
from seatworthy.steps.reveal_views import (
    FeedbackGlass,
    FeedbackView,
    ProgressRow,
    RevealView,
    SampleResult,
    StandingChange,
)
from seatworthy.steps.session_views import (
    BeerChoice,
    CompoundChoice,
    GlassLine,
    PersonChoice,
    PlanChoices,
    PlanPreview,
    SampleLine,
    SeatedView,
    SessionLine,
    SessionsView,
    SessionView,
    SittingView,
)
from seatworthy.steps.views import Choice

TODAY = date(2026, 11, 26)
HOSTILE = "<img src=x onerror=alert(1)> ![x](http://outside.example/a.png) **B**"
NAMES = (
    "Maren Thode",
    "Iker Solana",
    "Łucja Wrzos",
    "Tomás Quill",
    "Odile Perrin",
    "Bashir Nourad",
    "Greta Lindholm",
    "Petr Šimůnek",
    "Hana Itō",
)
PEOPLE = tuple(Choice(f"p{number}", name) for number, name in enumerate(NAMES, start=1))
LETTERS = "ABCDAB"


def invented_sessions():
    lines = (
        _line("s9", date(2026, 11, 26), "Thursday panel", "planned", 0, "Print the papers."),
        _line("s8", date(2026, 11, 19), "Mid-month check", "in_hand", 31, "23 without an answer."),
        _line("s7", date(2026, 10, 29), "Stouts, first look", "closed", 54, "See what came of it."),
        _line("s6", date(2026, 10, 22), "Keg line trial", "called_off", 3, "Nothing counts."),
        _line("s5", date(2026, 9, 3), "Early autumn", "brought_in", 54, "Brought in from a file."),
    )
    return SessionsView(
        "Thursday's session is planned for nine, today", "print the papers.", "One is open.", lines
    )


def no_sessions():
    lead = "A session starts with a plan: who comes, what is poured, blanks and a hidden pair."
    return SessionsView("No session yet", "plan the first one.", lead, ())


def _line(session_id, on, label, state, answered, sentence):
    purpose = "" if state == "brought_in" else "qualification"
    return SessionLine(session_id, on, label, purpose, state, 9, 54, answered, sentence)


def invented_session(state="planned", names=NAMES):
    is_done = state in ("over", "closed")
    sittings = (
        _sitting("early", "Early shift", 10, names[:4], 1, state, is_done),
        _sitting("late", "Late shift", 15, names[4:8], 5, state, is_done),
    )
    missing = 0 if is_done else sum(seat.waiting for s in sittings for seat in s.seated)
    return SessionView(
        session_id="s9",
        session_on=TODAY,
        label="Thursday panel",
        purpose="qualification",
        beer="House pils",
        family="Pale lagers",
        state=state,
        answer="Thursday panel is planned for today",
        catch="print the papers." if state == "planned" else "",
        lead="Eight people, 48 glasses, House pils.",
        sittings=sittings,
        preparers=(names[1],),
        is_recoded=False,
        recoded_by="",
        hindrances=() if is_done else ("Early shift is not over yet.",),
        missing=missing,
        may_come=(Choice("p9", names[8]),),
        people=tuple(Choice(f"p{n}", name) for n, name in enumerate(names, start=1)),
        care=(
            "7 glasses of 30 ml at 4.9% hold 8.1 g of alcohol; spat, that counts as 1.6 g of 8 g.",
            f"{names[2]} is not to be served isovaleric acid.",
        ),
    )


def without_answers(view, count=3):
    """The same session with every sitting over and some answers missing."""
    early = view.sittings[0]
    seats = (replace(early.seated[0], waiting=count), *early.seated[1:])
    return replace(view, sittings=(replace(early, seated=seats), *view.sittings[1:]), missing=count)


def _sitting(key, label, hour, names, first, state, is_over):
    return SittingView(
        sitting_id=key,
        label=label,
        starts_at=datetime.combine(TODAY, time(hour, 30)),
        seated=tuple(_seat(key, n, name, state) for n, name in enumerate(names, start=first)),
        samples=_samples(key),
        spares_left=1,
        is_over=is_over,
    )


def _seat(sitting, number, name, state):
    is_answered = state in ("over", "closed") or (state == "in_hand" and number < 4)
    late = "late" if state == "in_hand" and number == 2 else "expected"
    glasses = tuple(
        GlassLine(
            serving_id=f"{sitting}-{number}-{position}",
            position=position,
            code=f"{100 * number + 13 * position + 4}",
            mark=LETTERS[(position + number) % 6],
            said="diacetyl" if is_answered else "",
            event="spilled" if state == "in_hand" and (number, position) == (5, 2) else "",
            is_aside=False,
        )
        for position in range(1, 7)
    )
    return SeatedView(f"p{number}", name, late, glasses, 0 if is_answered else 6, False)


def _samples(sitting):
    parts = (
        ("A", "diacetyl", "Diacetyl", "3", "18 µl of the 10 mg/l stock in 1.2 l", 2),
        ("B", None, "nothing added", None, "", 2),
        ("C", "dms", "DMS", "2.5", "840 µl in 1.2 l", 1),
        ("D", "t2n", "Papery", "3", "12 µl in 1.2 l", 1),
    )
    return tuple(
        SampleLine(
            sample_id=f"{sitting}-{mark}",
            mark=mark,
            compound=compound,
            label=label,
            planned_level=None if level is None else Decimal(level),
            actual_level=None,
            age_minutes=None,
            addition=addition,
            per_person=glasses,
            is_aside=False,
        )
        for mark, compound, label, level, addition, glasses in parts
    )


def invented_choices(names=NAMES, hindrance=""):
    compounds = (
        ("diacetyl", "Diacetyl", ("pale_lager", "stout"), "yes"),
        ("dms", "DMS", ("",), "yes"),
        ("t2n", "Papery", ("pale_lager",), "prediluted"),
        ("nitrosamine", "Never poured", ("pale_lager",), "no"),
        ("geosmin", "Earthy", (), "yes"),
    )
    return PlanChoices(
        today=TODAY,
        beers=(
            BeerChoice("pils", "House pils", "pale_lager", "Pale lagers", Decimal("4.9")),
            BeerChoice("stout", "Harbour stout", "stout", "Stouts", Decimal("6.2")),
            BeerChoice("trial", "Trial wheat", "wheat", "Wheat beers", None),
        ),
        compounds=tuple(CompoundChoice(*fields, "") for fields in compounds),
        people=tuple(
            PersonChoice(f"p{number}", name, "isovaleric acid" if number == 3 else "")
            for number, name in enumerate(names, start=1)
        ),
        hindrance=hindrance,
    )


def invented_wish(samples=True):
    wanted = (
        WantedSample("diacetyl", Decimal(3), "18 µl of the 10 mg/l stock in 1.2 l", 2),
        WantedSample(None, None, "", 2),
        WantedSample("dms", Decimal("2.5"), "840 µl in 1.2 l", 1),
    )
    people = tuple(choice.key for choice in PEOPLE)
    return Wish(
        session_on=TODAY,
        label="Thursday panel",
        purpose="qualification",
        beer="pils",
        abv_percent=Decimal("4.9"),
        volume_ml=Decimal(30),
        samples=wanted if samples else (),
        sittings=(WantedSitting("Sitting 1", datetime.combine(TODAY, time(14)), people),),
        seed=417,
    )


def invented_preview(wish):
    return PlanPreview(
        answer=f"{wish.label}: five glasses of {wish.volume_ml:g} ml for nine people",
        alcohol_g=Decimal("1.4"),
        swallowed_g=Decimal("7.0"),
        left_out=("Łucja Wrzos gets no glass of isovaleric acid.",),
        notes=("DMS leaves the beer within hours: add it last.",),
    )


def invented_reveal(names=NAMES):
    return RevealView(
        session_id="s7",
        session_on=date(2026, 10, 29),
        label="Thursday panel",
        family="Pale lagers",
        answer="Three standings changed",
        catch="look at the bottle first: D (papery).",
        lead="54 answers came in, 48 of them count. One of the changes concerns a seat.",
        changes=(
            StandingChange("p1", names[0], "", "Seat", "Pale lagers", "no seat", "can sit",
                           f"{names[0]} can sit for the pale lagers. 5 of 6 critical are met."),
            StandingChange("p1", names[0], "dms", "DMS", "Pale lagers", "too_little", "met",
                           "DMS: 8 of 8, met."),
            StandingChange("p4", names[3], "t2n", "Papery", "Pale lagers", "met", "not_met",
                           "Papery: 4 of 9, not met. 3 more glasses would settle it."),
        ),
        samples=(
            _result("A", "Diacetyl", "3", 16, 14, 1),
            _result("B", "nothing added", None, 16, 15, 0),
            _result("C", "DMS", "2.5", 8, 6, 1),
            replace(
                _result("D", "Papery", "3", 8, 0, 7),
                is_suspect=True,
                sentence="Everybody missed it, and most usually find it. Look at the bottle first.",
            ),
        ),
        people=tuple(Choice(f"p{n}", name) for n, name in enumerate(names[:8], start=1)),
        not_counted=(f"{names[1]} prepared the glasses, so those answers are kept and not counted.",),
    )  # fmt: skip


def _result(mark, label, level, answers, right, missed):
    return SampleResult(
        sample_id=f"early-{mark}",
        sitting="Early shift",
        mark=mark,
        label=label,
        level=None if level is None else Decimal(level),
        answers=answers,
        named_right=right,
        missed=missed,
        other_names=answers - right - missed,
        unnamed=0,
        is_aside=False,
        is_suspect=False,
        sentence="",
    )


def invented_feedback(person_id, name=None):
    names = {choice.key: choice.label for choice in PEOPLE}
    if person_id not in names:
        return None
    return FeedbackView(
        session_id="s7",
        session_on=date(2026, 10, 29),
        session_label="Thursday panel",
        brewery="Ottersgrund Brewery",
        family="Pale lagers",
        person_id=person_id,
        name=name or names[person_id],
        answer="You named DMS, which got past you last time. Four of six right.",
        compared="Spiked glasses named right this time: 3 of 4; in the 12 months before: 21 of 30.",
        smell_next="Smell ethyl hexanoate and isoamyl acetate side by side, ten breaths apart.",
        glasses=(
            FeedbackGlass(1, "862", "nothing added", "nothing", "right", 7, 6, ""),
            FeedbackGlass(2, "593", "Ethyl hexanoate, 3×", "isoamyl acetate", "wrong", 7, 4, ""),
            FeedbackGlass(3, "417", "Papery, 3×", "papery", "right", 3, 3, ""),
            FeedbackGlass(4, "246", "DMS, 2.5×", "DMS", "right", None, None, ""),
            FeedbackGlass(5, "738", "Papery, 3×", "", "missed", 7, 0, "set aside: not counted"),
            FeedbackGlass(6, "159", "Acetaldehyde, 3×", "wet dog", "open", 7, 5,
                          "own words: not counted yet"),
        ),
        progress=(
            ProgressRow("Papery", "met", 1, 2, 11, 12, 0.88, 0.76, 0.97, ""),
            ProgressRow("DMS", "too_little", 1, 1, 5, 7, 0.72, 0.53, 0.88, "3 more glasses"),
            ProgressRow("Ethyl hexanoate", "not_met", 0, 1, 2, 6, 0.47, 0.27, 0.68, ""),
            ProgressRow("Acetaldehyde", "no_glasses", 0, 1, 0, 0, None, None, None, ""),
        ),
        needed=0.7,
        reference_level=3.0,
        people=PEOPLE[:8],
    )  # fmt: skip


def started(page, **address):
    """One page alone, under an address; it must not fail."""
    script = f"from seatworthy.pages import {page}\n{page}.show()\n"
    test = AppTest.from_string(script, default_timeout=20)
    for name, value in address.items():
        test.query_params[name] = value
    test.run()
    assert not test.exception
    return test


def html_of(test):
    """Everything that a page wrote as HTML."""
    return "\n".join(element.proto.body for element in test.get("html"))


def choice(test, key):
    """The row of buttons whose key this is."""
    return next(group for group in test.get("button_group") if group.key == key)


def button(test, label):
    """The button that says so."""
    return next(found for found in test.button if found.label == label)


def invented_desk():
    """What stands for the open store where every step is invented as well; nothing is on record."""
    store = SimpleNamespace(rows=lambda query, known_at=None, **params: [])
    return SimpleNamespace(today=lambda: TODAY, store=store, version=0, sessions=OrderedDict())
