"""The first half of the walk: from what to pour next to what changed and what each person is told."""

import re
from datetime import date

from walk_hands import Phones, awaited, key_of, links_on, read

NEWCOMER = "Nils"
PEOPLE = 10
ON_PAPER = 2
GLASSES = 4
LABEL = "Thursday training"
# Who says nothing of a compound that is there, so that something changes.
MISSES = {("Oisín", "Acetaldehyde"), ("Tariq", "Acetaldehyde"), ("Márta", "Papery")}


def said_by(name, compound):
    """What somebody says of a glass: its compound, "" for nothing."""
    return "" if (name, compound) in MISSES else compound


def welcome_a_newcomer(leader):
    """Nine are on the panel; with one more ten can sit down."""
    leader.open("people")
    leader.says("^Nine on the panel")
    leader.page.get_by_label("Names, one a line").fill(NEWCOMER)
    leader.press("Put them on the panel")
    leader.says("^Ten on the panel")


def choose_what_to_pour(leader):
    """The page proposes the glasses with their reasons; a click makes them a plan."""
    leader.open(f"next?glasses={GLASSES}")
    leader.says(" and a blank")
    jugs = leader.page.locator("table").first
    assert read(jugs).startswith("Jug\tPoured\tWhy")
    leader.look("01-next")
    leader.press("Make it a plan")
    leader.page.wait_for_url("**/plan")
    assert "as proposed" in read(leader.page.locator(".where"))


def plan_it_for_today(leader):
    """The same day, a name; doses from the bench stand beside it. Returns the session's id."""
    page = leader.page
    page.get_by_test_id("stDateInput").first.get_by_role("spinbutton").first.click()
    page.keyboard.type(f"{date.today():%Y%m%d}")
    page.keyboard.press("Tab")
    leader.settle()
    name = page.get_by_role("textbox", name="Name", exact=True)
    name.fill(LABEL)
    name.press("Tab")
    leader.settle()
    leader.says(rf"^Ten people at one sitting, {PEOPLE * GLASSES} glasses from \d jugs\.$")
    leader.reads(r"\d shots? of [\d.]+ µl with .+, from .+, lot ")
    leader.look("02-plan")
    leader.press("Record this plan")
    page.wait_for_url("**/session?session=*")
    leader.settle()
    leader.says(f"^{LABEL} is planned for today; print the papers")
    return page.url.partition("session=")[2]


def prepare_every_vessel(leader):
    """One tick a vessel for its dose, then one for all that wait for the same step."""
    leader.follow(re.compile("^Prepare the vessels"), "prepare?*")
    leader.says("none is dosed yet")
    buttons = leader.page.get_by_role("button", name="Dosed as planned", exact=True)
    for left in range(buttons.count() - 1, -1, -1):
        leader.press("Dosed as planned")
        awaited(lambda: str(buttons.count()), f"^{left}$")
        if left == 1:
            leader.look("03-prepare", at="h2 >> nth=1")
    for step in ("capped", "tipped and tight", "in the cold"):
        leader.press(re.compile(f"that wait: {step}$"))
    leader.says("^Every vessel is dosed, capped, tight and chilled")
    leader.follow("To the session", "session?*")
    leader.reads("Every vessel that is poured is dosed")


def hand_out_the_links(leader):
    """Everybody's link by name, and what each glass holds, as two papers say it."""
    leader.press("Make the links")
    leader.reads(f"Made {PEOPLE} links")
    links = links_on(leader.paper("Cards with the links as PDF"))
    assert len(links) == PEOPLE
    assert NEWCOMER in links
    return links, key_of(leader.paper("Key"))


def answer_by_phone_and_on_paper(leader, browser, links, key):
    """Eight answer on their phones, glass by glass and side by side; two sheets are typed.

    Returns:
        The phones, still open.
    """
    names = list(links)
    by_phone = {name: links[name] for name in names[:-ON_PAPER]}
    phones = Phones(browser, leader.address, by_phone)
    phones.open_all()
    for place in range(GLASSES):
        for name in by_phone:
            if place == 1 and name == names[0]:
                phones.page(name).locator(".choices").first.wait_for()
                phones.look(name, leader.pictures, "04-ballot")
            phones.say(name, said_by(name, key[phones.code(name)]))
        if place == 2:
            leader.says(f"^{3 * len(by_phone)} of {PEOPLE * GLASSES} answers are in")
            leader.look("05-table", at=".stage >> nth=1")
    assert {phones.heading(name) for name in by_phone} == {"All four are in."}
    type_the_sheets(leader, names[-ON_PAPER:], key)
    return phones


def type_the_sheets(leader, names, key):
    """The two who answered on paper: the first letters of each compound, nothing as 0."""
    leader.follow("Enter the answers from paper", "answers?*")
    page = leader.page
    page.locator("input.answer:visible").first.wait_for()
    for name in names:
        page.locator("#whose", has_text=name).wait_for()
        codes = [field.get_attribute("placeholder") for field in page.locator("input.code").all()]
        for code in codes:
            page.keyboard.type(said_by(name, key[code]).lower() or "0")
            page.keyboard.press("Enter")
    leader.says("^Every answer is in")
    leader.settle()


def close_it(leader, sitting="Sitting 1"):
    """Say that the sitting is over, and close: asked once more, since links are out."""
    leader.press(f"{sitting} is over")
    leader.says("; close and reveal")
    leader.press("Close and reveal")
    leader.reads("This can't be taken back")
    leader.page.get_by_role("button", name="Yes, close it now").click()
    leader.page.wait_for_url("**/reveal?*", timeout=90_000)
    leader.page.locator("h1.answer").wait_for(timeout=90_000)
    leader.settle()
    leader.reads("Where to go from here")


def see_what_changed(leader):
    """Each row of the reveal: whose standing, for which compound, and what it is now."""
    assert f"{PEOPLE * GLASSES} answers came in" in read(leader.page.locator(".lead"))
    leader.look("06-reveal")
    rows = leader.page.locator("table.changes tbody tr").all()
    changes = [
        (
            read(row.locator("th")),
            read(row.locator("td.what")).partition("\n")[0],
            read(row.locator("td.after")).strip(),
        )
        for row in rows
        if "Pale lagers" in read(row)
    ]
    assert changes
    return changes


def tell_the_newcomer(leader, phones):
    """The same link shows its owner what was in the glasses; the leader's page and paper say the same."""
    right = "Four of four right."
    page = phones.page(NEWCOMER)
    page.goto(phones.links[NEWCOMER])
    assert phones.heading(NEWCOMER) == right
    assert page.get_by_text("You said").count() == GLASSES
    phones.look(NEWCOMER, leader.pictures, "07-feedback")
    sheets = leader.paper("Everybody's feedback, a page each")
    assert len(sheets) == PEOPLE
    leader.follow(NEWCOMER, "feedback?*")
    leader.says(f"(?i){right}")
    own = next(sheet for sheet in sheets if NEWCOMER in sheet)
    others = [name for name in phones.links if name != NEWCOMER]
    assert not any(name in own for name in others)


def see_the_board_changed(leader, changes):
    """The board has the newcomer's first glasses, and every standing that the reveal told of."""
    leader.open("")
    cells = leader.page.locator("td.cell a")
    newcomer = cells.and_(leader.page.locator(f'[title^="{NEWCOMER}, "]'))
    assert sum("1/1, too little evidence" in _cell(one) for one in newcomer.all()) == 3
    for name, compound, now in changes:
        cell = cells.and_(leader.page.locator(f'[title^="{name}, {compound}: "]'))
        assert _cell(cell).endswith(f", {now}")


def _cell(cell):
    return cell.text_content().replace("\N{NO-BREAK SPACE}", " ")
