"""The menu of gauging shots, as data: what one person can play and measure.

Places are shares of the table's width and length, so that the menu serves every size of table.
Shots keep clear of the pockets.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Tool = Literal["ramp", "cue", "fingers"]
Share = tuple[float, float]

WHITE_REST, OBJECT_REST, TIME, TURNS = "white_rest", "object_rest", "time", "turns"
CUSHION, OBJECT_CUSHION = "white_cushion", "object_cushion"


@dataclass(frozen=True, slots=True)
class GaugingShot:
    """One shot of the menu.

    Attributes:
        id: in record files
        title: for people
        tool: what sets the white going
        set_up, do, write_down, tells: in words
        caution: what spoils it
        readings: keys that a record may hold; those of ``needed`` are asked for
        needed: keys without which the play says nothing
        white, object: places, shares of width and length from the baulk cushion's left end
        aim: anticlockwise from +x [rad]
        overlap: how far beside the white's line the object ball's centre is set, to its left, over
            the object ball's radius [-]
        drop: of the ball's centre on the ramp, asked for [m]
        pace: of a stroke, about [m s⁻¹]
        height: of a stroke's contact point, about, over the white's radius [-]
        one_heading: whether it rolls in one direction all the way
    """

    id: str
    title: str
    tool: Tool
    set_up: str
    do: str
    write_down: str
    tells: str
    caution: str
    readings: tuple[str, ...]
    needed: tuple[str, ...]
    white: Share = (0.5, 0.5)
    object: Share | None = None
    aim: float = 0.5 * math.pi
    overlap: float = 0.0
    drop: float = 0.0
    pace: float = 0.0
    height: float = 0.0
    one_heading: bool = False


_FOOT = "Stand the ramp so that the ball first touches the cloth at the place given"
_RELEASE = "Hold the ball at the mark with a ruler and draw the ruler away; never push."
_ROLL_CAUTION = (
    "A ball that curves or touches anything does not count; where it reaches the far cushion, "
    "lower the ramp and write down its drop."
)
_STROKE = "Play as you can: pace and height of the stroke are found by the fit, not asked for."
_BOTH = "Where the white rests and where the object ball rests."


def _roll(name: str, where: str, white: Share, aim: float, drop: float) -> GaugingShot:
    return GaugingShot(
        id=f"roll-{name}",
        title=f"Rolling {where}",
        tool="ramp",
        set_up=f"{_FOOT}, pointing {where}.",
        do=f"{_RELEASE} Time it from the foot of the ramp to rest.",
        write_down="Where the white rests, and the time in seconds.",
        tells=f"rolling resistance {where}; with the ways back and across, nap and level",
        caution=_ROLL_CAUTION,
        readings=(WHITE_REST, TIME),
        needed=(WHITE_REST,),
        white=white,
        aim=aim,
        drop=drop,
        one_heading=True,
    )


def _cushion(degrees: int, white: Share, drop: float) -> GaugingShot:
    square = degrees == 90
    return GaugingShot(
        id="cushion-square" if square else f"cushion-{degrees}",
        title="Square into the top cushion" if square else f"Into the right cushion at {degrees}°",
        tool="ramp",
        set_up=f"{_FOOT}, pointing "
        + ("straight up the table." if square else f"at {degrees}° to the right cushion."),
        do=f"{_RELEASE} Time it from the foot of the ramp to rest.",
        write_down="Where the white rests, and the time in seconds.",
        tells="cushion restitution" + ("" if square else " and cushion friction") + ", rolling",
        caution="Keep clear of the pockets' jaws.",
        readings=(WHITE_REST, TIME),
        needed=(WHITE_REST,),
        white=white,
        aim=math.radians(90 if square else 90 - degrees),
        drop=drop,
    )


def _straight(name: str, what: str, pace: float, height: float) -> GaugingShot:
    return GaugingShot(
        id=f"{name}-straight",
        title=f"Straight {what}",
        tool="cue",
        set_up="White and object ball in line up the table, a good half-metre apart.",
        do=f"Play a full-ball {what}. {_STROKE}",
        write_down=_BOTH,
        tells="ball restitution; with others, how soon the cloth turns the spin",
        caution="Off straight by a ball's tenth is no harm: both resting places show it.",
        readings=(WHITE_REST, OBJECT_REST),
        needed=(WHITE_REST, OBJECT_REST),
        white=(0.5, 0.25),
        object=(0.5, 0.42),
        pace=pace,
        height=height,
    )


def _bend(name: str, what: str, pace: float, height: float) -> GaugingShot:
    return GaugingShot(
        id=f"bend-{name}",
        title=f"Half-ball with {what}",
        tool="cue",
        set_up="The object ball half a ball to the left of the white's line straight up the table.",
        do=f"Play straight up the table with much {what}, hard: the bend grows as the square of "
        f"the pace. {_STROKE}",
        write_down="Where white and object ball first touch a cushion (chalk or film), and where "
        "the white rests.",
        tells="sliding friction: how far the white runs on before it bends",
        caution="A guess at where one touched is worse than none; where the balls meet a second "
        "time, play it again.",
        readings=(CUSHION, OBJECT_CUSHION, WHITE_REST),
        needed=(CUSHION, OBJECT_CUSHION),
        white=(0.5, 0.30),
        object=(0.5, 0.42),
        overlap=1.0,
        pace=pace,
        height=height,
    )


MENU: tuple[GaugingShot, ...] = (
    _roll("up", "up the table", (0.5, 0.12), 0.5 * math.pi, 0.025),
    _roll("down", "down the table", (0.5, 0.88), 1.5 * math.pi, 0.025),
    _roll("across", "across the table", (0.12, 0.42), 0.0, 0.012),
    _cushion(90, (0.5, 0.72), 0.10),
    _cushion(60, (0.4, 0.15), 0.08),
    _cushion(45, (0.5, 0.15), 0.08),
    _cushion(30, (0.7, 0.08), 0.08),
    GaugingShot(
        id="full-ball",
        title="Full on an object ball",
        tool="ramp",
        set_up=f"{_FOOT}, pointing up the table; the object ball in line with it.",
        do=_RELEASE,
        write_down=_BOTH,
        tells="ball restitution",
        caution="Wipe both balls; a speck of chalk at the contact kicks.",
        readings=(WHITE_REST, OBJECT_REST),
        needed=(WHITE_REST, OBJECT_REST),
        white=(0.5, 0.30),
        object=(0.5, 0.40),
        drop=0.09,
    ),
    GaugingShot(
        id="half-ball",
        title="Half-ball on an object ball",
        tool="ramp",
        set_up=f"{_FOOT}, pointing up the table; the object ball half a ball to its line's left.",
        do=_RELEASE,
        write_down=f"{_BOTH} If you can, also where the white first touches a cushion.",
        tells="ball friction (throw), ball restitution, a little of sliding friction",
        caution="Wipe both balls; a speck of chalk at the contact kicks.",
        readings=(WHITE_REST, OBJECT_REST, CUSHION),
        needed=(WHITE_REST, OBJECT_REST),
        white=(0.5, 0.28),
        object=(0.5, 0.40),
        overlap=1.0,
        drop=0.10,
    ),
    _bend("follow", "follow", 3.0, 0.45),
    _bend("screw", "screw", 3.0, -0.45),
    _straight("screw", "screw", 1.6, -0.4),
    _straight("stun", "stun", 1.4, -0.15),
    _straight("follow", "follow", 1.2, 0.35),
    GaugingShot(
        id="up-and-down",
        title="Plain stroke up and down",
        tool="cue",
        set_up="White in the middle, near the baulk line.",
        do=f"Play straight up, off the top cushion. {_STROKE}",
        write_down="Where the white rests, and the time from strike to rest.",
        tells="cushion restitution at more pace",
        caution="No side: a white that comes back beside its line has some; play it again.",
        readings=(WHITE_REST, TIME),
        needed=(WHITE_REST, TIME),
        white=(0.5, 0.2),
        pace=1.5,
        height=0.1,
    ),
    GaugingShot(
        id="twirl",
        title="Ball twirled on the spot",
        tool="fingers",
        set_up="Any striped or marked ball anywhere on the cloth.",
        do="Twirl it between the fingers so that it stays on its spot; film it from above.",
        write_down="How many turns it makes until it stands, and the time of that.",
        tells="spin deceleration",
        caution="It must not wander; count from the film.",
        readings=(TURNS, TIME),
        needed=(TURNS, TIME),
    ),
)
BY_ID = {shot.id: shot for shot in MENU}

# Five minutes, and half an hour. The ball is twirled twice: nothing else tells of a wrong count.
QUICK = ("roll-up", "cushion-square", "half-ball")
FULL = (
    "roll-up",
    "roll-down",
    "roll-across",
    "cushion-square",
    "cushion-45",
    "cushion-30",
    "full-ball",
    "half-ball",
    "bend-follow",
    "bend-screw",
    "twirl",
    "twirl",
)
