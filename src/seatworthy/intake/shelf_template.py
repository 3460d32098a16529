"""A shelf file to fill in, with every compound on the list as a comment."""

import csv
from collections.abc import Iterator
from pathlib import Path

from seatworthy.errors import PanelError

_HEAD = """\
# What stands on your shelf. Change what is here, take the # from what you need, and bring it in:
#   seatworthy import {name}
# State a thing again in a later file to change it from then on; nothing already stated is lost.

[brewery]
name = "Quillmere Brewery"
time_zone = "Europe/Dublin"          # of the brewery; days on screens are counted in it

# A family of beers that one panel sits for. A list inside the list is a group of which one counts.
[beer_families.pale_lager]
label = "Pale lagers"
critical = ["diacetyl", "acetaldehyde", "dms", "t2n", "h2s", ["acetic_acid", "lactic_acid"]]
expected = []                        # what is no fault there (vinylguaiacol in a wheat beer)

[[base_beers]]                       # named as in your results
label = "Quillmere Pils"
family = "pale_lager"
abv = 4.8                            # % by volume

# Your own working threshold, dated. Needed to turn a dose into a level; a book's range is a hint.
# [[working_thresholds]]
# compound = "diacetyl"
# family = "pale_lager"              # left out: for every family
# value = 60
# unit = "ug/L"                      # ng/L, ug/L or mg/L
# from = 2025-01-01

# What is in a base beer already. From half the threshold on, a call in a blank of it is no false call.
# [[backgrounds]]
# beer = "Quillmere Pils"
# compound = "dms"
# value = 25                         # left out when known = "unknown"
# unit = "ug/L"
# known = "measured"                 # measured, assumed or unknown
# from = 2025-01-01

# Words of your house that mean a compound.
# [[synonyms]]
# compound = "t2n"
# words = ["cardboard", "wet paper"]

# A compound that the list below lacks.
# [[compounds]]
# key = "tannin"
# label = "Tannin"

# The list: key, name, words often said of it, range of thresholds found in books.
"""


def write_shelf_template(path: Path) -> str:
    """Write a shelf file to fill in.

    Returns:
        A sentence for the user.

    Raises:
        PanelError: if it cannot be written.
    """
    text = _HEAD.format(name=path.name) + "\n".join(_compound_lines()) + "\n"
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        message = f"{path} cannot be written ({error.strerror}). Name a folder you may write to."
        raise PanelError(message) from error
    return f"Wrote {path.name}. Make it yours in any text editor; the keys of compounds are listed in it."


def _compound_lines() -> Iterator[str]:
    with Path(__file__).with_name("compounds.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            low, high = row["threshold_low"], row["threshold_high"]
            limits = [limit for limit in (low, high if high != low else "") if limit]
            found = f"{' to '.join(limits)} {row['unit']}" if limits else "no figure"
            words = row["descriptors"].replace("|", ", ")
            yield f"#   {row['key']:20} {row['label']}; {words}; {found}"
