from dataclasses import replace
from decimal import Decimal

import pytest
from invented_session import (
    HOSTILE,
    NAMES,
    button,
    choice,
    html_of,
    invented_choices,
    invented_desk,
    invented_preview,
    invented_wish,
    started,
)
from streamlit.testing.v1 import AppTest

from seatworthy.errors import PlanRefused
from seatworthy.pages import going, source
from seatworthy.steps import planning


@pytest.fixture
def asked(monkeypatch):
    """Every wish that the page asks about, and everything else it does, written down."""
    done = {"preview": [], "record": [], "gone": []}

    def preview(desk, wish):
        done["preview"].append(wish)
        return invented_preview(wish)

    def record(desk, wish):
        done["record"].append(wish)
        return f"session {len(done['record'])}"

    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(planning, "plan_choices", lambda desk: invented_choices())
    monkeypatch.setattr(planning, "first_wish", lambda desk: invented_wish())
    monkeypatch.setattr(planning, "preview", preview)
    monkeypatch.setattr(planning, "record_plan", record)
    monkeypatch.setattr(going, "go_to", lambda page, **asked: done["gone"].append((page, asked)))
    return done


def test_an_untouched_form_asks_for_exactly_what_it_started_with(asked):
    started("plan")
    assert asked["preview"] == [invented_wish()]


def test_the_plan_as_it_stands_is_the_sentence_on_top(asked):
    page = started("plan")
    assert "Thursday panel: five glasses of 30 ml for nine people." in html_of(page).replace(
        "\N{NO-BREAK SPACE}", " "
    )
    page.text_input(key="plan_label").set_value("Friday panel").run()
    assert "Friday panel: five glasses" in html_of(page)


def test_alcohol_omissions_and_cautions_are_shown(asked):
    html = html_of(started("plan"))
    assert "1.4 g as counted, 7.0 g if everything were swallowed." in html.replace(
        "\N{NO-BREAK SPACE}", " "
    )
    assert "Łucja Wrzos gets no glass of isovaleric acid." in html
    assert "DMS leaves the beer within hours: add it last." in html


def test_a_base_beer_brings_its_alcohol_along(asked):
    page = started("plan")
    page.selectbox(key="plan_beer").set_value("stout").run()
    assert page.number_input(key="plan_abv").value == 6.2
    assert asked["preview"][-1].abv_percent == Decimal("6.2")


def test_a_beer_of_unknown_strength_asks_for_it_before_anything_else(asked):
    page = started("plan")
    page.selectbox(key="plan_beer").set_value("trial").run()
    assert "Say how strong the base beer is, in percent by volume." in html_of(page)
    assert button(page, "Record this plan").disabled


def test_every_field_reaches_the_wish(asked):
    page = started("plan")
    choice(page, "plan_purpose").set_value("training")
    choice(page, "plan_sittings").set_value(2)
    page.number_input(key="plan_volume").set_value(40.0)
    page.checkbox(key="plan_control").uncheck()
    page.checkbox(key="plan_spits").uncheck()
    page.checkbox(key="plan_leaves_out").check()
    page.number_input(key="plan_spat").set_value(25.0)
    page.number_input(key="plan_alcohol").set_value(6.0)
    page.number_input(key="plan_most").set_value(9)
    page.number_input(key="plan_spares").set_value(2)
    page.number_input(key="plan_seed").set_value(7)
    page.multiselect(key="plan_preparers").set_value(["p2"])
    page.run()
    page.multiselect(key="plan_people_1").set_value(["p1", "p3"]).run()
    wish = asked["preview"][-1]
    assert (wish.purpose, wish.volume_ml, wish.has_control) == ("training", Decimal(40), False)
    assert (wish.spits, wish.leaves_out, wish.spares, wish.seed) == (False, True, 2, 7)
    assert (wish.limits.most_glasses, wish.limits.alcohol_g) == (9, Decimal(6))
    assert wish.limits.spat_share == Decimal("0.25")
    assert wish.preparers == ("p2",)
    assert [sitting.people for sitting in wish.sittings][1:] == [("p1", "p3")]


def test_rows_of_samples_are_added_changed_and_taken_out(asked):
    page = started("plan")
    page.number_input(key="plan_row_1_level").set_value(2.5)
    page.button(key="plan_row_2_out").click()
    page.run()
    button(page, "Add a jug").click().run()
    page.selectbox(key="plan_row_4_compound").set_value("t2n")
    page.number_input(key="plan_row_4_level").set_value(3.0)
    page.run()
    samples = asked["preview"][-1].samples
    assert [(s.compound, s.level, s.glasses) for s in samples] == [
        ("diacetyl", Decimal("2.5"), 2),
        ("dms", Decimal("2.5"), 1),
        ("t2n", Decimal(3), 1),
    ]


def test_a_blank_carries_no_level_even_if_one_was_typed(asked):
    page = started("plan")
    page.number_input(key="plan_row_1_level").set_value(3.0)
    page.selectbox(key="plan_row_1_compound").set_value("(blank)").run()
    assert asked["preview"][-1].samples[0].level is None


def test_whoever_is_not_to_be_served_something_is_marked(asked):
    page = started("plan")
    assert "Łucja Wrzos (not: isovaleric acid)" in page.multiselect(key="plan_people_0").options


def test_faults_are_listed_and_nothing_typed_is_lost(asked, monkeypatch):
    def refuse(desk, wish):
        raise PlanRefused(["Papery has no working threshold & needs one.", "Nobody comes."])

    monkeypatch.setattr(planning, "preview", refuse)
    page = started("plan")
    page.text_input(key="plan_label").set_value("Kept & typed").run()
    html = html_of(page)
    assert "This plan can&#x27;t be recorded yet; <em>two things are missing.</em>" in html
    assert "<li>Papery has no working threshold &amp; needs one.</li><li>Nobody comes.</li>" in html
    assert button(page, "Record this plan").disabled
    assert page.text_input(key="plan_label").value == "Kept & typed"


def test_a_plan_without_samples_asks_for_them_in_a_friendly_way(asked, monkeypatch):
    monkeypatch.setattr(planning, "first_wish", lambda desk: invented_wish(samples=False))
    page = started("plan")
    assert "Who comes, and what is poured?" in html_of(page)
    assert asked["preview"] == []


def test_recording_leads_to_the_session(asked):
    button(started("plan"), "Record this plan").click().run()
    assert asked["record"] == [invented_wish()]
    assert asked["gone"] == [("session", {"session": "session 1"})]


def test_pressing_twice_makes_one_session(asked):
    page = started("plan")
    for _ in range(2):
        button(page, "Record this plan").click().run()
    assert len(asked["record"]) == 1
    assert asked["gone"] == [("session", {"session": "session 1"})] * 2


def test_a_refusal_at_the_last_moment_keeps_the_form(asked, monkeypatch):
    def refuse(desk, wish):
        raise PlanRefused(["There is a session of that name already."])

    monkeypatch.setattr(planning, "record_plan", refuse)
    page = started("plan")
    page.text_input(key="plan_label").set_value("Twice").run()
    button(page, "Record this plan").click().run()
    assert "There is a session of that name already." in html_of(page)
    assert page.text_input(key="plan_label").value == "Twice"
    assert asked["gone"] == []


def test_repeating_a_session_starts_from_its_plan(asked, monkeypatch):
    def again(desk, session_id):
        return replace(invented_wish(), label=f"{session_id} again", repeats=session_id)

    monkeypatch.setattr(planning, "wish_again", again)
    page = started("plan", again="s7")
    assert page.text_input(key="plan_label").value == "s7 again"
    assert asked["preview"][-1].repeats == "s7"


def test_starting_afresh_forgets_what_was_typed(asked):
    page = started("plan")
    page.text_input(key="plan_label").set_value("Not this one").run()
    button(page, "Start afresh").click().run()
    assert page.text_input(key="plan_label").value == "Thursday panel"


def two_pages():
    import streamlit as st

    from seatworthy.pages import plan

    def shelf():
        st.text("the shelf")

    pages = [st.Page(plan.show, title="Plan", url_path="plan", default=True),
             st.Page(shelf, title="Shelf", url_path="shelf")]  # fmt: skip
    choice = st.session_state.get("elsewhere")
    st.navigation([pages[1]] if choice else pages).run()


def test_a_draft_survives_a_visit_to_another_page(asked):
    page = AppTest.from_function(two_pages, default_timeout=20).run()
    page.text_input(key="plan_label").set_value("Half written")
    page.multiselect(key="plan_people_0").set_value(["p1", "p4"])
    page.number_input(key="plan_row_1_level").set_value(1.5).run()
    page.session_state["elsewhere"] = True
    page.run()
    assert not page.text_input
    page.session_state["elsewhere"] = False
    page.run()
    assert not page.exception
    wish = asked["preview"][-1]
    assert wish.label == "Half written"
    assert wish.sittings[0].people == ("p1", "p4")
    assert wish.samples[0].level == Decimal("1.5")


def test_what_hinders_planning_stands_alone_with_the_way_to_mend_it(asked, monkeypatch):
    view = invented_choices(hindrance="A plan needs a base beer first.")
    monkeypatch.setattr(planning, "plan_choices", lambda desk: view)
    page = started("plan")
    assert "A plan needs a base beer first." in html_of(page)
    assert [link.proto.page for link in page.get("page_link")] == ["shelf", "people", "plan"]
    assert not page.text_input


def test_a_hostile_name_or_fault_stays_plain_words(asked, monkeypatch):
    def refuse(desk, wish):
        raise PlanRefused([HOSTILE])

    monkeypatch.setattr(
        planning, "plan_choices", lambda desk: invented_choices(names=(HOSTILE, *NAMES[1:]))
    )
    monkeypatch.setattr(planning, "preview", refuse)
    html = html_of(started("plan"))
    assert "<img" not in html
    assert "&lt;img src=x onerror=alert(1)&gt;" in html


def test_a_row_that_holds_something_and_no_compound_holds_the_plan_up(asked):
    page = started("plan")
    button(page, "Add a jug").click().run()
    page.number_input(key="plan_row_4_level").set_value(3.0).run()
    assert "Row 4 has no compound" in html_of(page)
    assert button(page, "Record this plan").disabled
