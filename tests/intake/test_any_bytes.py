"""Whatever bytes arrive: a results file is read, or refused with a sentence; never a traceback."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seatworthy.errors import PanelError
from seatworthy.intake.results import read_results
from seatworthy.intake.template import write_template

TODAY = date(2026, 11, 25)
CELLS = st.sampled_from(
    [
        "",
        " ",
        "-",
        "?",
        "0",
        "3",
        "3x",
        "2,5",
        "nan",
        "-1",
        "1e9",
        "dms",
        "blank",
        "33 ug",
        "330 ml",
    ]
    + ["2026-03-05", "03/04/2026", "31/02/2026", "Ann", "=A1", "3-AFC", "351", "right", "#REF!"]
    + ['"', "\x00", "é", "\ud7ff", "x" * 300, "nothing", "intensity", "1"]
)
HEADINGS = st.sampled_from(
    ["date", "panellist", "compound", "level", "answer", "method", "code", "position", "dose (ug)"]
    + ["volume", "rating", "set aside", "sitting", "", "Ann", "Bram", "weather", "=1"]
)


def _read(path, data, vocabulary, **options):
    path.write_bytes(data)
    found, sentence = None, None
    try:
        found = read_results(path, vocabulary, TODAY, **options)
    except PanelError as refused:
        sentence = str(refused)
    if sentence is None:
        assert found.rows
    else:
        assert sentence.startswith(f"{path.name} was not imported; correct these lines:\n- ")
    return found


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("bytes")


@pytest.fixture(scope="module")
def good(folder):
    """A good file of each shape and format, by its ending and shape."""
    files = {}
    for shape in ("answers", "glasses"):
        for ending in (".csv", ".xlsx"):
            path = folder / f"good-{shape}{ending}"
            write_template(path, shape)
            files[shape, ending] = path.read_bytes()
    return files


@settings(max_examples=150, deadline=None)
@given(data=st.binary(max_size=400), ending=st.sampled_from([".csv", ".xlsx"]))
def test_random_bytes(folder, vocabulary, data, ending):
    _read(folder / f"any{ending}", data, vocabulary)


@settings(max_examples=150, deadline=None)
@given(text=st.text(max_size=300))
def test_random_text_under_a_good_header(folder, vocabulary, text):
    data = ("date,panellist,compound,level,answer\n" + text).encode("utf-8", "surrogatepass")
    _read(folder / "any.csv", data, vocabulary)


@settings(max_examples=200, deadline=None)
@given(
    header=st.lists(HEADINGS, min_size=1, max_size=9, unique=True),
    rows=st.lists(st.lists(CELLS, min_size=9, max_size=9), max_size=4),
    order=st.sampled_from([None, "day-first", "month-first"]),
)
def test_likely_cells_under_likely_headings(folder, vocabulary, header, rows, order):
    lines = [header, *(row[: len(header)] for row in rows)]
    data = "\n".join(";".join(line) for line in lines).encode("utf-8", "replace")
    _read(folder / "any.csv", data, vocabulary, date_order=order)


@settings(max_examples=200, deadline=None)
@given(
    shape=st.sampled_from(["answers", "glasses"]),
    ending=st.sampled_from([".csv", ".xlsx"]),
    at=st.integers(0, 10_000),
    cut=st.integers(0, 40),
    put=st.binary(max_size=6),
)
def test_a_good_file_with_some_bytes_changed(folder, vocabulary, good, shape, ending, at, cut, put):
    data = good[shape, ending]
    at %= len(data)
    _read(folder / f"any{ending}", data[:at] + put + data[at + cut :], vocabulary)


@settings(max_examples=100, deadline=None)
@given(at=st.integers(0, 10_000))
def test_a_file_cut_off_anywhere(folder, vocabulary, good, at):
    data = good["answers", ".csv"]
    found = _read(folder / "any.csv", data[: at % len(data)], vocabulary)
    whole = _read(folder / "any.csv", data, vocabulary)
    if found is not None:
        assert len(found.rows) < len(whole.rows) or at % len(data) >= len(data) - 2
