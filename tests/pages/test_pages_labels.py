"""Labels of a session: a sheet that somebody measured, what goes on it, and what doesn't."""

from io import BytesIO

import bench_session
import pytest
from invented_session import choice, html_of, started
from pypdf import PdfReader

from seatworthy.errors import PanelError
from seatworthy.pages import session_labels, source
from seatworthy.paper.label_sheets import LabelSheet, LabelsRefused
from seatworthy.steps.papers import papers

SHEET = LabelSheet("A4", 3, 8, 5, 8, 62, 32, 66, 33)


@pytest.fixture(scope="module")
def planned(tmp_path_factory, stocked):
    """A desk at a brewery with a session dosed from its bench, which is only read; the session's id."""
    path = bench_session.made(tmp_path_factory.mktemp("bench"), stocked)
    desk = bench_session.opened(path)
    yield desk, bench_session.planned(desk)
    desk.close()


@pytest.fixture
def page(planned, monkeypatch):
    desk, session_id = planned
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    return started("session", session=session_id)


def typed(page, **lengths):
    for name, value in lengths.items():
        page.number_input(key=f"label_{name}").set_value(value)
    page.run()
    assert not page.exception
    return page


def downloads(page):
    return [found.proto.label for found in page.get("download_button")]


def text_of(pdf):
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def test_a_session_offers_its_labels_on_a_sheet_that_fits(page):
    assert "Labels for bottles" in downloads(page)
    assert "Print at full size, not fitted to the page." in html_of(page)


@pytest.mark.parametrize("what", ["caps", "glasses"])
def test_what_is_labelled_is_chosen(page, what):
    choice(page, "labels_for").set_value(what).run()
    assert f"Labels for {what}" in downloads(page)
    assert "Labels for bottles" not in downloads(page)


@pytest.mark.parametrize(
    ("lengths", "sentence"),
    [
        ({"columns": 4}, "4 columns of labels end at 265 mm, and A4 is 210 mm wide"),
        ({"rows": 100}, "100 rows of labels end at"),
        ({"left": 300.0}, "A4 is 210 mm wide: measure again"),
        ({"width": 0.0}, "width is 0 mm: measure it, more than 0 mm."),
        ({"across": 0.0}, "From one label to the next across are 0 mm"),
        ({"across": 40.0}, "Labels lie over one another"),
        ({"width": 5.0}, "is too small to read"),
        ({"width": 30.0}, "label of 30 mm by 32 mm is too small for all it says"),
        ({"first": 25}, "Label 25 was chosen to begin with, and a sheet has labels 1 to 24"),
    ],
)
def test_a_sheet_that_cannot_be_is_a_sentence_instead_of_a_download(page, lengths, sentence):
    typed(page, **lengths)
    assert sentence in html_of(page)
    assert "Labels for bottles" not in downloads(page)
    assert "Ballots" in downloads(page)  # the rest of the session stays as it is


def test_every_fault_of_a_sheet_is_told_at_once(page):
    html = html_of(typed(page, columns=9, rows=90))
    listed = html[html.index('<ul class="faults"') :]
    assert "9 columns" in listed
    assert "90 rows" in listed
    assert listed.count("<li>") >= 2


def test_small_labels_do_for_caps_where_a_bottle_needs_more(page):
    choice(page, "labels_for").set_value("caps").run()
    typed(page, width=30.0, height=12.0)
    assert "Labels for caps" in downloads(page)


def test_the_measures_are_kept_and_the_paper_decides_whether_they_fit(page):
    typed(page, columns=2, left=12.5)
    choice(page, "labels_for").set_value("caps").run()
    assert page.number_input(key="label_left").value == 12.5
    assert page.number_input(key="label_columns").value == 2


def test_bottle_labels_say_what_is_in_it_and_caps_the_vessel(planned):
    desk, session_id = planned
    bottles = text_of(session_labels.label_bytes(desk, session_id, "bottles", SHEET, 1))
    assert "Diacetyl" in bottles
    assert "R1" in bottles
    caps = text_of(session_labels.label_bytes(desk, session_id, "caps", SHEET, 1))
    for vessel in ("A1", "B1", "C1", "D1"):
        assert vessel in caps
        assert vessel in bottles


def test_glass_labels_hold_every_code_and_nothing_of_what_is_in_it(planned):
    desk, session_id = planned
    glasses = text_of(session_labels.label_bytes(desk, session_id, "glasses", SHEET, 1))
    orders = papers(desk, session_id).sittings[0].orders
    codes = [glass.code for order in orders for glass in order.glasses]
    assert len(codes) == 24
    assert all(code in glasses for code in codes)
    assert not any(
        word in glasses.casefold() for word in ("diacetyl", "dms", "nothing added", "3×")
    )
    assert not any(order.name in glasses for order in orders)


def test_a_sheet_used_in_part_goes_on_where_it_is_free(planned):
    desk, session_id = planned
    pages = [
        len(
            PdfReader(
                BytesIO(session_labels.label_bytes(desk, session_id, "glasses", SHEET, n))
            ).pages
        )
        for n in (1, 2)
    ]
    assert pages == [1, 2]  # 24 labels on a sheet of 24, then one free label less


def test_a_first_label_that_the_sheet_lacks_makes_no_paper(planned):
    desk, session_id = planned
    with pytest.raises(LabelsRefused, match="a sheet has labels 1 to 24"):
        session_labels.label_bytes(desk, session_id, "glasses", SHEET, 25)


def test_a_session_that_is_not_there_has_nothing_to_label(planned):
    with pytest.raises(PanelError, match="nothing to label"):
        session_labels.label_bytes(planned[0], "nobody", "caps", SHEET, 1)
