"""Writes a commented position file to start from, in the words of a table's own game."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from stunline.equipment.based_on import STANDARD
from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import ball_contact_distance
from stunline.equipment.model import Point, SpeedDependentFriction, Table
from stunline.files.words import listed, quoted
from stunline.shot.position_file.names import any_names
from stunline.shot.position_file.writing import text
from stunline.shot.words import ball_words, with_article
from stunline.units import millimetres

# The shot that a new file starts with: a cut that a beginner can see, from near enough.
_CUT = math.radians(30.0)
_OBJECT_BALL_FROM_POCKET = 0.2  # of the table's length
_WHITE_FROM_CONTACT = 0.3  # of the table's length

_BEHIND_A_VALUE = re.compile(r"^(.*? = .*?\S) +# (.*)$")
_COLUMN = 28  # characters before a comment that stands behind a value

_NEW_FILE = """\
# A position for stunline. Lengths are millimetres, angles degrees, paces m/s. A length may
# also be written with its unit: "11 5/8 in", "295 mm". What stands behind a # is a comment.

title = {title}
table = {table}      # a table of the equipment data, or a table file beside this one
cloth = {cloth}             # a profile of that table: {cloths}
units = "mm"                # in which lengths are shown: "mm" or "in"

# What is left out here comes from the cloth profile; take away a # to set your own.
[coefficients]
# sliding_friction = {sliding_friction:g}     # ball sliding on cloth
# rolling_resistance = {rolling_resistance:g}  # ball rolling on cloth
# spin_deceleration = {spin_deceleration:g}      # rad/s², of side on the cloth
# ball_restitution = {ball_restitution:g}     # ball on ball: 1 gives all speed back
# ball_friction = 0.06        # ball on ball: a number{or_speed_dependent}
# cushion_restitution = {cushion_restitution:g}
# cushion_friction = {cushion_friction:g}
# squirt = true               # false: {white} starts exactly along the aim
{pockets_key}# gravity = {gravity:g}              # m/s²

# Places of the centres: mm from the {left} cushion, mm from the {near} cushion, seen from the
# {near} end. Or a spot's name: {spots}.
[balls]
{cue_ball} = {white_place}
{ball} = {ball_place}
# The other balls of the set: {others}.
{groups}
[strike]
# Where {white} goes: exactly one of {aims}.
{pot}{contact}#     thickness: "full" "three-quarter" "half" "quarter" "fine", or up to 1 (full);
#     on: the side of that ball that {white} meets, seen along its way
# aim = 63.2                  # degrees anticlockwise from left → right along the {near} cushion

pace = {pace:g}                    # m/s off the tip, 0.02 to 15; or "2.5 lengths"{or_pocket_weight}
height = 0.0                  # mm above (+) or below (−) the centre; or "centre", "max follow",
                              # "max screw". Beyond half the ball's radius the tip slips off
# arrive = "stun"             # instead of height: "stun", "rolling", or −0.4 for 40 % screw
side = 0.0                    # mm right (+) or left (−) of the centre
elevation = 0.0               # degrees, of the cue's butt

# The same shot again with one thing changed.
# [ladder]
# vary = "pace"               # pace, height, side, thickness, distance, table, cloth
# values = [1.0, 1.7, 2.2]

# What the shot should do, for stunline choose, margin and reach. Every demand that is given must
# hold.
# [goal]
{goal}# meet = {{ ball = {other}, on = "right", thickness = [0.05, 0.6] }}
# through = {{ between = {posts} }}       # the whole of {white} clear of both
# rest = {{ circle = {circle} }}     # or polygon = [[x, y], …]{or_areas}
{next}# touch = [{other}]
# cushions = [0, 2]           # that {white} meets, least and most
{in_off}# vary = {{ pace = [0.8, 3.0], height = [-10.0, 10.0], side = 0.0 }}
# player = "club"
"""


@dataclass(frozen=True, slots=True)
class _Start:
    """The shot that a new file starts with. Places in metres."""

    ball: str
    ball_place: Point
    white_place: Point
    pocket: str


def write_new(title: str = "", table_name: str = STANDARD) -> str:
    """A commented position file to start from, valid and solvable as it stands.

    Args:
        title: the position's; "" for one that says what the shot is
        table_name: of a shipped table

    Raises:
        InputError: no such table.
    """
    table = load_table(table_name)
    start = _start(table)
    white = with_article(table.cue_ball)
    others = tuple(name for name in table.balls if name not in (table.cue_ball, start.ball))
    coefficients = table.default_cloth().coefficients
    near, _, _, left = table.words.cushions
    speeds = isinstance(coefficients.ball_friction, SpeedDependentFriction)
    ball = table.balls[start.ball]
    middle = (0.5 * table.width, 0.5 * table.length)
    filled = _NEW_FILE.format(
        **_pocket_lines(table, start),
        title=text(title or _title(table, start)),
        table=text(table_name),
        cloth=text(table.default_cloth().name),
        cloths=quoted(table.cloths),
        sliding_friction=coefficients.sliding_friction,
        rolling_resistance=coefficients.rolling_resistance,
        spin_deceleration=coefficients.spin_deceleration,
        ball_restitution=coefficients.ball_restitution,
        or_speed_dependent=', or "speed-dependent"' if speeds else "",
        cushion_restitution=coefficients.cushion_restitution,
        cushion_friction=coefficients.cushion_friction,
        gravity=coefficients.gravity,
        white=white,
        near=near,
        left=left,
        spots=" ".join(text(name) for name in table.spots),
        cue_ball=table.cue_ball,
        white_place=_place(start.white_place),
        ball=start.ball,
        ball_place=text(ball.spot) if ball.spot else _place(start.ball_place),
        others=listed(others),
        groups=_group_lines(table),
        pace=1.7,
        other=text(others[0]),
        posts=f"[{', '.join(text(name) for name in tuple(table.spots)[-2:])}]",
        circle=f"{_place(middle)[:-1]}, 150.0]",
        or_areas="".join(f'; or "{name}"' for name in _areas(table)),
    )
    return _aligned(filled)


def _aligned(filled: str) -> str:
    """The comments behind values one under the other; the title's own words left alone."""
    return "\n".join(
        line if line.startswith("title") else _BEHIND_A_VALUE.sub(_in_column, line)
        for line in filled.split("\n")
    )


def _in_column(found: re.Match[str]) -> str:
    return f"{found[1]:<{_COLUMN}}  # {found[2]}"


def _pocket_lines(table: Table, start: _Start) -> dict[str, str]:
    """What a file on a table with pockets says more than one on a table without."""
    contact = f'contact = {{ ball = {text(start.ball)}, thickness = "half", on = "left" }}\n'
    if not table.pockets:
        return {
            "pot": "",
            "contact": contact,
            "aims": "contact and aim",
            "pockets_key": "",
            "goal": "",
            "next": "",
            "in_off": "",
            "or_pocket_weight": "",
        }
    pot = f"pot = {{ ball = {text(start.ball)}, pocket = {text(start.pocket)} }}"
    any_ball = text(next(iter(any_names(table))))
    pockets = " ".join(text(pocket.name) for pocket in table.pockets)
    return {
        "pot": f"{pot}\n#     pocket: {pockets}\n",
        "contact": f"# {contact}",
        "aims": "pot, contact and aim",
        "pockets_key": "# pockets = true              # false: four plain cushions\n",
        "goal": f"# {pot}\n",
        "next": f"# next = {{ ball = {any_ball}, cut = [0.0, 40.0] }} # that can then be potted\n",
        "in_off": "# in_off = false\n",
        "or_pocket_weight": '; or "pocket weight"',
    }


def _group_lines(table: Table) -> str:
    """Balls that may be placed together, by their rack or in a list."""
    lines = []
    for group, members in table.groups.items():
        racks = [name for name, rack in table.racks.items() if set(rack) <= set(members)]
        if racks:
            lines.append(
                f"# {group} = {text(racks[0])}  # touching balls: {quoted(racks)}; or places,"
            )
            lines.append(f"#     then {listed(members[:2])}, … in order")
    return "\n".join([*lines, ""])


def _areas(table: Table) -> list[str]:
    areas = ["D"] if table.d_radius and table.baulk_line else []
    return areas + ([table.words.behind_line] if table.baulk_line else [])


def _title(table: Table, start: _Start) -> str:
    name = ball_words(start.ball)
    if not table.pockets:
        return f"Half-ball off {with_article(start.ball)}"
    return f"{name[:1].upper()}{name[1:]} to the {start.pocket} pocket"


def _start(table: Table) -> _Start:
    """A cut into the last pocket, or half-ball contact where there is none.

    The object ball stands on its spot, or in front of the pocket; the cue ball where the cut
    is 30°, on the side that is nearer to the middle of the table.
    """
    others = [ball for name, ball in table.balls.items() if name != table.cue_ball]
    ball = next((one for one in reversed(others) if one.spot), others[0])
    target: Point = (table.width, table.length)
    pocket = ""
    if table.pockets:
        pocket, target = table.pockets[-1].name, table.pockets[-1].mouth_middle
    slant = _OBJECT_BALL_FROM_POCKET * table.length * math.sqrt(0.5)
    place = table.spots.get(ball.spot, (target[0] - slant, target[1] - slant))
    way = math.atan2(target[1] - place[1], target[0] - place[0])
    apart = ball_contact_distance(table.balls[table.cue_ball].radius, ball.radius)
    ghost = (place[0] - apart * math.cos(way), place[1] - apart * math.sin(way))
    away = _WHITE_FROM_CONTACT * table.length
    choices = [
        (ghost[0] - away * math.cos(way + cut), ghost[1] - away * math.sin(way + cut))
        for cut in (_CUT, -_CUT)
    ]
    middle = (0.5 * table.width, 0.5 * table.length)
    return _Start(ball.name, place, min(choices, key=lambda one: math.dist(one, middle)), pocket)


def _place(place: Point) -> str:
    """To the tenth of a millimetre, as a tape measure goes at best."""
    return f"[{millimetres(place[0]):.1f}, {millimetres(place[1]):.1f}]"
