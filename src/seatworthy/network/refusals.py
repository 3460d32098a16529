"""What was refused, told once a minute for each kind and machine, and never with a secret."""

import logging
import time
from collections import OrderedDict
from collections.abc import Callable
from typing import Final

from seatworthy.network.asgi import Message, client_of

_EVERY_S: Final = 60.0
_REMEMBERED: Final = 1_000
_SHOWN: Final = 24  # letters of the first part of an address
_logger = logging.getLogger("seatworthy.network")


class Refusals:
    """Writes refusals to the log of the server.

    Args:
        clock: Seconds that only grow.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._told: OrderedDict[tuple[str, str], float] = OrderedDict()

    def tell(self, kind: str, scope: Message) -> None:
        """Log one refusal, unless the same was told of the same machine a moment ago.

        Of the address only its first part is told: what follows may be a ballot's secret.
        """
        key, now = (kind, client_of(scope)), self._clock()
        told = self._told.get(key)
        if told is not None and now - told < _EVERY_S:
            return
        self._told[key] = now
        self._told.move_to_end(key)
        while len(self._told) > _REMEMBERED:
            self._told.popitem(last=False)
        first = scope.get("path", "").lstrip("/").partition("/")[0][:_SHOWN]
        _logger.warning("Refused, %s: from %s at /%s", kind, key[1] or "?", ascii(first)[1:-1])
