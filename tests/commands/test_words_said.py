"""seatworthy words: what waits, what words mean, and what they are right for."""

import pytest

from seatworthy.cli import main
from seatworthy.steps.accepted_words import group_of
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk

ROWS = "2026-03-02,Ada,dms,3,drains\n2026-03-02,Ada,diacetyl,3,old boots\n"


@pytest.fixture
def path(desk, tmp_path):
    """A closed store in which two wordings wait."""
    file = tmp_path / "march.csv"
    file.write_text(f"date,panellist,compound,level,answer\n{ROWS}", encoding="utf-8")
    bring_in_results(desk, file, new_people=["*"])
    desk.close()
    return desk.store.path


@pytest.fixture
def said(capsys, path):
    def say(*words):
        code = main(["words", *words, "--store", str(path)])
        return code, *capsys.readouterr()

    return say


def accepted(path, words):
    desk = open_desk(path)
    found = group_of(desk, words)
    desk.close()
    return found and found.compounds


def test_words_are_accepted_for_several_and_wait_no_more(said, path):
    code, out, err = said("drains", "--accept", "H2S", "dms")
    assert code == 0
    assert "“drains” stands in 1 answer of 1 closed session. It would be read anew" in err
    assert out.splitlines() == [
        "“drains” is right for DMS or hydrogen sulfide, in answers past and to come.",
        "    1  old boots",
        "drains: right for DMS or hydrogen sulfide",
    ]
    assert accepted(path, "drains") == ("dms", "h2s")


def test_a_meaning_and_what_is_accepted_besides_are_said_at_once(said, path):
    _, out, _ = said("drains", "h2s", "--accept", "dms")
    assert "drains (means hydrogen sulfide): right for DMS" in out.splitlines()
    assert accepted(path, "drains") == ("dms",)


def test_what_is_accepted_is_taken_back(said, path):
    said("drains", "--accept", "h2s", "dms")
    code, out, _ = said("drains", "--take-back", "dms")
    assert code == 0
    assert "drains: right for hydrogen sulfide" in out.splitlines()
    assert accepted(path, "drains") == ("h2s",)


@pytest.mark.parametrize("words", [("drains",), ("--accept", "dms"), ("--take-back", "dms")])
def test_half_of_it_is_not_enough(said, words):
    code, out, err = said(*words)
    assert (code, out) == (1, "")
    assert err.startswith("Say words and what they mean")


def test_a_compound_that_is_not_on_the_shelf_is_refused(said, path):
    code, _, err = said("drains", "--accept", "dms", "old hat")
    assert code == 1
    assert "“old hat” is not a compound on the shelf." in err
    assert accepted(path, "drains") is None
