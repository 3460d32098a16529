import re

import pytest

from seatworthy.errors import PanelError
from seatworthy.intake.shelf import read_shelf
from seatworthy.intake.shelf_template import write_shelf_template
from seatworthy.intake.words import Vocabulary


@pytest.fixture
def written(tmp_path):
    path = tmp_path / "shelf.toml"
    write_shelf_template(path)
    return path


def keys_listed(text):
    return re.findall(r"^#   (\w+) ", text.split("# The list:")[1], re.MULTILINE)


def test_the_template_can_be_brought_in_as_it_is(written):
    keys = keys_listed(written.read_text(encoding="utf-8"))
    shelf = read_shelf(written, Vocabulary({key: key for key in keys}))
    assert [family.label for family in shelf.families] == ["Pale lagers"]
    assert [beer.label for beer in shelf.base_beers] == ["Quillmere Pils"]


def test_what_is_commented_out_can_be_brought_in_too(written):
    text = written.read_text(encoding="utf-8")
    body, _, _ = text.partition("# The list:")
    active = re.sub(r"^# (\[\[|\w+ += )", r"\1", body, flags=re.MULTILINE)
    written.write_text(active, encoding="utf-8")
    shelf = read_shelf(written, Vocabulary({key: key for key in keys_listed(text)}))
    assert len(shelf.working_thresholds) == len(shelf.backgrounds) == len(shelf.synonyms) == 1
    assert [compound.key for compound in shelf.compounds] == ["tannin"]


def test_every_shipped_compound_is_listed(written):
    assert len(keys_listed(written.read_text(encoding="utf-8"))) == 57


def test_a_place_that_cannot_be_written_is_said(tmp_path):
    with pytest.raises(PanelError, match="cannot be written"):
        write_shelf_template(tmp_path / "nowhere" / "shelf.toml")
