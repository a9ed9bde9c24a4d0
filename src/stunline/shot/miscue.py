"""How near the tip is to slipping off the white, and how often a player's does."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from stunline.equipment.player import Player, load_player
from stunline.shot.aiming.strike_limits import named_height, tip_limits
from stunline.shot.position import NamedHeight, Position, StrikePlan

# From so many strokes in 100 on, a miscue is told of within the advised limit too: at that limit
# a club player's share. Chosen here, no source.
WORTH_SAYING = 0.2
_NODES = 64  # of the rule that integrates over the side; good to 1e-3 or better
_ROUNDING = 1e-9  # a contact on the limit is within it [m]
_MM = 1000.0
_PERCENT = 100.0
Lengths = Callable[[float], str]


def _in_mm(length_mm: float) -> str:
    return f"{length_mm:.1f} mm"


def is_past_advised(position: Position, height: float, side: float) -> bool:
    """Whether a contact point is further out than is advised. height, side: [m]"""
    return math.hypot(height, side) > tip_limits(position)[0] + _ROUNDING


def miscue_chance(position: Position, height: float, side: float, player: Player) -> float:
    """The share of a player's strokes whose tip lands beyond the miscue limit. [-]

    Errors of height and side are normal and independent: outside a circle about the centre, the
    side by Gauss's rule, the height by the error function.

    Args:
        height, side: of the contact point that is meant [m]
    """
    _, limit = tip_limits(position)
    nodes, weights = np.polynomial.hermite_e.hermegauss(_NODES)
    kept = 0.0
    for node, weight in zip(nodes.tolist(), weights.tolist(), strict=True):
        across = side + player.side * node
        if abs(across) < limit:
            up = math.sqrt(limit * limit - across * across)
            kept += weight * _between(-up, up, height, player.height)
    return min(max(1.0 - kept / math.sqrt(2.0 * math.pi), 0.0), 1.0)


def _between(low: float, high: float, middle: float, deviation: float) -> float:
    """The share of a normal distribution within a span."""
    if deviation == 0.0:
        return float(low <= middle <= high)
    scale = deviation * math.sqrt(2.0)
    return 0.5 * (math.erf((high - middle) / scale) - math.erf((low - middle) / scale))


def miscue_words(
    position: Position,
    height: float,
    side: float,
    player: Player | None = None,
    lengths: Lengths = _in_mm,
) -> str:
    """A sentence when the tip is past the advised limit or slips off often; else "".

    Args:
        height, side: of the contact point [m]
        player: the usual one when None
        lengths: how a length in mm is told
    """
    who = player or load_player("")
    share = miscue_chance(position, height, side, who)
    past = is_past_advised(position, height, side)
    if not past and share < WORTH_SAYING:
        return ""
    advised, slips = (lengths(_MM * one) for one in tip_limits(position))
    out = lengths(_MM * math.hypot(height, side))
    whose = "a player's like this" if player else f"a {who.name} player's"
    often = f"{whose} does on {_PERCENT * share:.0f} % of strokes (scatter assumed)."
    if past:
        return (
            f"The tip is {out} from the centre, past the advised limit of {advised} and short of "
            f"{slips}, where it slips off: {often}"
        )
    return f"The tip is {out} from the centre and slips off past {slips}: {often}"


def plan_miscue_words(position: Position, plan: StrikePlan) -> str:
    """The same of what a file asks for; "" where its height is still to be found."""
    height = plan.height
    if isinstance(height, NamedHeight):
        height = named_height(position, height, plan.side)
    return miscue_words(position, height, plan.side) if isinstance(height, float) else ""
