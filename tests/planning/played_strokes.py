"""Strokes simulated with a player's errors on tables that are off as doubted, and what was seen.

Played by the engine itself: these test the statistics (whether an interval of 90 % holds the truth
in nine of ten), not the mechanics, which ``data/played_by_reference.json`` tests on a few.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from stunline.equipment.catalogue import load_table
from stunline.equipment.coefficient_scales import COEFFICIENTS, KINDS
from stunline.equipment.gauging import Gauging
from stunline.equipment.player import load_player
from stunline.planning.likely_strokes import PlayedAsked
from stunline.planning.strike_space import struck
from stunline.planning.stroke_prior import StrokePrior
from stunline.shot.aiming.solve import Solver
from stunline.shot.batch import Batch, play_many
from stunline.shot.batch_input import coefficient_rows
from stunline.shot.drawn_tables import doubt_of_position
from stunline.shot.happened import CushionMet, Happened
from stunline.shot.position import (
    Arrive,
    ContactAim,
    DirectAim,
    Position,
    PotAim,
    Strike,
    StrikePlan,
)
from stunline.shot.reading_error import PLACE

ASSUMED = load_table("snooker-12ft")
# A table as gauging with a full dozen leaves it: a fifth of the doubt before (invented).
_SHARE = 0.2
_GAUGING = Gauging(
    "2026-11-29", "invented", 28, COEFFICIENTS, tuple(kind.scale for kind in KINDS),
    (0.2, 0.01, 10.0, 0.95, 0.07, 0.98, 0.14), (True,) * len(COEFFICIENTS),
    tuple(
        tuple((_SHARE * one.width) ** 2 if one is other else 0.0 for other in KINDS)
        for one in KINDS
    ),
)  # fmt: skip
GAUGED = replace(ASSUMED, cloths={"match": replace(ASSUMED.cloths["match"], gauging=_GAUGING)})
WHITE = (0.889, 0.8)
BLUE = (0.889, 1.7845)
# What is set up, how it is meant to be struck, and what is read after it.
SHOTS: dict[str, tuple[dict[str, tuple[float, float]], StrikePlan, tuple[str, ...]]] = {
    "up-and-down": ({"white": WHITE}, StrikePlan(DirectAim(math.pi / 2), 2.5), ("white_rest",)),
    "stun": (
        {"white": (0.889, 1.35), "blue": BLUE},
        StrikePlan(ContactAim("blue", 0.5, "left"), 2.2, Arrive(0.0)),
        ("white_rest", "object_rest"),
    ),
    "follow": (
        {"white": (0.7, 1.1), "blue": BLUE},
        StrikePlan(ContactAim("blue", 0.6, "right"), 1.8, 0.009),
        ("white_rest", "white_cushion"),
    ),
    "screw": (
        {"white": (0.889, 1.3), "blue": BLUE},
        StrikePlan(ContactAim("blue", 0.7, "left"), 2.2, -0.0095),
        ("white_rest", "object_rest", "white_cushion"),
    ),
    "pot": (
        {"white": (1.2, 2.6), "black": (0.889, 3.245)},
        StrikePlan(PotAim("black", "top left"), 1.8, 0.005),
        ("white_rest", "potted"),
    ),
}  # fmt: skip


def simulated(seed: int, own: bool = False) -> tuple[PlayedAsked, np.ndarray]:
    """What is asked of one stroke, and how far off it really was: (4,) rad, share, m, m.

    Args:
        own: strokes as the player's own, with no bad ones among them
    """
    rng = np.random.default_rng([seed, 7])
    name = list(SHOTS)[seed % len(SHOTS)]
    balls, plan, read = SHOTS[name]
    table = GAUGED if seed // len(SHOTS) % 2 else ASSUMED
    position = Position(table, "match", table.cloths["match"].coefficients, balls)
    meant = Solver(position).solve(plan).strike
    player = load_player("club")
    deviations, row = _stroke(position, StrokePrior(meant, player), own, rng)
    doubt = doubt_of_position(position)
    tables = doubt.at(doubt.root_times(rng.standard_normal((1, len(doubt.names)))))
    batch = play_many(
        position,
        row,
        coefficients=coefficient_rows(position, tables),
        readouts=("cushion_nose", "cushion_x_mm", "cushion_y_mm"),
    )
    happened = _seen(position, batch, read, rng)
    ball = next((one for one in balls if one != "white"), "")
    asked = PlayedAsked(position, meant, player, happened, ball)
    return asked, StrokePrior(meant, player).off(deviations)[0]


def _stroke(
    position: Position, prior: StrokePrior, own: bool, rng: np.random.Generator
) -> tuple[np.ndarray, np.ndarray]:
    """Deviations (1, 4) and the strike (1, 5) of a stroke whose tip stays on the ball."""
    while True:
        off = rng.standard_normal((1, 4)) if own else prior.draw(1, rng)
        row = prior.rows(off)
        if struck(position, row)[0]:
            return off, row


def _seen(
    position: Position, batch: Batch, read: tuple[str, ...], rng: np.random.Generator
) -> Happened:
    """With the errors of a tape."""
    happened = Happened()
    white_down = batch.potted[0, 0] >= 0
    if white_down:
        happened = replace(happened, in_off=True)
    elif "white_rest" in read:
        happened = replace(happened, white_rest=_read(batch.rests[0, 0], rng))
    if "object_rest" in read and batch.potted[0, 1] < 0:
        happened = replace(happened, object_rest=_read(batch.rests[0, 1], rng))
    if "potted" in read:
        key = "potted" if batch.potted[0, 1] >= 0 else "not_potted"
        happened = replace(happened, **{key: (position.names[1],)})
    nose = batch.readouts["cushion_nose"][0]
    if "white_cushion" in read and not math.isnan(nose):
        number = position.table.words.cushions.index(position.table.noses[int(nose)].name)
        along = batch.readouts["cushion_y_mm" if number % 2 else "cushion_x_mm"][0] / 1000.0
        at = float(along + PLACE * rng.normal())
        happened = replace(happened, cushion=CushionMet(number, at))
    return happened


def _read(place: np.ndarray, rng: np.random.Generator) -> tuple[float, float]:
    x, y = (place + PLACE * rng.standard_normal(2)).tolist()
    return x, y


def struck_as(asked: PlayedAsked, off: np.ndarray) -> Strike:
    """The strike that was really struck."""
    meant = asked.meant
    return Strike(
        meant.aim + off[0], meant.pace * (1.0 + off[1]), meant.height + off[2], meant.side + off[3],
        meant.elevation,
    )  # fmt: skip
