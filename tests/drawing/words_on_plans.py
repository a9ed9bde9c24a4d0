"""Where a drawing's words lie: rectangles turned as the words are, their overlaps, the balls."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

from stunline.drawing.marks import Anchor, Box, Circle, Drawing, Layer, Role, Text
from stunline.drawing.page import Medium
from stunline.drawing.typeface import CAPITAL_HEIGHT, DESCENT, text_width

Point = tuple[float, float]
SLACK = 0.01  # rounding [px]


@dataclass(frozen=True)
class Words:
    """A text's rectangle: its middle, half its sides, and its turn. [mm, rad]"""

    text: Text
    middle: Point
    half: Point

    @property
    def corners(self) -> list[Point]:
        turn, (x, y) = self.text.angle, self.middle
        return [
            (
                x + a * self.half[0] * math.cos(turn) - b * self.half[1] * math.sin(turn),
                y + a * self.half[0] * math.sin(turn) + b * self.half[1] * math.cos(turn),
            )
            for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        ]

    def overlaps(self, other: Words, slack: float) -> bool:
        """Two rectangles are apart if and only if an axis along a side of one parts them."""
        for turn, quarter in product((self.text.angle, other.text.angle), (0.0, math.pi / 2)):
            axis = (math.cos(turn + quarter), math.sin(turn + quarter))
            one, two = (
                [x * axis[0] + y * axis[1] for x, y in words.corners] for words in (self, other)
            )
            if max(one) <= min(two) + slack or max(two) <= min(one) + slack:
                return False
        return True

    def lies_on(self, ball: Circle, slack: float) -> bool:
        turn = -self.text.angle
        across, up = ball.centre[0] - self.middle[0], ball.centre[1] - self.middle[1]
        x = across * math.cos(turn) - up * math.sin(turn)
        y = across * math.sin(turn) + up * math.cos(turn)
        off = math.hypot(max(abs(x) - self.half[0], 0.0), max(abs(y) - self.half[1], 0.0))
        return off < ball.radius - slack


def words_of(drawing: Drawing) -> list[Words]:
    return [_words(mark, drawing.scale) for mark in drawing.marks if isinstance(mark, Text)]


def _words(text: Text, scale: float) -> Words:
    size = text.size.value / scale
    width = text_width(text.words, size, text.bold)
    ahead = {Anchor.START: width / 2, Anchor.MIDDLE: 0.0, Anchor.END: -width / 2}[text.anchor]
    # From the lowest descender to the top of the capitals.
    up, height = (CAPITAL_HEIGHT - DESCENT) / 2 * size, (CAPITAL_HEIGHT + DESCENT) * size
    turn = text.angle
    middle = (
        text.at[0] + ahead * math.cos(turn) - up * math.sin(turn),
        text.at[1] + ahead * math.sin(turn) + up * math.cos(turn),
    )
    return Words(text, middle, (width / 2, height / 2))


def faults(drawing: Drawing, medium: Medium) -> Iterator[str]:
    """Everything that the rules for words forbid, in words."""
    slack, words = SLACK / drawing.scale, words_of(drawing)
    for one, two in combinations(words, 2):
        if one.overlaps(two, slack):
            yield f'"{one.text.words}" lies on "{two.text.words}"'
    balls = [mark for mark in drawing.of_layer(Layer.BALLS) if isinstance(mark, Circle)]
    balls = [ball for ball in balls if ball.role is not Role.PLATE]
    for one in words:
        window = drawing.windows.get(one.text.layer, drawing.view)
        outer = window if isinstance(window, Box) else drawing.view
        # The inset's round window cuts its ball, and may cut the ball's letter with it.
        is_seen = one.text.layer is not Layer.INSET
        if is_seen and not all(outer.grown(slack).holds(corner) for corner in one.corners):
            yield f'"{one.text.words}" is cut off'
        if one.text.size.value < medium.smallest.value:
            yield f'"{one.text.words}" is {one.text.size.value} px high'
        if one.text.layer is Layer.LABELS:
            for ball in balls:
                if one.lies_on(ball, slack):
                    yield f'"{one.text.words}" lies on {ball.id}'
