"""The commands, one by one: each adds its words and runs one step."""

from seatworthy.commands.asking import PEOPLE, VERDICTS, WORDS
from seatworthy.commands.bringing import IMPORT, TEMPLATE
from seatworthy.commands.command import Command
from seatworthy.commands.keeping import BACKUP, RESTORE, VERIFY
from seatworthy.commands.opening import DEMO, OPEN

COMMANDS: dict[str, Command] = {
    "demo": DEMO,
    "open": OPEN,
    "import": IMPORT,
    "template": TEMPLATE,
    "verdicts": VERDICTS,
    "people": PEOPLE,
    "words": WORDS,
    "backup": BACKUP,
    "restore": RESTORE,
    "verify": VERIFY,
}
