"""How far each of aim, pace, height and side may be off alone before a demand fails."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.player import Player
from stunline.mechanics import layout
from stunline.planning.faults import fault_of
from stunline.planning.judge import Judge
from stunline.planning.scatter import met_of, play_struck

Floats = NDArray[np.float64]

NAMES = ("aim", "pace", "height", "side")
_COLUMNS = (
    layout.STRIKE_AIM,
    layout.STRIKE_PACE,
    layout.STRIKE_HEIGHT,
    layout.STRIKE_SIDE,
)
# As far as margins are looked for: [rad], share of the pace, [m]. Beyond that nothing fails.
FARTHEST = (0.05, 0.6, 0.02, 0.02)
# Steps outwards before the first failure is closed in; each a little longer than the last, so
# that small margins are not stepped over.
_STEPS = 40
_BLOCK = 8  # steps played together: most numbers fail within the first few
_HALVINGS = 22  # of a step: to a few ten-millionths of it


@dataclass(frozen=True, slots=True)
class Margin:
    """How far one number may be off alone.

    Attributes:
        minus, plus: to the right, softer, lower, left; and the other way: [rad], share of the
            pace, [m]; None where nothing fails as far as was looked
        fault_minus, fault_plus: what goes wrong just beyond, or ""
    """

    minus: float | None
    plus: float | None
    fault_minus: str
    fault_plus: str


@dataclass(frozen=True, slots=True)
class FirstFault:
    """The error that spoils a strike first, in standard deviations of the player.

    Attributes:
        name: "aim", "pace", "height" or "side"
        off: with its sign, in the margin's unit
        what: what goes wrong
    """

    name: str
    off: float
    what: str


def margins_of(judge: Judge, rows: Floats) -> list[dict[str, Margin]]:
    """For each of K strikes that meet the goal (K, 5), its margins by name.

    Every number is turned both ways in steps until a demand fails, and the first step that
    fails is halved, all strikes and directions together.
    """
    rays = [(k, axis, sign) for k in range(len(rows)) for axis in range(4) for sign in (-1, 1)]
    outwards = (np.arange(_STEPS + 1) / _STEPS) ** 1.5
    first = _first_failures(judge, rows, rays, outwards[1:])
    fails = first < _STEPS
    low = outwards[np.minimum(first, _STEPS - 1)]
    high = outwards[np.minimum(first + 1, _STEPS)]
    ends = np.flatnonzero(fails)
    for _ in range(_HALVINGS if len(ends) else 0):
        middle = 0.5 * (low[ends] + high[ends])
        halves = np.concatenate(
            [_along(rows, rays[n], middle[k : k + 1]) for k, n in enumerate(ends)]
        )
        holds, _ = met_of(judge, halves)
        low[ends], high[ends] = (
            np.where(holds, middle, low[ends]),
            np.where(holds, high[ends], middle),
        )
    beyond = np.concatenate([_along(rows, ray, high[n : n + 1]) for n, ray in enumerate(rays)])
    words = _fault_words(judge, beyond)
    found: list[dict[str, Margin]] = []
    for k in range(len(rows)):
        of_strike = {}
        for axis, name in enumerate(NAMES):
            n = 8 * k + 2 * axis
            sides = [
                (float(low[i]) * FARTHEST[axis], words[i]) if fails[i] else (None, "")
                for i in (n, n + 1)
            ]
            of_strike[name] = Margin(sides[0][0], sides[1][0], sides[0][1], sides[1][1])
        found.append(of_strike)
    return found


def _first_failures(
    judge: Judge, rows: Floats, rays: list[tuple[int, int, int]], outwards: Floats
) -> NDArray[np.int64]:
    """For each ray the first step at which a demand fails, as many as there are for none."""
    first = np.full(len(rays), len(outwards), dtype=np.int64)
    for begin in range(0, len(outwards), _BLOCK):
        left = [n for n in range(len(rays)) if first[n] == len(outwards)]
        if not left:
            break
        shares = outwards[begin : begin + _BLOCK]
        tried = np.concatenate([_along(rows, rays[n], shares) for n in left])
        failing = ~met_of(judge, tried)[0].reshape(len(left), len(shares))
        for n, row in zip(left, failing, strict=True):
            if row.any():
                first[n] = begin + int(row.argmax())
    return first


def first_fault(margins: dict[str, Margin], player: Player) -> FirstFault | None:
    """The error that this player makes soonest; None when none spoils the strike."""
    deviations = player.deviations
    found: list[tuple[float, FirstFault]] = []
    for name, margin in margins.items():
        for off, sign, what in (
            (margin.minus, -1.0, margin.fault_minus),
            (margin.plus, 1.0, margin.fault_plus),
        ):
            if off is not None and deviations[name] > 0.0:
                found.append((off / deviations[name], FirstFault(name, sign * off, what)))
    return min(found, key=lambda one: one[0])[1] if found else None


def _along(rows: Floats, ray: tuple[int, int, int], shares: Floats) -> Floats:
    """One strike with one number off by these shares of the farthest."""
    k, axis, sign = ray
    many: Floats = np.repeat(rows[k : k + 1], len(shares), axis=0)
    off = sign * shares * FARTHEST[axis]
    column = _COLUMNS[axis]
    many[:, column] = many[:, column] * (1.0 + off) if axis == 1 else many[:, column] + off
    return many


def _fault_words(judge: Judge, rows: Floats) -> list[str]:
    fine, batch, judgement = play_struck(judge, rows)
    numbers = np.cumsum(fine) - 1
    return [
        fault_of(judge, batch, judgement, int(numbers[k])) if fine[k] else "the tip slips off"
        for k in range(len(rows))
    ]
