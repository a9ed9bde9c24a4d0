"""Where each number stands in the arrays that cross the border to the kernels.

Every array is float64 or int64, C-contiguous, in SI units. The layer above fills and
reads them by these names only. Changing a value here changes the compiled kernels, so
the cache is keyed by this file as well.
"""

# --- coefficients: one vector --------------------------------------------------------
SLIDING_FRICTION = 0  # μ_s [-]
ROLLING_RESISTANCE = 1  # μ_r [-]
SPIN_DECELERATION = 2  # of the spin about the vertical [rad s⁻²]
GRAVITY = 3  # [m s⁻²]
BALL_RESTITUTION = 4  # [-]
# Ball-on-ball friction μ(u) = FLOOR + SPAN·exp(−DECAY·u); a constant has SPAN = 0.
BALL_FRICTION_FLOOR = 5  # [-]
BALL_FRICTION_SPAN = 6  # [-]
BALL_FRICTION_DECAY = 7  # [s m⁻¹]
CUSHION_RESTITUTION = 8  # energetic [-]
CUSHION_FRICTION = 9  # nose on ball [-]
NOSE_HEIGHT = 10  # of the cushion's nose above the bed [m]
BALL_DAMPING = 11  # α of touching balls, ``hertz.damping_of(restitution)`` [-]
COEFFICIENT_COUNT = 12

# --- noses: one row for each straight piece of cushion -------------------------------
NOSE_X, NOSE_Y = 0, 1  # start of the piece [m]
NOSE_ALONG_X, NOSE_ALONG_Y = 2, 3  # unit vector along it
NOSE_INWARD_X, NOSE_INWARD_Y = 4, 5  # unit normal, into the playing area
NOSE_LENGTH = 6  # [m]
NOSE_COLUMNS = 7

# --- jaws: one row for each rounded end of a cushion ---------------------------------
JAW_X, JAW_Y = 0, 1  # centre of the arc [m]
JAW_RADIUS = 2  # [m]
JAW_MIDDLE_X, JAW_MIDDLE_Y = 3, 4  # unit vector from the centre to the arc's middle
JAW_COSINE = 5  # cosine of half the arc's angle [-]
JAW_POCKET = 6  # index of the pocket it belongs to
JAW_COLUMNS = 7

# --- drops: one row for each pocket; a ball is potted when its centre crosses the circle
DROP_X, DROP_Y, DROP_RADIUS = 0, 1, 2  # [m]
DROP_COLUMNS = 3

# --- motion of a ball, by its code ---------------------------------------------------
RESTING = 0
SPINNING = 1  # on the spot, about the vertical
ROLLING = 2
SLIDING = 3
POTTED = 4

# --- event kinds ---------------------------------------------------------------------
EVENT_STRIKE = 0
EVENT_BALL = 1
EVENT_CUSHION = 2
EVENT_JAW = 3
EVENT_POCKET = 4
EVENT_ROLL = 5  # sliding ended
EVENT_STOP = 6  # came to rest, or is left spinning on the spot
EVENT_SPIN_STOP = 7  # a ball on the spot stopped spinning
EVENT_CLUSTER = 8  # touching balls met at once: the first two, then a row for each other
EVENT_MEMBER = 9  # one more ball of the cluster in the row above
# Contact that lasts begins and ends: of two balls, of a ball and a nose, of a ball and a jaw.
EVENT_PRESS, EVENT_PRESS_CUSHION, EVENT_PRESS_JAW = 10, 11, 12
EVENT_RELEASE, EVENT_RELEASE_CUSHION, EVENT_RELEASE_JAW = 13, 14, 15
EVENT_PIECE = 16  # a piece of the motion of balls in lasting contact ended; never written

# Kinds in which the ball of a row and the other one meet.
MEETINGS = (EVENT_BALL, EVENT_CLUSTER)

# --- events: an int row and a float row each -----------------------------------------
EVENT_KIND, EVENT_BALL_A, EVENT_OTHER = 0, 1, 2  # other: ball, nose, jaw or pocket; −1
EVENT_INT_COLUMNS = 3
EVENT_TIME, EVENT_X, EVENT_Y = 0, 1, 2  # [s], place of ball A's centre [m]
EVENT_A_AFTER = 3  # vx, vy [m s⁻¹], ωx, ωy, ωz [rad s⁻¹] of ball A just after
EVENT_B_AFTER = 8  # the same of the other ball, where there is one
EVENT_FLOAT_COLUMNS = 13

# --- phases: an int row and a float row each -----------------------------------------
PHASE_BALL, PHASE_MOTION = 0, 1
PHASE_INT_COLUMNS = 2
PHASE_START, PHASE_END = 0, 1  # [s]
PHASE_X, PHASE_Y = 2, 3  # at the start [m]
PHASE_VX, PHASE_VY = 4, 5  # at the start [m s⁻¹]
PHASE_AX, PHASE_AY = 6, 7  # constant over the phase [m s⁻²]
PHASE_WX, PHASE_WY, PHASE_WZ = 8, 9, 10  # spin at the start [rad s⁻¹]
PHASE_DWX, PHASE_DWY = 11, 12  # its constant rate of change [rad s⁻²]
PHASE_FLOAT_COLUMNS = 13

# --- a ball's row while it runs: the columns of a phase, then these ------------------
BALL_RADIUS, BALL_MASS, BALL_REACH = 13, 14, 15  # [m], [kg], nose line to centre at contact [m]

# --- when a run ends: rules given, codes returned ------------------------------------
RUN_TO_REST = 0
RUN_TO_FIRST_CONTACT = 1  # the first ball-on-ball impact, after it is resolved
RUN_WATCHED = 2  # until the watched ball, once struck, is potted, rests or meets a non-jaw
RUN_TO_ARRIVAL = 3  # the first ball-on-ball impact, before it is resolved
# Until the white reaches a ball besides its first, or is down, and the watched ball, where there
# is one, is down or at rest. From that meeting on, which is not resolved, the white is away.
RUN_TO_SECOND_BALL = 4

STOP_AT_REST = 0
# 1 was "at rest, touching or lasting contacts treated pair by pair", before both had laws.
STOP_RECORD_FULL = 2  # the caller's arrays are too short: play again with longer ones
STOP_RULE_MET = 3  # one of the early rules above

# --- many shots in one call ------------------------------------------------------------
# A strike, one row each: the angles from +x and above the bed [rad], the pace [m s⁻¹], the tip's
# offsets from the ball's centre [m].
STRIKE_AIM, STRIKE_PACE, STRIKE_HEIGHT, STRIKE_SIDE, STRIKE_ELEVATION = 0, 1, 2, 3, 4
STRIKE_COLUMNS = 5
# What is told of each shot in whole numbers.
TALLY_STOP, TALLY_EVENTS = 0, 1  # how the run ended; rows of events, 0 while it is not played
TALLY_FIRST_BALL = 2  # the ball that the white met first, −1 for none
TALLY_NEXT_KIND, TALLY_NEXT_OTHER = 3, 4  # what the white met next: kind and index, −1 for nothing
TALLY_CUSHIONS = 5  # that the white met, jaws not counted
TALLY_OF_GROUP = 6  # the ball of a group that the white met first, −1 for none
TALLY_SECOND_BALL = 7  # that the white met next but for the first one itself, −1 for none
TALLY_TOUCHED = 8  # all balls that the white met, ball i as the bit 2^i
TALLY_COLUMNS = 9
# And in numbers, NaN where there is none; the first contact is the white's.
READ_SQUIRT = 0  # [rad]
READ_CONTACT_TIME, READ_CONTACT_X, READ_CONTACT_Y = 1, 2, 3  # [s], the white's centre [m]
READ_CUT_ANGLE, READ_THICKNESS = 4, 5  # [rad], [-]
READ_ARRIVAL_SPEED, READ_FOLLOW_RATIO = 6, 7  # [m s⁻¹], [-]
READ_TANGENT_DIRECTION, READ_FIRST_DIRECTION = 8, 9  # from +x [rad]
READ_OFF_TANGENT = 10  # [rad]
READ_OBJECT_DIRECTION, READ_THROW = 11, 12  # [rad]
READ_WHITE_SPEED_AFTER, READ_OBJECT_SPEED_AFTER = 13, 14  # [m s⁻¹]
READ_ENERGY_KEPT = 15  # [-]
READ_TOTAL_BEND = 16  # [rad]
READ_NEXT_TIME, READ_NEXT_X, READ_NEXT_Y = 17, 18, 19  # [s], the white's centre [m]
READ_NEXT_SPEED, READ_NEXT_THICKNESS = 20, 21  # [m s⁻¹], [-]
READ_NEXT_SINE = 22  # of the cut there, positive on the ball's right side [-]
READ_DURATION = 23  # [s]
READ_SECOND_SINE = 24  # of the cut at the second ball, positive on its right side [-]
# The white's first cushion after its first ball, or of all where it met none: the number of the
# nose's piece, and the white's centre. [m]
READ_CUSHION_NOSE, READ_CUSHION_X, READ_CUSHION_Y = 25, 26, 27
READ_COLUMNS = 28
# A gap that the white may pass: its two posts, each a ball's number or −1 for a fixed place, and
# then that place and how near to it the white's centre may come. [m]
GAP_BALLS = 2
GAP_X, GAP_Y, GAP_CLEAR = 0, 1, 2  # of the first post
GAP_COLUMNS = 6
# A raster over the bed, from the origin on: side of a cell [m], columns, rows.
RASTER_CELL, RASTER_COLUMNS, RASTER_ROWS = 0, 1, 2
RASTER_LENGTH = 3
