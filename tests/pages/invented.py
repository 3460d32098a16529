"""An invented panel: nine people, sixteen compounds, every field of the views filled.

Nothing here is computed as the program would; standings and numbers are made up to be shown.
"""

from dataclasses import replace
from datetime import date, timedelta
from math import exp, lgamma, log

from seatworthy.steps.closer_views import CloserView, Line, WeighedGlass
from seatworthy.steps.figures_views import (
    DayShare,
    OwnHistory,
    PersonFigures,
    RatingRow,
    YesNo,
)
from seatworthy.steps.views import (
    BoardView,
    CellView,
    Choice,
    CompoundRow,
    GlassView,
    Mixup,
    PersonView,
    PlainFigures,
    RecordRow,
    RecordView,
    RuleLine,
    ThresholdPoint,
)

TODAY = date(2026, 11, 25)
FAMILIES = (Choice("pale_lager", "Pale lagers"), Choice("stout", "Stouts"))
PEOPLE = (
    ("p1", "Maren Thode", True, "", date(2026, 12, 14)),
    ("p2", "Iker Solana", True, "", date(2027, 2, 2)),
    ("p3", "Łucja Wrzos", True, "", date(2027, 3, 9)),
    ("p4", "Tomás Quill", True, "", date(2027, 3, 30)),
    ("p5", "Odile Perrin", True, "", date(2027, 4, 21)),
    ("p6", "Bashir Nourad", False, "too little evidence", None),
    ("p7", "Greta Lindholm", False, "lapsed 18 Nov", None),
    ("p8", "Petr Šimůnek", False, "off for now", None),
    ("p9", "Hana Itō", False, "in training", None),
)
# One letter a person: m met, d met and due soon, t too little, n not met, i insensitive, - none.
COMPOUNDS = (
    ("diacetyl", "Diacetyl", "butterscotch", True, "mmmtmmtnt"),
    ("acetaldehyde", "Acetaldehyde", "green apple", True, "tmmmdtmnt"),
    ("dms", "DMS", "cooked sweetcorn", True, "mmimmmttt"),
    ("t2n", "Papery", "cardboard", True, "dttttmni-"),
    ("h2s", "Hydrogen sulfide", "boiled egg", True, "mdmmttmnt"),
    ("acetic_acid", "Acetic acid", "vinegar", True, "mmmmmmmtt"),
    ("isoamyl_acetate", "Isoamyl acetate", "banana", False, "mmmmmmttm"),
    ("ethyl_acetate", "Ethyl acetate", "nail varnish", False, "tmmtmtt-t"),
    ("ethyl_hexanoate", "Ethyl hexanoate", "aniseed", False, "ntmntt-t-"),
    ("mbt", "Lightstruck", "", False, "mmmmmmmtt"),
    ("isovaleric_acid", "Isovaleric acid", "old hops", False, "mimtmttt-"),
    ("butyric_acid", "Butyric acid", "rancid butter", False, "tmmmttttt"),
    ("octanoic_acid", "Caprylic", "goat", False, "tnttn-t--"),
    ("vinylguaiacol", "4-Vinylguaiacol", "clove", False, "mmimmmmtt"),
    ("dichlorophenol", "Chlorophenolic", "hospital", False, "mttttt---"),
    ("geosmin", "Earthy", "damp cellar", False, "tt-tt----"),
)
STANDINGS = {
    "m": "met",
    "d": "met",
    "t": "too_little",
    "n": "not_met",
    "i": "insensitive",
    "-": "no_glasses",
}
COUNTS = {"m": (9, 10), "d": (12, 13), "t": (4, 6), "n": (2, 8), "i": (0, 9), "-": (0, 0)}
MISSING = {
    "t": "3 more glasses over 1 more day would settle it",
    "d": "Due by 9 December: 1 glass keeps it",
    "n": "Takes it for isoamyl acetate: pour the two side by side",
}


def empty_board():
    return BoardView(
        as_of=TODAY,
        family=Choice("", ""),
        families=(),
        rulebook="default",
        in_force_since=date(2026, 3, 3),
        answer="",
        catch="",
        lead="",
        people=(),
        rows=(),
        counted_levels=(2.0, 4.0),
        counted_months=12,
        start_here="No glasses yet. Plan the first session, or bring in a results file.",
    )


def invented_board(family=None, as_of=None):
    chosen = next((f for f in FAMILIES if f.key == family), FAMILIES[0])
    return BoardView(
        as_of=as_of or TODAY,
        family=chosen,
        families=FAMILIES,
        rulebook="default",
        in_force_since=date(2026, 3, 3),
        answer=f"Five can sit for the {chosen.label.lower()} today",
        catch="papery is covered by one nose only.",
        lead="That nose is Maren, and her seat is due by 14 December.",
        people=tuple(_person(number) for number in range(len(PEOPLE))),
        rows=tuple(_compound(*fields) for fields in COMPOUNDS),
        counted_levels=(2.0, 4.0),
        counted_months=12,
    )


def invented_record(person_id, family=None, as_of=None):
    ids = [person[0] for person in PEOPLE]
    if person_id not in ids:
        return None
    number = ids.index(person_id)
    chosen = next((f for f in FAMILIES if f.key == family), FAMILIES[0])
    name = PEOPLE[number][1].split()[0]
    return RecordView(
        as_of=as_of or TODAY,
        family=chosen,
        families=FAMILIES,
        people=tuple(Choice(person[0], person[1]) for person in PEOPLE),
        person=_person(number),
        since=date(2025, 1, 16),
        blanks=76,
        false_calls=4,
        possible_background=1,
        needed=0.7,
        reference_level=3.0,
        answer=f"{name} may sit for the {chosen.label.lower()} until 14 December",
        catch="acetaldehyde needs three more glasses.",
        lead="Five of six critical compounds are met and none is not met.",
        rules=(
            RuleLine(
                "Critical compounds", "met", "5 of 6 critical compounds are met; 5 asked.", ""
            ),
            RuleLine("False calls", "met", "4 of 76 blanks named; at most 1 in 10.", ""),
            RuleLine(
                "Sittings",
                "too_little",
                "3 sittings in the last 6 months; 4 are needed.",
                "1 more sitting before 14 December.",
            ),
        ),
        rows=tuple(_record_row(number, fields) for fields in COMPOUNDS),
        mixups=(
            Mixup("Ethyl hexanoate", "Isoamyl acetate", 3),
            Mixup("Caprylic", "Isovaleric acid", 2),
            Mixup("Ethyl acetate", "nothing", 2),
            Mixup("Ethyl hexanoate", "nothing", 1),
            Mixup("Acetaldehyde", "Ethyl acetate", 1),
            Mixup("Acetaldehyde", "nothing", 1),
        ),
        mixed_up=("Takes caprylic for isovaleric acid in more than one perceived glass in ten.",),
        sessions_attended=18,
        sessions_offered=20,
        last_seen=date(2026, 11, 19),
    )


def renamed(view, old, new):
    """A board in which one person carries another name."""
    people = tuple(replace(p, name=new) if p.name == old else p for p in view.people)
    return replace(view, people=people)


def _person(number):
    person_id, name, can_sit, reason, until = PEOPLE[number]
    left = (until - TODAY).days / 182 if until else 0.0
    return PersonView(
        person_id=person_id,
        name=name,
        can_sit=can_sit,
        reason=reason,
        until=until,
        term_left=min(1.0, left),
        is_due_soon=can_sit and number == 0,
        critical_met=sum(fields[4][number] in "md" for fields in COMPOUNDS[:6]),
        critical_asked=6,
        sentence=f"{name.split()[0]} {'may' if can_sit else 'may not'} sit today.",
    )


def _cell(number, compound, label, letter):
    right, glasses = COUNTS[letter]
    return CellView(
        person_id=PEOPLE[number][0],
        compound=compound,
        standing=STANDINGS[letter],
        named_right=right,
        glasses=glasses,
        until=date(2027, 2, 11) if letter in "md" else None,
        is_due_soon=letter == "d",
        sentence=f"{label}: {right} of {glasses} named right.",
    )


def _compound(key, label, note, is_critical, letters):
    cells = {PEOPLE[n][0]: _cell(n, key, label, letter) for n, letter in enumerate(letters)}
    noses = sum(letter in "md" for letter in letters[:5])
    return CompoundRow(key, label, note, is_critical, cells, noses, is_critical and noses < 2)


def _record_row(number, fields):
    key, label, _, is_critical, letters = fields
    letter = letters[number]
    right, glasses = COUNTS[letter]
    density = _density(right + 1.5, glasses - right + 0.7) if glasses else ()
    low, mean, high = _summary(density) if density else (None, None, None)
    return RecordRow(
        compound=key,
        label=label,
        is_critical=is_critical,
        cell=_cell(number, key, label, letter),
        chance_right=mean,
        low=low,
        high=high,
        density=density,
        missing=MISSING.get(letter, ""),
        history=_history(right, glasses),
        figures=PlainFigures(
            wilson=(0.5958, 0.9821) if glasses else None,
            jeffreys=(0.6188, 0.9892) if glasses else None,
            exact=(0.555, 0.9975) if glasses else None,
            run="finds it since glass 8" if glasses else "",
            choice_right=7 if glasses else 0,
            choice_sets=9 if glasses else 0,
            chance_by_guessing=0.00828 if glasses else None,
            best_estimate=1.41 if key == "diacetyl" else None,
            best_estimate_edge="",
        ),
    )


def _density(a, b):
    scale = lgamma(a + b) - lgamma(a) - lgamma(b)
    middles = [(number + 0.5) / 100 for number in range(100)]
    heights = [exp(scale + (a - 1) * log(x) + (b - 1) * log(1 - x)) for x in middles]
    return tuple(height / sum(heights) for height in heights)


def _summary(density):
    total, low, high = 0.0, None, None
    for number, share in enumerate(density):
        total += share
        low = number / 100 if low is None and total >= 0.15 else low
        high = (number + 1) / 100 if high is None and total >= 0.95 else high
    return low, sum((n + 0.5) / 100 * share for n, share in enumerate(density)), high


def _history(right, glasses):
    levels = (3.0, 3.0, 2.0, 3.0, 4.9, 2.0, 3.1, 1.0, 3.0, None, 2.1, 3.0, 3.0)
    wrong = ("missed", "wrong", "open")
    history = []
    for number in range(glasses):
        outcome = "right" if number >= glasses - right else wrong[number % 3]
        said = {"right": "the right name", "missed": "", "wrong": "banana", "open": "something"}
        day = TODAY - timedelta(days=6 + 27 * (glasses - number))
        level = levels[number]
        counts = level is not None and 2 <= level <= 4
        history.append(GlassView(day, level, "naming", outcome, said[outcome], counts))
    return tuple(history)


def invented_closer(person_id, compound, family, as_of):
    """Ten glasses seen from near; the oldest was poured in another beer at an unknown level."""
    label = next(fields[1] for fields in COMPOUNDS if fields[0] == compound)
    glasses = tuple(
        WeighedGlass(
            glass.day, "", glass.level, glass.method, glass.outcome, glass.said, glass.counts,
            weight=0.9 - 0.05 * number, pull=0.7 if glass.outcome == "right" else -0.7,
        )
        for number, glass in enumerate(reversed(_history(8, 10)))
    )  # fmt: skip
    oldest = replace(glasses[-1], beers="stouts", level=None, weight=None, pull=None)
    return CloserView(
        compound=compound,
        label=label,
        head=f"{label}: needs 1.2× (0.8 to 1.9)",
        lines=(
            Line("Named right at 3×", "84% (66 to 95) of the time, on own answers alone."),
            Line("Over time", "Getting less sensitive, 97% sure.", is_flagged=True),
        ),
        curve=_curve(10),
        glasses=(*glasses[:-1], oldest),
    )


def invented_figures(person_id, as_of):
    """Somebody with a fall, three pairs, and one compound rated; only the first has an alarm."""
    days = tuple(
        DayShare(TODAY - timedelta(days=70 - 7 * n), 5 - n // 2, 5, 0.9 - 0.05 * n, 0.5, 0.9)
        for n in range(10)
    )
    history = OwnHistory(
        days=days, slope=-0.4, years=0.5, slope_range=(-0.9, -0.1), chance_falling=0.0012,
        pairs=3, same=2, kappa=(0.4, 0.31), agreed=3, expected=2.4,
        calls=20, spiked=25, false_calls=4, blanks=76, false_call_rate=(0.058, 0.022, 0.109),
        d_prime=2.41, d_prime_range=(1.9, 2.9), criterion=0.31,
        yes_no=YesNo(5, 8, 2, 6, 0.9, 0.2),
    )  # fmt: skip
    rating = RatingRow("DMS", 4, 2, 0.71, (0.44, 1.6), 0.71, 2, 18.0, 0.051, 0.71, 2.2, 0.8, 4)
    alarm = "Maren has missed more than before since 3 November, most of all DMS."
    return PersonFigures(history, (rating,), alarm if person_id == "p1" else "")


def _curve(glasses):
    points = []
    for number in range(glasses):
        mean = 2 ** (1.6 - 0.13 * number)
        spread = 2 ** (1.2 - 0.05 * number)
        day = TODAY - timedelta(days=6 + 27 * (glasses - number))
        points.append(ThresholdPoint(day, mean, mean / spread, mean * spread))
    return tuple(points)
