"""Who has answered, as the leader sees it while the ballots are open on phones and on paper."""

import pytest
import thursday

from seatworthy.errors import PanelError
from seatworthy.steps import ballot_links, ballot_presence, ballots, table
from seatworthy.steps.answers import correct_answer, enter_answer
from seatworthy.steps.ballot_languages import speaks
from seatworthy.steps.ballot_views import AWAY, HANDED_IN, FormAnswer
from seatworthy.steps.closing import reveal
from seatworthy.steps.history_exports import history_csv, history_json
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.live_table import live_table
from seatworthy.steps.panel import add_people, panel, people_of_panel
from seatworthy.steps.sessions import session
from seatworthy.steps.sheets import sheet, sheet_key

GLASSES = 8  # of each person on the Thursday


@pytest.fixture
def phones(desk, session_id):
    """Everybody has a link; the secret by first name."""
    ballot_links.hand_out(desk, session_id)
    return secrets(desk, session_id)


def secrets(desk, session_id):
    return {line.name.split()[0]: line.secret for line in ballot_links.links(desk, session_id)}


def sentence_of(desk, session_id):
    view = live_table(desk, session_id)
    return f"{view.answer}; {view.catch}"


def seat_of(desk, session_id, person_id):
    view = live_table(desk, session_id)
    return next(seat for seat in view.seats if seat.person_id == person_id)


def says(desk, secret, place, words="diacetyl", seen=0, sureness=""):
    form = FormAnswer(choice=words, seen=seen, sureness=sureness)
    done = ballots.answer(desk, secret, place, form)
    assert done.outcome == "kept"


def says_all(desk, secret):
    for place in range(1, GLASSES + 1):
        says(desk, secret, place, "nothing")


def states(seat):
    return [glass.state for glass in seat.glasses]


def test_before_anybody_answers_everything_waits_and_nobody_has_a_phone(desk, session_id):
    view = live_table(desk, session_id)
    assert view.answer == "0 of 72 answers are in"
    assert view.catch == "nine have glasses to go."
    assert not view.has_phones
    assert [sitting.label for sitting in view.sittings] == ["Early", "Late"]
    assert all(states(seat) == ["waiting"] * GLASSES for seat in view.seats)


def test_a_session_that_nobody_knows_has_no_table(desk):
    assert live_table(desk, "nothing of the kind") is None


def test_an_answer_by_phone_shows_at_its_place_and_its_code(desk, session_id, people, phones):
    says(desk, phones["Bo"], 3)
    seat = seat_of(desk, session_id, people["Bo"])
    assert states(seat) == ["waiting", "waiting", "answered", *["waiting"] * 5]
    assert (seat.answered, seat.expected, seat.waiting) == (1, 8, 7)
    assert seat.glasses[2].is_by_phone
    assert seat.glasses[2].codes == ballots.ballot(desk, phones["Bo"]).glasses[2].codes


def test_the_sentence_names_who_has_not_opened_their_ballot(desk, session_id, phones):
    for name in ("Ada", "Dilek", "Emil", "Fenna", "Goran", "Hana", "Łukasz"):
        says_all(desk, phones[name])
    assert sentence_of(desk, session_id) == (
        "56 of 72 answers are in; Bo and Carmen have not opened theirs."
    )


def test_whoever_answers_on_paper_is_not_waited_for_on_a_phone(desk, session_id, people, phones):
    for name in ("Ada", "Dilek", "Emil", "Fenna", "Goran", "Hana", "Łukasz"):
        says_all(desk, phones[name])
    seat = seat_of(desk, session_id, people["Bo"])
    assert not seat.is_on_paper
    key = sheet_key(seat.sitting_id, people["Bo"])
    enter_answer(desk, session_id, key, seat.glasses[0].codes[0], "0")
    assert seat_of(desk, session_id, people["Bo"]).is_on_paper
    assert live_table(desk, session_id).catch == "Carmen has not opened theirs."
    says_all(desk, phones["Carmen"])
    assert live_table(desk, session_id).catch == "Bo has glasses to go."
    ballots.ballot(desk, phones["Bo"])
    assert not seat_of(desk, session_id, people["Bo"]).is_on_paper


def test_the_page_of_the_session_counts_as_the_live_table_does(desk, session_id, people, phones):
    says(desk, phones["Ada"], 1)
    bo, dilek = (seat_of(desk, session_id, people[name]) for name in ("Bo", "Dilek"))
    table.spilled(desk, seat_glass(desk, session_id, people["Ada"], 1).serving_id)
    table.absent(desk, bo.sitting_id, bo.person_id)
    says(desk, phones["Dilek"], 1)
    table.left(desk, dilek.sitting_id, dilek.person_id)
    view = session(desk, session_id)
    assert view.answer == live_table(desk, session_id).answer == "2 of 56 answers are in"
    assert view.catch == "54 wait."
    assert "have no answer" in view.lead
    assert "have no answer" not in view.lead_besides


def test_when_everything_is_in_the_table_says_what_is_next(desk, session_id, phones):
    thursday.answer_all(desk, session_id)
    assert live_table(desk, session_id).catch == "say that the last sitting is over."
    for sitting in live_table(desk, session_id).sittings:
        table.sitting_over(desk, sitting.sitting_id)
    assert live_table(desk, session_id).catch == "close and reveal."


def test_a_plan_with_links_is_not_ready_with_its_papers_alone(desk, session_id):
    assert session(desk, session_id).catch == "print the papers."
    ballot_links.hand_out(desk, session_id)
    assert session(desk, session_id).catch == "print the papers and hand out the links."


def test_whoever_opened_it_is_said_to_have_glasses_to_go(desk, session_id, phones):
    for name in ("Ada", "Carmen", "Dilek", "Emil", "Fenna", "Goran", "Hana", "Łukasz"):
        says_all(desk, phones[name])
    assert sentence_of(desk, session_id) == "64 of 72 answers are in; Bo has not opened theirs."
    ballots.ballot(desk, phones["Bo"])
    assert sentence_of(desk, session_id) == "64 of 72 answers are in; Bo has glasses to go."
    says_all(desk, phones["Bo"])
    assert live_table(desk, session_id).answer == "All 72 answers are in"


def test_an_answer_by_phone_tells_that_the_ballot_was_opened_after_a_restart_too(
    desk, session_id, people, phones
):
    says(desk, phones["Bo"], 1)
    ballot_presence._opened.pop(desk.store, None)
    assert seat_of(desk, session_id, people["Bo"]).is_opened
    assert not seat_of(desk, session_id, people["Ada"]).is_opened


def test_two_people_of_one_first_name_are_told_apart_by_their_whole_names(desk, people):
    add_people(desk, ["Bo Quist"], since_on=None, lookalikes_are_new=True)
    ids = {person.name: person.person_id for person in people_of_panel(desk)}
    early = (ids["Bo Larsen"], ids["Bo Quist"], ids["Ada Moran"])
    asked = thursday.wish(people)
    sitting = type(asked.sittings[0])("Early", asked.sittings[0].starts_at, early)
    session = thursday.planned(desk, people, sittings=(sitting,))
    assert sentence_of(desk, session) == (
        "0 of 24 answers are in; Ada, Bo Larsen and Bo Quist have glasses to go."
    )


def test_nothing_of_what_was_said_or_poured_is_read(desk, session_id, phones):
    says(desk, phones["Bo"], 1, "diacetyl")
    columns = set(desk.store.rows("live_glasses", session_id=session_id)[0])
    assert columns == {
        "serving_id", "sitting_id", "sitting", "is_over", "person_id", "name", "state", "codes",
        "is_answered", "is_by_phone", "event", "has_link", "is_open",
    }  # fmt: skip
    assert "diacetyl" not in repr(live_table(desk, session_id))


def test_whoever_is_asked_stays_asked_until_everything_is_in(desk, session_id, people, phones):
    seat = seat_of(desk, session_id, people["Bo"])
    ballot_presence.nudge(desk, seat.sitting_id, seat.person_id)
    assert seat_of(desk, session_id, people["Bo"]).is_nudged
    assert ballots.ballot(desk, phones["Bo"]).is_nudged
    says_all(desk, phones["Bo"])
    assert not seat_of(desk, session_id, people["Bo"]).is_nudged


# ---------- the thin Thursday goes on while ballots are open ----------


def test_a_spilled_glass_is_not_awaited_on_phones_and_at_the_table(
    desk, session_id, people, phones
):
    glass = seat_glass(desk, session_id, people["Bo"], 1)
    table.spilled(desk, glass.serving_id)
    seat = seat_of(desk, session_id, people["Bo"])
    assert (states(seat)[1], seat.expected) == ("spilled", 7)
    done = ballots.answer(desk, phones["Bo"], 2, FormAnswer(choice="nothing", seen=0))
    assert (done.outcome, done.fault) == ("refused", "spilled")
    table.as_planned(desk, glass.serving_id)
    says(desk, phones["Bo"], 2)
    assert seat_of(desk, session_id, people["Bo"]).expected == 8


def test_a_glass_answered_by_phone_is_not_spilled(desk, session_id, people, phones):
    says(desk, phones["Bo"], 2)
    glass = seat_glass(desk, session_id, people["Bo"], 1)
    with pytest.raises(PanelError, match="is answered already"):
        table.spilled(desk, glass.serving_id)


def test_whoever_answered_by_phone_was_there(desk, session_id, people, phones):
    says(desk, phones["Bo"], 1)
    seat = seat_of(desk, session_id, people["Bo"])
    with pytest.raises(PanelError, match="Record that they left early instead"):
        table.absent(desk, seat.sitting_id, seat.person_id)
    table.left(desk, seat.sitting_id, seat.person_id)
    assert states(seat_of(desk, session_id, people["Bo"])) == ["answered", *["gone"] * 7]
    assert ballots.ballot(desk, phones["Bo"]).state == AWAY


def test_whoever_is_marked_back_answers_on(desk, session_id, people, phones):
    seat = seat_of(desk, session_id, people["Bo"])
    table.absent(desk, seat.sitting_id, seat.person_id)
    assert seat_of(desk, session_id, people["Bo"]).expected == 0
    assert ballots.ballot(desk, phones["Bo"]).state == AWAY
    table.back(desk, seat.sitting_id, seat.person_id)
    says(desk, phones["Bo"], 1)
    assert seat_of(desk, session_id, people["Bo"]).answered == 1


def test_whoever_came_late_answers_by_the_same_link(desk, session_id, people, phones):
    seat = seat_of(desk, session_id, people["Bo"])
    table.came_late(desk, seat.sitting_id, seat.person_id)
    says(desk, phones["Bo"], 1)
    assert seat_of(desk, session_id, people["Bo"]).state == "late"


def test_swapped_and_short_glasses_keep_their_answers_and_codes(desk, session_id, people, phones):
    says(desk, phones["Bo"], 1)
    before = seat_of(desk, session_id, people["Bo"])
    first, second = (seat_glass(desk, session_id, people["Bo"], n) for n in (0, 1))
    table.swapped(desk, first.serving_id, second.serving_id)
    table.short(desk, second.serving_id)
    assert seat_of(desk, session_id, people["Bo"]) == before


def test_somebody_who_comes_besides_has_no_link_until_one_is_made(desk, session_id, phones):
    add_people(desk, ["Zora Lind"], since_on=None)
    zora = next(p.person_id for p in people_of_panel(desk) if p.name == "Zora Lind")
    sitting = live_table(desk, session_id).sittings[0]
    table.seat_latecomer(desk, sitting.sitting_id, zora)
    seat = seat_of(desk, session_id, zora)
    assert (seat.has_link, seat.waiting) == (False, GLASSES)
    ballot_links.hand_out(desk, session_id, key=sheet_key(sitting.sitting_id, zora))
    says(desk, secrets(desk, session_id)["Zora"], 1)
    assert seat_of(desk, session_id, zora).has_link
    assert secrets(desk, session_id)["Bo"] == phones["Bo"]


def test_a_sitting_that_is_over_closes_the_phones_and_goes_on_opens_them(
    desk, session_id, people, phones
):
    sitting_id = seat_of(desk, session_id, people["Bo"]).sitting_id
    table.sitting_over(desk, sitting_id)
    assert live_table(desk, session_id).sittings[0].is_over
    assert ballots.ballot(desk, phones["Bo"]).state == HANDED_IN
    table.sitting_goes_on(desk, sitting_id)
    says(desk, phones["Bo"], 1)


def test_a_closed_session_takes_no_more_answers(desk, session_id):
    assert live_table(desk, session_id).is_open
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    assert not live_table(desk, session_id).is_open


def test_paper_and_phone_stand_side_by_side_on_one_sheet(desk, session_id, people, phones):
    says(desk, phones["Bo"], 1, "nothing")
    seat = seat_of(desk, session_id, people["Bo"])
    key, second = sheet_key(seat.sitting_id, people["Bo"]), seat.glasses[1]
    assert enter_answer(desk, session_id, key, second.codes[0], "0").outcome == "kept"
    seat = seat_of(desk, session_id, people["Bo"])
    assert [glass.is_by_phone for glass in seat.glasses[:3]] == [True, False, False]
    assert states(seat)[:3] == ["answered", "answered", "waiting"]
    rows = sheet(desk, session_id, key).rows
    assert [row.is_by_phone for row in rows[:3]] == [True, False, False]
    first = seat.glasses[0].codes[0]
    assert enter_answer(desk, session_id, key, first, "diacetyl").outcome == "refused"
    assert sheet(desk, session_id, key).rows[0].said == "nothing"


def test_an_answer_by_phone_that_the_leader_corrects_is_no_longer_by_phone(
    desk, session_id, people, phones
):
    says(desk, phones["Bo"], 1, "nothing")
    glass = seat_glass(desk, session_id, people["Bo"], 0)
    correct_answer(desk, glass.serving_id, "dms", "said so aloud", people["Ada"])
    key = sheet_key(glass.sitting_id, people["Bo"])
    assert not sheet(desk, session_id, key).rows[0].is_by_phone


# ---------- traces ----------


def test_an_answer_changed_before_the_close_shows_afterwards_with_both(
    desk, session_id, people, phones
):
    says(desk, phones["Bo"], 1, "diacetyl", sureness="guess")
    says(desk, phones["Bo"], 1, "dms", seen=1, sureness="certain")
    code = seat_of(desk, session_id, people["Bo"]).glasses[0].codes[0]
    assert reveal(desk, session_id) is None
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    (line,) = reveal(desk, session_id).corrections
    assert (line.kind, line.what, line.name, line.by) == ("changed", code, "Bo Larsen", "Bo Larsen")
    assert line.before.casefold() == "diacetyl, guess"
    assert line.after.casefold() == "dms, certain"
    assert line.reason == "changed by whoever gave it, before the close"


def test_a_correction_after_a_phones_answer_is_told_once_and_as_a_correction(
    desk, session_id, people, phones
):
    says(desk, phones["Bo"], 1, "diacetyl")
    glass = seat_glass(desk, session_id, people["Bo"], 0)
    correct_answer(desk, glass.serving_id, "dms", "said so aloud", people["Ada"])
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    assert [line.kind for line in reveal(desk, session_id).corrections] == ["corrected"]


def test_the_history_tells_of_links_and_answers_and_never_what_they_are(
    desk, session_id, people, phones
):
    says(desk, phones["Bo"], 1, "diacetyl")
    says(desk, phones["Bo"], 1, "acetaldehyde", seen=1)
    ballot_links.hand_out(desk, session_id, key=links_key(desk, session_id, people["Ada"]))
    day = f"{thursday.TODAY:%-d %B %Y}"
    code = seat_of(desk, session_id, people["Bo"]).glasses[0].codes[0]
    view = history_lines(desk)
    assert [line.what for line in view.lines[:4]] == [
        f"New link to the ballot of Ada Moran, Thursday panel of {day}.",
        f"Bo Larsen changed the answer to glass {code} by phone, Thursday panel of {day}.",
        f"Bo Larsen answered glass {code} by phone, Thursday panel of {day}.",
        f"9 links to ballots made, Thursday panel of {day}.",
    ]
    assert view.lines[1].who == "Bo Larsen"
    assert view.lines[0].concerned == {people["Ada"]}
    taken_away = (history_csv(view) + history_json(view)).decode().casefold()
    session = [line.what.casefold() for line in view.lines if "thursday" in line.what.casefold()]
    assert not any("acetaldehyde" in what for what in session)
    for secret in (*phones.values(), *secrets(desk, session_id).values()):
        assert secret.casefold() not in taken_away


def test_the_history_tells_who_says_of_themselves_that_they_are_not_fit(
    desk, session_id, people, phones
):
    ballots.not_fit(desk, phones["Bo"])
    ballots.fit_after_all(desk, phones["Bo"])
    day = f"{thursday.TODAY:%-d %B %Y}"
    first, second = history_lines(desk).lines[:2]
    assert first.what == f"Bo Larsen is fit to taste after all (Thursday panel of {day})."
    assert second.what == (
        f"Bo Larsen is not fit to taste; no reason is kept (Thursday panel of {day})."
    )
    assert first.who == second.who == "Bo Larsen"


def test_the_history_tells_in_which_language_a_ballot_speaks(desk, people):
    speaks(desk, people["Bo"], "de")
    line = history_lines(desk).lines[0]
    assert (line.what, line.group) == ("The ballot of Bo Larsen speaks German.", "people")
    assert line.concerned == {people["Bo"]}
    spoken = {person.name: person.language for person in panel(desk).people}
    assert (spoken["Bo Larsen"], spoken["Ada Moran"]) == ("de", "en")


def seat_glass(desk, session_id, person_id, place):
    """A glass of somebody's by its place from 0."""
    facts = thursday.facts_of(desk, session_id)
    sitting = next(g.sitting_id for g in facts.glasses if g.person_id == person_id)
    return facts.glasses_of(sitting, person_id)[place]


def links_key(desk, session_id, person_id):
    lines = ballot_links.links(desk, session_id)
    return next(line.key for line in lines if line.person_id == person_id)
