from datetime import timedelta

import pytest

from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.judging import judge_day
from seatworthy.steps.records import record

HEAD = "date,panellist,code,compound,level,answer"


@pytest.fixture
def told(desk, tmp_path):
    """What is said of Ada, after as many weeks as she has answers for diacetyl."""

    def bring_in(answers, others=()):
        lines = [HEAD]
        for week, answer in enumerate(answers, start=1):
            day = desk.today() - timedelta(weeks=week)
            lines.append(f"{day},Ada,101,diacetyl,4,{answer}")
            lines += [f"{day},{name},102,diacetyl,4,dms" for name in others]
        path = tmp_path / "results.csv"
        path.write_text("\n".join(lines), encoding="utf-8")
        bring_in_results(desk, path)
        people = judge_day(desk).people
        (ada,) = [key for key, name in people.items() if name == "Ada"]
        return record(desk, ada).mixed_up

    return bring_in


def test_a_pair_mixed_up_again_and_again_is_told_with_its_chance(told):
    (sentence,) = told(["dms", "diacetyl"] * 6)
    assert sentence.startswith("Takes diacetyl for DMS in more than one perceived glass in ten: ")
    assert sentence.endswith("% sure.")


def test_one_wrong_name_is_no_mix_up(told):
    assert told(["dms"] + ["diacetyl"] * 11) == ()


def test_colleagues_who_mix_up_a_pair_accuse_nobody_else(told):
    assert told(["diacetyl"] * 8, others=("Bo", "Carmen", "Dilek")) == ()


def test_a_compound_that_was_named_and_never_served_can_be_mixed_up_too(told):
    (sentence,) = told(["vanillin"] * 6)
    assert sentence.startswith("Takes diacetyl for vanillin")
