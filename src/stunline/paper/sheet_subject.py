"""What a sheet shows: a shot as played, or the rungs of a ladder."""

from __future__ import annotations

from dataclasses import dataclass

from stunline.shot.aiming.pot_aim import PotWindow
from stunline.shot.band import ShotBand
from stunline.shot.ladder import Ladder
from stunline.shot.ladder_band import LadderBand
from stunline.shot.outcome import Outcome
from stunline.shot.position import StrikePlan
from stunline.shot.readouts import Readouts, readouts
from stunline.shot.shot import Shot


@dataclass(frozen=True, slots=True)
class Subject:
    """What a sheet shows.

    Attributes:
        plan: what was asked for
        shots: one, or each rung of the ladder
        reads: each shot's read-outs
        outcomes: what each came to
        ladder: as climbed, or None
        bands: each shot on tables drawn from the doubt; empty where that is not wanted
    """

    plan: StrikePlan
    shots: tuple[Shot, ...]
    reads: tuple[Readouts, ...]
    outcomes: tuple[Outcome, ...]
    ladder: Ladder | None = None
    bands: tuple[ShotBand, ...] = ()

    @property
    def shot(self) -> Shot:
        """The shot, or the first rung."""
        return self.shots[0]

    @property
    def read(self) -> Readouts:
        """Its read-outs."""
        return self.reads[0]

    @property
    def cue_ball(self) -> str:
        """Name of the ball that is struck."""
        return self.shot.position.names[0]


def of_shot(
    shot: Shot,
    plan: StrikePlan,
    outcome: Outcome,
    window: PotWindow | None,
    band: ShotBand | None = None,
) -> Subject:
    """One shot."""
    bands = () if band is None else (band,)
    return Subject(plan, (shot,), (readouts(shot, plan, window),), (outcome,), bands=bands)


def of_ladder(ladder: Ladder, band: LadderBand | None = None) -> Subject:
    """The rungs of a ladder."""
    return Subject(
        ladder.plan,
        tuple(rung.shot for rung in ladder.rungs),
        tuple(readouts(rung.shot, ladder.plan, rung.pot) for rung in ladder.rungs),
        tuple(rung.outcome for rung in ladder.rungs),
        ladder,
        () if band is None else band.rungs,
    )
