"""What the white met, in the few numbers that aiming and searching need."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from stunline.equipment.model import Point
from stunline.shot import plane
from stunline.shot.contact import follow_ratio
from stunline.shot.shot import Motion


@dataclass(frozen=True, slots=True)
class Tally:
    """What the white met, and what fell, in the kernels' numbers.

    Attributes:
        first_ball: index of the ball that the white met first, −1 for none
        next_kind, next_other: what it met next: a kind of event and the index of the ball, nose
            or jaw; −1 for nothing
        next_sine: sine of the cut at that ball, positive on its right side; NaN for none [-]
        cushions: that the white met
        potted: index of each ball that fell → index of its pocket
    """

    first_ball: int
    next_kind: int
    next_other: int
    next_sine: float
    cushions: int
    potted: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class Meeting:
    """The white's first meeting with a ball, in the few numbers that aiming needs.

    Attributes:
        ball: the other ball's name
        white_place, ball_place: their centres [m]
        white, other: motions of the white and of that ball, before or after as asked
        cushion_first: whether the white met a cushion or jaw on its way
        radius: the white's [m]
    """

    ball: str
    white_place: Point
    ball_place: Point
    white: Motion
    other: Motion
    cushion_first: bool
    radius: float

    @property
    def signed_sine(self) -> float:
        """As ``Contact.signed_sine``, of a meeting that is not yet resolved. [-]"""
        line = plane.unit(plane.between(self.white_place, self.ball_place))
        return plane.cross(plane.unit(self.white.velocity), line)

    @property
    def follow_ratio(self) -> float:
        """As ``Contact.follow_ratio``, of a meeting that is not yet resolved. [-]"""
        return follow_ratio(self.white, self.radius)
