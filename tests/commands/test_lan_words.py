import io
import shutil
import socket
import subprocess
from types import SimpleNamespace

import pytest

from seatworthy.cli import main
from seatworthy.commands import asking_passphrase, lan, opening
from seatworthy.commands.asking_passphrase import settle_passphrase
from seatworthy.commands.certificate import certificate
from seatworthy.commands.lan import Listening, lan_lines, listening, show_code
from seatworthy.commands.launcher import free_port
from seatworthy.commands.power import is_on_battery, sleep_warning
from seatworthy.errors import PanelError, StoreError
from seatworthy.network.settings import COMMAND_VARIABLE, lan_command
from seatworthy.steps.passphrase import check_passphrase, has_passphrase, set_passphrase

RIGHT = "barley wine in winter"


def said(**words):
    usual = {"lan": True, "address": None, "new_passphrase": False, "cert": None, "key": None}
    return SimpleNamespace(**usual | words)


@pytest.fixture
def piped(monkeypatch):
    """Put a line where the command reads what is piped in."""
    return lambda text: monkeypatch.setattr("sys.stdin", io.StringIO(text))


@pytest.fixture(scope="module")
def one_folder(tmp_path_factory):
    """A folder in which the invented brewery, once set up, is found again."""
    return tmp_path_factory.mktemp("opened")


@pytest.fixture
def typed(monkeypatch):
    """Type lines into the terminal; what is left of them."""

    def type_in(*lines):
        left = list(lines)
        monkeypatch.setattr("sys.stdin", SimpleNamespace(isatty=lambda: True))
        monkeypatch.setattr(asking_passphrase, "getpass", lambda _: left.pop(0))
        return left

    return type_in


# ------------------------------------------------------------------------------ the passphrase


def test_a_passphrase_is_typed_twice(desk, typed, capsys):
    left = typed("short", RIGHT, "another one", RIGHT, RIGHT)
    settle_passphrase(desk, new=False)
    assert left == []
    out = capsys.readouterr().out
    assert "at least 10 characters" in out
    assert "The two differ. Once more." in out
    assert out.endswith("The passphrase is set.\n")
    assert RIGHT not in out
    assert check_passphrase(desk, RIGHT)


def test_after_five_tries_nothing_is_opened(desk, typed):
    typed(*(str(number) for number in range(10)))
    with pytest.raises(StoreError, match="No passphrase was set in 5 tries"):
        settle_passphrase(desk, new=False)
    assert not has_passphrase(desk)


def test_one_that_is_set_is_not_asked_for_again(desk, typed, capsys):
    set_passphrase(desk, RIGHT)
    left = typed("another one", "another one")
    settle_passphrase(desk, new=False)
    assert len(left) == 2
    assert "set before" in capsys.readouterr().out
    settle_passphrase(desk, new=True)
    assert "Every browser that was signed in is signed out." in capsys.readouterr().out
    assert check_passphrase(desk, "another one")
    assert not check_passphrase(desk, RIGHT)


def test_it_may_be_piped_in(desk, piped):
    piped(f"{RIGHT}\nand nothing else\n")
    settle_passphrase(desk, new=False)
    assert check_passphrase(desk, RIGHT)


@pytest.mark.parametrize("text", ["", "\n", "   \n"])
def test_where_nobody_can_be_asked_it_is_said_what_to_do(desk, piped, text):
    piped(text)
    with pytest.raises(StoreError, match="Run this in a terminal, or give it in one line"):
        settle_passphrase(desk, new=False)
    assert StoreError.exit_code == 2


def test_one_that_is_too_short_is_refused_from_a_pipe_too(desk, piped):
    piped("short\n")
    with pytest.raises(PanelError, match="this one has 5"):
        settle_passphrase(desk, new=False)


# ------------------------------------------------------------------------------- where to listen


def test_without_lan_only_this_machine_is_served():
    to = listening(said(lan=False))
    assert (to.address, to.is_lan) == ("127.0.0.1", False)
    settings = to.settings(8501)
    assert settings.hosts == ("127.0.0.1", "localhost")
    assert settings.address == to.here(8501) == "http://127.0.0.1:8501"


def test_with_lan_every_address_is_served_and_the_first_one_named(monkeypatch):
    monkeypatch.setattr(lan, "lan_addresses", lambda: ("192.0.2.20", "198.51.100.4"))
    to = listening(said())
    settings = to.settings(8501)
    assert (to.address, settings.is_lan) == ("0.0.0.0", True)
    assert settings.address == "http://192.0.2.20:8501"
    assert settings.hosts == ("127.0.0.1", "localhost", "192.0.2.20", "198.51.100.4")
    assert to.here(8501) == "http://127.0.0.1:8501"
    lines = "\n".join(lan_lines(to, 8501))
    for words in ("http://192.0.2.20:8501/reach", "198.51.100.4", "Plain http", "passphrase"):
        assert words in lines


def test_one_address_may_be_chosen():
    to = listening(said(address="192.0.2.20"))
    assert to.address == "192.0.2.20"
    assert to.here(8501) == "http://192.0.2.20:8501"
    six = listening(said(address="fe80::1"))
    assert six.here(8501) == "http://[fe80::1]:8501"


@pytest.mark.parametrize("own", ["127.0.0.1", "::1"])
def test_where_this_machine_alone_listens_no_phone_is_promised_anything(own):
    to = listening(said(address=own))
    lines = "\n".join(lan_lines(to, 8501))
    assert not to.is_reached
    assert f"No phone reaches this computer: {own} is what it calls itself." in lines
    assert "ask for the passphrase" in lines
    assert "in this network" not in lines


def test_where_others_may_come_phones_reach_it():
    assert listening(said(address="192.0.2.20")).is_reached
    assert not listening(said(lan=False)).is_reached


@pytest.mark.parametrize(
    ("words", "command"),
    [
        (["demo"], "seatworthy demo --lan"),
        (["demo", "--port", "8600"], "seatworthy demo --port 8600 --lan"),
        (["open"], "seatworthy open --lan"),
        (
            ["open", "--store", "our panel.duckdb"],
            "seatworthy open --store 'our panel.duckdb' --lan",
        ),
    ],
)
def test_how_phones_are_let_in_is_said_as_the_pages_were_opened(
    one_folder, monkeypatch, words, command
):
    monkeypatch.chdir(one_folder)
    monkeypatch.setenv(COMMAND_VARIABLE, "")
    monkeypatch.delenv("SEATWORTHY_STORE", raising=False)
    monkeypatch.setattr(opening, "open_pages", lambda *_, **__: 0)
    monkeypatch.setattr(opening, "free_port", lambda address, port: port or 8501)
    assert main([*words, "--no-browser"]) == 0
    assert lan_command() == command


@pytest.mark.parametrize(
    ("words", "match"),
    [
        ({"address": "laptop"}, "“laptop” is not an address"),
        ({"lan": False, "address": "192.0.2.20"}, "--address goes with --lan"),
        ({"lan": False, "new_passphrase": True}, "--new-passphrase goes with --lan"),
        ({"cert": "a.pem"}, "--cert and --key go together"),
        ({"key": "a.pem"}, "--cert and --key go together"),
    ],
)
def test_words_that_do_not_go_together_are_refused(words, match):
    with pytest.raises(StoreError, match=match):
        listening(said(**words))


def test_a_machine_without_a_network_is_told_so(monkeypatch):
    monkeypatch.setattr(lan, "lan_addresses", lambda: ())
    with pytest.raises(StoreError, match="in no network that phones could reach"):
        listening(said())


def test_an_address_of_another_machine_is_named_before_anything_is_asked(
    tmp_path, monkeypatch, capsys, typed
):
    monkeypatch.setenv(COMMAND_VARIABLE, "")
    left = typed(RIGHT, RIGHT)
    words = ["open", "--lan", "--address", "192.0.2.254", "--no-browser"]
    code = main([*words, "--store", str(tmp_path / "panel.duckdb")])
    assert code == 2
    assert "192.0.2.254 is no address of this machine." in capsys.readouterr().err
    assert len(left) == 2


def test_a_port_that_is_taken_is_named():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(StoreError, match=f"Port {port} is in use"):
            free_port("127.0.0.1", port)
    assert free_port("127.0.0.1", port) == port


def test_no_code_is_drawn_where_nobody_looks(capsys):
    show_code("http://192.0.2.20:8501/reach")
    assert capsys.readouterr().out == ""


# --------------------------------------------------------------------------------- certificates


def made(folder, name, *, days=90, names="DNS:panel.example,IP:192.0.2.20"):
    """A self-signed certificate and its key; skipped where nothing can make one."""
    if shutil.which("openssl") is None:
        pytest.skip("there is no openssl to make a certificate with")
    cert, key = folder / f"{name}.pem", folder / f"{name}-key.pem"
    subprocess.run(
        ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes",
         "-keyout", key, "-out", cert, "-days", str(days), "-subj", "/CN=panel.example",
         "-addext", f"subjectAltName={names}"],
        check=True, capture_output=True,
    )  # fmt: skip
    return cert, key


def test_a_certificate_tells_its_names_and_its_end(tmp_path):
    found = certificate(*made(tmp_path, "own"))
    assert found.names == ("panel.example", "192.0.2.20")
    assert found.ends_at is not None


def test_with_a_certificate_links_are_encrypted(tmp_path):
    cert, key = made(tmp_path, "own")
    to = listening(said(address="192.0.2.20", cert=cert, key=key))
    assert to.settings(8501).address == "https://192.0.2.20:8501"
    assert "panel.example" in to.settings(8501).hosts
    assert "Encrypted. The certificate ends on" in "\n".join(lan_lines(to, 8501))
    other = listening(said(address="192.0.2.21", cert=cert, key=key))
    assert other.here(8501) == other.settings(8501).address == "https://panel.example:8501"
    assert "192.0.2.21" in other.settings(8501).hosts


def test_one_that_ends_soon_is_said_so(tmp_path):
    own = {"address": "192.0.2.20", "host": "192.0.2.20", "is_lan": True}
    soon = Listening(certificate=certificate(*made(tmp_path, "soon", days=10)), **own)
    late = Listening(certificate=certificate(*made(tmp_path, "late", days=15)), **own)
    assert "SOON" in "\n".join(lan_lines(soon, 8501))
    assert "SOON" not in "\n".join(lan_lines(late, 8501))


def test_a_key_of_another_certificate_is_refused(tmp_path):
    (cert, _), (_, key) = made(tmp_path, "own"), made(tmp_path, "other")
    with pytest.raises(StoreError, match="other-key.pem is not the key of .*own.pem"):
        certificate(cert, key)


def test_files_that_are_missing_or_something_else_are_named(tmp_path):
    text = tmp_path / "note.txt"
    text.write_text("no certificate\n")
    with pytest.raises(StoreError, match="There is no file .*none.pem for the certificate"):
        certificate(tmp_path / "none.pem", text)
    with pytest.raises(StoreError, match="There is no file .*none.pem for the key"):
        certificate(text, tmp_path / "none.pem")
    with pytest.raises(StoreError, match="note.txt cannot be used"):
        certificate(text, text)


def test_a_locked_key_is_not_asked_about_in_the_middle_of_the_start(tmp_path):
    cert, key = made(tmp_path, "own")
    locked = tmp_path / "locked.pem"
    subprocess.run(
        ["openssl", "ec", "-aes256", "-passout", "pass:1234", "-in", key, "-out", locked],
        check=True, capture_output=True,
    )  # fmt: skip
    with pytest.raises(StoreError, match="locked.pem is locked with a password"):
        certificate(cert, locked)


# ---------------------------------------------------------------------------------------- power


def supply(folder, name, **words):
    (folder / name).mkdir()
    for word, value in words.items():
        (folder / name / word).write_text(f"{value}\n")


@pytest.mark.parametrize(
    ("supplies", "on_battery"),
    [
        ({}, False),
        ({"BAT0": {"type": "Battery", "status": "Discharging"}}, True),
        ({"BAT0": {"type": "Battery", "status": "Charging"}}, False),
        (
            {
                "AC": {"type": "Mains", "online": 0},
                "BAT0": {"type": "Battery", "status": "Discharging"},
            },
            True,
        ),
        (
            {
                "AC": {"type": "Mains", "online": 1},
                "BAT0": {"type": "Battery", "status": "Discharging"},
            },
            False,
        ),
        ({"mouse": {"type": "Battery", "status": "Discharging", "scope": "Device"}}, False),
        ({"odd": {}}, False),
    ],
)
def test_a_laptop_on_battery_is_known(tmp_path, supplies, on_battery):
    for name, words in supplies.items():
        supply(tmp_path, name, **words)
    assert is_on_battery(tmp_path) is on_battery
    assert ("ON BATTERY" in sleep_warning("Linux", tmp_path)) is on_battery


def test_other_systems_are_told_where_sleep_is_switched_off(tmp_path):
    assert "caffeinate" in sleep_warning("Darwin", tmp_path)
    assert "Windows" not in sleep_warning("Windows", tmp_path)
    assert "put to sleep never" in sleep_warning("Windows", tmp_path)
    assert not is_on_battery(tmp_path / "nothing")
