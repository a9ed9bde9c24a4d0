"""Connected regions of strikes that meet a goal: each is an option of its own."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.player import Player
from stunline.planning.strike_space import StrikeSpace

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]

# Heights below this follow ratio are screw, above its negative follow; between lies stun. [-]
STUN = 0.25
PLAIN_SIDE = 1e-3  # a tip within this of the middle is without side [m]
KINDS = ("follow", "stun", "screw", "side")  # the kinder to a player, the earlier


@dataclass(frozen=True, slots=True)
class Region:
    """Strikes that hang together on the lattice.

    Attributes:
        strikes: how many
        candidates: rows of those that look most forgiving, the best first
    """

    strikes: int
    candidates: tuple[int, ...]


def regions_of(
    space: StrikeSpace, met: Flags, follow_ratios: Floats, player: Player, most: int
) -> list[Region]:
    """The regions, those with the most forgiving strikes first.

    How forgiving a strike is, is guessed from its neighbours: the share of them that meet the
    goal, weighed as the player's errors of pace, height and side fall. Errors of aim are left
    to the plays that follow.

    Args:
        met: (N,) which strikes of the space meet the goal
        follow_ratios: (N,) on arrival, to have a candidate of every kind of stroke
        most: regions given back
    """
    from scipy.ndimage import gaussian_filter, generate_binary_structure, label

    shape = space.shape
    grid = met.reshape(shape)
    labels, count = label(grid, structure=generate_binary_structure(3, 3))
    if count == 0:
        return []
    middle_pace = float(np.mean(space.axes[0]))
    deviations = (player.pace * middle_pace, player.height, player.side)
    widths = [
        0.0 if not np.isfinite(step) else deviation / step
        for deviation, step in zip(deviations, space.steps, strict=True)
    ]
    inside = space.struck.reshape(shape).astype(np.float64)
    kind = np.array([gaussian_filter(grid.astype(np.float64) * inside, widths, mode="constant")])
    promise = np.where(grid, kind[0], -1.0).ravel()
    numbers = labels.ravel()
    sizes = np.bincount(numbers, minlength=count + 1)
    best = np.full(count + 1, -1.0)
    np.maximum.at(best, numbers, promise)
    order = [int(k) for k in np.argsort(-best[1:], kind="stable")[:most] + 1]
    sides = space.rows[:, 3]
    return [
        Region(
            int(sizes[k]), _candidates(np.flatnonzero(numbers == k), promise, follow_ratios, sides)
        )
        for k in order
    ]


def _candidates(rows: Ints, promise: Floats, follow: Floats, sides: Floats) -> tuple[int, ...]:
    """The most promising row of the region, and of each kind of stroke in it."""
    kinds = np.array([kind_of(float(follow[row]), float(sides[row])) for row in rows])
    found = [int(rows[np.argmax(promise[rows])])]
    for kind in KINDS:
        of_kind = rows[kinds == kind]
        if len(of_kind):
            found.append(int(of_kind[np.argmax(promise[of_kind])]))
    return tuple(dict.fromkeys(found))


def kind_of(follow_ratio: float, side: float) -> str:
    """Follow, stun, screw, or side whatever the height."""
    if abs(side) > PLAIN_SIDE:
        return "side"
    if np.isnan(follow_ratio) or follow_ratio >= STUN:
        return "follow"
    return "screw" if follow_ratio <= -STUN else "stun"
