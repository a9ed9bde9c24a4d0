"""A way up to the best fit: the plainest shots first, each next kind from where the last stood.

Off cushions and balls a resting place depends on the unknowns in folds, so a descent from far off
ends anywhere. Rolling alone has no folds; once it is known, cushions have few, and so on to the
strokes, of which nobody knows pace and height. What is new at each stage is looked for on a cloud
of its own unknowns first.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.stats import norm, qmc

from stunline.calibration.predict import Job, Predictor
from stunline.calibration.priors import LEAN_ACROSS, LEAN_ALONG, RAMP
from stunline.calibration.problem import Problem
from stunline.calibration.record import Play, Record
from stunline.calibration.solve import COMPARED, ON_THE_WAY, Descent, robust_fit

Floats = NDArray[np.float64]

STARTS = 2
_SEED = 7  # any; the clouds are the same each time
_CLOUD = 512  # of one play's own unknowns
_SHARED_CLOUD = 256  # of the shared unknowns that come in at a stage
# Those of a stage, and how wide the cloud is about what is known by then, in standard deviations.
_CLOUDS: dict[int, tuple[tuple[str, ...], float]] = {
    0: (("rolling_resistance", LEAN_ALONG, LEAN_ACROSS, RAMP), 1.2),
    1: (("cushion_restitution", "cushion_friction"), 1.0),
}
_HAZE = 10.0  # errors that count as one: how near matters, not by how much a far one is out


def climb(record: Record, start: int) -> Descent:
    """The robust fit reached from the start of that number, 0 for the most likely."""
    shared = np.zeros(len(Predictor(record).priors))
    own: dict[int, Floats] = {}
    known: list[int] = []
    for stage in range(4):
        new = [k for k, play in enumerate(record.plays) if _stage(play) == stage]
        if not new:
            continue
        known = sorted([*known, *new])
        problem = Problem(Predictor(replace(record, plays=tuple(record.plays[k] for k in known))))
        if stage in _CLOUDS:
            shared = _cloudy(problem, shared, start, [known.index(k) for k in new], stage)
        for k in new:
            own[k] = _best_own(problem, known.index(k), shared, start)
        close = COMPARED if len(known) == len(record.plays) else ON_THE_WAY
        begin = np.concatenate([shared, *(own[k] for k in known)])
        found = robust_fit(problem, begin, close)
        shared = found.unknowns[: problem.shared]
        own = {k: found.unknowns[problem.own(known.index(k))] for k in known}
    return found


def _stage(play: Play) -> int:
    if play.shot.tool == "fingers" or play.shot.one_heading:
        return 0
    if play.shot.tool == "cue":
        return 3
    return 1 if play.object is None else 2


def _cloudy(problem: Problem, shared: Floats, start: int, plays: list[int], stage: int) -> Floats:
    """The shared unknowns, out of a cloud of those of a stage, for which its plays come nearest."""
    names = [prior.name for prior in problem.predictor.priors]
    wanted, width = _CLOUDS[stage]
    columns = [names.index(one) for one in wanted]
    cloud = np.repeat(shared[None], _SHARED_CLOUD, axis=0)
    cloud[:, columns] += width * even_cloud(_SHARED_CLOUD, len(columns), start)
    jobs = [
        Job(k, one, np.zeros(len(problem.predictor.own_names(problem.predictor.record.plays[k]))))
        for one in cloud
        for k in plays
    ]
    found = np.concatenate(problem.predictor.predict(jobs)).reshape(len(cloud), -1)
    rows = np.concatenate([np.arange(problem.rows(k).start, problem.rows(k).stop) for k in plays])
    costs = _costs(problem, found, rows) + 0.5 * (cloud[:, columns] ** 2).sum(axis=1)
    # Other starts begin at the next best.
    best: Floats = cloud[np.argsort(costs)[start]]
    return best


def _best_own(problem: Problem, play: int, shared: Floats, seed: int) -> Floats:
    """The own unknowns, out of a cloud, for which a play comes nearest."""
    names = problem.predictor.own_names(problem.predictor.record.plays[play])
    if not names:
        return np.zeros(0)
    cloud = even_cloud(_CLOUD, len(names), seed)
    cloud[0] = 0.0
    rows = np.arange(problem.rows(play).start, problem.rows(play).stop)
    found = np.stack(problem.predictor.predict([Job(play, shared, one) for one in cloud]))
    costs = _costs(problem, found, rows) + 0.5 * (cloud**2).sum(axis=1) / _HAZE
    best: Floats = cloud[int(np.argmin(costs))]
    return best


def _costs(problem: Problem, found: Floats, rows: NDArray[np.int64]) -> Floats:
    misses = (found - problem.read[rows]) / (_HAZE * problem.errors[rows])
    costs: Floats = np.log1p(misses**2).sum(axis=1)
    return costs


def even_cloud(count: int, dimensions: int, seed: int) -> Floats:
    """An even cloud of standard normal numbers."""
    even = qmc.Sobol(dimensions, seed=_SEED + seed).random(count)
    cloud: Floats = norm.ppf(np.clip(even, 1e-3, 1.0 - 1e-3))
    return cloud
