from datetime import timedelta

import pytest
from poured_glasses import COUNTED, TODAY, estimates, glass, row

from seatworthy.rules.also import Answered, cells_of, items_of, judge_also
from seatworthy.rules.compound import CompoundVerdict
from seatworthy.rules.compound_rules import AlsoRule, ChanceRule, ShareRule, ThresholdRule
from seatworthy.rules.verdict import Standing, Verdict

SHARE = ShareRule(share=0.7, glasses=5, days=2)
CHANCE = ChanceRule(0.85, 4, 2, 0.05, 6, 26, 0.5)
THREE = (("dms",), ("t2n",), ("h2s",))
PATTERNS = {Standing.MET: "11111", Standing.NOT_MET: "00000", Standing.TOO_LITTLE: "111"}


def rule(over="each", met_in=0, kind=SHARE, compounds=()):
    return AlsoRule("Second look", kind, over, compounds, met_in, asked_for=True)


def answered(**patterns):
    return Answered({compound: row(pattern) for compound, pattern in patterns.items()})


def judged(further, seen, items=THREE):
    return judge_also(further, items, seen, TODAY, COUNTED)


@pytest.mark.parametrize(
    ("met_in", "dms", "t2n", "h2s", "standing"),
    [
        (0, "11111", "11111", "11111", Standing.MET),
        (0, "11111", "11111", "111", Standing.TOO_LITTLE),
        (0, "11111", "11111", "00000", Standing.NOT_MET),
        (0, "11111", "111", "00000", Standing.NOT_MET),
        (1, "00000", "00000", "11111", Standing.MET),
        (1, "00000", "00000", "111", Standing.TOO_LITTLE),
        (1, "00000", "00000", "00000", Standing.NOT_MET),
        (2, "11111", "11111", "00000", Standing.MET),
        (2, "11111", "111", "00000", Standing.TOO_LITTLE),
        (2, "11111", "00000", "00000", Standing.NOT_MET),
        (2, "111", "111", "00000", Standing.TOO_LITTLE),
    ],
)
def test_all_any_or_so_many_of_the_compounds_must_be_met(met_in, dms, t2n, h2s, standing):
    seen = answered(dms=dms, t2n=t2n, h2s=h2s)
    assert judged(rule(met_in=met_in), seen).standing is standing


def test_no_more_compounds_are_asked_for_than_there_are():
    assert judged(rule(met_in=4), answered(dms="11111"), THREE[:1]).standing is Standing.MET


def test_a_compound_never_served_is_too_little_evidence():
    assert judged(rule(), answered(dms="11111", t2n="11111")).standing is Standing.TOO_LITTLE


def test_of_a_group_one_compound_counts():
    group = (("dms",), ("t2n", "h2s"))
    seen = answered(dms="11111", t2n="00000", h2s="11111")
    assert judged(rule(), seen, group).standing is Standing.MET


def test_without_compounds_nothing_can_be_said():
    verdict = judged(rule(), answered(dms="11111"), ())
    assert verdict.standing is Standing.TOO_LITTLE
    assert verdict.sentence == "Second look: no compounds are named for this beer family."


def test_a_rule_may_name_its_own_compounds():
    own = rule(compounds=("geraniol", "dms"))
    assert items_of(own, THREE) == (("geraniol",), ("dms",))
    assert items_of(rule(), THREE) == THREE


def test_the_sentence_names_the_compounds_behind_each_answer():
    verdict = judged(rule(met_in=2), answered(dms="11111", t2n="00000", h2s="111"))
    assert verdict.rule == "Second look"
    assert verdict.sentence == (
        "Second look: met in 1 of 3 compounds, 2 asked for; not met in t2n; too little evidence "
        "in h2s."
    )


def test_the_nearest_compound_is_named_as_the_way():
    verdict = judged(rule(met_in=2), answered(dms="11111", t2n="1", h2s="111"))
    assert verdict.change == (
        "h2s: 2 more glasses at 2× to 4×, at least 1 of them named right, could meet it."
    )


def test_of_a_group_the_nearest_compound_is_named():
    group = (("dms",), ("t2n", "h2s"))
    verdict = judged(rule(), answered(dms="11111", t2n="1", h2s="111"), group)
    assert verdict.sentence == (
        "Second look: met in 1 of 2 compounds, all asked for; too little evidence in t2n or h2s."
    )
    assert verdict.change.startswith("h2s: 2 more glasses")


def test_as_many_ways_are_named_as_compounds_are_missing():
    verdict = judged(rule(), answered(dms="111", t2n="11", h2s="1"))
    assert [part.split(":")[0] for part in verdict.change.split(" it. ")] == ["dms", "t2n", "h2s"]


def test_where_open_compounds_are_too_few_one_not_met_is_named_too():
    verdict = judged(rule(), answered(dms="11111", t2n="11", h2s="00000"))
    assert verdict.change.startswith("t2n: 3 more glasses")
    assert "h2s: Train first; then" in verdict.change


def test_the_way_over_each_truly_meets_it():
    seen = answered(dms="11111", t2n="11111", h2s="111")
    more = [glass(n, TODAY + timedelta(days=1), is_right=n == 91) for n in (90, 91)]
    better = Answered({**seen.glasses, "h2s": [*seen.glasses["h2s"], *more]})
    assert judged(rule(), seen).change.startswith("h2s: 2 more glasses")
    verdict = judge_also(rule(), THREE, better, TODAY + timedelta(days=1), COUNTED)
    assert verdict.standing is Standing.MET


# Together


@pytest.mark.parametrize(
    ("dms", "t2n", "standing"),
    [
        ("111", "11", Standing.MET),
        ("111", "1", Standing.TOO_LITTLE),
        ("1110", "0111", Standing.MET),
        ("1110", "0110", Standing.NOT_MET),
    ],
)
def test_together_all_glasses_count_as_if_of_one_compound(dms, t2n, standing):
    assert judged(rule("together"), answered(dms=dms, t2n=t2n)).standing is standing


def test_together_the_compounds_are_named_once():
    group = (("dms",), ("t2n", "dms"))
    verdict = judged(rule("together"), answered(dms="11111"), group)
    assert verdict.sentence == (
        "Second look, dms and t2n together: 5 of 5 glasses named right (100%); 70% are asked for."
    )


def test_together_the_way_is_that_of_all_glasses():
    verdict = judged(rule("together"), answered(dms="11", t2n="11"))
    assert verdict.change == "1 more glass at 2× to 4×, right or not, could meet it."


def test_a_chance_cannot_be_asked_of_all_together():
    with pytest.raises(ValueError, match="A rule that counts .* found ChanceRule"):
        judged(rule("together", kind=CHANCE), answered(dms="11111"))


# Other kinds


def test_estimates_are_handed_to_a_threshold_rule():
    band = ThresholdRule(0.5, 2.0, 2.3, 4, 3, 6, 12)
    seen = Answered(estimates={"dms": estimates(1.0, 1.0, 1.0, 1.0)})
    assert judged(rule(kind=band), seen, THREE[:1]).standing is Standing.MET
    assert judged(rule("together", kind=band), seen, THREE[:1]).standing is Standing.MET


def ready(standing, change="", more=None):
    return CompoundVerdict(Verdict("compound", standing, "", change), fewest=more)


def test_verdicts_of_chance_come_ready():
    cells = {"dms": ready(Standing.MET), "t2n": ready(Standing.TOO_LITTLE, "Pour two.", 2)}
    seen = Answered(by_chance=cells)
    assert cells_of(rule(kind=CHANCE), THREE, seen, TODAY, COUNTED) == cells
    verdict = judged(rule(kind=CHANCE, met_in=2), seen)
    assert verdict.standing is Standing.TOO_LITTLE
    assert verdict.change == "t2n: Pour two."


def test_a_compound_without_a_way_is_not_named_as_one():
    cells = {"dms": ready(Standing.INSENSITIVE), "t2n": ready(Standing.NOT_MET, "Train first.")}
    verdict = judged(rule(kind=CHANCE, met_in=2), Answered(by_chance=cells), THREE[:2])
    assert verdict.standing is Standing.NOT_MET
    assert verdict.change == "t2n: Train first."


def test_a_compound_without_a_verdict_has_no_way():
    verdict = judged(rule(kind=CHANCE), Answered(), THREE[:1])
    assert (verdict.standing, verdict.change) == (Standing.TOO_LITTLE, "")


def test_somebody_who_does_not_smell_a_compound_is_at_no_fault():
    cells = {"dms": ready(Standing.MET), "t2n": ready(Standing.INSENSITIVE)}
    verdict = judged(rule(kind=CHANCE, met_in=1), Answered(by_chance=cells), THREE[:2])
    assert verdict.standing is Standing.MET
    assert "not smelled, which is no fault: t2n" in verdict.sentence
