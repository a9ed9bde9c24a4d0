"""What must be said beside a shot's numbers: where the model ends, and what may hurt."""

from __future__ import annotations

import math

from stunline.mechanics import layout
from stunline.shot.miscue import miscue_words
from stunline.shot.position import Arrive, PocketWeight, StrikePlan
from stunline.shot.sentences import capital
from stunline.shot.shot import Shot
from stunline.shot.words import arrival_phrase, with_article

# Rigid cushions hold up to this speed into the cushion [m s⁻¹]; beyond it rubber gives way
# noticeably. Source: abstract of Mathavan, Jackson & Parkin (2010) [S].
RIGID_CUSHION_LIMIT = 2.5
# From here on a stroke is called a power stroke [m s⁻¹]: 3.2 to 4.5 m/s off the tip. Source:
# Colorado State University, table of ball speeds [S].
POWER_STROKE = 3.2
# A butt raised by more than this strikes down on ball and cloth. [rad] Common practice, no
# source.
RAISED = math.radians(10.0)


def notes(shot: Shot, plan: StrikePlan | None = None) -> tuple[str, ...]:
    """Sentences that belong beside this shot, most important first.

    Args:
        plan: what was asked for, when that says more than the strike
    """
    found = []
    white = shot.position.names[0]
    if shot.strike.pace >= POWER_STROKE:
        found.append(
            f"A power stroke ({shot.strike.pace:.1f} m/s): warm up first, stop if wrist, elbow or "
            "back complains, and ask a coach or physician; keep people and glass away from the "
            "table's end, where a ball may leave it."
        )
    if shot.strike.elevation > RAISED:
        raised = math.degrees(shot.strike.elevation)
        found.append(
            f"The butt is raised by {raised:.0f}°: ask the club before striking down on its "
            f"cloth. {capital(with_article(white))}'s hop is not computed."
        )
    slips = miscue_words(shot.position, shot.strike.height, shot.strike.side)
    if slips:
        found.append(slips)
    fastest = fastest_into_cushion(shot)
    if fastest > RIGID_CUSHION_LIMIT:
        found.append(
            f"A cushion is met at {fastest:.1f} m/s, straight into it; the cushion's law holds up "
            f"to {RIGID_CUSHION_LIMIT} m/s, so what follows is less sure."
        )
    if plan is not None and isinstance(plan.pace, PocketWeight) and isinstance(plan.height, Arrive):
        found.append(
            f"Pocket weight is here {shot.strike.pace:.2f} m/s: the slowest pace at which the ball "
            f"drops and {with_article(white)} arrives {arrival_phrase(plan.height.follow_ratio)}. "
            "Without that way of arriving it may be slower."
        )
    return tuple(found)


def fastest_into_cushion(shot: Shot) -> float:
    """The largest speed straight into any nose or jaw, of any ball. [m s⁻¹]"""
    record = shot.record
    kinds = record.event_ints[:, layout.EVENT_KIND]
    rows = (kinds != layout.EVENT_MEMBER).nonzero()[0]  # one an event
    fastest = 0.0
    for row, event in zip(rows.tolist(), shot.events, strict=True):
        if kinds[row] not in (layout.EVENT_CUSHION, layout.EVENT_JAW):
            continue
        ball = event.balls[0]
        before = shot.motion_before(ball, event).velocity
        nx, ny = _normal(shot, row, event.at)
        fastest = max(fastest, -(before[0] * nx + before[1] * ny))
    return fastest


def _normal(shot: Shot, row: int, at: tuple[float, float]) -> tuple[float, float]:
    """Unit normal of the boundary, into the table, where that event happened."""
    table = shot.position.table
    index = int(shot.record.event_ints[row, layout.EVENT_OTHER])
    if shot.record.event_ints[row, layout.EVENT_KIND] == layout.EVENT_JAW:
        centre = table.jaws[index].centre
        size = math.dist(at, centre)
        return (at[0] - centre[0]) / size, (at[1] - centre[1]) / size
    pieces = table.noses if shot.position.coefficients.pockets else table.plain_noses
    (x0, y0), (x1, y1) = pieces[index].start, pieces[index].end
    size = math.hypot(x1 - x0, y1 - y0)
    return -(y1 - y0) / size, (x1 - x0) / size
