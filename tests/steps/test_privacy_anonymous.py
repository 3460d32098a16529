"""A name that is to be gone is gone: from the tables, the bytes of the file, copies and exports."""

import os
import shutil
import threading
from datetime import timedelta

import pytest
import rare_name
import seated
from rare_name import NAME, OTHER, OWN, PARTS

from seatworthy.errors import PanelError
from seatworthy.steps import anonymous_copies, anonymous_people
from seatworthy.steps.audit_exports import audit_csv, audit_json
from seatworthy.steps.boards import board
from seatworthy.steps.competence import competence
from seatworthy.steps.decisions import decisions, recomputed
from seatworthy.steps.desk import open_desk
from seatworthy.steps.history_exports import history_csv, history_json
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.panel import add_people, set_panellist
from seatworthy.steps.people import everybody, known_spellings, merge_people
from seatworthy.steps.safekeeping import back_up, restore
from seatworthy.steps.signers import appoint_signer
from seatworthy.store import anonymous, rewriting
from seatworthy.store.anonymous_mark import Mark, add_to_mark, mark_path, read_mark
from seatworthy.store.checks import impossible_facts
from seatworthy.store.history import broken_entries
from seatworthy.store.person_names import anonymous_name


@pytest.fixture(scope="module")
def named(tmp_path_factory):
    return rare_name.build(tmp_path_factory.mktemp("named"))


@pytest.fixture
def desk(named, tmp_path):
    desk = rare_name.copied(named, tmp_path)
    yield desk
    desk.close()


@pytest.fixture(scope="module")
def nameless(named, tmp_path_factory):
    """The same store after the name was taken away, closed, with what others saw before.

    A backup from before lies in its folder.
    """
    desk = rare_name.copied(named, tmp_path_factory.mktemp("nameless"))
    back_up(desk)
    before = seen_of_others(desk, named)
    take_away(desk, named)
    desk.close()
    return rare_name.Named(desk.store.path, named.ids), before


@pytest.fixture
def after(nameless, tmp_path):
    folder = tmp_path / "after"
    shutil.copytree(nameless[0].path.parent, folder)
    desk = open_desk(folder / "panel.duckdb")
    seated.at(desk, seated.TODAY)
    yield desk
    desk.close()


@pytest.fixture
def backup(after):
    """The backup from before."""
    (path,) = (after.store.path.parent / "backups").glob("*.duckdb")
    return path


def take_away(desk, named):
    return anonymous_people.make_anonymous(desk, named.ids[NAME], named.ids["Lee"], seated.PIN)


def seen_of_others(desk, named):
    """Everybody else on the board, and all that was signed with its digest."""
    view = board(desk)
    others = [one for one in view.people if one.person_id != named.ids[NAME]]
    cells = [[row.cells[one.person_id] for one in others] for row in view.rows]
    return others, cells, [(d.decision_id, d.facts_digest) for d in decisions(desk)]


def column(desk, sql):
    with desk.store.reading() as cursor:
        return [row[0] for row in cursor.execute(sql).fetchall()]


def faults(desk):
    """What does not add up, by the real day: these tests live on a day of their own."""
    with desk.store.reading() as cursor:
        (now,) = cursor.execute("select max(recorded_at) from history").fetchone()
        return [*broken_entries(cursor), *impossible_facts(cursor, now)]


def holds_the_name(data):
    return [part for part in PARTS if part in data]


def test_the_name_stands_in_the_file_before(named):
    assert holds_the_name(named.path.read_bytes())


def test_no_byte_of_the_file_holds_the_name_while_the_store_is_still_open(desk, named):
    assert "written anew without it" in take_away(desk, named)
    for path in desk.store.path.parent.glob("panel.duckdb*"):
        assert not holds_the_name(path.read_bytes()), path


def test_the_chain_and_everything_else_add_up_afterwards(after):
    assert faults(after) == []


def test_everybody_elses_board_and_every_signed_digest_stay(after, nameless):
    assert seen_of_others(after, nameless[0]) == nameless[1]


def test_a_decision_about_them_is_still_proved_by_its_facts(after, nameless):
    own = [d for d in decisions(after) if d.person_id == nameless[0].ids[NAME]]
    assert [recomputed(after, d.decision_id).matches for d in own] == [True, True]


def test_they_are_shown_under_what_stands_for_the_name(after, nameless):
    who = nameless[0].ids[NAME]
    assert anonymous_name(who) in [one.name for one in everybody(after)]
    assert anonymous_name(nameless[0].ids[OTHER]) in known_spellings(after).ids


def test_they_are_not_on_todays_board_and_stay_on_an_earlier_ones(after, nameless):
    who = nameless[0].ids[NAME]
    real_day = after.day_of(history_lines(after).lines[0].recorded_at.replace(tzinfo=None))
    seated.at(after, real_day)
    assert who not in [one.person_id for one in board(after).people]
    assert who in [one.person_id for one in board(after, as_of=seated.TODAY).people]


def test_own_words_go_and_those_of_the_vocabulary_stay(after, nameless):
    who = nameless[0].ids[NAME]
    said = column(
        after,
        "select distinct words from answer join serving using (serving_id) where kind = 'words'"
        f" and person_id = '{who}'",
    )
    assert OWN not in said
    assert {None, "diacetyl", "earthy"} <= set(said)


def test_texts_by_and_about_them_go_and_others_stay(after, nameless):
    who = min(nameless[0].ids[NAME], nameless[0].ids[OTHER])
    assert column(after, "select words_salt from proposal_reply") == [who]
    assert column(after, "select remark from remark where remark is not null") == [
        "A remark of Bo's own."
    ]
    assert column(after, "select reason_salt from correction") == [who]
    assert column(after, "select reason from set_aside") == [None]
    assert sorted(column(after, "select coalesce(reason, '') from decision")) == [
        "", "", "", "Comes again in autumn.",
    ]  # fmt: skip
    assert "my own words" in column(after, "select words from answer where words is not null")


def test_pin_file_name_right_to_sign_and_link_go(after, nameless):
    who = nameless[0].ids[NAME]
    assert who not in column(after, "select person_id from signer_pin")
    assert column(after, "select file_name from import_file") == [
        "a file whose name was taken away"
    ]
    assert column(after, "select person_id from known_link") == [nameless[0].ids["Bo"]]


def test_no_export_and_no_later_backup_holds_the_name(after, nameless, tmp_path):
    view = history_lines(after)
    paper = competence(after, nameless[0].ids[NAME], family=seated.FAMILY)
    made = [history_csv(view), history_json(view), audit_csv(paper), audit_json(paper)]
    made.append(back_up(after, tmp_path / "later.duckdb").read_bytes())
    assert not any(holds_the_name(data) for data in made)


def test_the_history_tells_of_it_with_its_author(after):
    line = history_lines(after).lines[0]
    assert line.what.startswith("A name and own words were taken away for good: Somebody")
    assert (line.group, line.who) == ("kept", "Lee")


def test_it_is_done_once(after, nameless):
    with pytest.raises(PanelError, match="has no name left"):
        take_away(after, nameless[0])


def test_nobody_is_put_back_or_merged_under_a_new_name(after, nameless):
    who = nameless[0].ids[NAME]
    with pytest.raises(PanelError, match="the name is gone"):
        set_panellist(after, who, True)
    with pytest.raises(PanelError, match="has no name any more"):
        merge_people(after, anonymous_name(who), "Bo")


@pytest.mark.parametrize(
    ("by", "pin", "why"),
    [(None, "", "must stand behind it: Lee"), ("Lee", "9999", "not the PIN"), ("Bo", "1234", "Bo is not")],
)  # fmt: skip
def test_somebody_who_may_sign_stands_behind_it(desk, named, by, pin, why):
    with pytest.raises(PanelError, match=why):
        anonymous_people.make_anonymous(desk, named.ids[NAME], by and named.ids[by], pin)
    assert read_mark(desk.store.path).person_ids == frozenset()


def test_nobody_signs_a_seat_of_somebody_without_a_name(after, nameless):
    ids = nameless[0].ids
    seated.at(after, after.day_of(history_lines(after).lines[0].recorded_at.replace(tzinfo=None)))
    with pytest.raises(PanelError, match="has no name any more and gets no seat"):
        rare_name.decide(after, ids[NAME], ids["Lee"], seated.PIN, "Comes back to us.", "trainee")


def test_somebody_who_may_sign_is_not_made_anonymous(desk, named):
    (found,) = anonymous_people.what_is_first(desk, named.ids["Lee"])
    assert "appoint somebody else and take the right away first" in found
    appoint_signer(desk, named.ids["Bo"], "4444", named.ids["Lee"], seated.PIN)
    with pytest.raises(PanelError, match="Lee may sign: take the right away first"):
        anonymous_people.make_anonymous(desk, named.ids["Lee"], named.ids["Bo"], "4444")


def test_a_seat_stands_in_the_way_and_one_that_is_still_to_come(desk, named):
    bo, lee = named.ids["Bo"], named.ids["Lee"]
    ahead = seated.TODAY + timedelta(days=3)
    rare_name.decide(
        desk, bo, lee, seated.PIN, "Sits in from next week on.", "probation", from_on=ahead
    )
    (found,) = anonymous_people.what_is_first(desk, bo)
    assert "on the panel from 13 August 2026" in found
    seated.at(desk, ahead)
    assert anonymous_people.what_is_first(desk, bo) == (
        "Bo is on probation for Pale: sign first that they left the panel, under Seats.",
    )


def test_a_plan_stands_in_the_way_until_it_is_called_off(desk, named):
    with desk.store.recording("plan") as act:
        day = {"session_id": "s" * 16, "session_on": seated.TODAY, "label": "Thursday panel"}
        act.add("session", day)
        act.add("plan", {
            "session_id": "s" * 16, "purpose": "training", "beer": "pils", "volume_ml": 30,
            "abv_percent": 5, "has_control": False, "spits": True, "spat_share": 0.1,
            "alcohol_limit_g": 8, "most_glasses": 8, "seed": 1, "repeats": None,
        })  # fmt: skip
        act.add("sitting", {"sitting_id": "t" * 16, "session_id": "s" * 16, "label": "Early"})
        seat = {"sitting_id": "t" * 16, "person_id": named.ids[OTHER], "state": "expected"}
        act.add("sitting_person", seat)
    assert anonymous_people.what_is_first(desk, named.ids[NAME]) == (
        f"{NAME} is planned for Thursday panel of 10 August 2026: close or call off first.",
    )
    with desk.store.recording("called off") as act:
        act.add("session_end", {"session_id": "s" * 16, "how": "called_off"})
    assert anonymous_people.what_is_first(desk, named.ids[NAME]) == ()


def test_a_name_in_what_is_sealed_is_told_before(desk, named):
    with desk.store.recording("session") as act:
        row = {"session_id": "s" * 16, "session_on": seated.FIRST, "label": "Zyxwvina's farewell"}
        act.add("session", row)
    (found,) = anonymous_people.what_goes(desk, named.ids[NAME]).sealed
    assert found.startswith("1 text under “session, label” holds a part of the name and cannot")


def test_a_part_of_a_name_that_another_bears_is_no_sign(desk, named):
    add_people(desk, ["Qrstumpf Olsen"], None, lookalikes_are_new=True)
    take_away(desk, named)
    assert "smelled of Qrstumpf, said Bo" in column(desk, "select reason from set_aside")


def test_whoever_reads_goes_on_and_the_file_is_written_at_the_close(desk, named):
    reads, goes_on = threading.Event(), threading.Event()

    def read():
        with desk.store.reading():
            reads.set()
            goes_on.wait(20)

    reader = threading.Thread(target=read)
    reader.start()
    reads.wait(20)
    try:
        assert "next stopped or started" in take_away(desk, named)
    finally:
        goes_on.set()
        reader.join()
    assert read_mark(desk.store.path).is_to_rewrite
    desk.close()
    assert not holds_the_name(desk.store.path.read_bytes())
    assert not read_mark(desk.store.path).is_to_rewrite


def test_a_disk_that_is_full_leaves_the_store_whole_and_the_file_for_later(
    desk, named, monkeypatch
):
    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(rewriting, "settle", full)
        assert "next stopped or started" in take_away(desk, named)
    assert faults(desk) == []
    assert not list(desk.store.path.parent.glob("*.unfinished"))
    desk.close()
    assert not holds_the_name(desk.store.path.read_bytes())


def test_an_act_that_fails_leaves_the_list_as_it_was(desk, named, monkeypatch):
    def broken(*_):
        message = "broken"
        raise PanelError(message)

    monkeypatch.setattr(anonymous, "take_away", broken)
    with pytest.raises(PanelError, match="broken"):
        take_away(desk, named)
    assert read_mark(desk.store.path) == Mark()
    assert known_spellings(desk).ids[NAME] == named.ids[NAME]


def test_a_kill_before_the_act_is_made_good_at_the_next_opening(desk, named):
    add_to_mark(desk.store.path, [named.ids[NAME], named.ids[OTHER]])
    desk.close()
    opened = open_desk(desk.store.path)
    try:
        assert anonymous_name(named.ids[NAME]) in known_spellings(opened).ids
        assert faults(opened) == []
    finally:
        opened.close()
    assert not holds_the_name(opened.store.path.read_bytes())


def test_an_older_backup_put_back_loses_the_name_again(after, nameless, backup):
    after.close()
    path = after.store.path
    restore(backup, path, replace=True)
    assert holds_the_name(path.read_bytes())
    told = anonymous_copies.who_loses_the_name(path)
    assert told.startswith("2 names taken away for good since may stand in it; they go again")
    opened = open_desk(path)
    try:
        assert anonymous_name(nameless[0].ids[NAME]) in known_spellings(opened).ids
        assert column(opened, "select count(*) from made_anonymous") == [2]
        assert faults(opened) == []
        assert not holds_the_name(path.read_bytes())
    finally:
        opened.close()


def test_an_older_backup_put_into_another_folder_loses_it_too(backup, tmp_path):
    (tmp_path / "other").mkdir()
    restore(backup, tmp_path / "other" / "new.duckdb")
    open_desk(tmp_path / "other" / "new.duckdb").close()
    assert not holds_the_name((tmp_path / "other" / "new.duckdb").read_bytes())


def test_copies_that_hold_the_name_are_cleaned_and_can_be_put_back(after, nameless, backup):
    aside = after.store.path.with_name("panel.before-restore-1.duckdb")
    shutil.copyfile(backup, aside)
    listed = [copy.path for copy in anonymous_copies.copies_with_names(after)]
    assert listed == [backup, aside]
    said = anonymous_copies.clean_copies(after)
    assert said == "2 copies are anonymous now; what else they hold was proved equal."
    assert anonymous_copies.copies_with_names(after) == ()
    clean = backup.with_stem(f"{backup.stem}-2")
    assert {path.name for path in backup.parent.iterdir()} == {
        clean.name, f"{clean.name}.manifest.json",
    }  # fmt: skip
    assert not any(holds_the_name(path.read_bytes()) for path in (clean, aside))
    put_back(after, clean)


def put_back(desk, clean):
    """A cleaned copy adds up, and whose name it lacks is anonymous even without the list."""
    desk.close()
    mark_path(desk.store.path).unlink()
    restore(clean, desk.store.path, replace=True)
    opened = open_desk(desk.store.path)
    try:
        assert faults(opened) == []
        assert column(opened, "select count(*) from made_anonymous") == [2]
    finally:
        opened.close()


def test_a_copy_left_by_a_kill_is_listed_once_it_is_no_more_in_the_making(after, backup):
    left = backup.with_name(f"{backup.name}.0a1b.unfinished")
    shutil.copyfile(backup, left)
    assert left not in [copy.path for copy in anonymous_copies.copies_with_names(after)]
    os.utime(left, (1, 1))
    assert left in [copy.path for copy in anonymous_copies.copies_with_names(after)]


def test_a_copy_can_be_deleted_and_one_that_cannot_be_read_is_said_so(after, backup):
    backup.with_name("torn.duckdb").write_bytes(backup.read_bytes()[:5000])
    assert anonymous_copies.delete_copy(after, backup.name) == f"{backup.name} is deleted."
    with pytest.raises(PanelError, match=r"not torn\.duckdb: it cannot be read"):
        anonymous_copies.clean_copies(after)
    with pytest.raises(PanelError, match="no copy other"):
        anonymous_copies.delete_copy(after, "other")


def test_a_text_that_is_gone_without_it_is_a_fault(desk):
    with desk.store.reading() as cursor:
        cursor.execute("update remark set remark = null")
    assert faults(desk) == [
        "2 texts are gone from remark (their remark) though nobody was made anonymous for it."
    ]


def test_a_changed_text_is_still_a_fault_afterwards(after):
    with after.store.reading() as cursor:
        cursor.execute("update remark set remark = 'other' where remark is null")
    assert faults(after) == ["1 remarks were changed likewise."]


def test_a_new_file_that_holds_the_name_makes_a_new_person(after, nameless, tmp_path):
    rows = seated.flights(range(1), NAME, 40)
    seated.bring_in(after, tmp_path, rows, new_people=[NAME])
    assert known_spellings(after).ids[NAME] not in nameless[0].ids.values()
