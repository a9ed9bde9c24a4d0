"""Reads a PDF page's words back, as a program that copies its text would."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, dist, hypot, sin

import pypdfium2
import pypdfium2.raw as pdfium

from paper.pdf_page import MM_PER_POINT, Box, Point, Words, box_of

SAME_ANGLE = 1e-4  # of letters on one line; single precision is well within it [rad]
SAME_PLACE = 0.05  # of baselines and sizes [mm]
WORD_GAP = 0.9  # em; a wider gap on one line parts two runs of words


@dataclass(frozen=True)
class _Letter:
    """One letter: its sign, its baseline's start, size [mm], angle, and ink."""

    sign: str
    at: Point
    size: float
    angle: float
    box: Box

    @property
    def along(self) -> float:
        """Its place along the line it stands on. [mm]"""
        return self.at[0] * cos(self.angle) + self.at[1] * sin(self.angle)

    @property
    def across(self) -> float:
        """Of that line, from the page's corner. [mm]"""
        return -self.at[0] * sin(self.angle) + self.at[1] * cos(self.angle)


def words_of(page: pypdfium2.PdfPage) -> Iterator[Words]:
    for line in _lines(list(_letters(page))):
        run: list[_Letter] = []
        for letter in sorted(line, key=lambda one: one.along):
            if run and not _goes_on(run[-1], letter):
                yield from _one_run(run)
                run = []
            run.append(letter)
        yield from _one_run(run)


def _lines(letters: list[_Letter]) -> Iterator[list[_Letter]]:
    """Letters of one size and turn on one baseline; the extraction's order is not relied on."""
    by_turn = _clusters(letters, lambda one: one.angle, SAME_ANGLE)
    for turned in by_turn:
        for sized in _clusters(turned, lambda one: one.size, SAME_PLACE):
            yield from _clusters(sized, lambda one: one.across, SAME_PLACE)


def _clusters(
    letters: list[_Letter], value: Callable[[_Letter], float], step: float
) -> list[list[_Letter]]:
    """Letters whose values follow one another in small steps."""
    found: list[list[_Letter]] = []
    for letter in sorted(letters, key=value):
        if found and value(letter) - value(found[-1][-1]) <= step:
            found[-1].append(letter)
        else:
            found.append([letter])
    return found


def _letters(page: pypdfium2.PdfPage) -> Iterator[_Letter]:
    text = page.get_textpage()
    left, bottom, _, _ = page.get_mediabox()
    for number in range(text.count_chars()):
        sign = chr(pdfium.FPDFText_GetUnicode(text, number))
        if pdfium.FPDFText_IsGenerated(text, number) == 1:
            continue
        matrix = pdfium.FS_MATRIX()
        pdfium.FPDFText_GetMatrix(text, number, matrix)
        size = pdfium.FPDFText_GetFontSize(text, number) * hypot(matrix.c, matrix.d)
        edges = [edge * MM_PER_POINT for edge in text.get_charbox(number)]
        x0, y0 = left * MM_PER_POINT, bottom * MM_PER_POINT
        box = Box(edges[0] - x0, edges[1] - y0, edges[2] - x0, edges[3] - y0)
        at = (matrix.e * MM_PER_POINT - x0, matrix.f * MM_PER_POINT - y0)
        yield _Letter(sign, at, size * MM_PER_POINT, atan2(matrix.b, matrix.a), box)


def _goes_on(last: _Letter, letter: _Letter) -> bool:
    """Whether a letter stands within a word's gap of the last on its line."""
    wide = _extent(last.box, last.angle)
    return letter.along - last.along < wide + WORD_GAP * last.size


def _one_run(run: list[_Letter]) -> Iterator[Words]:
    """The words of letters on one line; nothing for spaces alone."""
    inked = [letter for letter in run if letter.sign.strip()]
    if not inked:
        return
    text = inked[0].sign
    for before, letter in pairwise(inked):
        gap = dist(before.at, letter.at) - _extent(before.box, before.angle)
        text += (" " if gap > 0.2 * letter.size else "") + letter.sign
    corners = [corner for letter in inked for corner in letter.box.corners]
    first, last = inked[0], inked[-1]
    length = dist(first.at, last.at) + _extent(last.box, last.angle)
    end = (first.at[0] + length * cos(first.angle), first.at[1] + length * sin(first.angle))
    size = first.size / MM_PER_POINT
    yield Words(text, box_of(corners), size, first.angle, first.at, end)


def _extent(box: Box, angle: float) -> float:
    """How far a letter's ink reaches along its line, about. [mm]"""
    width, height = box.right - box.left, box.top - box.bottom
    along, across = abs(cos(angle)), abs(sin(angle))
    if min(along, across) < 1e-3:
        return width if along > across else height
    # The upright box of a turned letter: solve for the sides of the letter's own box.
    return (
        max((width * along - height * across) / (along**2 - across**2), 0.0)
        if abs(along - across) > 0.1
        else max(width, height) / 1.42
    )
