"""How long gauging takes, warm: fits of three and of twelve shots, advice, the sampler.

Nothing is asserted about time; the table in docs/performance.md holds what was measured. Processor
time is told beside the clock's, as other work may share the machine.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from calibration.simulated_table import record, stored_tables
from stunline.calibration.advice import advise
from stunline.calibration.fit import Fit, fit
from stunline.calibration.menu import FULL, QUICK
from stunline.calibration.sampling import sample
from stunline.calibration.targets import standard_targets
from stunline.shot import compiled

FIT_TARGET, ADVICE_TARGET, SAMPLER_TARGET = 5.0, 10.0, 60.0  # s, on two cores
TABLES = 5


class Watched:
    """Work whose processor time is kept."""

    def __init__(self, work: Callable[..., object]) -> None:
        self._work = work
        self.seconds: list[float] = []

    def __call__(self, *given: object) -> object:
        began = time.process_time()
        found = self._work(*given)
        self.seconds.append(time.process_time() - began)
        return found


def told(benchmark, name: str, target: float, watched: Watched) -> None:
    if not benchmark.stats:
        return
    seconds = benchmark.stats.stats
    met = "met" if seconds.max <= target else "not met"
    print(
        f"\n{name}: {seconds.median:.2f} s (median of {seconds.rounds}), {seconds.max:.2f} s at"
        f" most; {target:g} s {met}; processor {np.median(watched.seconds):.2f} s;"
        f" kernels {compiled.sources_hash()}"
    )


@pytest.mark.parametrize("ids", [QUICK, FULL], ids=["quick", "full"])
def test_fit(benchmark, ids: tuple[str, ...]) -> None:
    records = iter([record(one, ids) for one in stored_tables()[: TABLES + 1]])
    fit(next(records))  # warm: imports, kernels
    work = Watched(fit)
    found = benchmark.pedantic(work, setup=lambda: ((next(records),), {}), rounds=TABLES)
    told(benchmark, f"gauge fit, {len(ids)} shots", FIT_TARGET, work)
    assert found.kept > 0


def test_advice(benchmark) -> None:
    fitted = fit(record(stored_tables()[0]))
    work = Watched(lambda: advise(fitted, standard_targets(fitted.predictor)))
    advice = benchmark.pedantic(work, rounds=TABLES, warmup_rounds=1)
    told(benchmark, "gauge next, after twelve shots", ADVICE_TARGET, work)
    assert advice.band > 0.0


def test_sampler(benchmark) -> None:
    fitted: Fit = fit(record(stored_tables()[0]))
    work = Watched(lambda: list(sample(fitted))[-1])
    found = benchmark.pedantic(work, rounds=1)
    told(benchmark, "gauge fit --sample, twelve shots, the sampler", SAMPLER_TARGET, work)
    print(
        f"{found.walkers} walkers, {found.steps} steps, autocorrelation time"
        f" {found.autocorrelation:.0f} steps, {found.effective:.0f} independent draws,"
        f" {'converged' if found.converged else 'not converged'}"
    )
    assert len(found.shared) > 0
