"""How far off a coach's readings are, one standard deviation each; common practice, no source."""

from __future__ import annotations

PLACE = 0.005  # of a place read with a tape, along each axis [m]
HAND_TIME, FRAME_TIME = 0.15, 0.02  # of a time by hand, by counted frames [s]
TIMED_BY = {"hand": HAND_TIME, "frames": FRAME_TIME}
