"""What opening a pack comes to over many racks, since no two are the same.

The same strike is played on the same position again and again, the pack racked anew each time
with random gaps. Told are the balls that come free, those that can be potted next, where the
white ends, and how often it is stuck; each with how sure that many plays make it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.loose_rack import loose_rack
from stunline.errors import Fault, InputError
from stunline.shot import compiled
from stunline.shot.batch import play_many
from stunline.shot.next_pots import ways_to_pockets
from stunline.shot.play import Prepared
from stunline.shot.position import Position, Strike
from stunline.shot.setting_error import wilson_interval

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# [m] At rest a ball this near to another is not free: it can't be told from touching.
TOUCHING = 1e-4
FAR = 2.0  # ball widths that a freed ball has moved
STEEPEST = math.radians(60.0)  # cut of a pot that is counted as on
# Racks played between two looks at whether to stop, and two tellings of what there is.
CHUNK = 100
# Racks drawn for one that has room beside the other balls, before it is given up.
_TRIES = 50


@dataclass(frozen=True, slots=True)
class Share:
    """How many of so many plays, with the 95 % interval of the share."""

    count: int
    plays: int

    @property
    def interval(self) -> tuple[float, float]:
        """Low and high end [-]; Wilson's."""
        return wilson_interval(self.count, self.plays)


@dataclass(frozen=True, slots=True)
class Spread:
    """Mean, median and middle half of a number over the plays, and how sure the mean is.

    Attributes:
        mean: [-]
        interval: 95 % interval of the mean, from its standard error [-]
        quartiles: a quarter, a half and three quarters of the plays are at or below [-]
    """

    mean: float
    interval: tuple[float, float]
    quartiles: tuple[float, float, float]

    @classmethod
    def of(cls, values: Ints) -> Spread:
        """Of at least one value."""
        mean = float(values.mean())
        half = 0.0
        if len(values) > 1:
            half = 1.96 * float(values.std(ddof=1)) / math.sqrt(len(values))
        low, middle, high = np.quantile(values, (0.25, 0.5, 0.75), method="inverted_cdf")
        return cls(mean, (mean - half, mean + half), (float(low), float(middle), float(high)))


@dataclass(frozen=True, slots=True)
class OpenedPacks:
    """What the plays with one strike came to, one entry a play.

    Attributes:
        position: the pack as the file has it
        strike: the same in every play
        group: balls of the pack
        met: index in ``group`` of the ball that the white met first, −1 for none
        freed: balls of the pack that moved more than two widths and touch none
        on: balls of the pack that can be potted next
        rests: (N, 2) where the white ended, NaN where in-off [m]
    """

    position: Position
    strike: Strike
    group: tuple[str, ...]
    met: Ints
    freed: Ints
    on: Ints
    rests: Floats

    @property
    def plays(self) -> int:
        """How many."""
        return len(self.met)

    @property
    def in_off(self) -> Share:
        """Plays in which the white was potted."""
        return Share(int(np.isnan(self.rests[:, 0]).sum()), self.plays)

    @property
    def stuck(self) -> Share:
        """Plays after which, the white on the table, no ball of the pack can be potted."""
        down = np.isnan(self.rests[:, 0])
        return Share(int(((self.on == 0) & ~down).sum()), self.plays)

    @property
    def freed_spread(self) -> Spread:
        """Of the balls freed."""
        return Spread.of(self.freed)

    @property
    def on_spread(self) -> Spread:
        """Of the balls that can be potted next."""
        return Spread.of(self.on)

    def by_point(self) -> dict[str, OpenedPacks]:
        """The plays by the ball of the pack that the white met, the most frequent first; "" for
        those in which it met none."""
        names = (*self.group, "")
        counts = np.bincount(self.met % len(names), minlength=len(names))
        order = [int(k) for k in np.argsort(-counts, kind="stable") if counts[k] > 0]
        return {names[k]: self._where(self.met % len(names) == k) for k in order}

    def _where(self, chosen: NDArray[np.bool_]) -> OpenedPacks:
        return OpenedPacks(
            self.position,
            self.strike,
            self.group,
            self.met[chosen],
            self.freed[chosen],
            self.on[chosen],
            self.rests[chosen],
        )

    def joined(self, other: OpenedPacks) -> OpenedPacks:
        """These plays and those."""
        return OpenedPacks(
            self.position,
            self.strike,
            self.group,
            np.concatenate([self.met, other.met]),
            np.concatenate([self.freed, other.freed]),
            np.concatenate([self.on, other.on]),
            np.concatenate([self.rests, other.rests]),
        )


@dataclass(frozen=True, slots=True)
class PackPlan:
    """What is to be played.

    Attributes:
        position: a position with a racked pack
        rack: the pack's exact places, name → centre [m]
        gaps: the largest gap between its neighbours [m]; 0 for touching
        racks: how many are played with each strike
        seed: of the first rack; the next ones follow
    """

    position: Position
    rack: dict[str, tuple[float, float]] = field(hash=False)
    gaps: float
    racks: int
    seed: int


def open_packs(
    plan: PackPlan,
    strike: Strike,
    cancelled: Callable[[], bool] | None = None,
    threads: int | None = None,
) -> Iterator[OpenedPacks]:
    """Play the strike on rack after rack; after every hundred all that was played until then.

    Args:
        cancelled: asked often; once true, no more are played.

    Raises:
        InputError: gaps of that size leave the rack no room beside another ball.
    """
    so_far: OpenedPacks | None = None
    for first in range(0, plan.racks, CHUNK):
        places = rack_places(plan, first, min(CHUNK, plan.racks - first))
        now = _played(plan, strike, places, cancelled, threads)
        so_far = now if so_far is None else so_far.joined(now)
        yield so_far
        if cancelled is not None and cancelled():
            return


def rack_places(plan: PackPlan, first: int, count: int) -> Floats:
    """Where all balls stand in the racks from that number on. (count, n, 2) [m]"""
    names = plan.position.names
    start = np.array([plan.position.balls[name] for name in names])
    rows = [names.index(name) for name in plan.rack]
    bodies = Prepared(plan.position).bodies_and_boundary()[0]
    table = plan.position.table
    places = np.repeat(start[None], count, axis=0)
    for k in range(count):
        for again in range(_TRIES):
            # A rack without room is drawn anew from a seed that no other rack has.
            seed = plan.seed + first + k + again * plan.racks
            places[k, rows] = list(loose_rack(plan.rack, plan.gaps, seed).values())
            one = places[k : k + 1]
            if compiled.first_misplaced(one, bodies, table.width, table.length)[0] < 0:
                break
        else:
            raise _no_room(plan)
    return places


def _played(
    plan: PackPlan,
    strike: Strike,
    places: Floats,
    cancelled: Callable[[], bool] | None,
    threads: int | None,
) -> OpenedPacks:
    position = plan.position
    group = tuple(plan.rack)
    batch = play_many(
        position, [strike], places=places, group=group, cancelled=cancelled, threads=threads
    )
    done = batch.played
    freed, on = _counted(position, group, places, batch.rests, batch.potted)
    numbers = {position.names.index(name): k for k, name in enumerate(group)}
    met = np.array([numbers.get(ball, -1) for ball in batch.firsts_of_group.tolist()])
    return OpenedPacks(
        position, strike, group, met[done], freed[done], on[done], batch.rests[done, 0]
    )


def _counted(
    position: Position,
    group: tuple[str, ...],
    starts: Floats,
    rests: Floats,
    potted: NDArray[np.int8],
) -> tuple[Ints, Ints]:
    """Balls of the group that are freed, and that can be potted next, for every play."""
    freed = np.zeros(len(rests), dtype=np.int64)
    on = np.zeros(len(rests), dtype=np.int64)
    compiled.count_next(
        starts, rests, potted, *ways_to_pockets(Prepared(position), group),
        FAR * 2.0 * position.radius(group[0]), TOUCHING, STEEPEST, freed, on,
    )  # fmt: skip
    return freed, on


def _no_room(plan: PackPlan) -> InputError:
    return InputError(
        [
            Fault(
                "gaps of that size leave the rack no room beside the other balls",
                given=f"{1000.0 * plan.gaps:g} mm",
                allowed="a rack that touches no other ball",
                remedy="smaller gaps, or the balls beside the rack a little further away",
            )
        ]
    )
