"""Strokes simulated with a player's errors on tables that are off as doubted, and told back.

``--strokes`` takes fewer, ``--minutes`` ends it with what there is by then. Writes its figures to
docs/campaigns, with the hash of the kernels they hold for: how often 90 % intervals hold the truth,
how wide they are.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))

STROKES = 300
OWN_EVERY = 3  # so many strokes as supposed for one as the player's own
FIRST_SEED = 10_001  # apart from those of the tests
REPORT = ROOT / "docs" / "campaigns" / "played.md"
_UNITS = {"aim": (180.0 / np.pi, "°"), "pace": (100.0, "%"), "height": (1e3, "mm"),
          "side": (1e3, "mm")}  # fmt: skip


def one_stroke(seed: int, own: bool) -> dict[str, Any]:
    """What is told of it, against what it was."""
    from planning.played_strokes import simulated
    from stunline.planning.likely_strokes import likely_strokes
    from stunline.planning.stroke_ways import ways, whole

    asked, truth = simulated(seed, own)
    began = time.perf_counter()
    found = likely_strokes(asked)
    seconds = time.perf_counter() - began
    numbers = whole(found).numbers
    return {
        "gauged": asked.position.table.cloths["match"].gauging is not None,
        "inside": {
            one.name: one.low <= real <= one.high for one, real in zip(numbers, truth, strict=True)
        },
        "told": {one.name: one.told for one in numbers},
        "width": {one.name: one.high - one.low for one in numbers},
        "before": {one.name: one.before_high - one.before_low for one in numbers},
        "explained": found.explained,
        "effective": found.effective,
        "ways": len(ways(found)),
        "seconds": seconds,
    }


def rows(found: list[dict[str, Any]]) -> list[str]:
    """A row for each number."""
    told = []
    for name, (factor, unit) in _UNITS.items():
        inside = np.array([one["inside"][name] for one in found])
        known = np.array([one["told"][name] for one in found])
        widths = np.array([one["width"][name] for one in found]) * factor
        before = factor * found[0]["before"][name]
        among = f"{100 * inside[known].mean():.0f} %" if known.any() else ""
        told.append(
            f"| {name} | {100 * inside.mean():.1f} % | {known.sum()} | {among} | "
            f"{np.median(widths):.2g} {unit} | {before:.2g} {unit} |"
        )
    return told


def section(title: str, found: list[dict[str, Any]]) -> list[str]:
    """One population of strokes."""
    effective = np.percentile([one["effective"] for one in found], [5, 50])
    return [
        f"## {title}",
        "",
        "| number | 90 % interval holds it | told | of those told | interval, median | before |",
        "|---|---|---|---|---|---|",
        *rows(found),
        "",
        f"- {sum(one['explained'] for one in found)} of {len(found)} explained; "
        f"{sum(one['ways'] > 1 for one in found)} told as two strokes or more",
        f"- worth {effective[1]:.0f} independent strokes (median; {effective[0]:.0f} at 5 %)",
        "",
    ]


def report(bad: list[dict[str, Any]], own: list[dict[str, Any]], seconds: float) -> str:
    """The page of figures."""
    from stunline.shot.compiled import sources_hash

    times = np.percentile([one["seconds"] for one in [*bad, *own]], [50, 95])
    return "\n".join(
        [
            "# What was played",
            "",
            f"`campaigns/run_played.py --strokes {len(bad)}`: club strokes at five shots (up and",
            "down, stun, follow, screw, a pot), on tables drawn from the doubt of an assumed cloth",
            "or of one gauged five times as well, half and half; what was seen read to 5 mm, and",
            "the stroke [told back](../played.md). Played by the engine itself: this tests the",
            "statistics, not the mechanics.",
            "",
            *section("Strokes as supposed, one in ten of each number bad", bad),
            *section("Strokes as the player's own, none bad", own),
            f"One answer takes {times[0]:.1f} s (median), {times[1]:.1f} s (95 %), beside other",
            "work.",
            "",
            f"Kernels `{sources_hash()}`, {seconds / 60:.0f} minutes.",
            "",
        ]
    )


def main() -> int:
    """Run and write."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--strokes", type=int, default=STROKES)
    options.add_argument("--minutes", type=float, default=math.inf, help="stop by then")
    options.add_argument("--output", type=Path, default=REPORT)
    asked = options.parse_args()
    began = time.monotonic()
    bad: list[dict[str, Any]] = []
    own: list[dict[str, Any]] = []
    for number, seed in enumerate(range(FIRST_SEED, FIRST_SEED + asked.strokes)):
        bad.append(one_stroke(seed, own=False))
        if number % OWN_EVERY == 0:
            own.append(one_stroke(seed + number // OWN_EVERY, own=True))
        if time.monotonic() - began > 60.0 * asked.minutes:
            break
    text = report(bad, own, time.monotonic() - began)
    asked.output.write_text(text, encoding="utf-8")
    print(text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
