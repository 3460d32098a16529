from pathlib import Path

import pytest
import sampled
import streamlit as st
from invented import (
    empty_board,
    invented_board,
    invented_closer,
    invented_figures,
    invented_record,
)
from streamlit.testing.v1 import AppTest

import seatworthy.pages
from seatworthy.pages import source

ALARM = "Bashir has missed more than before since 3 November."
SCRIPT = Path(seatworthy.pages.__file__).with_name("script.py")


@pytest.fixture(autouse=True)
def _fresh_caches():
    _forget()
    yield
    _forget()


@pytest.fixture
def nobodys_desk(desk, monkeypatch):
    """An empty store of one's own for whatever a page reads besides what was invented."""
    monkeypatch.setattr(source, "_the_desk", lambda path: desk)


@pytest.fixture
def invented_panel(nobodys_desk, monkeypatch):
    monkeypatch.setattr(source, "board_view", invented_board)
    monkeypatch.setattr(source, "record_view", invented_record)
    monkeypatch.setattr(source, "closer_view", invented_closer)
    monkeypatch.setattr(source, "figures_of", invented_figures)
    monkeypatch.setattr(source, "alarm_sentences", lambda as_of: (ALARM,))
    monkeypatch.setattr(source, "copy_reminder", lambda: None)


@pytest.fixture
def empty_panel(nobodys_desk, monkeypatch):
    monkeypatch.setattr(source, "board_view", lambda family, as_of: empty_board())
    monkeypatch.setattr(source, "record_view", lambda person_id, family, as_of: None)


@pytest.fixture(scope="session")
def sample(tmp_path_factory):
    """The sample brewery, closed."""
    return sampled.made(tmp_path_factory.mktemp("sample"))


@pytest.fixture
def brewery(sample, tmp_path, monkeypatch):
    """A desk at a sample brewery of one's own, which every page reads."""
    desk = sampled.copied(sample, tmp_path)
    monkeypatch.setattr(source, "_the_desk", lambda path: desk)
    yield desk
    desk.close()


@pytest.fixture
def empty_desk(desk, monkeypatch):
    """A desk at an empty store, which every page reads."""
    monkeypatch.setattr(source, "_the_desk", lambda path: desk)
    return desk


@pytest.fixture
def run_script():
    """Start the page script, on the board, under an address."""
    return lambda **address: _run(AppTest.from_file(SCRIPT, default_timeout=20), address)


@pytest.fixture
def run_record():
    """Start the record page alone, under an address."""
    return lambda **address: _run(AppTest.from_function(_record, default_timeout=20), address)


def _forget():
    st.cache_resource.clear()
    st.cache_data.clear()


def _record():
    from seatworthy.pages import record

    record.show()


def _run(test, address):
    for name, value in address.items():
        test.query_params[name] = value
    test.run()
    assert not test.exception
    return test
