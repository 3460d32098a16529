"""Hostile plans: a wish that can't be is refused, and every plan keeps its promises."""

from pathlib import Path
from random import Random

from fuzz_clear import check_clear, fail
from fuzz_plan_promises import judge
from fuzz_plan_wishes import SHELF, TODAY, ZONE, good_wish, people, spoiled

from seatworthy.errors import PanelError
from seatworthy.sessions.layout import lay_out


class Plans:
    """The field of plans.

    Args:
        folder: Not used; a wish is no file.
    """

    name, share = "plan", 36

    def __init__(self, folder: Path) -> None:
        self.taken = {str(code) for code in range(100, 400, 7)}

    def attempt(self, draw: Random) -> bool:
        """Try one wish; whether it was accepted."""
        wish, facts = good_wish(draw), people(draw)
        for _ in range(draw.choice((0, 1, 1, 1, 2))):
            wish = spoiled(draw, wish)
        taken = self.taken if draw.random() < 0.9 else {str(code) for code in range(100, 995)}
        try:
            plan = lay_out(wish, SHELF, facts, taken, TODAY, ZONE)
        except PanelError as refused:
            check_clear(refused)
            return False
        judge(wish, plan, facts, taken)
        if draw.random() < 0.1 and lay_out(wish, SHELF, facts, taken, TODAY, ZONE) != plan:
            fail("the same wish gives two plans")
        return True
