"""The beers somebody knows, on their record."""

from seatworthy.pages.record_beers import beers_known
from seatworthy.steps.figures_views import KnownBeerRow, KnownBeers

HOSTILE = "Pils <b>&"
FULL = KnownBeerRow(
    HOSTILE, "met", 7, 8, {"aged": (0, 4), "sister": (1, 3)}, 1.84, (0.9, 3.1), 0.93, ""
)
FEW = KnownBeerRow("Weisse", "too_little", 2, 2, {}, None, None, None, "Weisse: 4 more glasses.")


def shown(*rows, is_asked=True):
    return beers_known(KnownBeers(rows, is_asked, 1.0, 12))


def test_counts_stand_by_what_was_poured_with_chance_and_range():
    html = shown(FULL)
    assert "<b>7</b> of 8" in html
    assert "aged <b>0</b> of 4, sister brand <b>1</b> of 3" in html
    assert "93% <small>d&" not in html
    assert "93%" in html
    assert "1.8 (0.9 to 3.1)" in html


def test_a_name_is_escaped():
    assert HOSTILE not in shown(FULL)


def test_too_little_evidence_has_its_mark_its_word_and_no_number():
    html = shown(FEW)
    assert "mark-too_little" in html
    assert ": too little evidence" in html
    assert "%" not in html.split("</thead>")[1].split("</table>")[0]
    assert "Weisse: 4 more glasses." in html


def test_the_note_says_whether_the_rulebook_asks():
    assert "asks nothing of it" not in shown(FULL)
    assert "The rulebook asks nothing of it." in shown(FULL, is_asked=False)


def test_without_such_a_glass_there_is_no_section():
    assert shown() == beers_known(None) == ""
