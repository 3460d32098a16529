"""What tests of a planned session ask for: a stocked brewery, and a plan for its Thursday."""

import pytest
import thursday


@pytest.fixture
def people(desk, tmp_path):
    """Person id by first name, of nine people at a brewery whose shelf is stocked."""
    return thursday.set_up(desk, tmp_path)


@pytest.fixture
def session_id(desk, people):
    """A planned session of two sittings and 72 glasses."""
    return thursday.planned(desk, people)
