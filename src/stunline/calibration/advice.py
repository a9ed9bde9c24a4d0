"""What to measure next: which shots of the menu would narrow most what is to be foretold.

A play of a shot tells of the shared unknowns by its readings' slopes J there and O along its own
unknowns: information ``JᵀV⁻¹J`` with ``V = I + OOᵀ``, in units of the readings' errors; the
posterior's covariance C becomes ``(C⁻¹ + JᵀV⁻¹J)⁻¹`` (linear models with normal errors; Chaloner &
Verdinelli, Bayesian experimental design, 1995, from memory). Slopes hang on how the ball is
struck, so they are taken for several strokes and the covariances averaged. Shots are chosen one
after the other, each with those before it counted as played: not three times the same tale.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stunline.calibration.fit import Fit
from stunline.calibration.menu import BY_ID, CUSHION, MENU, OBJECT_CUSHION, TIME, GaugingShot
from stunline.calibration.predict import STROKE_PACE, Job, Predictor
from stunline.calibration.problem import Problem
from stunline.calibration.record import HAND_TIME, READING, Play, Reading, Record, set_up_places
from stunline.calibration.targets import Target, ends_of

Floats = NDArray[np.float64]

NEXT = 3  # shots advised
# Three more shots that narrow the band by less than the reading of one place are not worth it. [m]
WORTH = READING
_STROKES = 8  # of each shot, for its slopes
_PACE_SCATTER = 0.15  # of a stroke about the pace asked for, on the logarithm [A]
_TURNS = 40.0  # of a twirled ball
_SEED = 11  # any; advice on the same record is the same each time


@dataclass(frozen=True, slots=True)
class Advised:
    """A shot to play next.

    Attributes:
        shot: of the menu
        band: half of the 90 % band once it has been played, the shots before it too [m]
        through: unknowns that it narrows the band through, and their shares of that, the most
            helpful first
    """

    shot: GaugingShot
    band: float
    through: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Advice:
    """What more shots would be good for.

    Attributes:
        targets: names of the shots foretold
        band: half of the 90 % band of the white's end now, root mean square over the targets [m]
        alone: the band after one play of each shot of the menu, by its id [m]
        best: the best next ones, in order
        after: expected covariance of the shared unknowns when they have been played, standard
    """

    targets: tuple[str, ...]
    band: float
    alone: dict[str, float]
    best: tuple[Advised, ...]
    after: Floats

    @property
    def gain(self) -> float:
        """By how much the best next ones together narrow the band. [m]"""
        return self.band - self.best[-1].band

    @property
    def enough(self) -> bool:
        """Whether they would narrow it by less than a place can be read."""
        return self.gain < WORTH


def advise(fit: Fit, targets: Sequence[Target]) -> Advice:
    """Which shots of the menu to play next.

    Raises:
        ArithmeticError: the white falls in one of the targets, so its end can't be narrowed.
    """
    covariance = fit.shared_covariance
    ends = ends_of(targets, fit.predictor, fit.shared, covariance)
    tells = told_by_menu(fit)
    alone = {name: ends.band(expected(covariance, each)) for name, each in tells.items()}
    best: list[Advised] = []
    for _ in range(NEXT):
        after = {name: expected(covariance, each) for name, each in tells.items()}
        name = min(after, key=lambda one: ends.spread(after[one]))
        through = _through(ends.shares(covariance, after[name]), fit)
        covariance = after[name]
        best.append(Advised(BY_ID[name], ends.band(covariance), through))
    names = tuple(one.name for one in targets)
    return Advice(names, ends.band(fit.shared_covariance), alone, tuple(best), covariance)


def _through(shares: Floats, fit: Fit) -> tuple[tuple[str, float], ...]:
    """Unknowns with their shares, the most helpful first."""
    names = [prior.name for prior in fit.predictor.priors]
    found = zip(names, shares.tolist(), strict=True)
    return tuple(sorted(found, key=lambda one: -one[1]))


def expected(covariance: Floats, told: list[Floats]) -> Floats:
    """Covariance after a play whose information is one of these, each as likely as the others."""
    size = np.eye(len(covariance))
    # C(I + IC)⁻¹: no inverse of C, which may be nearly singular.
    each = [covariance @ np.linalg.inv(size + one @ covariance) for one in told]
    mean: Floats = np.mean(each, axis=0)
    return 0.5 * (mean + mean.T)


def told_by_menu(fit: Fit) -> dict[str, list[Floats]]:
    """For each shot of the menu what a play of it tells, for several strokes: (n, n) each."""
    shared = fit.shared
    record = replace(fit.record, plays=_menu_plays(fit), unplayed=())
    problem = Problem(Predictor(record))
    own = _strokes(problem)
    tells: dict[str, list[Floats]] = {play.shot.id: [] for play in record.plays}
    for row in own:
        slopes = problem.jacobian(np.concatenate([shared, row]))
        for k, play in enumerate(record.plays):
            rows = problem.rows(k)
            on_shared = slopes[rows, : problem.shared]
            on_own = slopes[rows, problem.own(k)]
            errors = np.eye(len(on_own)) + on_own @ on_own.T
            tells[play.shot.id].append(on_shared.T @ np.linalg.solve(errors, on_shared))
    return tells


def _strokes(problem: Problem) -> Floats:
    """(N, own) each play's own unknowns, as people and ramps scatter."""
    predictor = problem.predictor
    names = [name for play in predictor.record.plays for name in predictor.own_names(play)]
    rows = np.random.default_rng(_SEED).normal(size=(_STROKES, len(names)))
    pace = np.array([name == "pace" for name in names])
    rows[:, pace] *= _PACE_SCATTER / STROKE_PACE
    return rows


def _menu_plays(fit: Fit) -> tuple[Play, ...]:
    """Each shot of the menu as set up there, with the readings that it should give."""
    plays = [_blank(shot, fit.record) for shot in MENU]
    predictor = Predictor(replace(fit.record, plays=tuple(plays), unplayed=()))
    kept = []
    for k, play in enumerate(plays):
        own = np.zeros(len(predictor.own_names(play)))
        touched = predictor.cushions_met(Job(k, fit.shared, own)) if play.object else {}
        readings = tuple(
            replace(one, cushion=touched.get(one.kind, -1))
            for one in play.readings
            if one.kind not in (CUSHION, OBJECT_CUSHION) or one.kind in touched
        )
        kept.append(replace(play, readings=readings))
    return tuple(kept)


def _blank(shot: GaugingShot, record: Record) -> Play:
    white, other = set_up_places(shot, record.table)
    readings = [_expected(kind) for kind in shot.readings if kind != "turns"]
    return Play(shot.id, shot, white, other, shot.aim, shot.drop, tuple(readings), _TURNS)


def _expected(kind: str) -> Reading:
    if kind == TIME:
        return Reading(kind, (5.0,), HAND_TIME)
    if kind in (CUSHION, OBJECT_CUSHION):
        return Reading(kind, (1.0,), READING, 0)
    return Reading(kind, (1.0, 1.0), READING)
