"""Two hundred invented tables, the full dozen played by the independent integrator, and gauged.

``--tables`` takes fewer. Writes its figures to docs/campaigns, with the hash of the kernels they
hold for: how often 90 % intervals hold the truth, how far off the values are, how often a gross
blunder in one of the measurements is named.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))

TABLES = 200
FIRST_SEED = 1_001  # apart from the stored tables of the tests
REPORT = ROOT / "docs" / "campaigns" / "gauged-tables.md"


def gauge_one(seed: int) -> dict[str, Any]:
    """A table gauged, and gauged again with a blunder."""
    from calibration.simulated_table import record, simulated, with_blunder
    from stunline.calibration.fit import fit
    from stunline.calibration.posterior import estimates

    stored = simulated(seed)
    sound = record(stored)
    began = time.perf_counter()
    found = fit(sound)
    seconds = time.perf_counter() - began
    spoilt, name = with_blunder(sound, seed)
    again = fit(spoilt)
    deviations = np.sqrt(np.diag(again.shared_covariance))
    return {
        "inside": {
            one.name: one.low <= stored["truth"][one.name] <= one.high for one in estimates(found)
        },
        "told": {one.name: one.told for one in estimates(found)},
        "off": {one.name: one.value - stored["truth"][one.name] for one in estimates(found)},
        "share": {
            one.name: one.value / stored["truth"][one.name] - 1.0 for one in estimates(found)
        },
        "accused": bool(found.suspects),
        "named": name in [spoilt.plays[one.play].name for one in again.suspects],
        "moved": bool((np.abs(again.shared - found.shared) > 1.645 * deviations).any()),
        "seconds": seconds,
    }


def rows(found: list[dict[str, Any]]) -> list[str]:
    """A row of the report for each unknown."""
    told = []
    for name in found[0]["inside"]:
        inside = np.mean([one["inside"][name] for one in found if one["told"][name]])
        off = np.median([abs(one["off"][name]) for one in found])
        # A share of nothing says nothing: levels and ramps are told as they are.
        plain = name.startswith("lean")
        share = "" if plain else f"{100 * np.median([abs(o['share'][name]) for o in found]):.1f} %"
        many = sum(one["told"][name] for one in found)
        told.append(
            f"| {name.replace('_', ' ')} | {many} | {100 * inside:.0f} % | {off:.2g} | {share} |"
        )
    return told


def report(found: list[dict[str, Any]], seconds: float) -> str:
    """The page of figures."""
    from stunline.shot.compiled import sources_hash

    pooled = np.mean([value for one in found for value in one["inside"].values()])
    named = sum(one["named"] for one in found)
    moved = sum(one["moved"] for one in found)
    accused = sum(one["accused"] for one in found)
    fits = np.percentile([one["seconds"] for one in found], [50, 95])
    return "\n".join(
        [
            "# Gauged tables",
            "",
            f"`campaigns/run_gauged_tables.py --tables {len(found)}`: coefficients drawn from the",
            "priors, the full dozen played once by the tests' independent integrator with the",
            "errors of [gauging](../gauging.md), and fitted.",
            "",
            "| unknown | told on | 90 % interval holds it | median error | over the value |",
            "|---|---|---|---|---|",
            *rows(found),
            "",
            f"- all intervals together hold the truth in {100 * pooled:.1f} %",
            f"- {accused} of {len(found)} sound records have a reading accused",
            f"- a gross blunder in one reading is named in {named} of {len(found)} records, and"
            f" moves an unknown past its interval in {moved}",
            f"- a fit takes {fits[0]:.1f} s (median), {fits[1]:.1f} s (95 %), beside other work",
            "",
            f"Kernels `{sources_hash()}`, {seconds / 60:.0f} minutes.",
            "",
        ]
    )


def main() -> int:
    """Run and write."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--tables", type=int, default=TABLES)
    options.add_argument("--output", type=Path, default=REPORT)
    asked = options.parse_args()
    # One thread of linear algebra for each process: the matrices are small.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    began = time.monotonic()
    with multiprocessing.get_context("spawn").Pool() as pool:
        seeds = range(FIRST_SEED, FIRST_SEED + asked.tables)
        found = list(pool.imap(gauge_one, seeds))
    text = report(found, time.monotonic() - began)
    asked.output.write_text(text, encoding="utf-8")
    print(text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
