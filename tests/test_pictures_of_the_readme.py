"""The pictures of the README: every one is there, small, described, and none lies about unnamed."""

import re
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
FOLDER = TOP / "sample_data" / "walk"
MOST_EACH, MOST_ALL = 40_000, 350_000  # bytes


def named():
    """What the README says of each picture, by its path from the top."""
    text = (TOP / "README.md").read_text(encoding="utf-8")
    return {path: words for words, path in re.findall(r"!\[([^\]]*)\]\(([^)]+)\)", text)}


def test_the_readme_names_every_picture_that_lies_there_and_none_besides():
    lying = {path.relative_to(TOP).as_posix() for path in FOLDER.iterdir()}
    assert named().keys() == lying


def test_every_picture_is_told_in_words():
    for path, words in named().items():
        assert len(words) > 30, path


def test_pictures_stay_small():
    sizes = [path.stat().st_size for path in FOLDER.iterdir()]
    assert max(sizes) <= MOST_EACH
    assert sum(sizes) <= MOST_ALL
