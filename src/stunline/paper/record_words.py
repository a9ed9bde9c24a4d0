"""What stands beside a gauging shot, on paper and on the page: its set-up by tape, and cautions."""

from __future__ import annotations

from math import degrees

from stunline.calibration.record import Play
from stunline.shot.shot import Shot
from stunline.units import millimetres

_ABOUT = 50  # an expected resting place is told to this. [mm]
CAUTIONS = (
    "Measure from the cushion’s nose to the ball’s centre: lay the tape on the cloth beside the "
    "ball, and add half a ball to what you read at its edge.",
    "Ask the club before you mark its cloth; set a ball only once the tape is off the table.",
    "Film the table and not the people: where others, above all children, may come into the "
    "picture, ask them or those who care for them first, and keep to local rules.",
)


def set_up_rows(play: Play, shot: Shot) -> list[list[str]]:
    """Tape measurements of the balls, the aim and the drop, and where the white is to end.

    Places are told from the left and the near cushion always, as the record file has them.

    Args:
        play: as it is set up
        shot: about as it will go
    """
    rows = []
    near, _, _, left = shot.position.table.words.cushions
    for number, ball in enumerate(shot.position.names):
        what = "object ball" if number else "ramp’s foot" if play.shot.tool == "ramp" else "white"
        x, y = (millimetres(value) for value in shot.position.balls[ball])
        rows.append([what, f"{left} {x:.0f}, {near} {y:.0f} mm"])
    rows.append(["aim", f"{degrees(play.aim):.0f}° (0 to the right, 90 up the table)"])
    if play.shot.tool == "ramp":
        rows[-1][1] += f"; the ball’s centre drops by {millimetres(play.drop):.0f} mm"
    end = shot.rest(shot.position.names[0])
    if end is not None:
        x, y = (round(millimetres(value) / _ABOUT) * _ABOUT for value in end)
        rows.append(["expected", f"the white rests about {left} {x}, {near} {y} mm"])
    return rows
