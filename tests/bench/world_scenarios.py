"""What invented worlds are like and how much is tasted in them.

The truth is on purpose not the model's: people have slopes of their own, are better or worse at all
compounds together, some lack a compound altogether, some name it wrongly, thresholds wander about a
level of their own, and one person of each panel suddenly loses half of the compounds.
"""

from dataclasses import dataclass, replace
from typing import Final

GLASSES: Final = 7
SPIKED_SHARE: Final = 0.8
ATTENDANCE: Final = 0.85


@dataclass(frozen=True)
class Scenario:
    """What is true in a world; thresholds and spreads are log2 multiples.

    Attributes:
        name: For the command line.
        says: For the table.
        is_logistic: Whether a flavour is perceived by a log-logistic curve, not by signal
            detection.
        wander_sd: Spread of the slow drift, which forgets itself in two years.
        loss: How much the unlucky person of each panel loses, in half of the compounds.
        loss_between: When, as parts of the 18 months.
        dose_sd: Error of a preparation, shared by everybody who drinks it.
        misnaming: Share of cells that name rightly in only 10 to 70 % of what is perceived.
        slope_log_sd: Slopes between people, sd of the natural logarithm.
        forced_share: Share of forced choices among the spiked glasses.
        background: Multiple that is in every beer already, in the reference glass too.
        families: Beer families, served in turns of chance.
        family_gap_sd: How far a cell's threshold in the second family lies from the first.
        favourite: Share of blind guesses that fall on one name, a person's favourite.
        improving: By how much everybody's thresholds fall in a year.
    """

    name: str
    says: str
    is_logistic: bool = False
    wander_sd: float = 0.4
    loss: float = 2.5
    loss_between: tuple[float, float] = (0.3, 0.8)
    dose_sd: float = 0.25
    misnaming: float = 0.10
    slope_log_sd: float = 0.25
    forced_share: float = 0.0
    background: float = 0.0
    families: int = 1
    family_gap_sd: float = 0.0
    favourite: float = 0.0
    improving: float = 0.0


BASE: Final = Scenario("base", "base")
SCENARIOS: Final = (
    BASE,
    Scenario("logistic", "log-logistic detection", is_logistic=True),
    Scenario("still", "nothing moves", wander_sd=0.0, loss=0.0),
    Scenario("restless", "slow drift twice as large", wander_sd=0.8),
    Scenario("dosing", "dosing error .6", dose_sd=0.6),
    Scenario("misnaming", "20 % misnaming", misnaming=0.20),
    Scenario("slopes", "slopes spread .5", slope_log_sd=0.5),
    Scenario("forced", "a third forced choices", forced_share=1 / 3),
    Scenario("background", "background .5x, a third forced", background=0.5, forced_share=1 / 3),
    Scenario("families-0", "two beer families, alike", families=2),
    Scenario("families-half", "two beer families, gap .5", families=2, family_gap_sd=0.5),
    Scenario("families-one", "two beer families, gap 1", families=2, family_gap_sd=1.0),
    Scenario("partner", "wrong names are one partner's", favourite=0.5),
    Scenario("improving", "everybody gains 1 log2 a year", improving=1.0),
)
LATE_LOSS: Final = replace(BASE, name="late-loss", says="late loss", loss_between=(2 / 3, 1.0))


@dataclass(frozen=True)
class Size:
    """How much is invented.

    Attributes:
        panels: Panels R.
        people: People a panel P.
        compounds: Compounds K.
        answers: Mean answers of a cell in 18 months.
    """

    panels: int = 30
    people: int = 8
    compounds: int = 10
    answers: int = 8

    @property
    def sessions(self) -> int:
        """Sessions after which a cell has that many answers."""
        a_session = GLASSES * SPIKED_SHARE * ATTENDANCE
        return max(5, round(self.answers * self.compounds / a_session))
