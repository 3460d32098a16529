"""After the walk: every page is opened once more, and its first sentence read."""

import re

from walk_hands import awaited, read

# Whose question the sentence on top of each page answers. A page that needs to be told of which
# session, person or call it is opened where the walk has been on it.
QUESTIONS = {
    "": "Who can sit today, and what is covered too thinly?",
    "record": "Where does this person stand?",
    "seats": "What waits for a signature?",
    "miss": "What would slip past today's panel?",
    "sure": "What is in the beer, and what next?",
    "sessions": "What is planned?",
    "next": "What should the next session hold?",
    "shelf": "What do we work with?",
    "bench": "What can doses be taken from?",
    "people": "Who tastes?",
    "rulebook": "By what are people judged?",
    "months": "Is the panel better or worse?",
    "history": "What was recorded, and does it add up?",
    "safekeeping": "Is the record safe, and where is its last copy?",
    "plan": "What comes of this plan, or what stands in its way?",
    "session": "What is left to do?",
    "prepare": "Which vessels are dosed?",
    "phones": "Can your phone reach this computer?",
    "answers": "What did each person write?",
    "reveal": "Which standings changed, and is a bottle to be suspected?",
    "jugs": "Which jugs speak against themselves?",
    "feedback": "How did I do?",
    "word": "What is proposed about me?",
    "decision": "What was signed, and can it be shown again?",
    "kept": "What is kept about this person, and how long?",
    "fit-today": "Who can be asked about which compound today?",
    "around-the-table": "What would slip past those around the table?",
    "how-sure": "What is in the beer, in words?",
}
SAME = "how-sure"  # a brewer's page asks as the leader's does
WIDE = "[document.querySelector('[data-testid=stMain]').scrollWidth, window.innerWidth]"


def first_sentences(leader):
    """The first sentence of every page by its address; each page has one, and no two the same."""
    leader.open("seats")
    decision = leader.page.locator("a[href^='decision?decision=']").first.get_attribute("href")
    leader.been["decision"] = decision
    leader.been["kept"] = leader.been["record"].replace("record", "kept", 1)
    found = {}
    for path in QUESTIONS:
        leader.open(leader.been.get(path, path))
        top = leader.page.locator("h1")
        words = awaited(lambda: read(top.first) if top.count() else "", r"[.?]$")  # noqa: B023
        assert top.count() == 1, path
        wanted, given = leader.page.evaluate(WIDE)
        assert wanted <= given, path
        found[path] = re.sub(r"\s+", " ", words)
    others = [words for path, words in found.items() if path != SAME]
    assert {words for words in others if others.count(words) > 1} == set()
    return found
