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
# The steps of a cluster keep the energy of balls without loss to this. [-]
CLUSTER_ROUNDING = 3e-5
# The same of all balls together, from pieces of lasting contact to others. [-]
TOTAL_ROUNDING = 1e-10
# A ball at 1 nm/s. [J] Slower ones are set to rest.
SMALLEST_ENERGY = 1e-19
# Touching balls lose an approach slower than this without an event of its own. [m s⁻¹] What one
# hands another so shows at that other's next event; of all balls together nothing may be gained.
SLOW_APPROACH = 1e-6
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
        position.table.width, position.table.length, reach,
    )  # fmt: skip
    return result


# Kept in the kernels' own folder: its name holds a hash of the layout that is read here, whose
# numbers the compiled code takes in, and numba itself sees to changes of this file.
_elsewhere = numba.config.CACHE_DIR
numba.config.CACHE_DIR = str(compiled.cache_folder())


@numba.njit(nogil=True, cache=True)
def _check(
    event_floats: NDArray[np.float64], event_ints: NDArray[np.int64],
    phase_floats: NDArray[np.float64], phase_ints: NDArray[np.int64],
    start: NDArray[np.float64], radii: NDArray[np.float64], masses: NDArray[np.float64],
    mouths: NDArray[np.float64], spin_deceleration: float,
    width: float, length: float, reach: float,
) -> tuple[int, float]:  # fmt: skip
    balls = start.shape[0]
    events = event_ints.shape[0]
    if not (np.all(np.isfinite(event_floats[:, :8])) and np.all(np.isfinite(phase_floats))):
        return NOT_A_NUMBER, 0.0
    place = start.copy()
    potted = np.zeros(balls, dtype=np.int64)
    known_time = np.full(balls, -1.0)  # of each ball's last event, and its energy after it
    known_energy = np.zeros(balls)
    presses = np.zeros(balls, dtype=np.int64)  # lasting contacts of each ball
    before = 0.0
    after = 0.0
    pressing = False
    any_press = False
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
        # Energy of the balls concerned, just before against just after. A cluster's is summed
        # over its rows.
        of_two = (kind == layout.EVENT_BALL or kind == layout.EVENT_CLUSTER
                  or kind == layout.EVENT_PRESS or kind == layout.EVENT_RELEASE)  # fmt: skip
        if potted[a] == 1 or (of_two and potted[b] == 1):
            return POTTED_MOVES, time
        if kind != layout.EVENT_MEMBER:
            before = 0.0
            after = 0.0
            pressing = False
        for half in range(2 if of_two else 1):
            i = a if half == 0 else b
            column = layout.EVENT_A_AFTER if half == 0 else layout.EVENT_B_AFTER
            now = _energy(
                event_floats[k, column], event_floats[k, column + 1], event_floats[k, column + 2],
                event_floats[k, column + 3], event_floats[k, column + 4], radii[i], masses[i],
            )  # fmt: skip
            if known_time[i] == time or kind == layout.EVENT_STRIKE:
                before += now if kind == layout.EVENT_STRIKE else known_energy[i]
            else:
                before += _energy_before(
                    phase_floats, phase_ints, i, time, radii[i], masses[i], spin_deceleration
                )
            after += now
            known_time[i] = time
            known_energy[i] = now
            pressing = pressing or presses[i] > 0
        _count_presses(kind, a, b, presses)
        for half in range(2 if of_two else 1):
            pressing = pressing or presses[a if half == 0 else b] > 0
        any_press = any_press or pressing
        last_row = k + 1 == events or event_ints[k + 1, layout.EVENT_KIND] != layout.EVENT_MEMBER
        # Balls in lasting contact hand energy to each other between events: see below.
        of_cluster = kind == layout.EVENT_CLUSTER or kind == layout.EVENT_MEMBER
        rounding = CLUSTER_ROUNDING if of_cluster else ENERGY_ROUNDING
        if last_row and not pressing and after > before * (1.0 + rounding) + SMALLEST_ENERGY:
            gain = after - before
            # A slow approach that touching balls lost just before may have handed them that much.
            if gain <= SLOW_APPROACH * _momenta(event_floats[k], of_two, masses[a], masses[b]):
                gain = _total_rises_at(
                    time, phase_floats, phase_ints, radii, masses, spin_deceleration
                )
            if gain > 0.0:
                return ENERGY_GAIN, gain
        if kind == layout.EVENT_POCKET:
            potted[a] = 1
            presses[a] = 0
    if any_press:
        gain = _total_rises(
            event_floats, phase_floats, phase_ints, radii, masses, spin_deceleration
        )
        if gain > 0.0:
            return ENERGY_GAIN, gain
    return IN_ORDER, deepest


numba.config.CACHE_DIR = _elsewhere


@numba.njit(nogil=True)
def _count_presses(kind: int, a: int, b: int, presses: NDArray[np.int64]) -> None:
    if layout.EVENT_PRESS <= kind <= layout.EVENT_PRESS_JAW:
        presses[a] += 1
        if kind == layout.EVENT_PRESS:
            presses[b] += 1
    elif layout.EVENT_RELEASE <= kind <= layout.EVENT_RELEASE_JAW:
        presses[a] = max(presses[a] - 1, 0)
        if kind == layout.EVENT_RELEASE:
            presses[b] = max(presses[b] - 1, 0)


@numba.njit(nogil=True)
def _total_rises(
    event_floats: NDArray[np.float64], phase_floats: NDArray[np.float64],
    phase_ints: NDArray[np.int64], radii: NDArray[np.float64], masses: NDArray[np.float64],
    spin_deceleration: float,
) -> float:  # fmt: skip
    """Most by which all balls' energy rises from one stretch between events to the next. [J]"""
    times = np.unique(event_floats[:, layout.EVENT_TIME])
    totals = np.zeros(max(times.shape[0] - 1, 0))
    for p in range(phase_ints.shape[0]):
        f = phase_floats[p]
        i = phase_ints[p, layout.PHASE_BALL]
        first = np.searchsorted(times, f[layout.PHASE_START])
        for k in range(max(first - 1, 0), totals.shape[0]):
            # Instants may be one rounding apart: what is under way is told by them, not by t.
            middle = 0.5 * (times[k] + times[k + 1])
            if middle < f[layout.PHASE_START]:
                continue
            if middle >= f[layout.PHASE_END]:
                break
            t = middle - f[layout.PHASE_START]
            wz = max(abs(f[10]) - spin_deceleration * t, 0.0)
            totals[k] += _energy(
                f[4] + t * f[6], f[5] + t * f[7], f[8] + t * f[11], f[9] + t * f[12],
                wz, radii[i], masses[i],
            )  # fmt: skip
    for k in range(1, totals.shape[0]):
        # A spin that never decays is kept at rest, where no phase tells it.
        rises = totals[k] > totals[k - 1] * (1.0 + TOTAL_ROUNDING) + SMALLEST_ENERGY
        if rises and spin_deceleration > 0.0:
            return totals[k] - totals[k - 1]
    return 0.0


@numba.njit(nogil=True)
def _momenta(row: NDArray[np.float64], of_two: bool, mass_a: float, mass_b: float) -> float:
    """Sum of the balls' momenta just after an event. [kg m s⁻¹]"""
    a, b = layout.EVENT_A_AFTER, layout.EVENT_B_AFTER
    momenta = mass_a * np.hypot(row[a], row[a + 1])
    if of_two:
        momenta += mass_b * np.hypot(row[b], row[b + 1])
    return float(momenta)


@numba.njit(nogil=True)
def _total_rises_at(
    time: float, phase_floats: NDArray[np.float64], phase_ints: NDArray[np.int64],
    radii: NDArray[np.float64], masses: NDArray[np.float64], spin_deceleration: float,
) -> float:  # fmt: skip
    """By how much all balls' energy is more just after an instant than just before. [J]"""
    before = 0.0
    after = 0.0
    for p in range(phase_ints.shape[0]):
        f = phase_floats[p]
        if f[layout.PHASE_START] > time or f[layout.PHASE_END] < time:
            continue
        i = phase_ints[p, layout.PHASE_BALL]
        t = time - f[layout.PHASE_START]
        energy = _energy(
            f[4] + t * f[6], f[5] + t * f[7], f[8] + t * f[11], f[9] + t * f[12],
            max(abs(f[10]) - spin_deceleration * t, 0.0), radii[i], masses[i],
        )  # fmt: skip
        if f[layout.PHASE_START] < time:
            before += energy
        if f[layout.PHASE_END] > time:
            after += energy
    # A spin that never decays is kept at rest, where no phase tells it.
    rises = after > before * (1.0 + ENERGY_ROUNDING) + SMALLEST_ENERGY
    return after - before if rises and spin_deceleration > 0.0 else 0.0


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
