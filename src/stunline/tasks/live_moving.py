"""What a page's last plays have found, for the next one while something is still moving."""

from __future__ import annotations

from stunline.shot.aiming.pot_aim import solve_pot
from stunline.shot.aiming.pot_along import PotAlong
from stunline.shot.aiming.solve import Potting
from stunline.shot.position import Aim, PotAim


class LastPot:
    """Where the window of aims was beside the direct line.

    From one place of a dragged ball to the next it moves little, so it is looked for there. Once
    nothing moves, the pot is solved afresh.
    """

    def __init__(self) -> None:
        self._pot: PotAim | None = None
        self._along = PotAlong(check_with_all=False)

    def potting(self, aim: Aim) -> Potting:
        """How to turn the cue for this aim, much like the one before."""
        if not isinstance(aim, PotAim):
            return solve_pot
        if aim != self._pot:
            self._pot, self._along = aim, PotAlong(check_with_all=False)
        return self._along.solve
