"""What ``stunline gauge fit`` prints."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stunline.calibration.posterior import (
    Estimate,
    Residual,
    estimates,
    residuals,
    rolling_by_heading,
    sampled_values,
    strong_correlations,
)
from stunline.calibration.sampling import Sampled
from stunline.tasks.gauge_fit import GaugeResult
from stunline.tasks.lines import columns, wrapped

READINGS = {
    "white_rest": "white's rest",
    "object_rest": "object ball's rest",
    "white_cushion": "white at the cushion",
    "object_cushion": "object ball at the cushion",
    "time": "time",
}
HEADINGS = {
    "up": "up the table",
    "down": "down the table",
    "right": "to the right",
    "left": "to the left",
}
_NOTHING = 1e-9  # against coefficients of 0.01 and up
_MOST_PAIRS = 4  # correlations told; the JSON has them all


def gauge_lines(result: GaugeResult) -> Iterator[str]:
    """The coefficients, what they rest on, and what they don't."""
    record = result.fit.record
    yield record.title or "Untitled record"
    when = f", {record.date}" if record.date else ""
    yield from wrapped(
        f"{record.table.title}, started from {record.cloth} cloth{when}: "
        f"{len(record.plays)} shots, {record.readings} measurements"
    )
    yield from _mistakes(result)
    found = estimates(result.fit)
    yield ""
    yield "Gauged, with 90 % intervals"
    yield from _table([one for one in found if one.told], "nothing: see below")
    yield from _headings(result)
    yield from _not_told([one for one in found if not one.told])
    yield from _sampled(result, found)
    yield from _pairs(result)
    yield from _residuals(residuals(result.fit))


def _mistakes(result: GaugeResult) -> Iterator[str]:
    mistakes = result.mistakes()
    if mistakes:
        yield ""
        yield "Mistakes in the record; what they stand in is left out, the rest was read"
        for one in mistakes:
            yield from wrapped(one, "  ", "    ")
    unplayed = [play.name for play in result.fit.record.unplayed]
    if unplayed:
        yield ""
        yield from wrapped(f"Not measured yet: {', '.join(unplayed)}")


def _table(found: list[Estimate], nothing: str) -> Iterator[str]:
    if not found:
        yield f"  {nothing}"
        return
    yield from columns(
        [
            _name(one),
            f"{figure(one.value)}{_unit(one)}",
            f"{figure(one.low)} to {figure(one.high)}",
            f"before: {figure(one.prior_value)} "
            f"({figure(one.prior_low)} to {figure(one.prior_high)})",
        ]
        for one in found
    )


def figure(value: float) -> str:
    """Four digits; what differs from 0 by rounding alone is 0."""
    return f"{value if abs(value) > _NOTHING else 0.0:.4g}"


def _name(one: Estimate) -> str:
    return one.name.replace("_", " ")


def _unit(one: Estimate) -> str:
    return f" {one.unit}" if one.unit else ""


def _headings(result: GaugeResult) -> Iterator[str]:
    told = rolling_by_heading(result.fit)
    if not told:
        return
    yield ""
    yield "Rolling resistance by heading"
    yield from columns(
        [HEADINGS[heading], f"{value:.4g}", f"{low:.4g} to {high:.4g}"]
        for heading, (value, low, high) in told.items()
    )


def _not_told(found: list[Estimate]) -> Iterator[str]:
    if not found:
        return
    yield ""
    yield "Hardly told by these measurements: perhaps moved a little, about as uncertain as before"
    yield from _table(found, "")


def _sampled(result: GaugeResult, found: tuple[Estimate, ...]) -> Iterator[str]:
    sampled = result.sampled
    if sampled is None:
        return
    yield ""
    yield "Sampled: median and 90 % interval, beside the approximation above"
    yield from columns(
        [
            _name(one),
            f"{figure(middle)}{_unit(one)}",
            f"{figure(low)} to {figure(high)}",
            f"above: {figure(one.value)} ({figure(one.low)} to {figure(one.high)})",
        ]
        for one, (low, middle, high) in zip(found, sampled_values(result.fit, sampled), strict=True)
    )
    yield from wrapped(_convergence(sampled), "  ", "  ")


def _convergence(sampled: Sampled) -> str:
    cut = "" if sampled.steps == sampled.wanted else f" of {sampled.wanted:,}: stopped"
    told = (
        f"{sampled.walkers} walkers, {sampled.steps:,} steps{cut}; "
        f"{100 * sampled.acceptance:.0f} % of moves taken"
    )
    if not math.isfinite(sampled.autocorrelation):
        return f"{told}. Too short to say anything: don't rely on it."
    told += (
        f"; autocorrelation time {sampled.autocorrelation:.0f} steps, "
        f"so {sampled.effective:,.0f} independent draws"
    )
    if sampled.converged:
        return f"{told}. Converged."
    return f"{told}. Not converged: don't rely on it."


def _pairs(result: GaugeResult) -> Iterator[str]:
    pairs = strong_correlations(result.fit)[:_MOST_PAIRS]
    if not pairs:
        return
    yield ""
    yield "Hard to tell apart (correlation)"
    yield from columns(
        [f"{one.replace('_', ' ')} and {other.replace('_', ' ')}", f"{value:+.2f}"]
        for one, other, value in pairs
    )


def _residuals(found: tuple[Residual, ...]) -> Iterator[str]:
    yield ""
    yield "Measured less expected: across and up the table, along the cushion, or in time"
    yield from columns(
        [one.play, READINGS[one.reading], misses_words(one), _suspicion(one)] for one in found
    )


def misses_words(one: Residual) -> str:
    """Measured less expected, with its unit."""
    digits = 2 if one.unit == "s" else 0
    return ", ".join(f"{miss:+.{digits}f}" for miss in one.misses) + f" {one.unit}"


def _suspicion(one: Residual) -> str:
    if one.surprise is None:
        return " "
    return f"SUSPICIOUS, left out: {one.surprise:.0f} errors from what the others say"
