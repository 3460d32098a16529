from dataclasses import replace
from datetime import date, timedelta

import pytest

from seatworthy.rules.proposing import (
    Kind,
    ServedProbation,
    Standings,
    propose,
    why_nothing,
)
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.rechecking import Recheck, latest_glasses
from seatworthy.rules.rulebook import ProbationRule, RecheckRule, StartUpRule
from seatworthy.rules.seat import SeatVerdict
from seatworthy.rules.seat_states import SeatState, State
from seatworthy.rules.verdict import Standing, Verdict

TODAY = date(2026, 11, 26)
DAY = timedelta(days=1)
UNTIL = date(2027, 5, 26)
BOOK = replace(
    rulebook_on_menu("default"),
    probation=ProbationRule(sessions=4, weeks=6),
    recheck=RecheckRule(glasses=6, right=5),
    start_up=StartUpRule(until_seats=4, critical_met=3),
)
NO_PROBATION = replace(BOOK, probation=None)
ALLOWED = BOOK.seat.critical_not_met
ABSENT = Verdict("attendance", Standing.NOT_MET, "Last seen 70 days ago; 60 are allowed.")
CALLS = Verdict("false calls", Standing.NOT_MET, "5 false calls in 12 blanks.", "20 more blanks.")
FINE = Verdict("other", Standing.MET, "Fine.")


def verdict(standing=Standing.MET, not_met=0, until=UNTIL):
    items = {(f"c{i}",): Standing.NOT_MET if i < not_met else Standing.MET for i in range(6)}
    critical = Verdict("critical compounds", standing, f"{6 - not_met} of 6 met.", "Train them.")
    whole = Verdict("seat", standing, critical.sentence, "2 more glasses.")
    until_on = until if standing is Standing.MET else None
    return SeatVerdict(whole, critical, items, 6 - not_met, until_on)


def state(word, until=None, in_grace=False, signed=None):
    due_from = until - timedelta(days=30) if until and word in ("qualified", "probation") else None
    held = State(signed or word) if word not in ("candidate",) else None
    return SeatState(State(word), TODAY - 90 * DAY, until, due_from, in_grace, "d1", held)


def found(word, seat=None, **changed):
    return replace(
        Standings(
            state=word if isinstance(word, SeatState) else state(word),
            seat=seat or verdict(),
            attendance=FINE,
            others=(FINE,),
            probation=None,
            recheck=None,
        ),
        **changed,
    )


def on_probation(sessions, weeks, until=TODAY + 60 * DAY):
    return found(state("probation", until), probation=ServedProbation(sessions, weeks))


def recheck(glasses, right):
    return Recheck(TODAY - 20 * DAY, glasses, right)


def test_a_trainee_who_meets_the_seat_rule_is_proposed_for_probation():
    proposal = propose(found("trainee"), BOOK, TODAY)
    assert (proposal.state, proposal.kind) == (State.PROBATION, Kind.GRANT)


def test_without_probation_in_the_rulebook_a_trainee_is_proposed_for_a_full_seat():
    assert propose(found("trainee"), NO_PROBATION, TODAY).state is State.QUALIFIED


def test_a_probation_of_no_sessions_and_no_weeks_is_none():
    book = replace(BOOK, probation=ProbationRule(sessions=0, weeks=0))
    assert propose(found("trainee"), book, TODAY).state is State.QUALIFIED


def test_a_grant_holds_from_today_as_long_as_the_verdict():
    proposal = propose(found("trainee"), BOOK, TODAY)
    assert (proposal.from_on, proposal.until_on) == (TODAY, UNTIL)


def test_a_first_seat_says_how_long_its_probation_is():
    sentence = propose(found("trainee"), BOOK, TODAY).sentence
    assert sentence == "6 of 6 met. A first seat is on probation, for 4 sessions and 6 weeks."


@pytest.mark.parametrize("standing", [Standing.TOO_LITTLE, Standing.NOT_MET])
def test_a_trainee_who_does_not_meet_it_is_proposed_for_nothing(standing):
    assert propose(found("trainee", verdict(standing)), BOOK, TODAY) is None


@pytest.mark.parametrize("word", ["candidate", "withdrawn"])
def test_nothing_is_proposed_for_candidates_and_those_who_withdrew(word):
    assert propose(found(word), BOOK, TODAY) is None


def test_probation_served_is_proposed_to_become_a_full_seat():
    proposal = propose(on_probation(4, 6), BOOK, TODAY)
    assert (proposal.state, proposal.kind) == (State.QUALIFIED, Kind.GRANT)


def test_a_full_seat_says_what_was_served():
    sentence = propose(on_probation(5, 7), BOOK, TODAY).sentence
    served = "5 sessions and 7 weeks since its grant, 4 sessions and 6 weeks asked for."
    assert sentence.endswith(f"Probation is served: {served}")


@pytest.mark.parametrize(("sessions", "weeks"), [(3, 6), (4, 5)])
def test_probation_not_served_stays_probation(sessions, weeks):
    assert propose(on_probation(sessions, weeks), BOOK, TODAY) is None


def test_probation_that_is_due_and_not_served_is_proposed_to_go_on():
    proposal = propose(on_probation(3, 6, until=TODAY + 10 * DAY), BOOK, TODAY)
    assert (proposal.state, proposal.kind) == (State.PROBATION, Kind.RENEW)


def test_a_seat_is_not_proposed_for_renewal_a_day_before_it_is_due():
    assert propose(found(state("qualified", TODAY + 31 * DAY)), BOOK, TODAY) is None


def test_a_seat_is_proposed_for_renewal_on_the_day_it_is_due():
    proposal = propose(found(state("qualified", TODAY + 30 * DAY)), BOOK, TODAY)
    assert (proposal.state, proposal.kind) == (State.QUALIFIED, Kind.RENEW)


def test_a_renewal_says_when_the_seat_ends():
    sentence = propose(found(state("qualified", TODAY + 30 * DAY)), BOOK, TODAY).sentence
    assert sentence.startswith("The seat ends on 26 December 2026, 30 days from now.")


def test_a_renewal_in_grace_says_when_the_seat_ended():
    sentence = propose(found(state("qualified", TODAY - DAY, in_grace=True)), BOOK, TODAY).sentence
    assert sentence.startswith("The seat ended on 25 November 2026, 1 day ago.")


def test_a_renewal_that_would_end_no_later_is_not_proposed():
    ends = TODAY + 20 * DAY
    assert propose(found(state("qualified", ends), verdict(until=ends)), BOOK, TODAY) is None


def test_a_renewal_that_ends_a_day_later_is_proposed():
    ends = TODAY + 20 * DAY
    seat = verdict(until=ends + DAY)
    assert propose(found(state("qualified", ends), seat), BOOK, TODAY).until_on == ends + DAY


def test_a_lapsed_seat_that_meets_the_rule_is_proposed_to_return():
    proposal = propose(found(state("lapsed", TODAY - DAY, signed="qualified")), BOOK, TODAY)
    assert (proposal.state, proposal.kind) == (State.QUALIFIED, Kind.RETURN)


def test_a_lapsed_probation_returns_to_probation_until_it_is_served():
    lapsed = state("lapsed", TODAY - DAY, signed="probation")
    here = found(lapsed, probation=ServedProbation(2, 30))
    assert propose(here, BOOK, TODAY).state is State.PROBATION


def test_too_little_evidence_takes_no_seat_away():
    here = found(state("qualified", TODAY + 10 * DAY), verdict(Standing.TOO_LITTLE))
    assert propose(here, BOOK, TODAY) is None


def test_too_little_evidence_is_said_to_let_the_seat_stand():
    here = found(state("qualified", TODAY + 10 * DAY), verdict(Standing.TOO_LITTLE))
    said = why_nothing(here, BOOK, TODAY)
    assert "takes nothing away. The seat stands until 6 December 2026." in said


@pytest.mark.parametrize("word", ["qualified", "probation"])
def test_more_compounds_not_met_than_allowed_suspend(word):
    seat = verdict(Standing.NOT_MET, not_met=ALLOWED + 1)
    proposal = propose(found(state(word, TODAY + 60 * DAY), seat), BOOK, TODAY)
    assert (proposal.state, proposal.kind) == (State.SUSPENDED, Kind.SUSPEND)


def test_as_many_compounds_not_met_as_allowed_do_not_suspend():
    seat = verdict(Standing.TOO_LITTLE, not_met=ALLOWED)
    assert propose(found(state("qualified", TODAY + 60 * DAY), seat), BOOK, TODAY) is None


def test_too_few_compounds_left_to_be_met_do_not_suspend_by_themselves():
    seat = verdict(Standing.NOT_MET, not_met=ALLOWED)
    assert propose(found(state("qualified", TODAY + 60 * DAY), seat), BOOK, TODAY) is None


def test_false_calls_not_met_suspend():
    here = found(state("qualified", TODAY + 60 * DAY), verdict(Standing.NOT_MET), others=(CALLS,))
    proposal = propose(here, BOOK, TODAY)
    assert (proposal.state, proposal.sentence) == (State.SUSPENDED, CALLS.sentence)


def test_a_suspension_says_the_way_back():
    here = found(state("qualified", TODAY + 60 * DAY), verdict(Standing.NOT_MET), others=(CALLS,))
    way = "Back when the seat rule is met and 5 of 6 glasses poured since are named right."
    assert propose(here, BOOK, TODAY).change == f"20 more blanks. {way}"


def test_a_suspension_has_no_last_day():
    here = found(state("qualified", TODAY + 60 * DAY), verdict(Standing.NOT_MET), others=(CALLS,))
    assert propose(here, BOOK, TODAY).until_on is None


def test_false_calls_that_a_rulebook_does_not_ask_for_do_not_suspend():
    here = found(state("qualified", TODAY + 60 * DAY), others=())
    assert propose(here, BOOK, TODAY) is None


def test_coming_too_rarely_pauses_and_does_not_suspend():
    here = found(state("qualified", TODAY + 60 * DAY), verdict(Standing.NOT_MET), attendance=ABSENT)
    proposal = propose(here, BOOK, TODAY)
    assert (proposal.state, proposal.kind) == (State.PAUSED, Kind.PAUSE)


def test_a_pause_is_said_to_be_no_fault():
    here = found(state("qualified", TODAY + 60 * DAY), verdict(Standing.NOT_MET), attendance=ABSENT)
    assert propose(here, BOOK, TODAY).sentence.endswith("A pause is no fault.")


def test_attendance_that_a_rulebook_does_not_ask_for_does_not_pause():
    assert (
        propose(found(state("qualified", TODAY + 60 * DAY), attendance=None), BOOK, TODAY) is None
    )


def test_somebody_without_a_seat_is_neither_paused_nor_suspended():
    here = found(
        "trainee", verdict(Standing.NOT_MET, not_met=6), attendance=ABSENT, others=(CALLS,)
    )
    assert propose(here, BOOK, TODAY) is None


@pytest.mark.parametrize("word", ["paused", "suspended"])
def test_the_recheck_passed_brings_back_whoever_meets_the_rule(word):
    proposal = propose(found(word, recheck=recheck(6, 5)), BOOK, TODAY)
    assert (proposal.state, proposal.kind) == (State.QUALIFIED, Kind.RETURN)


@pytest.mark.parametrize("word", ["paused", "suspended"])
def test_the_recheck_alone_brings_nobody_back(word):
    here = found(word, verdict(Standing.TOO_LITTLE), recheck=recheck(6, 6))
    assert propose(here, BOOK, TODAY) is None


@pytest.mark.parametrize(("glasses", "right"), [(0, 0), (5, 5), (6, 4), (8, 6)])
def test_a_recheck_not_passed_brings_nobody_back(glasses, right):
    assert propose(found("paused", recheck=recheck(glasses, right)), BOOK, TODAY) is None


@pytest.mark.parametrize(("glasses", "right"), [(6, 5), (6, 6), (8, 7), (12, 10)])
def test_of_more_glasses_the_same_share_passes(glasses, right):
    assert propose(found("paused", recheck=recheck(glasses, right)), BOOK, TODAY) is not None


def test_an_open_recheck_is_said_with_its_numbers():
    said = why_nothing(found("paused", recheck=recheck(2, 1)), BOOK, TODAY)
    assert "1 of 2 counted glasses named right since 6 November 2026; 5 of 6 are asked for." in said


def test_without_a_recheck_in_the_rulebook_the_seat_rule_brings_back():
    book = replace(BOOK, recheck=None)
    assert propose(found("suspended"), book, TODAY).state is State.QUALIFIED


def test_after_a_long_absence_a_due_seat_waits_for_the_recheck():
    here = found(state("qualified", TODAY + 10 * DAY), recheck=recheck(2, 2))
    assert propose(here, BOOK, TODAY) is None


def test_somebody_suspended_on_probation_returns_to_probation():
    here = found("suspended", recheck=recheck(6, 6), probation=ServedProbation(1, 9))
    assert propose(here, BOOK, TODAY).state is State.PROBATION


def test_the_same_state_is_proposed_again_only_as_a_renewal():
    words = [w for w in State if w is not State.CANDIDATE]
    again = [
        p
        for word in words
        if (p := propose(found(state(word, TODAY + 10 * DAY)), BOOK, TODAY)) and p.state is word
    ]
    assert {p.kind for p in again} == {Kind.RENEW}


def test_the_rule_for_the_start_of_a_panel_is_named_where_it_seats_somebody():
    sentence = propose(found("trainee", seats_at_start=1), BOOK, TODAY).sentence
    assert "until 4 seats of this family exist; 1 seat exists today." in sentence


def test_a_recheck_looks_at_the_latest_whole_days_that_hold_its_glasses():
    days = {TODAY - n * DAY: (3, right) for n, right in ((1, 3), (2, 2), (3, 0))}
    assert latest_glasses(days, TODAY - 9 * DAY, BOOK) == Recheck(TODAY - 9 * DAY, 6, 5)


def test_glasses_of_the_day_it_counts_from_are_not_part_of_a_recheck():
    days = {TODAY - 2 * DAY: (6, 6), TODAY - DAY: (2, 1)}
    assert latest_glasses(days, TODAY - 2 * DAY, BOOK) == Recheck(TODAY - 2 * DAY, 2, 1)
