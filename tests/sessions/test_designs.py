from itertools import combinations

import pytest

from seatworthy.sessions.designs import balanced_blocks, check_pairs, pair_counts

KNOWN = [(v, k) for v in range(2, 26) for k in range(1, v) if balanced_blocks(v, k)]


@pytest.mark.parametrize(("things", "size"), KNOWN)
def test_every_pair_stands_together_equally_often(things, size):
    blocks = balanced_blocks(things, size)
    found = pair_counts(blocks)
    counts = {found[pair] for pair in combinations(range(things), 2)}
    assert len(counts) == 1
    assert all(len(set(block)) == size for block in blocks)


@pytest.mark.parametrize(
    "asked", [(6, 3), (7, 3), (7, 4), (8, 4), (9, 3), (11, 5), (13, 4), (21, 5), (25, 5)]
)
def test_the_designs_of_the_textbooks_are_known(asked):
    assert asked in KNOWN


@pytest.mark.parametrize("asked", [(7, 7), (7, 0), (0, 1), (20, 12)])
def test_where_no_design_is_known_there_are_no_blocks(asked):
    assert balanced_blocks(*asked) == ()


def test_a_design_with_a_thing_too_often_is_caught():
    with pytest.raises(ValueError, match="thing 2 stands in 1 blocks, and thing 0 in 2"):
        check_pairs([(0, 1), (0, 1), (2, 3), (0, 3)][:3], 4)


def test_a_design_with_a_pair_too_seldom_is_caught():
    words = "things 0 and 2 stand together 0 times, and 0 and 1 2 times"
    with pytest.raises(ValueError, match=words):
        check_pairs([(0, 1), (0, 1), (2, 3), (2, 3)], 4)


@pytest.mark.parametrize(("things", "size"), [(7, 3), (9, 3), (13, 4)])
def test_a_design_with_two_things_exchanged_is_caught(things, size):
    first, second, *others = balanced_blocks(things, size)
    mine = next(thing for thing in first if thing not in second)
    theirs = next(thing for thing in second if thing not in first)
    tampered = [
        tuple(theirs if thing == mine else thing for thing in first),
        tuple(mine if thing == theirs else thing for thing in second),
    ]
    with pytest.raises(ValueError, match="stand together"):
        check_pairs([*tampered, *others], things)
