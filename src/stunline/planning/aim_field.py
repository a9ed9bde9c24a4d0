"""The aim that goes with a pace, height and side: solved at some, between them interpolated.

A pot's aim turns with throw, squirt and swerve, smoothly, by far less than the pocket forgives.
So it is solved properly on a coarse lattice, and every strike takes what lies between.
"""

from __future__ import annotations

import itertools

import numpy as np
from numpy.typing import NDArray

from stunline.errors import UnsolvableShotError
from stunline.planning.clearance import least_elevation
from stunline.planning.request import Ranges, Request
from stunline.shot.aiming.pot_along import PotAlong
from stunline.shot.aiming.solve import Solver
from stunline.shot.position import DirectAim, Position, PotAim, Strike, StrikePlan

Floats = NDArray[np.float64]

# Knots along pace, height and side. Cubic between them; the pot's own windows, which differ
# little off the direct line, are solved at every second one.
_KNOTS = (9, 9, 5)
_FEWEST = 4  # that a cubic needs


class AimField:
    """Aims over a range of strikes, for one request."""

    def __init__(self, asked: Request, ranges: Ranges) -> None:
        """
        Raises:
            UnsolvableShotError: no strike of the range can be aimed so at all.
        """
        self._aim = asked.aim
        self._spans = (ranges.pace, ranges.height, ranges.side)
        self._least = asked.base.elevation
        self._position = asked.position
        self._knots = [
            np.linspace(*span, count) if span[1] > span[0] else np.array([span[0]])
            for span, count in zip(self._spans, _KNOTS, strict=True)
        ]
        if isinstance(asked.aim, DirectAim):
            self._way = asked.aim.angle
            self._aims = np.full([len(knots) for knots in self._knots], asked.aim.angle)
            return
        self._way = _rough_way(asked.position, asked.aim)
        self._aims = self._solved(asked)

    def _solved(self, asked: Request) -> Floats:
        """Aims at the knots. [rad]"""
        solver = Solver(asked.position)
        aims: Floats = np.full([len(knots) for knots in self._knots], np.nan)
        refusal: UnsolvableShotError | None = None
        windows = PotAlong(check_with_all=False)
        for at in itertools.product(*(range(len(knots)) for knots in self._knots)):
            pace, height, side = (float(k[i]) for k, i in zip(self._knots, at, strict=True))
            plan = StrikePlan(asked.aim, pace, height, side, self.elevation(height))
            try:
                aims[at] = _solve(solver, plan, windows)
            except UnsolvableShotError as error:
                refusal = refusal or error
        if refusal is not None and np.isnan(aims).all():
            raise refusal
        return _filled(aims)

    def elevation(self, height: float) -> float:
        """The least that clears what lies behind the white. [rad]"""
        return least_elevation(self._position, self._way, height, self._least)

    def aims(self, paces: Floats, heights: Floats, sides: Floats) -> Floats:
        """(N,) for (N,) strikes within the range. [rad]"""
        from scipy.interpolate import RegularGridInterpolator

        axes = [k for k, knots in enumerate(self._knots) if len(knots) > 1]
        if not axes:
            return np.full(len(paces), self._aims.flat[0])
        points = np.stack([(paces, heights, sides)[k] for k in axes], axis=1)
        knots = [self._knots[k] for k in axes]
        values = self._aims.reshape([len(one) for one in knots])
        low, high = np.array([(one[0], one[-1]) for one in knots]).T
        field = RegularGridInterpolator(knots, values, method="cubic")
        found: Floats = field(np.clip(points, low, high))
        return found

    def exact(self, strike: Strike) -> Strike:
        """The strike with its aim solved properly; as it is when that fails."""
        if isinstance(self._aim, DirectAim):
            return strike
        plan = StrikePlan(self._aim, strike.pace, strike.height, strike.side, strike.elevation)
        try:
            return Solver(self._position).solve(plan).strike
        except UnsolvableShotError:
            return strike


def _solve(solver: Solver, plan: StrikePlan, windows: PotAlong) -> float:
    if not isinstance(plan.aim, PotAim):
        return solver.solve(plan).strike.aim
    direct = solver.direct(plan)
    try:
        return windows.solve(solver.prepared, plan.aim, direct, _quietly)[0].aim
    except UnsolvableShotError:
        return direct.aim


def _quietly(*_: object) -> UnsolvableShotError:
    from stunline.errors import Fault

    return UnsolvableShotError("pocket-closed", Fault("no aim pots"))


def _filled(aims: Floats) -> Floats:
    """Knots that can't be aimed take the nearest that can."""
    from scipy.ndimage import distance_transform_edt

    missing = np.isnan(aims)
    if not missing.any():
        return aims
    nearest = distance_transform_edt(missing, return_distances=False, return_indices=True)
    filled: Floats = aims[tuple(nearest)]
    return filled


def _rough_way(position: Position, aim: object) -> float:
    """About where the cue points: at the object ball. [rad]"""
    from stunline.shot import plane

    ball = position.balls[aim.ball]  # type: ignore[attr-defined]
    return plane.angle(plane.between(position.balls[position.names[0]], ball))
