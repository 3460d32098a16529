"""An invented session on paper: nine people, eight glasses, two sittings, spares, long names."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal

from seatworthy.steps.paper_views import (
    PaperGlass,
    PaperOrder,
    PaperRecipe,
    PaperSample,
    PaperSitting,
    PaperView,
)
from seatworthy.steps.reveal_views import FeedbackGlass, FeedbackView, ProgressRow

EARLY = (
    "Maren Thode",
    "Łukasz Wrzos",
    "Goran Petrić",
    "Ελένη Παππά",
    "Олена Шевчук",
    "Bartholomäus Friedrich von und zu Hohenwarth-Oberstaufenbach",
    "Tomás Quill",
    "Iker Solana",
    "Odile Perrin",
)
LATE = ("Bashir Nourad", "Hana Itō", "Greta Lindholm")
NAMES_OFFERED = (
    "Acetaldehyde", "Acetic acid", "Butyric acid", "Caprylic", "Chlorophenolic", "Clove", "Diacetyl",
    "DMS", "Earthy", "Ethyl acetate", "Ethyl hexanoate", "Isoamyl acetate", "Isovaleric acid",
    "Lightstruck", "Metallic", "Papery", "Sulfidic",
)  # fmt: skip
LONG_ADDITION = (
    "0.42 ml of the 10 mg/l stock in ethanol of 12 November, from the brown bottle at the back, "
    "into 1.2 l, stirred slowly."
)
SAMPLES = (
    ("A", "Diacetyl", "3", "18 µl of the 10 mg/l stock in 1.2 l", "Never sniff the stock", "day"),
    ("B", "nothing added", None, "", "", ""),
    ("C", "DMS", "2.5", LONG_ADDITION, "Very volatile; open it under extraction", "hours"),
    ("D", "Papery", "3", "12 µl in 1.2 l", "Gloves and eye cover", ""),
    ("E", "Ethyl hexanoate", "1.25", "420 µl in 0.7 l", "Gloves and eye cover", ""),
    ("F", "Acetaldehyde", "12", "2.4 ml in 0.7 l", "Keep it cold and sealed", "hours"),
)
LETTERS = "AABBCDEFCDEF"
HOSTILE = (
    "=HYPERLINK(1) **bold** __x__ \\ ( ) <b> {nb} \u202e\u00ad\x00\x07\tend",
    "👩‍🔬 مرحبا 日本語 ẞ ﷽",
    "W" * 60,
    "é́̂" * 20,
)


def invented_paper(people=(EARLY, LATE), glasses=8, spares=1, samples=SAMPLES, **changes):
    sittings = tuple(
        _sitting(number, names, glasses, spares, samples) for number, names in enumerate(people)
    )
    view = PaperView(
        session_id="s9",
        session_on=date(2026, 11, 26),
        label="Thursday panel",
        purpose="qualification",
        brewery="Ottersgrund Brewery",
        beer="House pils",
        family="Pale lagers",
        volume_ml=Decimal(40),
        control_ml=Decimal(40),
        sittings=sittings,
        names_offered=NAMES_OFFERED,
        not_served=("Goran Petrić is not to be served DMS.",),
        alcohol="9 glasses of 40 ml at 4.8% hold 13.6 g of alcohol; everybody spits, which counts as "
        "2.7 g of 8 g.",
        preparers=("Iker Solana",),
        printed_at=datetime(2026, 11, 26, 9, 15),
    )
    return replace(view, **changes)


STOCK = "diacetyl, 1 g/l in ethanol, lot 12-B"
FINE, BLUE = "fine 100", "blue 200"
# Mark, label, compound, stock, pipette, take, total, level, how far off, takes out first, keeps hours.
DOSED = (
    ("A", "nothing added", "", "", FINE, "", "", None, None, False, None),
    ("B", "Papery", "papery", "trans-2-nonenal, 10 mg/l, lot N3", FINE, "1 shot of 15 µl", "",
     "1.5", 0.11, False, "24"),
    ("C", "Papery", "papery", "trans-2-nonenal, 10 mg/l, lot N3", FINE, "1 shot of 30 µl", "",
     "3", 0.2, False, "24"),
    ("D", "Diacetyl", "diacetyl", STOCK, BLUE, "3 shots of 110 µl", "330 µl in all", "3.02",
     0.18, True, "48"),
    ("E", "DMS", "dms", "dimethyl sulfide, 50 mg/l in water, lot 7, chilled", BLUE,
     "2 shots of 165 µl", "330 µl in all", "2.5", 0.3, True, "12"),
    ("F", "Acetaldehyde", "acetaldehyde", "acetaldehyde capsules, lot 88", "", "2 units", "",
     "12", None, False, "12"),
)  # fmt: skip


def invented_recipes(per_sample=2, is_shared=False, **changes):
    """The same session with doses worked out from a bench, in the order of work."""
    view = invented_paper(**changes)
    sittings = tuple(
        replace(sitting, samples=_dosed(sitting, number, per_sample, is_shared))
        for number, sitting in enumerate(view.sittings)
    )
    notes = ("D could be had with one shot of 330 µl from a larger pipette.",)
    return replace(view, sittings=sittings, bench_notes=notes)


def _dosed(sitting, number, per_sample, is_shared):
    poured = [glass.mark for order in sitting.orders for glass in order.glasses]
    caution = {mark: text for mark, *_, text, _ in SAMPLES}
    first = 1 if is_shared else 1 + number * per_sample
    return tuple(
        PaperSample(
            dosed[0], dosed[1], dosed[7] and Decimal(dosed[7]), "", poured.count(dosed[0]),
            Decimal(40 * poured.count(dosed[0])), caution[dosed[0]] if dosed[2] else "", "hours",
            compound=dosed[2],
            recipe=_recipe(
                dosed, sitting.starts_at, is_shared,
                tuple(f"{dosed[0]}{first + n}" for n in range(per_sample)),
            ),
        )
        for dosed in DOSED
    )  # fmt: skip


def _recipe(dosed, starts_at, is_shared, vessels):
    _, _, compound, stock, pipette, take, total, level, off, out_first, keeps_h = dosed
    return PaperRecipe(
        stock=stock,
        pipette=pipette,
        take=take,
        total=total,
        into_ml=Decimal(330),
        vessels=vessels,
        is_shared=is_shared,
        level=level and Decimal(level),
        level_off=off,
        ethanol="" if compound else "30 µl of ethanol",
        takes_out_first=out_first,
        prepare_from=starts_at - timedelta(hours=int(keeps_h)) if keeps_h else None,
        prepare_until=starts_at - timedelta(minutes=30),
        keeps_h=keeps_h and Decimal(keeps_h),
    )


def _sitting(number, names, glasses, spares, samples):
    orders = [
        PaperOrder(name, False, _glasses(number, seat, glasses)) for seat, name in enumerate(names)
    ]
    orders += [
        PaperOrder(f"Spare {n + 1}", True, _glasses(number, len(names) + n, glasses))
        for n in range(spares)
    ]
    poured = [glass.mark for order in orders for glass in order.glasses]
    vessels = tuple(
        PaperSample(
            mark, label, level and Decimal(level), addition, poured.count(mark),
            Decimal(40 * poured.count(mark)), caution, keeping,
        )
        for mark, label, level, addition, caution, keeping in samples
    )  # fmt: skip
    label, hour = (("Early shift", 10), ("Late shift", 14))[number]
    return PaperSitting(label, datetime(2026, 11, 26, hour, 30), vessels, tuple(orders))


def _glasses(sitting, seat, glasses):
    order = LETTERS[:glasses]
    order = order[seat % glasses :] + order[: seat % glasses]
    return tuple(
        PaperGlass(place + 1, _code(sitting, seat * glasses + place), mark)
        for place, mark in enumerate(order)
    )


def _code(sitting, number):
    # 7 has no factor in common with 900, so no code comes twice; the second sitting counts down.
    start = 104 if sitting == 0 else 997
    return str(100 + (start + (7 if sitting == 0 else -7) * number) % 900)


def invented_own_page(name="Greta Lindholm", glasses=8, compounds=6, **changes):
    shown = (
        ("862", "nothing added", "nothing", "right", 8, 6, ""),
        ("593", "Ethyl hexanoate, 3×", "isoamyl acetate", "wrong", 8, 4, ""),
        ("417", "Papery, 3×", "papery", "right", 8, 3, ""),
        ("246", "DMS, 2.5×", "DMS", "right", None, None, ""),
        ("738", "Papery, 3×", "", "missed", 8, 0, "set aside: not counted"),
        ("159", "Acetaldehyde, 12×", "like the pears in my aunt's cellar", "open", 8, 5,
         "own words: not counted yet"),
        ("604", "nothing added", "diacetyl", "wrong", 8, 7, "you prepared it: kept, not counted"),
        ("385", "Diacetyl, 3×", "diacetyl", "right", 8, 8, ""),
    )  # fmt: skip
    rows = (
        ProgressRow("Papery", "met", 1, 2, 11, 12, 0.88, 0.76, 0.97, "kept until 26 May 2027"),
        ProgressRow("DMS", "too_little", 1, 1, 5, 7, 0.72, 0.53, 0.88,
                    "3 more glasses named right at 2× to 4× over 1 more day could meet it."),
        ProgressRow("Ethyl hexanoate", "not_met", 0, 1, 2, 6, 0.37, 0.17, 0.58, ""),
        ProgressRow("Acetaldehyde", "no_glasses", 0, 1, 0, 0, None, None, None, ""),
        ProgressRow("Diacetyl", "insensitive", 1, 1, 1, 9, 0.06, 0.01, 0.16,
                    "No fault; you aren't counted on for it."),
        ProgressRow("3-Methyl-2-butene-1-thiol", "met", 2, 2, 9, 9, 0.95, 0.86, 1.0, ""),
    )  # fmt: skip
    view = FeedbackView(
        session_id="s7",
        session_on=date(2026, 10, 29),
        session_label="Thursday panel",
        brewery="Ottersgrund Brewery",
        family="Pale lagers",
        person_id="p7",
        name=name,
        answer="You named DMS, which got past you last time. Four of eight right. Ethyl hexanoate "
        "passed for isoamyl acetate.",
        compared="Spiked glasses named right this time: 3 of 5; in the twelve months before: 21 of 30.",
        smell_next="Smell ethyl hexanoate and isoamyl acetate side by side, ten breaths apart. Ethyl "
        "hexanoate is the aniseed one, isoamyl acetate the banana one.",
        glasses=tuple(FeedbackGlass(place + 1, *(shown * 3)[place]) for place in range(glasses)),
        progress=tuple((rows * 2)[:compounds]),
        needed=0.7,
        reference_level=3.0,
        people=(),
    )
    return replace(view, **changes)


def invented_hostile():
    """A session in which everything that people type is long or strange."""
    long = "Kontrollverkostung der untergärigen Biere, zweite Runde, Nord"
    samples = tuple(
        (mark, "2,3-Pentanedione (vicinal diketone, honey-like) of the lot 12", level,
         LONG_ADDITION + " 日本", "Inhalation hazard. " * 8, "hours")
        for mark, _, level, *_ in SAMPLES
    )  # fmt: skip
    return invented_paper(
        people=((*HOSTILE, *EARLY[:4]), LATE),
        samples=samples,
        label=long,
        brewery=f"{long} 👩‍🔬",
        beer=long,
        names_offered=tuple(
            f"{name} (with a rather long label in it)" for name in NAMES_OFFERED * 3
        ),
        not_served=tuple(f"{name} is not to be served DMS and diacetyl." for name in HOSTILE),
    )
