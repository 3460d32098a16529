"""The invented brewery has a session for today, so that a newcomer can look at ballots and the table."""

from seatworthy.steps.ballot_links import hand_out, links
from seatworthy.steps.ballots import ballot
from seatworthy.steps.demo import plan_today, set_up_demo
from seatworthy.steps.desk import open_desk
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.sessions import session, sessions


def test_the_demo_has_a_session_for_today_with_ballots_to_open(tmp_path):
    path = tmp_path / "panel.duckdb"
    set_up_demo(path)
    desk = open_desk(path)
    session_id = plan_today(desk)
    assert sessions(desk).answer == "“Today's panel” is planned for nine people, today"
    view = session(desk, session_id)
    assert view.session_on == desk.today()
    assert not view.hindrances or all("No answer" in h or "over" in h for h in view.hindrances)
    hand_out(desk, session_id)
    assert {ballot(desk, line.secret).state for line in links(desk, session_id)} == {"open"}
    verify(desk)
    desk.close()
