"""How long a fit of gauging shots takes, warm: the quick check and the full dozen.

Nothing is asserted about time; the table in docs/performance.md holds what was measured.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from calibration.simulated_table import record, stored_tables
from stunline.calibration.fit import fit
from stunline.calibration.menu import FULL, QUICK
from stunline.shot import compiled

TARGET = 5.0  # s, for twelve shots on two cores
TABLES = 5


@pytest.mark.parametrize("ids", [QUICK, FULL], ids=["quick", "full"])
def test_fit(benchmark, ids: tuple[str, ...]) -> None:
    records = iter([record(one, ids) for one in stored_tables()[: TABLES + 1]])
    fit(next(records))  # warm: imports, kernels
    found = benchmark.pedantic(
        lambda one: fit(one), setup=lambda: ((next(records),), {}), rounds=TABLES
    )
    if benchmark.stats:
        seconds = benchmark.stats.stats
        told = "met" if seconds.max <= TARGET else "not met"
        print(
            f"\ngauge fit, {len(ids)} shots: {seconds.median:.2f} s (median of {TABLES}), "
            f"{seconds.max:.2f} s at most; {TARGET:g} s {told}; kernels {compiled.sources_hash()}"
        )
    assert found.kept > 0
