"""The same pot again and again, with something changed a little each time.

From one value to the next the window of aims moves little beside the direct line, so it is
looked for where it was. That takes a quarter of the plays of a search from nothing.
"""

from __future__ import annotations

from collections.abc import Callable

from stunline.shot.aiming.contact_aim import aimed
from stunline.shot.aiming.pot_aim import (
    PotWindow,
    Why,
    balls_near_the_ways,
    direct_strike,
    goes_in,
    solve_pot,
)
from stunline.shot.aiming.pot_refusal import refusal
from stunline.shot.aiming.root_search import last_true
from stunline.shot.play import Prepared
from stunline.shot.position import PotAim, Strike

# Edges are closed in to this. [rad] A five hundredth of a narrow window: its middle is off by
# less than a tenth of what the scans that use this may interpolate.
_EDGE_TOLERANCE = 1e-6
# First step past an edge where it was, over the window's width, and how much longer each next
# one is. [-] Most edges move less than the first step from one value to the next.
_FIRST_STEP, _LONGER = 0.03, 4.0
_MOST_STEPS = 5  # from 0.03 of the width to 8 times it; then the search begins from nothing

Test = Callable[[float], bool]


class PotAlong:
    """Solves one pot on one position for strikes that differ little from the one before.

    Its windows are those of ``solve_pot`` to ``_EDGE_TOLERANCE``, except that it stays in the
    window that it is in while another becomes the wider one.
    """

    def __init__(self, check_with_all: bool = True) -> None:
        """``check_with_all``: whether the aim found is played with balls far away as well.

        Who plays the shot anyway sees by that whether they were in the way.
        """
        self._check_with_all = check_with_all
        self._window: tuple[float, float] | None = None  # its edges, off the direct line [rad]

    def solve(
        self, prepared: Prepared, pot: PotAim, strike: Strike, why: Why = refusal
    ) -> tuple[Strike, PotWindow]:
        """As ``solve_pot``.

        Raises:
            UnsolvableShotError: as there.
        """
        direct = direct_strike(prepared, pot, strike)
        found = self._near_the_last(prepared, pot, direct)
        if found is None:
            _, found = solve_pot(prepared, pot, strike, why)
        self._window = (found.low - direct.aim, found.high - direct.aim)
        return aimed(strike, found.aim), found

    def _near_the_last(self, prepared: Prepared, pot: PotAim, direct: Strike) -> PotWindow | None:
        """The window about where the last one was, or None."""
        if self._window is None:
            return None
        near = prepared.only(balls_near_the_ways(prepared.position, pot))

        def made(aim: float) -> bool:
            return goes_in(near, pot, aimed(direct, aim))

        low, high = (direct.aim + off for off in self._window)
        middle, step = 0.5 * (low + high), _FIRST_STEP * (high - low)
        if not made(middle):
            return None
        left, right = _edge(made, middle, low, -step), _edge(made, middle, high, step)
        if left is None or right is None:
            return None
        window = PotWindow(0.5 * (left + right), left, right)
        if near is prepared or not self._check_with_all:
            return window
        return window if goes_in(prepared, pot, aimed(direct, window.aim)) else None


def _edge(made: Test, inside: float, guess: float, step: float) -> float | None:
    """The last aim that pots on the side to which ``step`` goes, looked for about a guess."""
    true_at, false_at = inside, guess
    if made(guess):
        true_at, false_at = guess, guess + step
        for _ in range(_MOST_STEPS):
            if not made(false_at):
                break
            true_at, step = false_at, step * _LONGER
            false_at = true_at + step
        else:
            return None
    else:
        # Back towards the inside, until it pots.
        nearer = guess - step
        while (nearer - inside) * step > 0.0 and not made(nearer):
            false_at, step = nearer, step * _LONGER
            nearer = guess - step
        true_at = nearer if (nearer - inside) * step > 0.0 else inside
    return last_true(made, true_at, false_at, _EDGE_TOLERANCE)
