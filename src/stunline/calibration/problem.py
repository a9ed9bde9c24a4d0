"""A record as residuals of one vector of unknowns, with its derivative by differences."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from stunline.calibration.predict import Job, Predictor

Floats = NDArray[np.float64]

# Of a standard unknown: large against the engine's rounding, small against what bends.
_STEP = 2e-3


class ReadingPlace(Protocol):
    """Where a reading stands in the record."""

    @property
    def play(self) -> int:
        """Number of its play."""

    @property
    def reading(self) -> int:
        """Its number in the play."""


class Problem:
    """Residuals: readings over their errors, then the unknowns themselves (their priors).

    Attributes:
        predictor: plays the record
        shared: number of shared unknowns
        numbers: number of numbers read
        weights: (numbers,) 1, or 0 for one that is left out
    """

    def __init__(self, predictor: Predictor) -> None:
        self.predictor = predictor
        record = predictor.record
        self.shared = len(predictor.priors)
        self._own: list[slice] = []
        first = self.shared
        for play in record.plays:
            count = len(predictor.own_names(play))
            self._own.append(slice(first, first + count))
            first += count
        self.unknowns = first
        self._rows: list[slice] = []
        self.reading_rows: dict[tuple[int, int], slice] = {}
        read: list[float] = []
        errors: list[float] = []
        for k, play in enumerate(record.plays):
            begin = len(read)
            for r, reading in enumerate(play.readings):
                self.reading_rows[k, r] = slice(len(read), len(read) + len(reading.values))
                read.extend(reading.values)
                errors.extend([predictor.error(play, reading)] * len(reading.values))
            self._rows.append(slice(begin, len(read)))
        self.read, self.errors = np.array(read), np.array(errors)
        self.numbers = len(read)
        self.weights = np.ones(self.numbers)

    def own(self, play: int) -> slice:
        """Where a play's own unknowns stand."""
        return self._own[play]

    def rows(self, play: int) -> slice:
        """Where a play's numbers stand."""
        return self._rows[play]

    def leave_out(self, readings: Iterable[ReadingPlace]) -> None:
        """Let readings count for nothing from now on."""
        for one in readings:
            self.weights[self.reading_rows[one.play, one.reading]] = 0.0

    def take_in(self, readings: Iterable[ReadingPlace]) -> None:
        """Let readings count again."""
        for one in readings:
            self.weights[self.reading_rows[one.play, one.reading]] = 1.0

    def job(self, play: int, unknowns: Floats) -> Job:
        """That play for these unknowns."""
        return Job(play, unknowns[: self.shared], unknowns[self._own[play]])

    def misses(self, unknowns: Floats) -> Floats:
        """Predicted less read, in SI units, left out or not."""
        jobs = [self.job(k, unknowns) for k in range(len(self._rows))]
        found: Floats = np.concatenate(self.predictor.predict(jobs)) - self.read
        return found

    def residuals(self, unknowns: Floats) -> Floats:
        """What is squared and summed. [-]"""
        misses = self.misses(unknowns) / self.errors * self.weights
        return np.concatenate([misses, unknowns])

    def jacobian(self, unknowns: Floats) -> Floats:
        """Derivative of ``residuals``, by differences on both sides."""
        return self._slopes(unknowns, (_STEP, -_STEP))

    def rough_jacobian(self, unknowns: Floats) -> Floats:
        """The same by differences on one side, at half the cost: good enough to descend by."""
        return self._slopes(unknowns, (_STEP, 0.0))

    def _slopes(self, unknowns: Floats, steps: tuple[float, float]) -> Floats:
        jobs: list[Job] = []
        columns: list[tuple[int, int, int, int]] = []  # play, unknown, jobs of its two sides
        for k, play in enumerate(self.predictor.record.plays):
            own = range(self._own[k].start, self._own[k].stop)
            base = len(jobs)
            if steps[1] == 0.0:
                jobs.append(self.job(k, unknowns))
            for column in (*self.predictor.shared_of(play), *own):
                jobs.append(self.job(k, _moved(unknowns, column, steps[0])))
                upper = len(jobs) - 1
                if steps[1] != 0.0:
                    jobs.append(self.job(k, _moved(unknowns, column, steps[1])))
                    base = len(jobs) - 1
                columns.append((k, column, upper, base))
        found = self.predictor.predict(jobs)
        slopes = np.zeros((self.numbers + self.unknowns, self.unknowns))
        for k, column, upper, lower in columns:
            change = (found[upper] - found[lower]) / (steps[0] - steps[1])
            rows = self._rows[k]
            slopes[rows, column] = change / self.errors[rows] * self.weights[rows]
        slopes[self.numbers :] = np.eye(self.unknowns)
        return slopes


def _moved(unknowns: Floats, column: int, step: float) -> Floats:
    moved = unknowns.copy()
    moved[column] += step
    return moved
