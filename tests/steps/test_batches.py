"""Batches of beer and who made them."""

import pytest

from seatworthy.errors import PanelError
from seatworthy.steps.batches import batch_named, batches, state_batch

BEER = "house pils"


def test_a_batch_is_known_by_its_name_and_beer(desk, people):
    one = state_batch(desk, "Tank 12", BEER, [people["Ada"]])
    assert state_batch(desk, " tank  12 ", BEER, [people["Ada"]]) == one
    (found,) = batches(desk)
    assert (found.label, found.beer_label, found.family) == ("Tank 12", "House Pils", "pale_lager")
    assert found.crew == (people["Ada"],)
    assert batch_named(desk, one) == found


def test_the_same_twice_is_one_fact(desk, people):
    state_batch(desk, "Tank 12", BEER, [people["Ada"]], people["Bo"])
    version = desk.version
    state_batch(desk, "Tank 12", BEER, [people["Ada"]], people["Bo"])
    assert desk.version == version


def test_who_made_it_may_be_said_anew(desk, people):
    one = state_batch(desk, "Tank 12", BEER, [people["Ada"], people["Bo"]])
    state_batch(desk, "Tank 12", BEER, [people["Carmen"], people["Bo"]])
    assert set(batch_named(desk, one).crew) == {people["Carmen"], people["Bo"]}


@pytest.mark.parametrize(
    ("label", "beer", "crew", "said"),
    [
        ("  ", BEER, [], "has no name"),
        ("Tank 12", "stout", [], "not on the shelf"),
        ("Tank 12", BEER, ["nobody"], "not on record"),
        ("Tank \u200b12", BEER, [], "name of the batch"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(desk, people, label, beer, crew, said):
    version = desk.version
    with pytest.raises(PanelError, match=said):
        state_batch(desk, label, beer, crew)
    assert batches(desk) == ()
    assert desk.version == version


def test_an_unknown_batch_is_an_error(desk):
    with pytest.raises(PanelError, match="not on record"):
        batch_named(desk, "nothing")
