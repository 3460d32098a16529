"""The rulebook in force, what another would do, and how it is adopted."""

from datetime import date

from invented_session import button, html_of, started
from sampled import PIN, appointed

from seatworthy.pages.rulebook_words import numbered, read_out
from seatworthy.rules.read_aloud import Part
from seatworthy.steps.rulebooks import adopt_rulebook


def text_of(desk):
    return desk.rulebook_on(desk.today()).text


def stricter(desk, critical=6):
    """The rulebook in force, asking for so many critical compounds from today on."""
    text = text_of(desk).replace("version = 1", "version = 2")
    text = text.replace("counts_from = 2025-01-01", f"counts_from = {date.today()}")
    return text.replace("critical_met = 4", f"critical_met = {critical}")


def look_at(page, text):
    page.text_area(key="another_text").set_value(text)
    press(page, "See what it would change")


def press(page, label):
    button(page, label).click().run()
    assert not page.exception


def adopt(page, pin=PIN):
    next(field for field in page.text_input if field.key.startswith("adopt_pin_")).set_value(pin)
    press(page, "Adopt it")


def entries(desk):
    return desk.store.rows("chain_head")


def test_an_empty_store_reads_its_rulebook_out(empty_desk):
    words = html_of(started("rulebook"))
    assert "People are judged by “default”, version\N{NO-BREAK SPACE}1" in words
    assert "came with the store" in words


def test_the_words_stand_beside_the_text(brewery):
    page = started("rulebook")
    assert "At least 4 of its critical compounds are met" in html_of(page)
    assert "<span>version = 1\n</span>" in html_of(page)
    begun = page.text_area(key="another_text").value
    assert begun != text_of(brewery)
    assert "version = 2\n" in begun
    assert f"counts_from = {brewery.today()}\n" in begun


def test_words_of_a_rulebook_are_escaped():
    assert read_out([Part("<b>x", ("a & b",))]) == (
        '<dl class="read-aloud"><dt>&lt;b&gt;x</dt><dd>a &amp; b</dd></dl>'
    )


def test_a_text_is_escaped_line_by_line_and_can_be_scrolled_with_the_keyboard():
    shown = numbered("a = 1\n<b> & c")
    assert shown.startswith('<pre class="lines" tabindex="0"')
    assert "<span>a = 1\n</span><span>&lt;b&gt; &amp; c\n</span></pre>" in shown


def test_a_text_that_cannot_be_used_is_refused_with_its_lines(brewery):
    page = started("rulebook")
    text = text_of(brewery).replace("months = 12", "months = <b>", 1)
    look_at(page, text)
    words = html_of(page)
    line = 1 + next(n for n, row in enumerate(text.splitlines()) if row.startswith("months"))
    assert 'class="refusal" role="alert"' in words
    assert f"line {line}" in words
    assert "<b>\n" not in words
    assert "Adopt it" not in [b.label for b in page.button]


def test_another_rulebook_from_the_menu_fills_the_text(brewery):
    page = started("rulebook")
    page.selectbox(key="another_start").set_value("strict").run()
    assert 'name = "strict"' in page.text_area(key="another_text").value


def test_what_if_names_losses_and_records_nothing(brewery):
    page, before = started("rulebook"), entries(brewery)
    look_at(page, stricter(brewery))
    assert "Márta would lose what a seat rests on" in html_of(page)
    assert "Aoife" not in html_of(page).split("would lose")[0].split("By “default”")[-1]
    assert entries(brewery) == before


def test_what_if_names_gains(brewery):
    lenient = text_of(brewery).replace("version = 1", "version = 3")
    adopt_rulebook(brewery, stricter(brewery), signer=appointed(brewery), pin=PIN)
    page = started("rulebook")
    look_at(page, lenient)
    assert "By “default”, version 3, for the pale lagers Márta would gain it" in html_of(page)


def test_without_a_signer_nothing_can_be_adopted(brewery):
    page = started("rulebook")
    look_at(page, stricter(brewery))
    assert button(page, "Adopt it").disabled
    assert 'href="people?first=signers"' in html_of(page)


def test_a_rulebook_is_adopted_with_a_pin(brewery):
    appointed(brewery)
    page = started("rulebook")
    look_at(page, stricter(brewery))
    adopt(page)
    words = html_of(page)
    assert "default, version 2, is adopted and counts from today on." in words
    assert "People are judged by “default”, version\N{NO-BREAK SPACE}2" in words
    assert brewery.rulebook_on(brewery.today()).rulebook.version == 2


def test_a_wrong_pin_adopts_nothing(brewery):
    appointed(brewery)
    page = started("rulebook")
    look_at(page, stricter(brewery))
    adopt(page, "0000")
    assert "This is not the PIN of Gwen." in html_of(page)
    assert len(brewery.rulebooks()) == 1


def test_what_stands_in_the_way_of_adopting_is_said_before_anybody_signs(brewery):
    appointed(brewery)
    page = started("rulebook")
    look_at(page, stricter(brewery).replace("version = 2", "version = 1"))
    assert "Write version = 2" in html_of(page)
    assert "Adopt it" not in [one.label for one in page.button]
    assert len(brewery.rulebooks()) == 1


def test_a_text_changed_since_must_be_looked_at_again(brewery):
    appointed(brewery)
    page = started("rulebook")
    look_at(page, stricter(brewery))
    page.text_area(key="another_text").set_value(stricter(brewery, 5)).run()
    assert "The text was changed since; look again first." in html_of(page)
    assert button(page, "Adopt it").disabled
