"""What no shot may ever do, checked on the engine's record: NaN, overlap, gain of energy,
leaving the table, moving once potted.

Compiled, since a campaign checks a million shots. It reads only the record's columns and
the position's numbers; nothing of the engine's laws.
"""

from __future__ import annotations

import numba
import numpy as np
from numpy.typing import NDArray

from stunline.mechanics import layout
from stunline.shot import compiled
from stunline.shot.shot import Shot

IN_ORDER = 0
NOT_A_NUMBER = 1
OVERLAP = 2
ENERGY_GAIN = 3
OFF_THE_TABLE = 4
POTTED_MOVES = 5
TIME_RUNS_BACK = 6
NAMES = ("in order", "NaN", "overlap", "energy gain", "off the table", "potted moves", "time back")

# Deepest overlap allowed, over the radius. [-] As the project promises.
OVERLAP_ALLOWED = 1e-9
# Rounding of energies, over the energy. [-]
ENERGY_ROUNDING = 1e-11
# How far behind its nose line a centre may be by rounding, and in a pocket's mouth. [m]
EDGE = 1e-9
MOUTH = 0.12  # from the middle of the mouth, inside the jaws


def check(shot: Shot) -> tuple[int, float]:
    """What is wrong first, and by how much; ``IN_ORDER`` and the deepest overlap over R."""
    position = shot.position
    radii = np.array([position.radius(name) for name in position.names])
    masses = np.array([position.table.balls[name].mass for name in position.names])
    start = np.array([position.balls[name] for name in position.names])
    mouths = np.array([pocket.mouth_middle for pocket in position.table.pockets])
    if not position.coefficients.pockets:
        mouths = np.zeros((0, 2))
    reach = compiled.nose_reach(radii[0], position.table.nose_height)
    record = shot.record
    result: tuple[int, float] = _check(
        record.event_floats, record.event_ints, record.phase_floats, record.phase_ints,
        start, radii, masses, mouths, position.coefficients.spin_deceleration,
        position.table.width, position.table.length, reach, compiled.SEPARATING_FLOOR,
    )  # fmt: skip
    return result


@numba.njit(nogil=True)
def _check(
    event_floats: NDArray[np.float64], event_ints: NDArray[np.int64],
    phase_floats: NDArray[np.float64], phase_ints: NDArray[np.int64],
    start: NDArray[np.float64], radii: NDArray[np.float64], masses: NDArray[np.float64],
    mouths: NDArray[np.float64], spin_deceleration: float,
    width: float, length: float, reach: float, floor: float,
) -> tuple[int, float]:  # fmt: skip
    balls = start.shape[0]
    events = event_ints.shape[0]
    if not (np.all(np.isfinite(event_floats[:, :8])) and np.all(np.isfinite(phase_floats))):
        return NOT_A_NUMBER, 0.0
    place = start.copy()
    potted = np.zeros(balls, dtype=np.int64)
    known_time = np.full(balls, -1.0)  # of each ball's last event, and its energy after it
    known_energy = np.zeros(balls)
    deepest = 0.0
    for k in range(events):
        time = event_floats[k, layout.EVENT_TIME]
        if k > 0 and time < event_floats[k - 1, layout.EVENT_TIME]:
            return TIME_RUNS_BACK, event_floats[k - 1, layout.EVENT_TIME] - time
        kind = event_ints[k, layout.EVENT_KIND]
        a = event_ints[k, layout.EVENT_BALL_A]
        b = event_ints[k, layout.EVENT_OTHER]
        # Places at this event and half-way to the next.
        for half in range(2):
            then = time
            if half == 1:
                if k + 1 == events:
                    break
                then = 0.5 * (time + event_floats[k + 1, layout.EVENT_TIME])
            _places(phase_floats, phase_ints, then, start, place)
            for i in range(balls):
                if potted[i] == 1 or (i == a and kind == layout.EVENT_POCKET):
                    continue
                if _outside(place[i, 0], place[i, 1], width, length, reach, mouths):
                    return OFF_THE_TABLE, place[i, 0]
                for j in range(i + 1, balls):
                    if potted[j] == 1 or (j == a and kind == layout.EVENT_POCKET):
                        continue
                    dx = place[i, 0] - place[j, 0]
                    dy = place[i, 1] - place[j, 1]
                    gap = np.sqrt(dx * dx + dy * dy) - 2.0 * np.sqrt(radii[i] * radii[j])
                    depth = -gap / radii[i]
                    if depth > OVERLAP_ALLOWED:
                        return OVERLAP, depth
                    deepest = max(deepest, depth)
        # Energy of the balls concerned, just before against just after.
        if potted[a] == 1 or (kind == layout.EVENT_BALL and potted[b] == 1):
            return POTTED_MOVES, time
        after = _energy(event_floats[k, 3], event_floats[k, 4], event_floats[k, 5],
                        event_floats[k, 6], event_floats[k, 7], radii[a], masses[a])  # fmt: skip
        if kind == layout.EVENT_STRIKE:
            known_time[a] = time
            known_energy[a] = after
            continue
        before = known_energy[a]
        if known_time[a] < time:
            before = _energy_before(
                phase_floats, phase_ints, a, time, radii[a], masses[a], spin_deceleration
            )
        known_time[a] = time
        known_energy[a] = after
        # The floor under the separating speed may give each ball that much.
        gain = floor * floor * masses[a]
        if kind == layout.EVENT_BALL:
            after_b = _energy(
                event_floats[k, 8], event_floats[k, 9], event_floats[k, 10],
                event_floats[k, 11], event_floats[k, 12], radii[b], masses[b],
            )  # fmt: skip
            before_b = known_energy[b]
            if known_time[b] < time:
                before_b = _energy_before(
                    phase_floats, phase_ints, b, time, radii[b], masses[b], spin_deceleration
                )
            known_time[b] = time
            known_energy[b] = after_b
            after += after_b
            before += before_b
        if after > before * (1.0 + ENERGY_ROUNDING) + gain:
            return ENERGY_GAIN, after - before
        if kind == layout.EVENT_POCKET:
            potted[a] = 1
    return IN_ORDER, deepest


@numba.njit(nogil=True)
def _places(
    phase_floats: NDArray[np.float64], phase_ints: NDArray[np.int64], time: float,
    start: NDArray[np.float64], place: NDArray[np.float64],
) -> None:  # fmt: skip
    place[:] = start
    for p in range(phase_ints.shape[0]):
        f = phase_floats[p]
        # Phases of one ball are in order, so the last that has begun wins.
        if f[layout.PHASE_START] <= time:
            i = phase_ints[p, layout.PHASE_BALL]
            t = min(time, f[layout.PHASE_END]) - f[layout.PHASE_START]
            if phase_ints[p, layout.PHASE_MOTION] == layout.SPINNING:
                t = 0.0
            place[i, 0] = f[2] + t * (f[4] + 0.5 * t * f[6])
            place[i, 1] = f[3] + t * (f[5] + 0.5 * t * f[7])


@numba.njit(nogil=True)
def _outside(
    x: float, y: float, width: float, length: float, reach: float, mouths: NDArray[np.float64]
) -> bool:
    low = reach - EDGE
    if low <= x <= width - low and low <= y <= length - low:
        return False
    for k in range(mouths.shape[0]):
        if (x - mouths[k, 0]) ** 2 + (y - mouths[k, 1]) ** 2 < MOUTH * MOUTH:
            return False
    return True


@numba.njit(nogil=True)
def _energy(
    vx: float, vy: float, wx: float, wy: float, wz: float, radius: float, mass: float
) -> float:
    spin = wx * wx + wy * wy + wz * wz
    return mass * (0.5 * (vx * vx + vy * vy) + 0.2 * radius * radius * spin)


@numba.njit(nogil=True)
def _energy_before(
    phase_floats: NDArray[np.float64], phase_ints: NDArray[np.int64], ball: int, time: float,
    radius: float, mass: float, spin_deceleration: float,
) -> float:  # fmt: skip
    """Energy at the end of the ball's phase that ends at that time, or at rest since."""
    found = -1
    for p in range(phase_ints.shape[0]):
        if phase_ints[p, layout.PHASE_BALL] == ball and phase_floats[p, layout.PHASE_END] <= time:
            found = p
    if found < 0:
        return 0.0
    f = phase_floats[found]
    if f[layout.PHASE_END] < time:
        # Where spin does not decay, a ball at rest keeps what it had about the vertical.
        kept = f[10] if spin_deceleration == 0.0 else 0.0
        return _energy(0.0, 0.0, 0.0, 0.0, kept, radius, mass)
    t = f[layout.PHASE_END] - f[layout.PHASE_START]
    wz = max(abs(f[10]) - spin_deceleration * t, 0.0)
    return _energy(
        f[4] + t * f[6], f[5] + t * f[7], f[8] + t * f[11], f[9] + t * f[12], wz, radius, mass
    )
