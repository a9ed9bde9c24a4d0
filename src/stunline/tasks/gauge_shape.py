"""The JSON of a fitted record, a promise: additions only. Millimetres, seconds."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import TYPE_CHECKING

import stunline
from stunline.calibration.posterior import (
    Estimate,
    correlations,
    estimates,
    residuals,
    rolling_by_heading,
    sampled_values,
)
from stunline.shot.compiled import sources_hash

if TYPE_CHECKING:
    from stunline.tasks.gauge_fit import GaugeResult
    from stunline.tasks.shapes import Shape


def gauge_shape(result: GaugeResult) -> Shape:
    """What ``stunline gauge fit --json`` prints."""
    fit, record = result.fit, result.fit.record
    found = estimates(fit)
    return {
        "title": record.title,
        "date": record.date,
        "table": record.table_name,
        "cloth": record.cloth,
        "measurements": record.readings,
        "estimates": [_estimate(one) for one in found],
        "rolling_by_heading": {
            heading: {"value": value, "interval": [low, high]}
            for heading, (value, low, high) in rolling_by_heading(fit).items()
        },
        "not_told": [one.name for one in found if not one.told],
        "correlations": {
            "names": [one.name for one in found],
            "rows": correlations(fit).tolist(),
        },
        "residuals": [
            {
                "shot": one.play,
                "reading": one.reading,
                "unit": one.unit,
                "misses": list(one.misses),
                "errors": one.errors,
                "suspicious": one.surprise is not None,
                "surprise": one.surprise,
            }
            for one in residuals(fit)
        ],
        "misfit": fit.misfit,
        "numbers": fit.kept,
        **({} if result.sampled is None else {"sampled": _sampled(result)}),
        "mistakes": [{**asdict(fault), "file": result.read.source} for fault in result.read.faults],
        "empty": [play.name for play in record.unplayed],
        "engine": stunline.__version__,
        "kernels": sources_hash(),
    }


def _sampled(result: GaugeResult) -> Shape:
    sampled, found = result.sampled, estimates(result.fit)
    assert sampled is not None
    values = sampled_values(result.fit, sampled)
    number = sampled.autocorrelation
    known = math.isfinite(number)
    return {
        "walkers": sampled.walkers,
        "steps": sampled.steps,
        "steps_wanted": sampled.wanted,
        "acceptance": sampled.acceptance,
        "autocorrelation_steps": number if known else None,
        "effective_draws": sampled.effective if known else None,
        "converged": sampled.converged,
        "estimates": [
            {"name": one.name, "value": middle, "interval": [low, high]}
            for one, (low, middle, high) in zip(found, values, strict=True)
        ],
    }


def _estimate(one: Estimate) -> Shape:
    return {
        "name": one.name,
        "meaning": one.meaning,
        "unit": one.unit,
        "value": one.value,
        "interval": [one.low, one.high],
        "prior": {"value": one.prior_value, "interval": [one.prior_low, one.prior_high]},
        "share": one.share,
        "told": one.told,
    }
