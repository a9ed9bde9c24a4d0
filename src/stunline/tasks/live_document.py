"""The page's document: a position file's values as JSON, checked as a file is, and solved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from stunline.errors import InputError, UnsolvableShotError
from stunline.files.toml_fields import Faults, Section
from stunline.mechanics import layout
from stunline.shot.aiming.solve import Solver
from stunline.shot.outcome import outcome
from stunline.shot.position import Position, Strike, StrikePlan
from stunline.shot.position_file import PositionFile, ReadValues, read_values
from stunline.shot.position_file.names import Scene
from stunline.shot.position_file.strike_section import read_strike
from stunline.shot.readouts import readouts
from stunline.shot.shot import Record, Shot, StopReason
from stunline.tasks.play_shot import ShotResult

# Keys of [strike] that a pinned strike may replace, and those that each of them rules out.
_REPLACES: Mapping[str, tuple[str, ...]] = {
    "pace": (),
    "height": ("arrive",),
    "arrive": ("height",),
    "side": (),
    "elevation": (),
    "aim": ("pot", "contact"),
}


def check_document(document: Mapping[str, object], folder: Path | None = None) -> ReadValues:
    """The document's values by the very checks of a file; see ``read_values``."""
    return read_values(document, folder)


def play_file(file: PositionFile, solver: Solver) -> ShotResult:
    """Solve and play what the document asks for.

    Raises:
        UnsolvableShotError: no strike does it.
    """
    solution = solver.solve(file.plan)
    shot = solver.prepared.play(solution.strike)
    numbers = readouts(shot, file.plan, solution.pot)
    return ShotResult(file, solution, shot, numbers, outcome(shot, file.plan))


@dataclass(frozen=True, slots=True)
class Pinned:
    """A strike beside the document's.

    Attributes:
        shot: as played, or None where it can't be
        words: what it comes to, or why it can't be played
    """

    shot: Shot | None
    words: str


def play_pinned(
    changes: Mapping[str, object], document: Mapping[str, object], scene: Scene, solver: Solver
) -> Pinned:
    """The document's strike with some of its values replaced."""
    try:
        plan = pinned_plan(changes, document, scene)
        shot = solver.prepared.play(solver.solve(plan).strike)
    except (InputError, UnsolvableShotError) as error:
        fault = error.fault if isinstance(error, UnsolvableShotError) else error.faults[0]
        return Pinned(None, fault.what)
    return Pinned(shot, outcome(shot, plan).words())


def pinned_plan(
    changes: Mapping[str, object], document: Mapping[str, object], scene: Scene
) -> StrikePlan:
    """What the strike with the replaced values asks for.

    Raises:
        InputError: with the faults of those values.
    """
    own = document.get("strike")
    strike = dict(own) if isinstance(own, dict) else {}
    for key, rules_out in _REPLACES.items():
        if changes.get(key) is not None:
            strike[key] = changes[key]
            for other in rules_out:
                strike.pop(other, None)
    faults = Faults()
    own_scene = Scene(scene.table, scene.on_table, scene.open_pockets, faults, scene.places)
    plan = read_strike(Section({"strike": strike}, (), faults, ("strike",)), own_scene)
    if faults or plan is None:
        raise InputError(faults.by_key())
    return plan


def unplayed(position: Position) -> Shot:
    """The balls where they stand, nothing struck: for a picture without an answer."""
    count = len(position.balls)
    record = Record(
        np.zeros((0, layout.EVENT_FLOAT_COLUMNS)),
        np.zeros((0, layout.EVENT_INT_COLUMNS), dtype=np.int64),
        np.zeros((0, layout.PHASE_FLOAT_COLUMNS)),
        np.zeros((0, layout.PHASE_INT_COLUMNS), dtype=np.int64),
        np.array(list(position.balls.values())).reshape(count, 2),
        np.zeros(count, dtype=np.int64),
    )
    return Shot(position, Strike(0.0, 0.0), StopReason.AT_REST, record)
