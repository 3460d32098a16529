import pytest
from invented import PEOPLE, invented_board, renamed

from seatworthy.errors import StoreBusy
from seatworthy.pages import source
from seatworthy.pages.frame import headline

HOSTILE = "<img src=x onerror=alert(1)> ![x](http://outside.example/a.png) **B**"


def html_of(test):
    return "\n".join(element.proto.body for element in test.get("html"))


def test_a_sentence_ends_once():
    assert headline("Which session shall it be?", "").endswith("be?</h1>")
    assert headline("Ten on the panel", "").endswith("panel.</h1>")


@pytest.mark.usefixtures("empty_panel")
def test_an_empty_store_says_what_to_run(run_script, run_record):
    for page in (run_script(), run_record()):
        assert "No glasses yet" in html_of(page)
        assert "seatworthy demo" in html_of(page)
        assert not page.get("download_button")


@pytest.mark.usefixtures("invented_panel")
def test_board_opens_with_its_sentence_and_everybody(run_script):
    page = run_script()
    html = html_of(page)
    assert "Five can sit for the pale lagers today; <em>papery is covered by" in html
    assert all(name.split()[0] in html for _, name, *_ in PEOPLE)
    assert "it never releases beer" in html


@pytest.mark.usefixtures("invented_panel")
def test_board_keeps_family_and_day_of_the_address_in_its_links(run_script):
    html = html_of(run_script(family="stout", on="2026-06-01"))
    assert "record?who=p1&amp;family=stout&amp;on=2026-06-01&amp;compound=diacetyl" in html
    assert "Seen for Monday 1 June 2026" in html
    assert "Could sit that day" in html


@pytest.mark.usefixtures("invented_panel")
def test_a_day_that_is_none_means_today(run_script):
    html = html_of(run_script(on="yesterday"))
    assert "Can sit today" in html
    assert "Seen for" not in html


@pytest.mark.usefixtures("invented_panel")
def test_choosing_a_family_moves_the_board_and_the_address(run_script):
    page = run_script()
    page.get("button_group")[0].set_value("stout").run()
    assert "for the stouts today" in html_of(page)
    assert page.query_params["family"] == "stout"


@pytest.mark.usefixtures("invented_panel")
def test_record_shows_strips_rules_charts_and_figures(run_record):
    page = run_record(who="p1", family="pale_lager")
    html = html_of(page)
    assert "acetaldehyde needs three more glasses" in html
    assert html.count('class="strip ') == 16
    assert "1 more sitting before 14 December." in html
    assert "Takes caprylic for isovaleric acid" in html
    assert len(page.get("vega_lite_chart")) == 3
    assert "60 to 98" in html
    assert "0.0083" in html


@pytest.mark.usefixtures("invented_panel")
def test_record_shows_a_compound_from_near_with_the_glasses_behind_it(run_record):
    html = html_of(run_record(who="p1", compound="dms"))
    assert "<h2>DMS: needs 1.2× (0.8 to 1.9)</h2>" in html
    assert '<dd class="is-flagged">Getting less sensitive, 97% sure.</dd>' in html
    assert ">90%</td>" in html
    assert ">2× for</td>" in html
    assert "2× against" in html
    assert "level not known" in html


@pytest.mark.usefixtures("invented_panel")
def test_the_plain_figures_hold_the_run_of_days_pairs_calls_and_ratings(run_record):
    html = html_of(run_record(who="p1"))
    for words in (
        "below its usual range (50 to 90)",
        "-20 points from the first day to the last (-45 to -5, 9 in 10); one-sided p of a fall 0.0012",
        "Yes to 5 of 8 spiked and 2 of 6 plain glasses; d′ 0.90, c 0.20 (log-linear).",
        "The same answer twice in 2 of 3; kappa 0.40, standard error 0.31.",
        "4 of 76 blanks; 6% (2 to 11, 9 in 10).",
        "d′ 2.41, c 0.31 (log-linear), d′ 1.9 to 2.9, 9 in 10.",
        "<td>0.71 (0.44 to 1.6)</td>",
        "finds it since glass 8",
    ):
        assert words in html


@pytest.mark.usefixtures("invented_panel")
def test_whoever_misses_more_than_before_is_told_on_board_and_record(run_script, run_record):
    assert "Bashir has missed more than before" in html_of(run_script())
    assert "Maren has missed more than before" in html_of(run_record(who="p1"))
    assert "has missed more than before" not in html_of(run_record(who="p2"))


@pytest.mark.usefixtures("invented_panel")
def test_record_opens_at_the_compound_of_the_address(run_record):
    assert run_record(who="p1", compound="dms").selectbox[1].value == "dms"


@pytest.mark.usefixtures("invented_panel")
def test_record_opens_at_what_needs_attention_otherwise(run_record):
    assert run_record(who="p1").selectbox[1].value == "acetaldehyde"


@pytest.mark.usefixtures("invented_panel")
def test_choosing_somebody_else_moves_the_record_and_the_address(run_record):
    page = run_record(who="p1")
    page.selectbox[0].set_value("p3").run()
    assert "Łucja may sit" in html_of(page)
    assert page.query_params["who"] == "p3"


@pytest.mark.usefixtures("invented_panel")
def test_an_unknown_person_gets_a_sentence_and_the_way_back(run_record):
    html = html_of(run_record(who="nobody"))
    assert "Nobody on this panel goes by that address." in html
    assert "Back to the board" in html
    assert "record?who=p9" in html


@pytest.mark.usefixtures("invented_panel")
def test_a_record_without_a_person_asks_whose(run_record):
    assert "Whose record shall it be?" in html_of(run_record())


def test_a_hostile_name_reaches_the_page_as_plain_words(run_script, monkeypatch):
    view = renamed(invented_board(), "Iker Solana", HOSTILE)
    monkeypatch.setattr(source, "board_view", lambda family, as_of: view)
    html = html_of(run_script())
    assert "<img" not in html
    assert "&lt;img src=x onerror=alert(1)&gt;" in html


def test_a_store_that_cannot_be_used_says_so_in_its_own_words(run_script, monkeypatch):
    def refuse(family, as_of):
        message = "The store is open in process 7 & cannot be shared."
        raise StoreBusy(message)

    monkeypatch.setattr(source, "board_view", refuse)
    html = html_of(run_script())
    assert "The store is open in process 7 &amp; cannot be shared." in html
    assert "it never releases beer" in html
