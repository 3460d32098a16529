"""The panel over time: as usual, one compound slipping for all, one person's loss, and who came."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import benched
import poured_months as given
import pytest
import thursday

from seatworthy.rules.calendar_months import months_before
from seatworthy.steps.bench_writing import add_stock
from seatworthy.steps.judging import judge_day
from seatworthy.steps.months import months_view
from seatworthy.steps.months_people import ONE_SHIFT, shift_name
from seatworthy.steps.safekeeping import verify

DMS, DIACETYL = "dms", "diacetyl"


def poured(desk, people, misses=None, stocks=None, names=("Ada", "Bo", "Carmen", "Dilek", "Emil")):
    """Fortnights of two compounds and a blank; who misses what is asked of ``misses``."""
    rows = []
    for back in range(given.FORTNIGHTS, 0, -1):
        said = {
            compound: {
                people[name]: "" if misses and misses(name, compound, back) else compound
                for name in names
            }
            for compound in (DMS, DIACETYL)
        }
        rows += given.rows_of(given.day_of(back), {
            (DMS, stocks(back) if stocks else None): said[DMS],
            (DIACETYL, None): said[DIACETYL],
            (None, None): dict.fromkeys(said[DMS], ""),
        })  # fmt: skip
    with desk.store.recording("sessions") as act:
        act.add_all(rows)


def weak_lately(name, compound, back):
    return compound == DMS and back <= given.LATELY and (back + len(name)) % 4 > 0


def of(view, label):
    return next(one for one in view.compounds if one.label == label)


def test_a_steady_panel_finds_what_it_usually_finds(desk, people):
    poured(desk, people)
    view = months_view(desk)
    assert view.answer.startswith("The panel finds what it usually finds: 60 of 60 right in three")
    assert view.catch == ""
    assert {one.finding for one in view.compounds} == {""}
    verify(desk)


def test_one_compound_slipping_for_all_points_at_the_stock(desk, people):
    poured(desk, people, weak_lately)
    view = months_view(desk)
    assert view.catch == "DMS falls short for everybody, so suspect the stock, not the people."
    dms = view.compounds[0]
    assert (dms.label, dms.finding, dms.glasses, dms.tasters) == ("DMS", "together", 30, 5)
    assert "Five people fell short together" in dms.sentence
    assert dms.sentence.endswith("From which stock it came is not on record.")
    assert of(view, "Diacetyl").finding == ""


def test_a_new_lot_that_began_just_then_is_named_with_its_counts(desk, people, bench):
    (new,) = add_new_lot(desk)
    poured(desk, people, weak_lately, lambda back: new if back <= given.LATELY else bench[DMS])
    sentence = of(months_view(desk), "DMS").sentence
    day = given.day_of(given.LATELY)
    year = "" if day.year == thursday.TODAY.year else f" {day.year}"
    assert f"Lot R2 came into use on {day.day} {day:%B}{year}: " in sentence
    dms = of(months_view(desk), "DMS")
    assert sentence.endswith(f": {dms.right} of 30 right from it.")


def test_the_same_lot_as_before_is_asked_whether_it_has_aged(desk, people, bench):
    poured(desk, people, weak_lately, lambda back: bench[DMS])
    assert (
        "It is the same lot as before, R1, in use since " in of(months_view(desk), "DMS").sentence
    )


def test_all_on_one_day_points_at_the_jug(desk, people):
    def only_then(name, compound, back):
        return compound == DMS and back == 2

    names = ("Ada", "Bo", "Carmen", "Dilek", "Emil", "Fenna", "Goran", "Hana")
    poured(desk, people, only_then, names=names)
    with desk.store.recording("aside") as act:
        for back in (1, 3, 4, 5, 6):
            act.add("sample_aside", {
                "sample_id": f"s-{given.day_of(back)}-early-{DMS}", "is_aside": True,
                "reason": "spilled", "reason_salt": "salt", "reason_digest": "0" * 64,
            })  # fmt: skip
    view = months_view(desk)
    assert of(view, "DMS").finding == "one_day"
    assert view.catch == "everybody fell short of DMS on one day, so suspect that jug first."


def test_one_persons_loss_is_no_matter_of_the_stock(desk, people):
    poured(desk, people, lambda name, compound, back: name == "Bo" and back <= given.LATELY)
    view = months_view(desk)
    assert "suspect the stock" not in view.catch
    assert {one.finding for one in view.compounds} <= {"", "one"}
    assert "Bo" not in f"{view.answer} {view.catch} {view.lead}"


def test_months_hold_their_counts_and_add_up(desk, people):
    poured(desk, people, weak_lately)
    view = months_view(desk)
    judged = judge_day(desk)
    first = months_before(thursday.TODAY.replace(day=1), 11)
    assert next(row.month_on for row in view.months) == first
    assert len(view.months) == 12
    fortnights = sum(given.day_of(b) >= first for b in range(1, given.FORTNIGHTS + 1))
    assert sum(row.glasses for row in view.months) == 10 * fortnights
    assert sum(row.blanks for row in view.months) == 5 * fortnights
    assert sum(row.false_calls for row in view.months) == 0
    assert all(row.reach[0] <= row.right / row.glasses <= row.reach[1] for row in view.months if row.glasses)  # fmt: skip
    assert [row.is_whole for row in view.months[:-1]] == [True] * 11
    empty = [row for row in view.months if not row.glasses]
    assert all(row.reach is row.usual is None for row in empty)
    rates = judged.followed.today.rate_mean[judged.followed.today.has_glasses]
    assert view.months[-1].rate == pytest.approx(rates.mean(), abs=0.03)


def test_what_was_usual_at_the_end_of_a_month_knows_nothing_later(desk, people):
    poured(desk, people, weak_lately)
    today = months_view(desk)
    back = 8
    then = months_view(desk, as_of=given.day_of(back))
    for row in then.months[:-1]:
        later = next((one for one in today.months if one.month_on == row.month_on), None)
        if later is not None:
            assert (later.right, later.glasses) == (row.right, row.glasses)
            assert later.usual == pytest.approx(row.usual) if row.usual else later.usual is None
            assert later.rate == pytest.approx(row.rate) if row.rate else later.rate is None


def test_more_calls_in_blanks_are_said(desk, people):
    poured(desk, people)
    for back in range(1, given.LATELY + 1):
        said = {people[name]: "dms" for name in ("Ada", "Bo", "Carmen")}
        given.pour(desk, given.day_of(back), {(None, None): said}, "late")
    view = months_view(desk)
    assert view.catch == "something is called in more blanks than before."
    assert view.lead.startswith("Calls in blanks: 18 of 48 lately, 0 of ")


def test_attendance_counts_from_somebodys_first_session(desk, people):
    poured(desk, people, names=("Ada", "Bo", "Carmen"))
    given.pour(
        desk, thursday.TODAY, {(DMS, None): {people["Hana"]: DMS, people["Ada"]: DMS}}, "late"
    )
    rows = {row.name: row for row in months_view(desk).attendance}
    assert list(rows) == sorted(rows, key=str.casefold)
    assert (rows["Hana Sato"].attended, rows["Hana Sato"].held) == (1, 1)
    assert rows["Hana Sato"].months[0] is None
    assert rows["Bo Larsen"].held == rows["Ada Moran"].held == rows["Ada Moran"].attended
    assert rows["Bo Larsen"].attended == rows["Bo Larsen"].held - 1


def test_cover_counts_who_meets_it_and_came_to_the_shift_lately(desk, people):
    poured(desk, people)
    given.pour(desk, given.day_of(1), {(DMS, None): {people["Ada"]: DMS}}, "Late")
    view = months_view(desk)
    assert view.shifts == ("Early", "Late")
    cover = {row.label: row for row in view.cover}
    assert cover["DMS"].noses == (5, 1)
    assert cover["DMS"].all_shifts == 5
    assert cover["Papery"].noses == (0, 0)
    assert view.people_asked == judge_day(desk).rulebook.panel.people_per_compound


def test_a_sitting_without_a_name_goes_by_its_hour():
    dublin = ZoneInfo("Europe/Dublin")
    assert shift_name("late", None, dublin) == "Late"
    assert shift_name(" ", None, dublin) == ONE_SHIFT
    before, after = (
        datetime(2026, 6, 3, hour, 30, tzinfo=dublin).astimezone(UTC).replace(tzinfo=None)
        for hour in (11, 12)
    )
    assert shift_name("", before, dublin) == "Before noon"
    assert shift_name("", after, dublin) == "After noon"


def test_an_empty_store_says_what_to_do_first(desk, people):
    view = months_view(desk)
    assert view.start_here
    assert view.months == view.compounds == view.cover == view.attendance == ()


def test_a_few_glasses_are_no_verdict_on_the_panel(desk, people):
    given.pour(desk, thursday.TODAY - timedelta(days=200), {(DMS, None): {people["Ada"]: DMS}})
    assert months_view(desk).answer.startswith("Too little was poured in the last three months")


@pytest.mark.parametrize("is_found", [True, False])
def test_in_the_first_months_nothing_is_usual_yet(desk, people, is_found):
    """What a model expects of people who never had a glass is no measure of better or worse."""
    names = ("Ada", "Bo", "Carmen", "Dilek", "Emil")
    with desk.store.recording("sessions") as act:
        for back in (3, 2, 1):
            said = {people[name]: DMS if is_found else "" for name in names}
            act.add_all(given.rows_of(given.day_of(back), {(DMS, None): said}))
    view = months_view(desk)
    assert view.answer == (
        "Too little was poured before the last three months to say whether the panel moved"
    )
    assert view.catch == ""
    dms = of(view, "DMS")
    assert (dms.glasses, dms.poured, dms.finding, dms.sentence) == (0, 15, "", "")


def test_the_first_glasses_of_a_compound_have_nothing_usual_beside_them(desk, people):
    poured(desk, people)
    first, *later = of(months_view(desk), "DMS").months
    assert all(month.usual is not None for month in later)
    with desk.store.recording("session") as act:
        act.add_all(given.rows_of(first.month_on, {("t2n", None): {people["Ada"]: "t2n"}}))
    (alone,) = of(months_view(desk), "Papery").months
    assert (alone.glasses, alone.usual) == (1, None)


def add_new_lot(desk):
    days = thursday.TODAY + timedelta(days=60)
    before = {row["stock_id"] for row in desk.store.rows("bench_stocks")}
    add_stock(desk, benched.reference(DMS, "3", lot="R2", expires_on=days))
    return [
        row["stock_id"] for row in desk.store.rows("bench_stocks") if row["stock_id"] not in before
    ]
