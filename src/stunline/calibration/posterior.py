"""A fit in a reader's terms: values with intervals, residuals, and what was not told."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import norm

from stunline.calibration.fit import Fit
from stunline.calibration.priors import LEAN_ACROSS, LEAN_ALONG, Prior
from stunline.calibration.sampling import Sampled
from stunline.equipment.coefficient_scales import to_scale

Floats = NDArray[np.float64]

LEVEL = 0.9  # of every interval that is told
_STRETCH = float(norm.ppf(0.5 + 0.5 * LEVEL))  # standard deviations to either side
# A doubt that is more than this share of the prior's is the prior given back.
_NOT_TOLD = 0.8
_STRONG = 0.5  # correlations that are worth naming


@dataclass(frozen=True, slots=True)
class Estimate:
    """One unknown after the measurements.

    Attributes:
        name, unit, meaning: as in ``Prior``
        value, low, high: most likely, and the 90 % interval
        prior_value, prior_low, prior_high: the same before
        share: doubt left, over the prior's, on the unknown's scale [-]
    """

    name: str
    unit: str
    meaning: str
    value: float
    low: float
    high: float
    prior_value: float
    prior_low: float
    prior_high: float
    share: float

    @property
    def told(self) -> bool:
        """Whether the measurements say more than the prior."""
        return self.share <= _NOT_TOLD


@dataclass(frozen=True, slots=True)
class Residual:
    """What one reading was, against what the fit expects of it.

    Attributes:
        play, reading: names
        unit: "mm" or "s"
        misses: measured less expected, one number or two
        errors: the largest of them, in standard deviations of the measurement [-]
        surprise: for a reading left out, how far it is from what the others say [-]
    """

    play: str
    reading: str
    unit: str
    misses: tuple[float, ...]
    errors: float
    surprise: float | None


def estimates(fit: Fit) -> tuple[Estimate, ...]:
    """Every shared unknown, coefficients first."""
    deviations = np.sqrt(np.diag(fit.shared_covariance))
    return tuple(
        _estimate(prior, float(centre), float(deviation))
        for prior, centre, deviation in zip(
            fit.predictor.priors, fit.shared, deviations, strict=True
        )
    )


def _estimate(prior: Prior, centre: float, deviation: float) -> Estimate:
    return Estimate(
        prior.name, prior.unit, prior.meaning,
        prior.value(centre),
        prior.value(centre - _STRETCH * deviation),
        prior.value(centre + _STRETCH * deviation),
        prior.value(0.0), prior.value(-_STRETCH), prior.value(_STRETCH),
        deviation,
    )  # fmt: skip


_HEADINGS = {
    "up": (LEAN_ALONG, 1.0),
    "down": (LEAN_ALONG, -1.0),
    "right": (LEAN_ACROSS, 1.0),
    "left": (LEAN_ACROSS, -1.0),
}


def rolling_by_heading(fit: Fit) -> dict[str, tuple[float, float, float]]:
    """Rolling resistance, with its interval, along each heading that a ball was rolled along."""
    names = [prior.name for prior in fit.predictor.priors]
    rolling = names.index("rolling_resistance")
    told: dict[str, tuple[float, float, float]] = {}
    for heading, (name, sign) in _HEADINGS.items():
        if heading not in headings(fit):
            continue
        row = names.index(name)
        lean = 1.0 + sign * fit.predictor.priors[row].value(float(fit.shared[row]))
        slope = np.zeros(len(names))
        slope[rolling] = fit.predictor.priors[rolling].width
        slope[row] = sign * fit.predictor.priors[row].width / lean
        spread = math.exp(_STRETCH * math.sqrt(slope @ fit.shared_covariance @ slope))
        value = lean * fit.predictor.priors[rolling].value(float(fit.shared[rolling]))
        told[heading] = (value, value / spread, value * spread)
    return told


def headings(fit: Fit) -> frozenset[str]:
    """Headings along which a ball was rolled all the way."""
    names = ("right", "up", "left", "down")
    return frozenset(
        names[round(play.aim / (0.5 * math.pi)) % 4]
        for play in fit.record.plays
        if play.shot.one_heading
    )


def correlations(fit: Fit) -> Floats:
    """Of the shared unknowns on their scales."""
    deviations = np.sqrt(np.diag(fit.shared_covariance))
    found: Floats = fit.shared_covariance / np.outer(deviations, deviations)
    return found


def strong_correlations(fit: Fit) -> list[tuple[str, str, float]]:
    """Pairs of unknowns that the measurements can hardly tell apart, the strongest first."""
    names = [prior.name for prior in fit.predictor.priors]
    table = correlations(fit)
    pairs = [
        (names[i], names[j], float(table[i, j]))
        for i in range(len(names))
        for j in range(i)
        if abs(table[i, j]) >= _STRONG
    ]
    return sorted(pairs, key=lambda pair: -abs(pair[2]))


def residuals(fit: Fit) -> tuple[Residual, ...]:
    """Every reading against the fit, in the record's order."""
    problem = fit.problem
    misses = -problem.misses(fit.unknowns)
    surprises = {(one.play, one.reading): one.surprise for one in fit.suspects}
    found = []
    for (k, r), rows in problem.reading_rows.items():
        play = fit.record.plays[k]
        reading = play.readings[r]
        scale = 1.0 if reading.unit == "s" else 1000.0
        found.append(
            Residual(
                play.name, reading.kind, reading.unit,
                tuple((scale * misses[rows]).tolist()),
                float(np.abs(misses[rows] / problem.errors[rows]).max()),
                surprises.get((k, r)),
            )
        )  # fmt: skip
    return tuple(found)


def sampled_values(fit: Fit, sampled: Sampled) -> list[tuple[float, float, float]]:
    """Low end, median and high end of the 90 % interval of each shared unknown, as sampled."""
    told = sampled.quantiles().T.tolist()
    return [
        (prior.value(low), prior.value(middle), prior.value(high))
        for prior, (low, middle, high) in zip(fit.predictor.priors, told, strict=True)
    ]


def scaled_posterior(fit: Fit) -> tuple[Floats, Floats]:
    """Centre and covariance of the shared unknowns on their own scales, not standard."""
    widths = np.array([prior.width for prior in fit.predictor.priors])
    centres = np.array(
        [
            to_scale(prior.centre, prior.scale) + prior.width * standard
            for prior, standard in zip(fit.predictor.priors, fit.shared, strict=True)
        ]
    )
    return centres, fit.shared_covariance * np.outer(widths, widths)
