from datetime import date

import pytest
from invented import invented_board, renamed

from seatworthy.pages.addresses import board_address, record_address
from seatworthy.pages.figures import guessing_chance, long_day, percent, short_day, spread
from seatworthy.pages.frame import headline
from seatworthy.pages.markup import escaped, plain_markdown, tag
from seatworthy.pages.names import initials
from seatworthy.pages.strip import STOPS, inks
from seatworthy.pages.takeaway import board_csv
from seatworthy.phrases import multiple
from seatworthy.steps.spreadsheet import harmless

SEEN_ON = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("chance", "written"), [(0.0, "0%"), (0.004, "<1%"), (0.882, "88%"), (0.999, "100%")]
)
def test_a_chance_is_whole_hundredths_and_never_a_false_zero(chance, written):
    assert percent(chance) == written


def test_limits_of_nothing_are_an_empty_cell():
    assert spread(None) == ""
    assert spread((0.5958, 0.9821)) == "60 to 98"


@pytest.mark.parametrize(
    ("level", "written"), [(0.5, "0.5×"), (1.23, "1.2×"), (3.0, "3×"), (9.96, "10×"), (24.6, "25×")]
)
def test_a_multiple_has_two_figures_below_ten(level, written):
    assert multiple(level) == written


@pytest.mark.parametrize(
    ("day", "short", "long"),
    [
        (date(2026, 12, 14), "14 Dec", "14 December"),
        (date(2026, 1, 3), "3 Jan", "3 January"),
        (date(2027, 2, 2), "2 Feb", "2 February"),
        (date(2027, 11, 24), "24 Nov 2027", "24 November 2027"),
        (date(2024, 3, 3), "3 Mar 2024", "3 March 2024"),
    ],
)
def test_a_year_is_written_where_it_is_not_plain(day, short, long):
    assert short_day(day, SEEN_ON) == short
    assert long_day(day, SEEN_ON) == long


@pytest.mark.parametrize(
    ("chance", "written"), [(None, ""), (0.00828, "0.0083"), (0.00000004, "<0.0001"), (1.0, "1")]
)
def test_the_chance_by_guessing_keeps_two_figures(chance, written):
    assert guessing_chance(chance) == written


def test_a_sentence_without_a_catch_has_no_amber():
    assert headline("Five can sit today", "") == '<h1 class="answer">Five can sit today.</h1>'


def test_a_sentence_keeps_a_day_together():
    assert "14\N{NO-BREAK SPACE}December; <em>" in headline("Until 14 December", "one glass more.")


def test_escaping_leaves_no_way_out_of_a_quoted_attribute():
    assert tag("a", escaped("<b>"), title='"><script>') == (
        '<a title="&quot;&gt;&lt;script&gt;">&lt;b&gt;</a>'
    )


def test_markdown_in_a_label_stays_plain():
    assert plain_markdown("![x](http://a.b) **B**") == r"\!\[x\]\(http\:\/\/a\.b\) \*\*B\*\*"


def test_addresses_leave_out_what_is_not_asked():
    assert board_address() == "./"
    assert record_address("a&b", family="stout") == "record?who=a%26b&family=stout"
    assert board_address(family="stout", on=SEEN_ON) == "./?family=stout&on=2026-11-25"


def test_initials_take_two_letters_where_one_is_shared():
    assert initials(["Ada", "Bo", "Abel"]) == ["Ad", "B", "Ab"]


def test_a_flat_density_is_drawn_in_one_pale_ink():
    assert inks([0.01] * 100) == [17] * STOPS


def test_a_sure_density_is_dark_where_it_stands_and_blank_elsewhere():
    dark = inks([0.0] * 90 + [0.1] * 10)
    assert dark[0] == 0
    assert dark[-1] == 92


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t=", " =", "\r", "\uff1d"])
def test_a_formula_is_disarmed(start):
    assert harmless(f"{start}1+1") == f"'{start}1+1"


def test_a_plain_word_goes_through_untouched():
    assert harmless("Łucja Wrzos") == "Łucja Wrzos"


def test_the_board_leaves_as_one_row_a_panellist_and_compound():
    view = renamed(invented_board(), "Iker Solana", '=HYPERLINK("http://x")')
    lines = board_csv(view).decode("utf-8-sig").splitlines()
    assert len(lines) == 1 + 9 * 16
    assert lines[1] == ("2026-11-25,Pale lagers,Maren Thode,yes,Diacetyl,yes,met,9,10,2027-02-11")
    assert '"\'=HYPERLINK(""http://x"")"' in lines[17]
