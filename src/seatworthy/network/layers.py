"""The layers around the server, from the outermost to the innermost."""

from collections.abc import Callable
from typing import Any

from seatworthy.network.bodies import Bodies
from seatworthy.network.gate import Gate
from seatworthy.network.guesses import GuessGuard
from seatworthy.network.headers import SecurityHeaders
from seatworthy.network.hosts import KnownHosts
from seatworthy.network.origins import OwnOrigins
from seatworthy.network.pace import Pace
from seatworthy.network.paths import PlainPaths
from seatworthy.network.refusals import Refusals
from seatworthy.network.settings import NetworkSettings

Layer = tuple[type[Any], dict[str, Any]]


def layers(
    settings: NetworkSettings,
    is_leader: Callable[[str], bool],
    is_brewer: Callable[[str], bool] = lambda _: False,
) -> list[Layer]:
    """Each layer's class and what it is made with besides the server behind it.

    What costs least to find out is found out first, and nothing of a body is read before it is
    known who sends it.

    Args:
        settings: How the server stands in its network.
        is_leader: Whether a ticket is the leader's.
        is_brewer: Whether a ticket is a brewer's.
    """
    refusals = Refusals()
    told: dict[str, Any] = {"refusals": refusals}
    around: list[Layer] = [
        (SecurityHeaders, {}),
        (KnownHosts, {"hosts": settings.hosts, **told}),
        (PlainPaths, told),
        (OwnOrigins, told),
        (Pace, told),
    ]
    if settings.is_lan:
        around.append((Gate, {"is_leader": is_leader, "is_brewer": is_brewer, **told}))
    return [*around, (Bodies, told), (GuessGuard, told)]
