"""Glasses and samples set aside, and put back: kept on record, counted for nothing."""

from collections.abc import Sequence
from datetime import timedelta

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_facts import one_glass, session_facts, session_with
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.signing import salted, sign, signed_reason
from seatworthy.store.recording import Recording

OWN_DAYS = 7  # how far back somebody may have their own glasses set aside without a reason


def set_glass_aside(desk: Desk, serving_id: str, reason: str, by: str | None) -> str:
    """State that one glass must not count, and why; its answer stays on record."""
    return _glass_aside(desk, serving_id, reason, by, is_aside=True)


def put_glass_back(desk: Desk, serving_id: str, reason: str, by: str | None) -> str:
    """State that a glass counts again, and why."""
    return _glass_aside(desk, serving_id, reason, by, is_aside=False)


def _glass_aside(
    desk: Desk, serving_id: str, reason: str, by: str | None, *, is_aside: bool
) -> str:
    why = signed_reason(reason, by)
    with desk.store.recording("set aside" if is_aside else "put back") as act:
        facts = session_with(desk, "glass", serving_id, is_open=False)
        glass = one_glass(facts, serving_id)
        what = glass.title
        _refuse_unchanged(what, is_now=glass.is_glass_aside, is_aside=is_aside)
        sign(act, by)
        row = {"serving_id": serving_id, "is_aside": is_aside, **salted("reason", why)}
        act.add("set_aside", row)
    return _about_aside(what, is_aside=is_aside)


def set_sample_aside(desk: Desk, sample_id: str, reason: str, by: str | None) -> str:
    """State that every glass of one preparation must not count, and why."""
    return _sample_aside(desk, sample_id, reason, by, is_aside=True)


def put_sample_back(desk: Desk, sample_id: str, reason: str, by: str | None) -> str:
    """State that a preparation counts again, and why."""
    return _sample_aside(desk, sample_id, reason, by, is_aside=False)


def _sample_aside(
    desk: Desk, sample_id: str, reason: str, by: str | None, *, is_aside: bool
) -> str:
    why = signed_reason(reason, by)
    with desk.store.recording("set aside" if is_aside else "put back") as act:
        facts = session_with(desk, "sample", sample_id, is_open=False)
        sample = facts.samples[sample_id]
        what = f"{sample.mark or 'The sample'} ({facts.sample_label(sample)})"
        _refuse_unchanged(what, is_now=sample.is_aside, is_aside=is_aside)
        sign(act, by)
        row = {"sample_id": sample_id, "is_aside": is_aside, **salted("reason", why)}
        act.add("sample_aside", row)
    return _about_aside(what, is_aside=is_aside)


def _about_aside(what: str, *, is_aside: bool) -> str:
    if is_aside:
        return f"{what} is set aside: kept on record, counted for nothing."
    return f"{what} counts again."


def _refuse_unchanged(what: str, *, is_now: bool, is_aside: bool) -> None:
    if is_now == is_aside:
        state = "is set aside already" if is_aside else "is not set aside"
        message = f"{what} {state}. Nothing was recorded."
        raise PanelError(message)


def set_own_aside(desk: Desk, person_id: str) -> str:
    """Set somebody's own glasses of the last days aside, before the reveal; no reason is kept."""
    return _own_aside(desk, person_id, is_aside=True)


def put_own_back(desk: Desk, person_id: str) -> str:
    """Take that back, before the reveal."""
    return _own_aside(desk, person_id, is_aside=False)


def _own_aside(desk: Desk, person_id: str, *, is_aside: bool) -> str:
    with desk.store.recording("own glasses set aside") as act:
        glasses = _own_glasses(desk, person_id)
        changed = [
            glass
            for glass in glasses
            if (not glass.is_glass_aside if is_aside else glass.is_own_aside)
        ]
        _set_all_aside(act, changed, is_aside=is_aside)
    if not glasses:
        message = (
            f"There are no glasses of the last {OWN_DAYS} days in a session that is still open. "
            "Once a session is closed, a glass can only be set aside with a reason."
        )
        raise PanelError(message)
    count = "1 glass" if len(changed) == 1 else f"{len(changed)} glasses"
    if is_aside:
        return (
            f"{count} set aside; no reason is kept. Until the session is closed this can be undone."
        )
    return f"{count} put back; {'it counts' if len(changed) == 1 else 'they count'} again."


def _own_glasses(desk: Desk, person_id: str) -> list[Glass]:
    after = desk.today() - timedelta(days=OWN_DAYS)
    found = []
    for row in desk.store.rows("open_sessions", after_on=after, until_on=desk.today()):
        facts = session_facts(desk, row["session_id"])
        if facts is not None:
            found += [glass for glass in facts.glasses if glass.person_id == person_id]
    return found


def _set_all_aside(act: Recording, glasses: Sequence[Glass], *, is_aside: bool) -> None:
    none = salted("reason", None)
    act.add_all(
        ("set_aside", {"serving_id": glass.serving_id, "is_aside": is_aside, **none})
        for glass in glasses
    )
