"""Fields in which several are chosen take what was typed and Enter as one choice, not as many."""

import ast
from pathlib import Path

import pytest

from seatworthy import pages

NEEDED = {"filter_mode": "contains", "select_all": False}


def _calls():
    for path in sorted(Path(pages.__file__).parent.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "multiselect":
                yield pytest.param(node, id=f"{path.stem}, line {node.lineno}")


CALLS = list(_calls())


def test_there_are_such_fields():
    assert CALLS


@pytest.mark.parametrize("call", CALLS)
def test_enter_takes_one_match_and_never_all_of_them(call):
    given = {
        word.arg: word.value.value
        for word in call.keywords
        if isinstance(word.value, ast.Constant) and word.arg in NEEDED
    }
    assert given == NEEDED
