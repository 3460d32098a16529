"""Which letters print, told before anything is printed."""

import pytest
from invented_papers import EARLY, HOSTILE, LATE, invented_paper
from printed_text import texts_of

from seatworthy.paper import pouring_pdf
from seatworthy.paper.lettering import MISSING, unprintable

OTHERS = ("佐藤 花", "محمد", "דוד", "สมชาย", "अनिता", "Ana 👩", "Georgi გ")


def test_latin_greek_and_cyrillic_names_print():
    assert unprintable([*EARLY, *LATE, "Đặng Thị", "Ñandú", "Şule Çağ", "Ґанна", "ẞ"]) == ()


@pytest.mark.parametrize("name", OTHERS)
def test_a_name_in_another_script_is_told(name):
    assert unprintable(["Ada", name]) == (name,)


def test_a_name_is_told_once_in_the_order_of_the_list():
    assert unprintable(["佐", "Ada", "👩", "佐"]) == ("佐", "👩")


def test_an_accent_that_would_be_dropped_is_told():
    assert unprintable(["x\u0f71"]) == ("x\u0f71",)


def test_an_accent_that_joins_its_letter_and_marks_without_a_shape_are_no_reason_to_warn():
    assert unprintable(["Petric\u0301", "a\u00adb\u200d\u202e\ufe0f", "a\tb\u202fc", ""]) == ()


@pytest.mark.parametrize("name", [*EARLY, *OTHERS[:6], HOSTILE[2]])
def test_what_is_told_is_what_comes_out_wrong_on_paper(name):
    view = invented_paper(people=((name,), ()), glasses=1, spares=0)
    text = " ".join(texts_of(pouring_pdf(view, "A4"))[0].split())
    assert bool(unprintable([name])) == (MISSING in text)
