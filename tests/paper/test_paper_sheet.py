"""What holds for every paper: its size, its margins, its bytes, its letters."""

from datetime import datetime
from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from invented_papers import (
    HOSTILE,
    LATE,
    invented_hostile,
    invented_own_page,
    invented_paper,
)
from printed_text import overprinted, pages_of, size_of, texts_of
from pypdf import PdfReader

from seatworthy import paper
from seatworthy.paper.lettering import BODY, HEAD, MISSING, printable
from seatworthy.paper.sheet import Sheet

SESSION_PAPERS = (paper.preparation_pdf, paper.pouring_pdf, paper.key_pdf, paper.ballots_pdf)
VIEWS = {
    "usual": invented_paper(),
    "twelve glasses": invented_paper(glasses=12),
    "hostile": invented_hostile(),
    "one person": invented_paper(people=(("Ada",), ()), glasses=1, spares=0),
}
SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}


def invented_own_pages():
    return [invented_own_page(), invented_own_page(HOSTILE[2], glasses=12, compounds=12)]


def every_paper(view, size):
    of_session = tuple(made(VIEWS[view], size) for made in SESSION_PAPERS)
    return (*of_session, paper.feedback_pdf(invented_own_pages(), size))


every_paper_once = cache(every_paper)


@pytest.mark.parametrize("size", SIZES)
def test_every_page_has_the_size_asked_for(size):
    for pdf in every_paper_once("usual", size):
        for found in size_of(pdf):
            assert found == pytest.approx(SIZES[size], abs=0.05)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("view", VIEWS)
def test_no_text_leaves_the_margins(view, size):
    width, height = SIZES[size]
    for pdf in every_paper_once(view, size):
        for piece in (piece for page in pages_of(pdf) for piece in page):
            assert piece.left > 15.9, piece
            assert piece.right < width - 15.9, piece
            assert piece.top > 14, piece
            assert piece.bottom < height - 7, piece


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("view", VIEWS)
def test_no_text_covers_other_text(view, size):
    for pdf in every_paper_once(view, size):
        for page in pages_of(pdf):
            assert overprinted(page) == []


def test_text_over_text_would_be_seen():
    sheet = Sheet("A4", "Two lines in one place", datetime(2026, 11, 26))
    sheet.begin("foot", "running")
    sheet.paragraph("one")
    sheet.set_y(15)
    sheet.paragraph("other")
    assert overprinted(pages_of(sheet.finished())[0]) == [("one", "other")]


def test_the_same_view_gives_the_same_bytes():
    assert every_paper("hostile", "A4") == every_paper_once("hostile", "A4")


def test_another_size_is_refused_in_words():
    with pytest.raises(ValueError, match="paper comes in A4 and Letter, not in 'A5'"):
        paper.key_pdf(VIEWS["usual"], "A5")


def test_the_file_says_what_it_is_and_when_it_was_printed():
    reader = PdfReader(BytesIO(paper.key_pdf(VIEWS["usual"], "A4")))
    assert reader.metadata.title == "Key, Thursday panel, Thursday 26 November 2026"
    assert reader.metadata.creation_date.replace(tzinfo=None) == datetime(2026, 11, 26, 9, 15)
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"


def test_greek_cyrillic_and_accented_names_are_printed_as_they_are():
    text = texts_of(paper.pouring_pdf(VIEWS["usual"], "A4"))[0]
    for name in ("Łukasz Wrzos", "Goran Petrić", "Ελένη Παππά", "Олена Шевчук"):
        assert name in text


def test_letters_that_no_face_has_are_seen_to_be_missing():
    assert printable("Ana 日本 👩", known=set(map(ord, "An a" + MISSING))) == (
        f"Ana {MISSING * 2} {MISSING}"
    )


def test_marks_without_a_shape_are_left_out():
    known = set(map(ord, "abc "))
    assert printable("a\u202eb\u00adc\u200d\ufe0f", known) == "abc"


def test_an_accent_joins_its_letter():
    assert printable("Petric\u0301", set(map(ord, "Petrić"))) == "Petrić"


def test_every_kind_of_space_is_a_plain_one():
    assert printable("a\tb\nc\u202fd\u00a0e", set(map(ord, "abcde "))) == "a b c d e"


def test_what_somebody_types_is_never_markup_or_a_field():
    text = texts_of(paper.ballots_pdf(VIEWS["hostile"], "A4"))[0]
    assert "=HYPERLINK(1) **bold** __x__ \\ ( ) <b> {nb}" in text


def test_the_line_after_one_with_two_faces_has_its_own_face():
    # fpdf2 sets the face within the state that a cell of two faces gives back at its end.
    sheet = Sheet("A4", "Faces", datetime(2026, 11, 26))
    sheet.begin("foot", "running")
    sheet.paragraph("heads", HEAD)
    sheet.paragraph("ΩaΩ", BODY)
    sheet.paragraph("Qq", BODY)
    assert "Qq" in texts_of(sheet.finished())[0].splitlines()


def test_pages_are_counted_within_a_part():
    view = invented_paper(people=(tuple(f"Taster {n}" for n in range(40)), LATE))
    feet = [page.splitlines()[-1] for page in texts_of(paper.pouring_pdf(view, "A4"))]
    assert feet == ["1 of 2", "2 of 2", "1 of 1"]


@pytest.mark.parametrize("licence", ["asap-OFL.txt", "besley-OFL.txt", "dejavu-LICENSE.txt"])
def test_each_face_comes_with_its_licence(licence):
    text = (Path(paper.__file__).parent / "fonts" / licence).read_text(encoding="utf-8")
    assert "Permission is hereby granted" in text or "PERMISSION & CONDITIONS" in text
