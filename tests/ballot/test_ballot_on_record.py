"""A Thursday by phone over a real store: what the pages send is what the record holds."""

import re
import sys
from pathlib import Path

import pytest
from html_checks import faults_of, read
from invented_ballots import Phone

sys.path.append(str(Path(__file__).parents[1] / "steps"))

import planned_sets
import thursday
from handed_out import secrets_of

from seatworthy.steps.session_facts import session_facts
from seatworthy.steps.table import sitting_over

ADA, BO = "Ada Moran", "Bo Larsen"


@pytest.fixture
def people(desk, tmp_path):
    return thursday.set_up(desk, tmp_path)


@pytest.fixture
def session_id(desk, people):
    return thursday.planned(desk, people)


@pytest.fixture
def phone(desk):
    return Phone(lambda: desk)


@pytest.fixture
def links(desk, session_id):
    return {name: f"/b/{secret}" for name, secret in secrets_of(desk, session_id).items()}


def own_glasses(desk, session_id, name):
    facts = session_facts(desk, session_id)
    own = [glass for glass in facts.glasses if facts.names[glass.person_id] == name]
    return sorted(own, key=lambda glass: glass.position)


def hidden(page):
    return {found["name"]: found["value"] for found in read(page).all_of("input", type="hidden")}


def answered(phone, address, **fields):
    """Fill in the form that a page shows, and go where the answer leads."""
    page = phone.get(address)
    assert faults_of(page) == []
    form = read(page).all_of("form", method="post")[0]
    return phone.post(form["action"], **hidden(page), **fields)


def test_a_panellist_goes_from_the_link_through_every_glass_to_the_end(
    desk, session_id, phone, links
):
    page = phone.get(links[ADA])
    assert "Ada Moran, eight glasses wait for you." in read(page).text
    address = read(page).all_of("a")[0]["href"]
    said = ["nothing", "diacetyl", "dms", "something", "t2n", "nothing", "acetaldehyde", "nothing"]
    for number, what in enumerate(said, start=1):
        assert address.split("?")[0] == f"{links[ADA]}/{number}"
        address = answered(phone, address, what=what, sure="fairly").location
    assert address == f"{links[ADA]}?kept=8"
    end = read(phone.get(address)).text
    assert "All eight are in." in end
    assert "Kept: " in end
    kinds = [glass.kind for glass in own_glasses(desk, session_id, ADA)]
    assert kinds == [
        "nothing",
        "words",
        "words",
        "something",
        "words",
        "nothing",
        "words",
        "nothing",
    ]
    assert all(glass.kind is None for glass in own_glasses(desk, session_id, BO))


def test_before_the_close_every_glass_has_the_same_page_but_for_its_code_and_place(
    desk, session_id, phone, links
):
    control = '<p class="record">First the control: the beer as it is, nothing added. No answer needed.</p>\n'
    pages, lengths, poured = set(), set(), set()
    for name in (ADA, BO):
        for glass in own_glasses(desk, session_id, name):
            page = phone.get(f"{links[name]}/{glass.position}")
            assert page.text.count(control) == (glass.position == 1)
            length = int(page.headers.pop("content-length"))
            lengths.add(length - len(control) * (glass.position == 1))
            assert page.headers["cache-control"] == "no-store"
            text = re.sub(r'<div class="bar".*?</div>', "", page.text, flags=re.DOTALL)
            text = text.replace(f"{links[name]}/{glass.position}", "LINK/N")
            text = re.sub(rf"\b{glass.blind_code}\b", "CODE", text.replace(links[name], "LINK"))
            text = text.replace(control, "")
            text = text.replace(f"Glass {glass.position} of", "Glass N of")
            pages.add((text, page.status, *sorted(page.headers.items())))
            poured.add(glass.sample_id)
    assert len(poured) > 4  # whatever is in them
    assert len(pages) == 1
    assert len(lengths) == 1


def test_no_page_before_the_close_tells_a_level_a_name_or_the_session(desk, phone, links):
    for rest in ("", "/1", "/5", "/unfit"):
        text = phone.get(links[ADA] + rest).text
        assert "Thursday panel" not in text
        assert "Early" not in text
        assert "×" not in text
        assert not any(name in text for name in thursday.NAMES if name != ADA)


def test_an_answer_is_changed_until_the_table_closes(desk, session_id, phone, links):
    first = f"{links[ADA]}/1"
    answered(phone, first, what="dms")
    stale = hidden(phone.get(first))
    answered(phone, first, what="diacetyl", sure="guess")
    page = phone.post(first, **stale, what="t2n")
    assert page.status == 409
    assert "On record: diacetyl, a guess." in read(page).text
    assert phone.post(first, **hidden(page), what="t2n").status == 303
    sitting_over(desk, own_glasses(desk, session_id, ADA)[0].sitting_id)
    late = phone.post(first, **hidden(page), what="dms", words="corn")
    assert late.status == 409
    assert "was not stored: " in read(late).text
    assert "“corn”" in read(late).text
    assert own_glasses(desk, session_id, ADA)[0].named_compound == "t2n"


def test_a_refused_form_stores_nothing_and_comes_back(desk, session_id, phone, links):
    page = answered(phone, f"{links[ADA]}/1", what="nothing", words="cardboard", sure="certain")
    assert page.status == 422
    assert read(page).all_of("input", name="words")[0]["value"] == "cardboard"
    assert own_glasses(desk, session_id, ADA)[0].kind is None


def test_whoever_is_not_fit_may_come_back(phone, links):
    answered(phone, f"{links[ADA]}/1", what="dms")
    away = phone.get(answered(phone, f"{links[ADA]}/unfit").location)
    assert "you are noted as not tasting today" in away.text
    assert phone.get(f"{links[ADA]}/1").status == 303
    assert "One of eight in" in phone.get(answered(phone, links[ADA]).location).text


def test_sets_are_picked_and_told_after_the_close(desk, people, phone):
    session_id = planned_sets.planned(desk, people)
    link = f"/b/{secrets_of(desk, session_id)[ADA]}"
    for glass in own_glasses(desk, session_id, ADA):
        page = phone.get(f"{link}/{glass.position}")
        choices = read(page).all_of("input", type="radio", name="what")
        sent = answered(phone, f"{link}/{glass.position}", what=choices[0]["value"])
        assert sent.status == 303, glass
    assert "All in: two glasses and six sets." in read(phone.get(link)).text
    thursday.answer_all(desk, session_id)
    assert "picked" not in read(phone.get(link)).text
    thursday.close(desk, session_id)
    told = phone.get(link)
    assert faults_of(told) == []
    assert "of eight right." in read(told).text
    assert "3×" in told.text
    assert "picked" in told.text
    assert phone.get(f"{link}/1").location == link
