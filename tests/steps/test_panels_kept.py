"""Panels kept as a record."""

import json
from hashlib import sha256

import pytest
import seated
from seated import FAMILY

from seatworthy.errors import PanelError
from seatworthy.steps.batches import state_batch
from seatworthy.steps.chain_head import faults_of_history
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.miss_views import Wanted
from seatworthy.steps.panels_kept import keep_panel, panel_kept, panels_kept
from seatworthy.steps.people import merge_people
from seatworthy.steps.seat_panel import seat_panel


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def ids(brewery):
    return dict(brewery.ids)


def kept(desk, wanted=None, by=None):
    wanted = wanted or Wanted()
    return keep_panel(desk, wanted, seat_panel(desk, wanted), by)


def row(desk):
    return desk.store.rows("chosen_panels")[0]


def test_a_kept_panel_tells_again_what_was_seen(desk):
    seen = seat_panel(desk, Wanted())
    again = panel_kept(desk, keep_panel(desk, Wanted(), seen))
    assert again.names == ("Ada", "Lee")
    assert again.told.whole == seen.told.whole
    assert [r.note for r in again.rows] == [r.note for r in seen.rows]
    assert again.clean == seen.clean
    for ours, theirs in zip(again.figures.items, seen.figures.items, strict=True):
        assert [c.mean for c in ours.slips] == pytest.approx(
            [c.mean for c in theirs.slips], abs=1e-6
        )


def test_the_text_holds_ids_and_decimals_and_no_name_or_float(desk, ids):
    kept(desk)
    text = row(desk)["chosen_text"]
    said = json.loads(text, parse_float=lambda number: pytest.fail(f"a float: {number}"))
    assert said["people"] == [ids["Ada"], ids["Lee"]]
    assert not any(name in text for name in ids)
    assert text == json.dumps(said, sort_keys=True, separators=(",", ":"))


def test_its_digest_is_that_of_the_text(desk):
    kept(desk)
    assert row(desk)["chosen_digest"] == sha256(row(desk)["chosen_text"].encode()).hexdigest()


def test_the_same_on_the_same_day_is_one_fact(desk):
    assert kept(desk) == kept(desk)
    assert len(panels_kept(desk)) == 1


def test_another_choice_is_another_panel_and_stands_first(desk):
    kept(desk)
    second = kept(desk, Wanted(callers=1))
    assert panels_kept(desk)[0].panel_id == second
    assert len(panels_kept(desk)) == 2


def test_the_history_tells_it_and_adds_up(desk, ids):
    batch = state_batch(desk, "Tank 9", "pils", [ids["Ada"]])
    kept(desk, Wanted(batch_id=batch), by=ids["Lee"])
    assert faults_of_history(desk) == ()
    told = [line.what for line in history_lines(desk).lines]
    assert any("A panel of 2 was chosen for Tank 9." in words for words in told)
    assert panels_kept(desk)[0].kept_by == "Lee"
    assert panels_kept(desk)[0].batch_label == "Tank 9"


def test_nobody_is_no_panel_to_keep(desk):
    with pytest.raises(PanelError, match="Nobody sits on this panel"):
        kept(desk, Wanted(sits=()))
    assert panels_kept(desk) == ()


def test_a_page_that_is_out_of_date_is_not_kept(desk, ids):
    seen = seat_panel(desk, Wanted())
    with pytest.raises(PanelError, match="The record has changed since this page was drawn"):
        keep_panel(desk, Wanted(sits=(ids["Ada"],)), seen)
    assert panels_kept(desk) == ()


def test_an_unknown_panel_is_refused(desk):
    with pytest.raises(PanelError, match="There is no such panel on record"):
        panel_kept(desk, "gone")


def test_somebody_merged_since_stands_there_under_the_name_they_go_by(desk):
    kept(desk)
    merge_people(desk, "Ada", "Bo")
    assert panels_kept(desk)[0].names == ("Bo", "Lee")
    assert faults_of_history(desk) == ()


def test_keeping_changes_nothing_that_counts(desk):
    before = desk.counted_version
    kept(desk)
    assert desk.counted_version == before
    assert row(desk)["family"] == FAMILY
