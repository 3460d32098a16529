"""The paper of the panel over time, read back."""

from dataclasses import replace
from datetime import date

import pytest
from printed_text import pages_of, size_of, texts_of

from seatworthy.paper import months_pdf
from seatworthy.steps.month_views import (
    AttendanceRow,
    CompoundMonth,
    CompoundMonths,
    CoverRow,
    MonthRow,
    MonthsView,
)

MONTHS = tuple(date(2025 + (11 + n) // 12, (11 + n) % 12 + 1, 1) for n in range(12))


def month(on):
    return MonthRow(on, on < MONTHS[-1], 3, 30, 40, (0.6, 0.86), 0.77, 0.78, 1, 20, (0.01, 0.2))


def compound(label, finding="", sentence="", lately=(9, 12, 9.2)):
    rows = tuple(CompoundMonth(on, 3, 4, 0.75) for on in MONTHS[::3])
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
    families=(("pale_lager", "Pale lagers"),),
    months=tuple(map(month, MONTHS)),
    compounds=(
        compound("Papery", "together", "Five people fell short together.", (4, 12, 9.0)),
        compound("Vanillin", lately=(0, 0, 0.0)),
    ),
    attendance=(AttendanceRow("p1", "Zoe", (*(None,) * 10, (1, 2), (3, 3)), 4, 5),),
    shifts=("Early", "Late"),
    cover=(CoverRow("Diacetyl", (4, 2), 5), CoverRow("Papery", (1, 0), 1)),
    people_asked=2,
    window=3,
)


def test_the_paper_holds_what_the_page_holds():
    flat = " ".join(" ".join(texts_of(months_pdf(VIEW, "A4"))).split())
    for words in ("Papery falls short for everybody", "4 of 12 lately, 9 usual", "30 of 40",
                  "75% (60 to 86)", "1 nose: too few", "nobody: too few", "3/3", "Quillmere Brewery",
                  "nothing here ranks anybody"):  # fmt: skip
        assert words in flat, words


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_many_people_and_compounds_stay_on_their_sheets(size):
    crowd = tuple(replace(VIEW.attendance[0], name=f"Person {n} of the crew") for n in range(60))
    many = tuple(compound(f"Compound {n}") for n in range(40))
    pdf = months_pdf(replace(VIEW, attendance=crowd, compounds=many), size)
    sheets = pages_of(pdf)
    assert len(sheets) >= 4
    for pieces, (width, _) in zip(sheets, size_of(pdf), strict=True):
        assert all(0 <= piece.left <= piece.right <= width for piece in pieces)


def test_the_same_view_is_the_same_paper():
    assert months_pdf(VIEW, "A4") == months_pdf(VIEW, "A4")
