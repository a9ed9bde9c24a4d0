"""One ball while it runs: its row of numbers, and how a motion begins and goes on."""

from stunline.mechanics.cloth import motion_of, rolling, sliding, spin_after
from stunline.mechanics.compiling import inlined_kernel
from stunline.mechanics.layout import (
    BALL_MASS,
    BALL_RADIUS,
    BALL_REACH,
    GRAVITY,
    PHASE_AX,
    PHASE_AY,
    PHASE_DWX,
    PHASE_DWY,
    PHASE_END,
    PHASE_START,
    PHASE_VX,
    PHASE_VY,
    PHASE_WX,
    PHASE_WY,
    PHASE_WZ,
    PHASE_X,
    PHASE_Y,
    POTTED,
    ROLLING,
    ROLLING_RESISTANCE,
    SLIDING,
    SLIDING_FRICTION,
    SPIN_DECELERATION,
    SPINNING,
)
from stunline.mechanics.roots import NEVER

# A ball's row: first the columns of a phase, then what its caller gives, then what is kept
# while it runs.
START, END = PHASE_START, PHASE_END  # since the strike; END is that of the motion by itself [s]
X, Y, VX, VY, AX, AY = PHASE_X, PHASE_Y, PHASE_VX, PHASE_VY, PHASE_AX, PHASE_AY
WX, WY, WZ, DWX, DWY = PHASE_WX, PHASE_WY, PHASE_WZ, PHASE_DWX, PHASE_DWY
RADIUS, MASS, REACH = BALL_RADIUS, BALL_MASS, BALL_REACH
BOX = 16  # x low, x high, y low, y high of the path to the motion's own end [m]
WALL_TIME, WALL_KIND, WALL_INDEX = 20, 21, 22  # next meeting with the boundary
PAIR_TIME, PAIR_OTHER = 23, 24  # earliest meeting with a ball of a higher number
PRESSED = 25  # 1 while it is in a contact that lasts
LAST_RELEASE = 26  # when such a contact was last found not to press, or to press no more [s]
HELD_1, HELD_2 = 27, 28  # the walls that it is pressed to, as ``wall_code``, or NO_WALL
CHANGED = 29  # 1 when its motion changed in the present event
GROUP = 30  # 0, or 1 and 2 while balls in contact with each other are gathered
CLOTH_X, CLOTH_Y = 31, 32  # the cloth's acceleration, contacts left out [m s⁻²]
PUSH_X, PUSH_Y = 33, 34  # sum of the forces of lasting contacts [N]
PER_MASS = 35  # 1/m', m' = m sliding and 7m/5 rolling [kg⁻¹]
STOPPING = 36  # 1 while it is being found whether a ball in contact has come to rest
PLANNED = 37  # 1 when it was in a contact that lasts before the present event
WORK_COLUMNS = 38

NO_WALL = -1.0


@inlined_kernel
def begin(work, motion, i, time, coefficients):
    """Start the motion that follows from the ball's velocity and spin at that time."""
    work[i, START] = time
    work[i, AX] = 0.0
    work[i, AY] = 0.0
    work[i, DWX] = 0.0
    work[i, DWY] = 0.0
    work[i, END] = NEVER
    if motion[i] == POTTED:
        return
    radius = work[i, RADIUS]
    kind = motion_of(
        work[i, VX], work[i, VY], work[i, WX], work[i, WY], work[i, WZ],
        radius, coefficients[SPIN_DECELERATION],
    )  # fmt: skip
    motion[i] = kind
    if kind == SLIDING:
        ax, ay, duration = sliding(
            work[i, VX], work[i, VY], work[i, WX], work[i, WY], radius,
            coefficients[SLIDING_FRICTION], coefficients[GRAVITY],
        )  # fmt: skip
        work[i, AX] = ax
        work[i, AY] = ay
        # The cloth's torque on a solid sphere: (5/2)/R times the acceleration, turned.
        work[i, DWX] = 2.5 / radius * ay
        work[i, DWY] = -2.5 / radius * ax
        work[i, END] = time + duration
    elif kind == ROLLING:
        ax, ay, duration = rolling(
            work[i, VX], work[i, VY], coefficients[ROLLING_RESISTANCE], coefficients[GRAVITY]
        )
        work[i, AX] = ax
        work[i, AY] = ay
        work[i, DWX] = -ay / radius
        work[i, DWY] = ax / radius
        work[i, END] = time + duration
    else:
        work[i, VX] = 0.0
        work[i, VY] = 0.0
        work[i, WX] = 0.0
        work[i, WY] = 0.0
        if kind == SPINNING:
            work[i, END] = time + abs(work[i, WZ]) / coefficients[SPIN_DECELERATION]
    set_box(work, i)


@inlined_kernel
def set_box(work, i):
    """The smallest upright rectangle around the path to the motion's own end."""
    low, high = _span(work[i, X], work[i, VX], work[i, AX], work[i, END] - work[i, START])
    work[i, BOX] = low
    work[i, BOX + 1] = high
    low, high = _span(work[i, Y], work[i, VY], work[i, AY], work[i, END] - work[i, START])
    work[i, BOX + 2] = low
    work[i, BOX + 3] = high


@inlined_kernel
def _span(place, speed, acceleration, duration):
    """Least and greatest of ``place + speed·t + acceleration·t²/2`` over [0, duration]."""
    if speed == 0.0 and acceleration == 0.0:
        return place, place
    last = place + duration * (speed + 0.5 * duration * acceleration)
    low = min(place, last)
    high = max(place, last)
    if speed * acceleration < 0.0 and abs(speed) < abs(acceleration) * duration:
        turn = place - 0.5 * speed * speed / acceleration
        low = min(low, turn)
        high = max(high, turn)
    return low, high


@inlined_kernel
def advance(work, motion, i, time, coefficients):
    """Move a ball's place, velocity and spin to that time."""
    t = time - work[i, START]
    if motion[i] > SPINNING:
        work[i, X] += t * (work[i, VX] + 0.5 * t * work[i, AX])
        work[i, Y] += t * (work[i, VY] + 0.5 * t * work[i, AY])
        work[i, VX] += t * work[i, AX]
        work[i, VY] += t * work[i, AY]
        work[i, WX] += t * work[i, DWX]
        work[i, WY] += t * work[i, DWY]
    work[i, WZ] = spin_after(work[i, WZ], t, coefficients[SPIN_DECELERATION])
    work[i, START] = time
