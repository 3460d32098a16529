import pytest

from seatworthy.intake.answers import Answer, CompoundReader, read_answer, read_method
from seatworthy.intake.words import Unreadable


@pytest.mark.parametrize("text", ["nothing", "None", "no", "0", "clean", "nichts", "nada", "blank"])
def test_nothing_was_noticed(text):
    assert read_answer("naming", text, None).kind == "nothing"


@pytest.mark.parametrize("text", ["something", "?", "???", "etwas", "algo"])
def test_something_was_noticed_without_a_name(text):
    assert read_answer("naming", text, None).kind == "something"


def test_own_words_are_kept_as_written(vocabulary):
    answer = read_answer("naming", "  Wet  Cafe\u0301 ", None, vocabulary)
    assert answer == Answer("words", words="Wet Café")


@pytest.mark.parametrize("text", ["-", "–", ".", "n/a", "absent", "x", "ok", "not sure"])
def test_what_may_mean_two_things_is_refused(text):
    with pytest.raises(Unreadable, match="may mean two things.*write nothing or something"):
        read_answer("naming", text, None)


@pytest.mark.parametrize("text", ["1", "3.5", "2,5", "274"])
def test_a_number_names_nothing(text):
    with pytest.raises(Unreadable, match="got the number"):
        read_answer("naming", text, "274")


@pytest.mark.parametrize("method", ["3afc", "triangle", "duo_trio", "2afc"])
@pytest.mark.parametrize(
    ("text", "kind"),
    [("right", "right"), ("1", "right"), ("Yes", "right"), ("wrong", "wrong"), ("0", "wrong")],
)
def test_forced_choices_are_right_or_wrong(method, text, kind):
    assert read_answer(method, text, None).kind == kind


@pytest.mark.parametrize(("picked", "kind"), [("274", "right"), ("061", "wrong"), ("999", "wrong")])
def test_a_forced_choice_may_be_the_code_picked(picked, kind):
    assert read_answer("3afc", picked, "274").kind == kind


def test_a_picked_code_may_have_lost_its_zeros_in_a_spreadsheet():
    assert read_answer("3afc", "7", "007").kind == "right"


@pytest.mark.parametrize(
    ("method", "text", "reason"),
    [
        ("3afc", "2", "right, wrong or the code picked"),
        ("3afc", "diacetyl", "right, wrong or the code picked"),
        ("3afc", "-", "right, wrong or the code picked"),
        ("a_not_a", "not A", "yes .* or no"),
        ("a_not_a", "A", "yes .* or no"),
        ("intensity", "strong", "must be a number"),
        ("intensity", "-1", "between 0 and 1000"),
    ],
)
def test_answers_that_do_not_fit_their_method_are_refused(method, text, reason):
    with pytest.raises(Unreadable, match=reason):
        read_answer(method, text, "274")


def test_a_not_a_is_yes_or_no():
    assert read_answer("a_not_a", "different", None).kind == "yes"
    assert read_answer("a_not_a", "same", None).kind == "no"


def test_an_intensity_is_a_number():
    assert (
        read_answer("intensity", "6,5", None).rating == read_answer("intensity", "6.5", None).rating
    )


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("3-AFC", "3afc"),
        ("3 afc", "3afc"),
        ("Triangle test", "triangle"),
        ("duo-trio", "duo_trio"),
        ("2-AFC", "2afc"),
        ("A/not-A", "a_not_a"),
        ("a_not_a", "a_not_a"),
        ("Intensity", "intensity"),
    ],
)
def test_methods_are_known_by_their_usual_names(text, code):
    assert read_method(text) == code


def test_an_unknown_method_is_refused():
    with pytest.raises(Unreadable, match="must be naming, 3-AFC.*got “sniffing”"):
        read_method("sniffing")


def test_compounds_off_the_shelf_get_suggestions(vocabulary):
    reader = CompoundReader(vocabulary)
    assert reader.read("Butter") == "diacetyl"
    assert reader.read("Control") == ""
    with pytest.raises(Unreadable, match="not on the shelf: “diacetil”. Nearest: diacetyl"):
        reader.read("diacetil")
