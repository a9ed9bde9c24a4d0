"""Where the white ends in shots that matter, on tables drawn from the doubt of a fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.stats import norm

from stunline.calibration.climb import even_cloud
from stunline.calibration.predict import Predictor
from stunline.calibration.record import object_ball
from stunline.equipment.coefficient_scales import COEFFICIENTS, with_values
from stunline.shot.batch import play_many
from stunline.shot.batch_input import coefficient_rows
from stunline.shot.position import Position, Strike

Floats = NDArray[np.float64]

DRAWN = 256  # tables drawn from a doubt
_LEVEL = 0.9
_STRETCH = float(norm.ppf(0.5 + 0.5 * _LEVEL))
_LEAST_ON_THE_TABLE = 0.5  # share of the drawn tables on which the white must stay up

# Plain shots that between them hang on every coefficient, as shares of the table: white, object
# ball, half a ball beside the line; up the table. [A]
_WHITE, _OBJECT = (0.5, 0.25), (0.5, 0.45)
_STANDARD = (
    ("half-ball follow", 1.5, 0.3),
    ("half-ball stun", 1.5, -0.15),
    ("half-ball screw", 1.8, -0.4),
)
_UP_AND_DOWN = ("up and down", 1.6, 0.0)


@dataclass(frozen=True, slots=True)
class Target:
    """A shot whose end is to be foretold.

    Attributes:
        name: for people
        position: the balls, with any coefficients
        strike: as meant
    """

    name: str
    position: Position
    strike: Strike


def band_of(covariance: Floats) -> float:
    """Half of a 90 % interval along the longest axis of a (2, 2) covariance. [m]"""
    return _STRETCH * float(np.sqrt(max(np.linalg.eigvalsh(covariance)[-1], 0.0)))


def standard_targets(predictor: Predictor) -> list[Target]:
    """Four plain shots on the record's table."""
    table = predictor.record.table
    profile = replace(table.cloths[predictor.record.cloth].coefficients, pockets=False)
    radius = table.balls[table.cue_ball].radius
    size = np.array([table.width, table.length])
    white = tuple((np.array(_WHITE) * size).tolist())
    other = tuple((np.array(_OBJECT) * size - (radius, 0.0)).tolist())
    up = 0.5 * np.pi
    pair = {table.cue_ball: white, object_ball(table): other}
    both = Position(table, predictor.record.cloth, profile, pair)
    alone = replace(both, balls={table.cue_ball: white})
    name, pace, height = _UP_AND_DOWN
    return [
        *(Target(one, both, Strike(up, fast, high * radius)) for one, fast, high in _STANDARD),
        Target(name, alone, Strike(up, pace, height * radius)),
    ]


def drawn(centre: Floats, covariance: Floats) -> Floats:
    """(N, n) shared unknowns drawn from their doubt, evenly spread, the same ones every time."""
    squares, axes = np.linalg.eigh(covariance)
    cloud = even_cloud(DRAWN, len(centre), 0)
    found: Floats = centre + cloud * np.sqrt(np.maximum(squares, 0.0)) @ axes.T
    return found


def ends_on(target: Target, predictor: Predictor, shared: Floats) -> Floats:
    """(N, 2) where the white ends for each row of shared unknowns; NaN where it falls. [m]"""
    profile = target.position.coefficients
    tables = [
        with_values(profile, predictor.coefficients(one)[: len(COEFFICIENTS)]) for one in shared
    ]
    rows = coefficient_rows(target.position, tables)
    found: Floats = play_many(target.position, [target.strike], coefficients=rows).rests[:, 0]
    return found


@dataclass(frozen=True, slots=True)
class Ends:
    """How the white's ends in some targets hang on the shared unknowns.

    Attributes:
        slopes: (T, 2, n) metres for one prior's standard deviation of each
        rest: (T, 2, 2) covariance of what straight lines leave, now [m²]
        now: (n, n) the doubt now
    """

    slopes: Floats
    rest: Floats
    now: Floats

    def spread(self, doubt: Floats) -> float:
        """Mean square of the ends' distance from the likeliest, by straight lines. [m²]"""
        return float(np.einsum("tin,nm,tim->", self.slopes, doubt, self.slopes)) / len(self.slopes)

    def shares(self, before: Floats, after: Floats) -> Floats:
        """(n,) of what a narrower doubt takes off the spread, the share of each unknown.

        Half of what two unknowns take off together is either's, so that the shares add up to 1.
        """
        parts = np.einsum("tin,nm,tim->n", self.slopes, before - after, self.slopes)
        whole: Floats = parts / max(float(parts.sum()), np.finfo(float).tiny)
        return whole

    def band(self, doubt: Floats) -> float:
        """Half of the 90 % band of the white's end, root mean square over the targets. [m]

        What lines leave is taken to shrink with what they tell.
        """
        left = self.spread(doubt) / self.spread(self.now)
        bands = [
            band_of(slope @ doubt @ slope.T + left * rest)
            for slope, rest in zip(self.slopes, self.rest, strict=True)
        ]
        return float(np.sqrt(np.mean(np.square(bands))))


def ends_of(targets: Sequence[Target], predictor: Predictor, centre: Floats, doubt: Floats) -> Ends:
    """Straight lines through the ends on drawn tables.

    Raises:
        ArithmeticError: the white falls on most of them.
    """
    found = [_lines(one, predictor, centre, doubt) for one in targets]
    return Ends(np.stack([one for one, _ in found]), np.stack([one for _, one in found]), doubt)


def _lines(
    target: Target, predictor: Predictor, centre: Floats, doubt: Floats
) -> tuple[Floats, Floats]:
    shared = drawn(centre, doubt)
    ends = ends_on(target, predictor, shared)
    up = np.isfinite(ends).all(axis=1)
    if up.mean() < _LEAST_ON_THE_TABLE:
        raise ArithmeticError(f"{target.name}: the white falls")
    columns = np.arange(len(COEFFICIENTS))  # level and ramp move no shot that is foretold
    design = np.column_stack([np.ones(up.sum()), (shared - centre)[up][:, columns]])
    lines = np.linalg.lstsq(design, ends[up], rcond=None)[0]
    slopes = np.zeros((2, len(centre)))
    slopes[:, columns] = lines[1:].T
    return slopes, np.cov((ends[up] - design @ lines).T)
