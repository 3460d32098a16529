"""A panel seated for today: who may, what they would miss, who should."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
import seated
from seated import FAMILY, PIN, TODAY

from seatworthy.errors import PanelError
from seatworthy.intake.words import fold
from seatworthy.rules.verdict import Standing
from seatworthy.steps.alcohol_today import AlcoholToday
from seatworthy.steps.batches import Batch, state_batch
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.judging import judge_day
from seatworthy.steps.miss_views import Wanted
from seatworthy.steps.panel_figures import family_noses
from seatworthy.steps.seat_ground import seat_ground
from seatworthy.steps.seat_panel import panel_on, seat_panel

DAY = timedelta(days=1)
GROUP = ("acetic_acid", "lactic_acid")
TANK = Batch("b1", "Tank 4", "pils", "Pils", FAMILY, "Pale", None, ())


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def ids(brewery):
    return dict(brewery.ids)


@pytest.fixture
def ground(desk):
    return seat_ground(desk, FAMILY)


def with_critical(ground, *items):
    """The same day as if these compounds were critical, and none besides."""
    judged = replace(ground.judged, critical={**ground.judged.critical, FAMILY: items})
    known = replace(ground.known, judged=judged, items=items, critical=len(items))
    return replace(ground, judged=judged, known=known)


def with_rule(ground, **changed):
    """The same day under another panel rule."""
    book = ground.judged.rulebook
    book = replace(book, panel=replace(book.panel, **changed))
    judged = replace(ground.judged, rulebook=book)
    sits = replace(ground.sits, judged=judged)
    return replace(ground, judged=judged, sits=sits, known=replace(ground.known, judged=judged))


def deaf_to(desk, ground, compound, *people):
    """The same day as if some people didn't smell a compound."""
    cells = dict(ground.judged.cells)
    for person in people:
        cells[person, compound, FAMILY] = replace(
            cells[person, compound, FAMILY],
            verdict=replace(cells[person, compound, FAMILY].verdict, standing=Standing.INSENSITIVE),
        )
    judged = replace(ground.judged, cells=cells)
    known = family_noses(desk, judged, FAMILY)
    return replace(ground, judged=judged, known=known, sits=replace(ground.sits, judged=judged))


def named_two(ground):
    """Two compounds critical that all were tested on, and a quorum of two."""
    return with_rule(with_critical(ground, ("diacetyl",), ("dms",)), quorum=2)


def row_of(view, label):
    return next(row for row in view.rows if row.label == label)


def test_whoever_meets_the_rule_is_considered_and_the_missing_signature_is_said(desk):
    view = seat_panel(desk, Wanted())
    assert [line.name for line in view.people] == ["Ada", "Lee"]
    assert all(line.is_here and line.sits for line in view.people)
    assert any(words.startswith("No seat is signed yet") for words in view.warnings)
    assert view.not_seated == 2


def test_a_compound_nobody_was_tested_on_is_said_and_gets_no_number(desk):
    view = seat_panel(desk, Wanted())
    assert view.told.catch == "acetic acid or lactic acid"
    assert view.told.start == "Nobody of these two has had a glass of "
    row = row_of(view, "Acetic acid or lactic acid")
    assert row.figures.slips == ()
    assert (row.is_weak, row.note) == (True, "not tested on anybody here")


def test_all_well_is_a_sentence_without_a_catch_or_hangs_on_one_nose(ground):
    view = panel_on(named_two(ground), Wanted(limit=Decimal("0.30")))
    assert view.told.start.startswith("At three times threshold this panel would let no critical")
    assert view.told.catch == ""


def test_what_is_over_the_limit_is_the_catch(ground):
    view = panel_on(named_two(ground), Wanted(limit=Decimal("0.01")))
    assert "through" in view.told.catch
    assert all(row.is_weak for row in view.rows if row.figures.is_critical)


def test_people_who_may_not_sit_are_left_out_of_what_was_chosen(desk, ids):
    view = seat_panel(desk, Wanted(here=(ids["Bo"], ids["Ada"], "nobody-known")))
    assert [line.name for line in view.people if line.is_here] == ["Ada"]
    assert view.figures.people == (ids["Ada"],)


def test_with_nobody_here_the_page_says_so_and_counts_nothing(desk):
    view = seat_panel(desk, Wanted(here=()))
    assert view.told.whole == "Nobody sits for the pale; tick who is here and who sits."
    assert (view.clean, view.rule_sentences, view.proposals) == ("", (), ())
    assert all(row.figures.slips == () for row in view.rows)


def test_one_person_makes_no_fault_call(ground, ids):
    view = panel_on(named_two(ground), Wanted(sits=(ids["Ada"],)))
    assert view.told.whole == (
        "One person makes no fault call; two independent callers are asked for."
    )
    assert row_of(view, "DMS").figures.slips[0].mean == 1.0


def test_where_nobody_smells_it_the_sentence_says_so(desk, ground, ids):
    heard = deaf_to(desk, ground, "dms", *ids.values())
    view = panel_on(with_critical(heard, ("diacetyl",), ("dms",)), Wanted())
    assert view.told.whole.startswith("Nobody of these two smells DMS; at three times threshold ")
    assert row_of(view, "DMS").note == "nobody here smells it"


def test_somebody_who_does_not_smell_it_is_named_and_not_counted_on(desk, ground, ids):
    heard = deaf_to(desk, ground, "dms", ids["Ada"])
    view = panel_on(with_critical(heard, ("diacetyl",), ("dms",)), Wanted())
    assert "Ada doesn't smell it" in row_of(view, "DMS").note
    assert row_of(view, "DMS").figures.slips[2].mean == 1.0  # one of two is left, two are asked for


def test_without_a_critical_list_nothing_says_what_must_not_slip_past(ground):
    view = panel_on(with_critical(ground), Wanted())
    assert view.told.whole == (
        "No compound is critical for these beers, so nothing says what must not slip past."
    )
    assert view.proposals == ()


def test_before_the_first_glass_the_page_says_what_to_do(tmp_path, stocked):
    import shutil

    from seatworthy.steps.desk import open_desk

    path = tmp_path / "new.duckdb"
    shutil.copyfile(stocked, path)
    new = open_desk(path)
    assert seat_panel(new, Wanted()).empty.startswith("No glasses yet.")
    new.close()


def test_the_crew_of_the_batch_is_not_independent(ground, ids):
    batch = replace(TANK, crew=(ids["Ada"], ids["Lee"]))
    view = panel_on(replace(named_two(ground), batch=batch), Wanted())
    assert ["made Tank 4" in line.notes for line in view.people] == [True, True]
    assert "None of them did not make the batch; 2 are asked for." in view.rule_sentences[0]
    assert view.is_met is False
    smallest = view.proposals[0]
    assert "Nobody of them is independent of the batch, two are asked for." in smallest.sentence


def test_a_batch_without_a_crew_is_said(ground):
    view = panel_on(replace(named_two(ground), batch=TANK), Wanted())
    assert "Nobody is named as crew of Tank 4, so all count as independent." in view.rule_sentences
    assert view.is_met


def test_without_a_batch_independence_is_asked_for_and_not_judged(ground):
    view = panel_on(named_two(ground), Wanted())
    assert view.rule_sentences[1].startswith("Two who did not make the batch are asked for;")
    assert view.is_met


def test_trades_are_not_on_record_and_the_page_says_so(ground):
    view = panel_on(with_rule(named_two(ground), trades=2), Wanted())
    assert view.is_met
    assert any("trades are not on record, so look yourself" in s for s in view.rule_sentences)


def test_a_quorum_that_is_not_there_is_the_rules_sentence(ground):
    view = panel_on(with_rule(named_two(ground), quorum=3), Wanted())
    assert view.rule_sentences[0].startswith("2 people can sit, 3 are asked for")
    assert "Two are here, three are asked for." in view.proposals[0].sentence


def test_the_smallest_and_the_best_are_proposed(ground, ids):
    view = panel_on(named_two(ground), Wanted(size=2))
    assert [set(line.people) for line in view.proposals] == [{ids["Ada"], ids["Lee"]}] * 2
    assert view.proposals[0].sentence.startswith("The smallest, two: Ada and Lee. Weakest on ")


def test_who_is_here_and_not_chosen_mends_first(ground, ids):
    view = panel_on(named_two(ground), Wanted(sits=(ids["Ada"],)))
    assert view.menders[0].startswith("With Lee, who is here, ")


def test_somebody_away_mends_next(ground, ids):
    view = panel_on(named_two(ground), Wanted(here=(ids["Ada"],)))
    assert view.menders[0].startswith("With Lee, who isn't here today, ")


def test_where_nobody_on_record_would_mend_it_glasses_are_asked_for(desk):
    view = seat_panel(desk, Wanted())
    assert view.menders == (
        "Nobody else on record would mend acetic acid or lactic acid alone: put it in the next glasses.",
    )


def test_somebody_without_a_seat_is_named_as_such(desk, ids):
    sign(desk, ids, "Ada")
    view = panel_on(named_two(seat_ground(desk, FAMILY)), Wanted())
    assert view.menders[0].startswith("With Lee ")
    assert view.menders[0].endswith("but Lee has no seat for these beers.")


def test_more_callers_let_more_slip_past(ground):
    slips = [
        row_of(panel_on(named_two(ground), Wanted(callers=n)), "DMS").figures.slips[2].mean
        for n in (1, 2, 3)
    ]
    assert slips[0] < slips[1] < slips[2] == 1.0


def test_a_clean_beer_has_its_line(ground):
    two = panel_on(named_two(ground), Wanted()).clean
    assert two.startswith("Of 100 clean tanks two or more would name the same fault in ")
    one = panel_on(named_two(ground), Wanted(callers=1)).clean
    assert one.endswith(": one call is enough.")


def test_too_few_to_call_a_fault_have_no_line_of_a_clean_beer(ground):
    """A nought there would look like knowledge of their noses."""
    view = panel_on(named_two(ground), Wanted(callers=3))
    assert view.clean == ""
    assert view.told.whole.startswith("Two people make no fault call")


def test_who_has_reached_the_limit_of_alcohol_is_left_out_until_ticked(ground, ids):
    full = AlcoholToday(Decimal(9), Decimal(0), Decimal(8), ())
    tired = replace(named_two(ground), alcohol={ids["Ada"]: full})
    view = panel_on(tired, Wanted())
    assert view.figures.people == (ids["Lee"],)
    assert any(words.startswith("Ada has reached the limit of alcohol") for words in view.warnings)
    ticked = panel_on(tired, Wanted(here=tuple(ids.values())))
    assert set(ticked.figures.people) == {ids["Ada"], ids["Lee"]}


def sign(desk, ids, who, state="qualified", days=90):
    sign_decision(
        desk, person_id=ids[who], family=FAMILY, state=state, until_on=TODAY + days * DAY,
        signer=ids["Lee"], pin=PIN, reason="As agreed with them.",
    )  # fmt: skip


def test_due_dates_and_probation_stand_beside_the_name(desk, ids):
    sign(desk, ids, "Ada", days=20)
    sign(desk, ids, "Cleo", "probation")
    view = seat_panel(desk, Wanted())
    notes = {line.name: line.notes for line in view.people}
    assert notes["Ada"] == (f"due by {(TODAY + 20 * DAY).day} {TODAY + 20 * DAY:%b}",)
    assert "on probation" in notes["Cleo"]
    assert any(words.startswith("Start-up: until four seats exist") for words in view.warnings)


def test_probation_sits_only_where_the_rulebook_lets_it(desk, ids):
    sign(desk, ids, "Ada", "probation")
    ground = seat_ground(desk, FAMILY)
    assert len(panel_on(ground, Wanted()).people) == 1
    assert panel_on(with_rule(ground, probation_counts=False), Wanted()).people == ()


def test_an_unknown_batch_is_refused(desk):
    with pytest.raises(PanelError, match="That batch is not on record"):
        seat_panel(desk, Wanted(batch_id="gone"))


def test_a_batch_brings_its_family(desk, ids):
    beer = desk.store.rows("beers_with_family")[0]["beer"]
    assert beer == fold("Pils")
    batch_id = state_batch(desk, "Tank 9", beer, [ids["Ada"]])
    view = seat_panel(desk, Wanted(family="another", batch_id=batch_id))
    assert view.family.key == FAMILY
    assert view.batch.label == "Tank 9"


def test_the_day_judged_is_today(desk):
    assert seat_panel(desk, Wanted()).as_of == judge_day(desk).as_of == TODAY
