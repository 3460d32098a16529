"""Noses read from a record."""

import numpy as np
import seated

from seatworthy.decide.noses import named_mean
from seatworthy.steps.judging import judge_day
from seatworthy.steps.noses import noses_of


def test_what_the_record_says_of_everybody_is_what_they_are_judged_by(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        judged = judge_day(desk)
        family = next(iter(judged.families))
        noses = noses_of(desk, judged, family)
        assert noses.people == tuple(judged.people)
        critical = {c for items in judged.critical.values() for item in items for c in item}
        assert critical <= set(noses.compounds)
        evidence = judged.evidence
        column = [noses.compounds.index(c) for c in evidence.compounds]
        level = [judged.rulebook.asked.reference_level]
        found = named_mean(noses, level)[:, column, 0]
        place = evidence.families.index(family)
        expected = judged.followed.today.rate_mean[:, :, place]
        tested = noses.is_tested[:, column]
        assert tested.any()
        assert np.abs(found - expected)[tested].max() < 0.03  # guesses are shared out otherwise
        assert not noses.misnamed[
            :, np.arange(len(noses.compounds)), np.arange(len(noses.compounds))
        ].any()
        assert noses.misnamed.sum(axis=2).max() < 1 + 1e-9
        assert noses.guessed.min() > 0
        assert noses.guessed.sum() < 1


def test_they_are_read_once_until_something_counts(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        judged = judge_day(desk)
        family = next(iter(judged.families))
        assert noses_of(desk, judged, family) is noses_of(desk, judged, family)
