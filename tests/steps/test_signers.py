import pytest

from seatworthy.errors import PanelError
from seatworthy.steps import signers as signing
from seatworthy.steps.decision_views import SignerView
from seatworthy.steps.people import merge_people
from seatworthy.steps.signers import (
    appoint_signer,
    change_pin,
    check_pin,
    dismiss_signer,
    renew_pin,
    signers,
)
from seatworthy.store.history import broken_entries
from seatworthy.store.people import record_spellings


class Clock:
    """Seconds that a test moves on."""

    def __init__(self):
        self.now = 1000.0

    def __call__(self):
        """What it shows."""
        return self.now


@pytest.fixture(autouse=True)
def costs(monkeypatch):
    """The digest stays what it is, only cheaper, since a test asks for dozens; what it would cost."""
    scrypt, asked = signing.hashlib.scrypt, []

    def cheaper(pin, *, salt, **cost):
        asked.append(cost)
        return scrypt(pin, salt=salt, n=2, r=1, p=1)

    monkeypatch.setattr(signing.hashlib, "scrypt", cheaper)
    return asked


@pytest.fixture
def people(desk):
    """Person id by first name, of three people."""
    names = ("Ada Moran", "Bo Larsen", "Carmen Ruiz")
    with desk.store.recording("people") as act:
        return {name.split()[0]: i for name, i in record_spellings(act, names).items()}


@pytest.fixture
def first(desk, people):
    """Ada, who may sign with the PIN 1234."""
    appoint_signer(desk, people["Ada"], "1234")
    return people["Ada"]


def miss(desk, person, times, clock):
    for _ in range(times):
        with pytest.raises(PanelError, match="not the PIN"):
            check_pin(desk, person, "0000", clock)


def entries(desk):
    return desk.store.cursor().execute("select count(*) from history").fetchone()[0]


def test_nobody_may_sign_at_first(desk, people):
    assert signers(desk) == ()


def test_the_first_signer_needs_nobody(desk, people):
    assert appoint_signer(desk, people["Ada"], "1234") == "Ada Moran may sign decisions."
    assert signers(desk) == (SignerView(people["Ada"], "Ada Moran"),)


def test_the_second_signer_needs_one_who_may_sign(desk, people, first):
    with pytest.raises(PanelError, match="must appoint the next one: Ada Moran"):
        appoint_signer(desk, people["Bo"], "5678")
    assert len(signers(desk)) == 1


def test_the_second_signer_needs_the_pin_of_the_first(desk, people, first):
    with pytest.raises(PanelError, match="not the PIN of Ada Moran"):
        appoint_signer(desk, people["Bo"], "5678", by=first, by_pin="5678")
    assert len(signers(desk)) == 1


def test_a_signer_appoints_another(desk, people, first):
    appoint_signer(desk, people["Bo"], "5678", by=first, by_pin="1234")
    assert [signer.name for signer in signers(desk)] == ["Ada Moran", "Bo Larsen"]


def test_each_signer_has_a_pin_of_their_own(desk, people, first):
    appoint_signer(desk, people["Bo"], "5678", by=first, by_pin="1234")
    check_pin(desk, people["Bo"], "5678")
    with pytest.raises(PanelError, match="not the PIN of Bo Larsen"):
        check_pin(desk, people["Bo"], "1234")


@pytest.mark.parametrize("pin", ["1234", "ab3D", "123456789012"])
def test_a_pin_of_four_to_twelve_digits_or_letters_will_do(desk, people, pin):
    appoint_signer(desk, people["Ada"], pin)
    check_pin(desk, people["Ada"], pin)


@pytest.mark.parametrize("pin", ["", "123", "1234567890123", "12 34", "12-34", "pâté"])
def test_any_other_pin_is_refused(desk, people, pin):
    with pytest.raises(PanelError, match="A PIN has 4 to 12 digits or letters"):
        appoint_signer(desk, people["Ada"], pin)


def test_a_digest_costs_sixteen_megabytes_of_scrypt(desk, first, costs):
    assert costs == [{"n": 2**14, "r": 8, "p": 1}]


def test_a_pin_is_not_kept_as_it_is(desk, people, first):
    kept = desk.store.cursor().execute("select pin_salt, pin_digest from signer_pin").fetchone()
    assert "1234" not in kept
    assert len(bytes.fromhex(kept[0])) == 16


def test_two_alike_pins_have_different_digests(desk, people, first):
    appoint_signer(desk, people["Bo"], "1234", by=first, by_pin="1234")
    digests = desk.store.cursor().execute("select pin_digest from signer_pin").fetchall()
    assert len(set(digests)) == 2


def test_a_wrong_pin_records_nothing(desk, people, first):
    before = entries(desk)
    with pytest.raises(PanelError, match="Nothing was recorded"):
        change_pin(desk, first, "0000", "5678")
    assert entries(desk) == before


def test_a_changed_pin_takes_the_place_of_the_old_one(desk, first):
    change_pin(desk, first, "1234", "5678")
    check_pin(desk, first, "5678")
    with pytest.raises(PanelError, match="not the PIN"):
        check_pin(desk, first, "1234")


def test_changing_a_pin_leaves_an_entry_in_the_history(desk, first):
    before = entries(desk)
    change_pin(desk, first, "1234", "5678")
    assert entries(desk) == before + 1


def test_a_forgotten_pin_is_replaced_by_another_signer(desk, people, first):
    appoint_signer(desk, people["Bo"], "5678", by=first, by_pin="1234")
    appoint_signer(desk, first, "9999", by=people["Bo"], by_pin="5678")
    check_pin(desk, first, "9999")


def test_somebody_who_may_not_sign_is_refused_by_name(desk, people, first):
    with pytest.raises(PanelError, match="Bo Larsen is not among those who may sign"):
        check_pin(desk, people["Bo"], "1234")


def test_a_dismissed_signer_may_not_sign(desk, people, first):
    appoint_signer(desk, people["Bo"], "5678", by=first, by_pin="1234")
    dismiss_signer(desk, people["Bo"], first, "1234")
    with pytest.raises(PanelError, match="Bo Larsen is not among those who may sign"):
        check_pin(desk, people["Bo"], "5678")


def test_somebody_who_never_might_sign_cannot_be_dismissed(desk, people, first):
    with pytest.raises(PanelError, match="Bo Larsen is not among those who may sign"):
        dismiss_signer(desk, people["Bo"], first, "1234")


def test_the_last_signer_is_not_dismissed(desk, first):
    with pytest.raises(PanelError, match="Appoint somebody else first"):
        dismiss_signer(desk, first, first, "1234")
    assert len(signers(desk)) == 1


def test_a_signer_whose_spelling_was_merged_signs_under_the_other_name(desk, people, first):
    merge_people(desk, "Ada Moran", into="Bo Larsen")
    assert signers(desk) == (SignerView(people["Bo"], "Bo Larsen"),)
    check_pin(desk, people["Bo"], "1234")


def test_a_merged_signer_can_be_dismissed(desk, people, first):
    merge_people(desk, "Ada Moran", into="Bo Larsen")
    appoint_signer(desk, people["Carmen"], "5678", by=people["Bo"], by_pin="1234")
    dismiss_signer(desk, people["Bo"], people["Carmen"], "5678")
    assert [signer.name for signer in signers(desk)] == ["Carmen Ruiz"]


def test_an_unknown_id_is_refused(desk, people):
    with pytest.raises(PanelError, match="Nobody on record has the id"):
        appoint_signer(desk, "0" * 16, "1234")


def test_four_wrong_pins_cost_no_wait(desk, first):
    clock = Clock()
    miss(desk, first, 4, clock)
    check_pin(desk, first, "1234", clock)


def test_after_five_wrong_pins_the_right_one_is_refused_for_thirty_seconds(desk, first):
    clock = Clock()
    miss(desk, first, 5, clock)
    clock.now += 29.9
    with pytest.raises(PanelError, match="Too many wrong PINs. Try again in 1 second"):
        check_pin(desk, first, "1234", clock)


def test_after_thirty_seconds_the_right_pin_is_read_again(desk, first):
    clock = Clock()
    miss(desk, first, 5, clock)
    clock.now += 30
    check_pin(desk, first, "1234", clock)


def test_each_further_wrong_pin_doubles_the_wait(desk, first):
    clock = Clock()
    miss(desk, first, 5, clock)
    clock.now += 30
    miss(desk, first, 1, clock)
    clock.now += 59
    with pytest.raises(PanelError, match="Try again in 1 second"):
        check_pin(desk, first, "1234", clock)
    clock.now += 1
    check_pin(desk, first, "1234", clock)


def test_no_wait_is_longer_than_fifteen_minutes(desk, first):
    clock = Clock()
    miss(desk, first, 5, clock)
    for _ in range(20):
        clock.now += 900
        miss(desk, first, 1, clock)
    with pytest.raises(PanelError, match="Try again in 900 seconds"):
        check_pin(desk, first, "1234", clock)


def test_a_right_pin_forgets_the_wrong_ones(desk, first):
    clock = Clock()
    miss(desk, first, 4, clock)
    check_pin(desk, first, "1234", clock)
    miss(desk, first, 4, clock)
    check_pin(desk, first, "1234", clock)


def test_one_persons_wrong_pins_do_not_slow_another(desk, people, first):
    appoint_signer(desk, people["Bo"], "5678", by=first, by_pin="1234")
    clock = Clock()
    miss(desk, first, 5, clock)
    check_pin(desk, people["Bo"], "5678", clock)


def test_the_history_still_adds_up(desk, people, first):
    appoint_signer(desk, people["Bo"], "5678", by=first, by_pin="1234")
    dismiss_signer(desk, first, people["Bo"], "5678")
    assert list(broken_entries(desk.store.cursor())) == []


def test_a_forgotten_pin_is_renewed_by_whoever_holds_the_file_and_nobody_signs_for_it(desk, first):
    said = renew_pin(desk, first, "9876")
    assert said == "Ada Moran has a new PIN. The history says that nobody signed for it."
    check_pin(desk, first, "9876")
    with pytest.raises(PanelError, match="not the PIN of Ada Moran"):
        check_pin(desk, first, "1234")
    with desk.store.reading() as cursor:
        last = cursor.execute(
            "select kind, entry_no in (select entry_no from author) from history"
            " order by entry_no desc limit 1"
        ).fetchone()
        assert last == ("signer", False)
        assert not list(broken_entries(cursor))


def test_only_a_signers_pin_is_renewed(desk, people, first):
    with pytest.raises(PanelError, match="Bo Larsen is not among those who may sign"):
        renew_pin(desk, people["Bo"], "9876")
    with pytest.raises(PanelError, match="4 to 12 digits or letters"):
        renew_pin(desk, first, "12")


def test_two_people_who_may_both_sign_are_not_made_one(desk, people, first):
    appoint_signer(desk, people["Bo"], "5678", first, "1234")
    with pytest.raises(PanelError, match="may both sign, each with a PIN of their own"):
        merge_people(desk, "Bo Larsen", "Ada Moran")
    with pytest.raises(PanelError, match="not the PIN of Ada Moran"):
        check_pin(desk, first, "5678")


@pytest.mark.parametrize("pin", ["1234\0", "\ud800", "", "1234 "])
def test_what_could_be_no_pin_is_never_one(desk, first, pin):
    with pytest.raises(PanelError, match="not the PIN of Ada Moran"):
        check_pin(desk, first, pin)
