"""The second half of the walk: seats signed, a panel seated, a tank judged and weighed."""

import re

from walk_hands import Phones, awaited, key_of, links_on, read

SIGNER, PIN = "Gwen", "4711"
REMARK = "I am away for the first two Thursdays in May."
TANK = "Tank 12"
CALLED = "DMS"  # what the first two who sit call in it; the others find nothing


def appoint_a_signer(leader):
    """Nobody may sign yet: the first signer is appointed freely."""
    leader.open("people")
    leader.choose("Appoint", SIGNER)
    leader.page.get_by_role("textbox", name="Their PIN").fill(PIN)
    leader.page.get_by_role("textbox", name="Once more", exact=True).fill(PIN)
    leader.press("Let them sign")
    leader.reads(f"{SIGNER} may sign decisions")


def seat_somebody(leader):
    """The first proposal: its reasons, put before the person, their word, the signature."""
    page = leader.page
    leader.open("seats")
    leader.says(r"^\w+ proposals wait for a signature; ")
    who = read(page.locator(".waiting tbody tr th").first)
    page.locator(".reason .reason > summary", has_text="Critical compounds").click()
    leader.look("08-seat", at="h2:has-text('Decide about a seat')")
    leader.press(f"Put it before {who}")
    leader.follow("their page", "word?proposal=*")
    leader.says(f"^{who}, a first seat is proposed for you, for the pale lagers: ")
    page.get_by_text("I have a remark").click()
    page.get_by_role("textbox", name="In your own words").fill(REMARK)
    leader.press("Put it on record")
    awaited(lambda: read(page.locator(".said")), REMARK)
    leader.open("seats")
    leader.reads(REMARK)
    page.get_by_role("textbox", name="PIN").last.fill(PIN)
    leader.press(re.compile("^Sign: on probation"))
    leader.told("^Signed and on record")
    return who


def seat_the_others(leader):
    """What takes nothing from anybody is signed together; the board says who can sit."""
    page = leader.page
    page.get_by_text(re.compile("^Sign .* of them as proposed")).click()
    page.get_by_role("textbox", name="PIN").first.fill(PIN)
    leader.press("Sign as proposed")
    leader.says("nothing waits for a signature")
    leader.open("")
    leader.says(r"^\w+ can sit for the pale lagers today")


def choose_the_panel(leader):
    """What would slip past those who sit, kept; then on to the sitting with them."""
    leader.open("miss")
    leader.says("^At three times threshold this panel would let ")
    leader.look("09-miss")
    leader.press("Keep this panel")
    leader.told("^Kept, with the figures of ")
    leader.follow("Plan a release sitting for this panel", "plan?*")


def plan_the_release(leader):
    """A tank put on record, two check glasses dosed from the bench, the panel that was seated."""
    page = leader.page
    leader.says("one thing is missing")
    page.get_by_role("textbox", name="Batch", exact=True).fill(TANK)
    leader.press("Put it on record")
    leader.choose("Dosed from the bench", "pitcher")
    leader.says(r"^\w+ people at one sitting, \d+ glasses from 3 jugs\.$")
    leader.reads("shots? of ")
    leader.press("Record this plan")
    page.wait_for_url("**/session?session=*")
    leader.settle()
    leader.press("Make the links")
    leader.reads(r"Made \d links")
    return links_on(leader.paper("Cards with the links as PDF")), key_of(leader.paper("Key"))


def judge_the_tank(leader, browser, links, key):
    """Everybody answers on their phone; two call it in the tank, and nobody hears of it yet.

    Returns:
        The phones, still open.
    """
    callers = list(links)[:2]
    phones = Phones(browser, leader.address, links)
    phones.open_all()
    for _ in range(3):
        for name in links:
            phones.say(name, _release_word(name, key[phones.code(name)], callers))
    assert {phones.heading(name) for name in links} == {"All three are in."}
    leader.says("; open the talk")
    assert f"{TANK}, " not in leader.whole()
    return phones


def _release_word(name, what, callers):
    """The check glass is named, and the tank called by two."""
    if what == TANK:
        return CALLED if name in callers else ""
    return what


def talk_it_over(leader, phones, key):
    """The talk is opened; one who found nothing calls it too now, which replaces nothing."""
    leader.press("Open the talk")
    about = leader.page.locator("p", has_text=f"called {CALLED} before the talk")
    about.wait_for()
    assert read(about).startswith("Two of ")
    persuaded = list(phones.links)[2]
    page = phones.page(persuaded)
    page.goto(phones.links[persuaded])
    assert phones.heading(persuaded) == "The talk is open."
    phones.tap(persuaded, ".go a")
    for _ in range(3):
        what = key[phones.code(persuaded)]
        phones.say(persuaded, CALLED if what == TANK else what)
    assert page.get_by_text(f"now: {CALLED}").count() == 1
    leader.page.reload()
    leader.settle()
    leader.reads(f"After it {persuaded} says {CALLED}")
    leader.look("10-talk", at=".stage >> nth=3")


def weigh_the_call(leader):
    """From the closed sitting to the chance of the fault, kept."""
    leader.follow("How sure are we?", "sure?sample=*", place=-1)
    leader.says(f"^{CALLED} in {TANK.lower()}: ")
    leader.reads("silence there means nothing")
    leader.look("11-sure")
    leader.press("Keep this weighing")
    leader.told("^Kept. State what the beer really had once it is known")
    assert "/sure?call=" in leader.page.url
