"""The panel over time on the page and on paper: sentence, runs, tables, nobody ranked."""

from dataclasses import replace
from datetime import date

import pytest
from invented_session import HOSTILE, html_of, invented_desk, started

from seatworthy.pages import months as months_page
from seatworthy.pages import source
from seatworthy.pages.markup import escaped
from seatworthy.pages.months_runs import runs
from seatworthy.pages.months_tables import attendance_table, cover_table, months_table
from seatworthy.steps.month_views import (
    AttendanceRow,
    CompoundMonth,
    CompoundMonths,
    CoverRow,
    MonthRow,
    MonthsView,
)

MONTHS = tuple(date(2025 + (11 + n) // 12, (11 + n) % 12 + 1, 1) for n in range(12))
SLIP = (
    "Papery: 4 of 12 named right lately, where 9 would be usual. Five people fell short together, so "
    "suspect the stock, not the people. Lot P-4 came into use on 3 September: 1 of 6 right from it."
)


def month(on, right=30, glasses=40, blanks=20):
    reach, false = ((0.6, 0.86), (0.01, 0.2)) if glasses else (None, None)
    return MonthRow(on, on < MONTHS[-1], 3, right, glasses, reach, 0.77 if glasses else None,
                    0.78, 1 if blanks else 0, blanks, false)  # fmt: skip


def compound(label, finding="", sentence="", lately=(9, 12, 9.2)):
    rows = tuple(
        CompoundMonth(on, *((3, 4) if n % 2 else (1, 2)), 0.75) for n, on in enumerate(MONTHS[::3])
    )
    return CompoundMonths(label, True, rows, *lately, 5, finding, sentence)


VIEW = MonthsView(
    answer="The panel finds what it usually finds: 90 of 120 right in three months, where 92 would be usual",
    catch="papery falls short for everybody, so suspect the stock, not the people.",
    lead="Calls in blanks: 3 of 60 lately, 9 of 180 before.",
    start_here="",
    as_of=date(2026, 11, 20),
    known_at=None,
    brewery="Quillmere Brewery",
    family="pale_lager",
    family_label="Pale lagers",
    families=(("pale_lager", "Pale lagers"), ("wheat_beer", "Wheat beers")),
    months=(*(month(on) for on in MONTHS[:4]), month(MONTHS[4], 0, 0, 0), *(month(on) for on in MONTHS[5:])),
    compounds=(
        compound("Papery", "together", SLIP, (4, 12, 9.0)),
        compound(HOSTILE, "one", f"{HOSTILE}: rests on one taster."),
        compound("Vanillin", lately=(0, 0, 0.0)),
    ),
    attendance=(
        AttendanceRow("p1", HOSTILE, (*(None,) * 10, (1, 2), (3, 3)), 4, 5),
        AttendanceRow("p2", "Zoe", ((4, 4), *(None,) * 11), 4, 4),
    ),
    shifts=("Early", "Late"),
    cover=(CoverRow("Diacetyl", (4, 2), 5), CoverRow("Papery", (1, 0), 1)),
    people_asked=2,
    window=3,
)  # fmt: skip


@pytest.fixture
def page(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(source, "months_view", lambda family, on: VIEW)
    return started("months")


def test_the_sentence_stands_on_top_and_its_catch_is_marked(page):
    html = html_of(page)
    assert "The panel finds what it usually finds: 90\N{NO-BREAK SPACE}of 120" in html
    assert (
        "<em>papery falls short for everybody, so suspect the stock, not the people.</em>" in html
    )


def test_every_name_is_escaped(page):
    html = html_of(page)
    assert HOSTILE not in html
    assert "&lt;" in html


def test_what_slips_is_told_with_its_lot_and_the_way_to_the_jugs(page):
    html = html_of(page)
    assert "Lot P-4 came into use on 3 September" in html
    assert 'href="jugs"' in html


def test_only_what_slips_for_all_is_amber():
    html = runs(VIEW)
    assert html.count('class="is-slip"') == 1
    assert html.index('class="is-slip"') < html.index("Papery")
    one = replace(VIEW, compounds=VIEW.compounds[1:])
    assert 'class="is-slip"' not in runs(one)


def test_a_month_of_few_glasses_is_a_ring_and_one_without_is_empty():
    html = runs(replace(VIEW, compounds=VIEW.compounds[:1]))
    assert html.count("<i") == 4
    assert html.count('<i class="is-few"') == 2
    assert html.count('class="is-lately"') == 3
    assert 'title="Dec 2025: 1 of 2"' in html


def test_a_run_is_told_to_those_who_can_not_see_it():
    assert 'aria-label="Papery, named right by month: Dec 2025 1 of 2; Mar 2026 3 of 4' in runs(
        VIEW
    )


def test_what_was_not_poured_lately_says_so():
    assert "not poured lately" in runs(VIEW)


def test_shares_stand_with_their_counts_and_intervals_the_newest_month_first():
    html = months_table(VIEW)
    assert "<b>30</b> of 40" in html
    assert "75% <small>(60 to 86)</small>" in html
    assert html.index("November 2026, so far") < html.index("October 2026")


def test_a_month_without_glasses_is_empty_and_not_nought():
    html = months_table(VIEW)
    (row,) = [part for part in html.split("<tr") if "April 2026" in part]
    assert "0 of" not in row
    assert "0%" not in row


def test_people_stand_by_name_and_before_their_first_session_is_nothing():
    html = attendance_table(VIEW, None)
    assert html.index(escaped(HOSTILE)) < html.index("Zoe")
    assert html.count("<td></td>") == 10 + 11
    assert "1<small>/2</small>" in html


def test_fewer_noses_than_asked_are_marked():
    html = cover_table(VIEW)
    assert html.count('class="is-thin"') == 3
    assert '<td class="is-thin">nobody</td>' in html
    assert '<td class="is-thin">1 nose</td>' in html
    assert "<td>2 noses</td>" in html


def test_without_a_critical_list_the_page_says_what_to_do(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(source, "months_view", lambda family, on: replace(VIEW, cover=()))
    assert "list them on the shelf" in html_of(started("months"))


@pytest.mark.usefixtures("empty_desk")
def test_an_empty_store_says_what_to_do_next():
    html = html_of(started("months"))
    assert "No glasses yet." in html
    assert 'href="plan' in html


def test_the_sample_brewery_is_shown_and_another_day_too(brewery):
    html = html_of(started("months"))
    assert "Compound by compound" in html
    assert "Who came" in html
    day = (brewery.today()).replace(day=1).isoformat()
    assert "Seen for " in html_of(started("months", on=day))


def test_the_page_is_named_over_the_months():
    assert months_page.MONTHS == "months"
