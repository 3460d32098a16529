import pytest
from invented_ballots import InventedSteps, Phone


@pytest.fixture
def steps(monkeypatch):
    """The invented steps in the place of the real ones."""
    stand_in = InventedSteps()
    stand_in.stand_in(monkeypatch)
    return stand_in


@pytest.fixture
def phone(steps):
    return Phone()
