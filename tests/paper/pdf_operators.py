"""Follows a PDF page's drawing operators: what is painted, where, with which line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import dist

import pikepdf

from paper.pdf_page import Box, Path, Point, Segment, box_of

Matrix = tuple[float, float, float, float, float, float]


_PAINTING = frozenset({"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n"})


@dataclass(frozen=True)
class State:
    """The graphics state, as far as it matters here."""

    matrix: Matrix
    clip: Box
    stroke: tuple[float | str, ...] = (0.0,)
    fill: tuple[float | str, ...] = (0.0,)
    width: float = 1.0
    dash: tuple[float, ...] = ()


@dataclass
class Reader:
    """Follows a page's operators and gathers what is painted."""

    state: State
    paths: list[Path] = field(default_factory=list)
    images: int = 0
    stack: list[State] = field(default_factory=list)
    subpaths: list[list[Segment]] = field(default_factory=list)
    closed: list[bool] = field(default_factory=list)
    at: Point = (0.0, 0.0)
    start: Point = (0.0, 0.0)
    clips: bool = False

    def read(self, content: pikepdf.Object, resources: pikepdf.Object) -> None:
        for operands, operator in pikepdf.parse_content_stream(content):
            name = str(operator)
            if name == "Do":
                self._paint_object(resources["/XObject"][str(operands[0])], resources)
            elif name in _PAINTING:
                self._paint(name)
            else:
                self._other(name, operands)

    def _other(self, name: str, operands: Sequence[pikepdf.Object]) -> None:
        if name in ("m", "l", "c", "v", "y", "h", "re"):
            self._build(name, [float(operand) for operand in operands])
        elif name == "q":
            self.stack.append(self.state)
        elif name == "Q":
            self.state = self.stack.pop()
        elif name == "cm":
            own: Matrix = tuple(float(o) for o in operands)  # type: ignore[assignment]
            self._set(matrix=_times(own, self.state.matrix))
        elif name in ("W", "W*"):
            self.clips = True
        elif name == "w":
            self._set(width=float(operands[0]))
        elif name == "d":
            self._set(dash=tuple(float(part) for part in operands[0]))
        elif name in ("G", "RG", "K", "SC", "SCN"):
            self._set(stroke=_colour(operands))
        elif name in ("g", "rg", "k", "sc", "scn"):
            self._set(fill=_colour(operands))

    def _set(self, **changes: object) -> None:
        self.state = State(**{**self.state.__dict__, **changes})  # type: ignore[arg-type]

    def _build(self, name: str, numbers: list[float]) -> None:
        if name == "re":
            x, y, width, height = numbers
            for step, values in (
                ("m", [x, y]),
                ("l", [x + width, y]),
                ("l", [x + width, y + height]),
                ("l", [x, y + height]),
                ("h", []),
            ):
                self._build(step, values)
            return
        if name == "h":
            if dist(self.at, self.start) > 1e-9:
                self.subpaths[-1].append((self.at, self.start))
            self.closed[-1] = True
            self.at = self.start
            return
        given = [
            _apply(self.state.matrix, p) for p in zip(numbers[::2], numbers[1::2], strict=True)
        ]
        if name == "m":
            self.subpaths.append([])
            self.closed.append(False)
            self.start = given[0]
        elif name == "l":
            self.subpaths[-1].append((self.at, given[0]))
        elif name == "c":
            self.subpaths[-1].append((self.at, *given))
        elif name == "v":
            self.subpaths[-1].append((self.at, self.at, *given))
        else:
            self.subpaths[-1].append((self.at, *given, given[-1]))
        self.at = given[-1]

    def _paint(self, name: str) -> None:
        if name in ("s", "b", "b*") and self.subpaths:
            self._build("h", [])
        shapes = [
            (tuple(segments), closed)
            for segments, closed in zip(self.subpaths, self.closed, strict=True)
            if segments
        ]
        state = self.state
        if shapes and name != "n":
            scale = (
                abs(state.matrix[0] * state.matrix[3] - state.matrix[1] * state.matrix[2]) ** 0.5
            )
            path = Path(
                tuple(segments for segments, _ in shapes),
                tuple(closed for _, closed in shapes),
                state.stroke if name in ("S", "s", "B", "B*", "b", "b*") else None,
                state.fill if name not in ("S", "s") else None,
                state.width * scale,
                tuple(part * scale for part in state.dash),
                state.clip,
            )
            self.paths.append(path)
        if self.clips and shapes:
            points = [p for segments, _ in shapes for segment in segments for p in segment]
            self._set(clip=state.clip.within(box_of(points)))
        self.subpaths, self.closed, self.clips = [], [], False

    def _paint_object(self, what: pikepdf.Object, resources: pikepdf.Object) -> None:
        if what["/Subtype"] != "/Form":
            self.images += 1
            return
        before = self.state
        own: Matrix = tuple(float(n) for n in what.get("/Matrix", [1, 0, 0, 1, 0, 0]))  # type: ignore[assignment]
        self._set(matrix=_times(own, before.matrix))
        left, bottom, right, top = (float(n) for n in what["/BBox"])
        corners = Box(left, bottom, right, top).corners
        inside = box_of([_apply(self.state.matrix, corner) for corner in corners])
        self._set(clip=before.clip.within(inside))
        self.read(what, what.get("/Resources", resources))
        self.state = before


def _times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    x, y = (_apply(then, point) for point in ((a, b), (c, d)))
    at = _apply(then, (e, f))
    return (x[0] - then[4], x[1] - then[5], y[0] - then[4], y[1] - then[5], *at)


def _apply(matrix: Matrix, point: Point) -> Point:
    a, b, c, d, e, f = matrix
    return a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f


def _colour(operands: Sequence[pikepdf.Object]) -> tuple[float | str, ...]:
    if any(isinstance(operand, pikepdf.Name) for operand in operands):
        return ("pattern",)
    return tuple(float(operand) for operand in operands)
