"""Two hundred invented tables, the full dozen played by the independent integrator, and gauged.

``--tables`` takes fewer. Writes its figures to docs/campaigns, with the hash of the kernels they
hold for: how often 90 % intervals hold the truth, how far off the values are, how often a gross
blunder in one of the measurements is named, and how often the white of shots that are not of the
menu ends where tables drawn from the fit's doubt say.
"""

from __future__ import annotations

import argparse
import dataclasses
import math
import multiprocessing
import os
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))

TABLES = 200
HELD_OUT = 1_000  # shots on all tables together
DRAWN = 400  # tables from the doubt of one, for a region
REGION = 0.8
Floats = NDArray[np.float64]
PROCESSES = 2
FIRST_SEED = 10_001  # apart from the stored tables of the tests, and from all tuned on
REPORT = ROOT / "docs" / "campaigns" / "gauged-tables.md"


def gauge_one(task: tuple[int, int]) -> dict[str, Any]:
    """A table gauged, shots on it foretold, and gauged again with a blunder.

    Args:
        task: seed of the table, and how many shots to foretell
    """
    from calibration.simulated_table import record, simulated, with_blunder
    from stunline.calibration.fit import fit
    from stunline.calibration.posterior import estimates

    seed, held_out_shots = task
    stored = simulated(seed)
    sound = record(stored)
    began, worked = time.perf_counter(), time.process_time()
    found = fit(sound)
    seconds, work = time.perf_counter() - began, time.process_time() - worked
    spoilt, name = with_blunder(sound, seed)
    again = fit(spoilt)
    moved = moves(found, again)
    truth = stored["truth"]
    return {
        "inside": {one.name: one.low <= truth[one.name] <= one.high for one in estimates(found)},
        "told": {one.name: one.told for one in estimates(found)},
        "off": {one.name: one.value - truth[one.name] for one in estimates(found)},
        "share": {one.name: one.value / truth[one.name] - 1.0 for one in estimates(found)},
        "accused": bool(found.suspects),
        "named": name in [spoilt.plays[one.play].name for one in again.suspects],
        "moved": moved,
        # Even to a fit that knows the reading to be wrong, what it told is lost.
        "lost": moved and moves(found, fit(without_spoilt(sound, spoilt))),
        "seconds": seconds,
        "work": work,
        "foretold": foretell(stored, found, held_out_shots),
    }


def moves(found: Any, again: Any) -> bool:
    """Whether an unknown of the first fit lies past the second's 90 % interval."""
    deviations = np.sqrt(np.diag(again.shared_covariance))
    return bool((np.abs(again.shared - found.shared) > 1.645 * deviations).any())


def without_spoilt(sound: Any, spoilt: Any) -> Any:
    """The record without the readings that the blunder changed."""
    plays = []
    for play, other in zip(sound.plays, spoilt.plays, strict=True):
        pairs = zip(play.readings, other.readings, strict=True)
        readings = tuple(one for one, changed in pairs if one == changed)
        if readings:
            plays.append(dataclasses.replace(play, readings=readings))
    return dataclasses.replace(sound, plays=tuple(plays))


def foretell(stored: dict[str, Any], found: Any, count: int) -> list[dict[str, float]]:
    """Whether the white of shots not of the menu ends inside the region foretold.

    The table that the fit writes is read again and drawn from, as every command does. A region
    is where draws, with the reading's error, lie thickest: half of them make a density, the other
    half say above which density 80 % lie.
    """
    from calibration.simulated_table import READING, held_out
    from stunline.calibration.record import object_ball
    from stunline.calibration.table_writing import table_text
    from stunline.equipment.doubt import doubt_of
    from stunline.equipment.table_file import parse_table
    from stunline.shot.batch import play_many
    from stunline.shot.batch_input import coefficient_rows
    from stunline.shot.position import Position, Strike

    table = parse_table(table_text(found, "record.toml"), "gauged")
    cloth = table.default_cloth()
    names = (table.cue_ball, object_ball(table))
    told = []
    for number in range(count):
        shot = held_out(stored, number)
        balls = dict(zip(names, map(tuple, shot["places"].tolist()), strict=True))
        plain = dataclasses.replace(cloth.coefficients, pockets=False)
        position = Position(table, cloth.name, plain, balls)
        drawn = [dataclasses.replace(one, pockets=False) for one in doubt_of(cloth).draw(DRAWN)]
        strike = Strike(**{key: shot["strike"][key] for key in STRIKE})
        rows = coefficient_rows(position, drawn)
        ends = play_many(position, [strike], coefficients=rows, threads=1).rests[:, 0]
        random = np.random.default_rng([stored["seed"], 5, number])
        ends = ends + random.normal(0.0, READING, ends.shape)
        half, other = ends[::2], ends[1::2]
        rest = shot["white_rest"][None]
        least = np.quantile(density(half, other), 1.0 - REGION)
        spread = float(np.median(np.hypot(*(ends - np.median(ends, axis=0)).T)))
        told.append({"inside": float(density(half, rest)[0] >= least), "spread": spread})
    return told


STRIKE = ("aim", "pace", "height", "side", "elevation")


def density(draws: Floats, at: Floats) -> Floats:
    """(N,) of a cloud of draws at places (N, 2): a kernel of Silverman's width, along its axes."""
    # Ends come in clumps where a shot may go two ways: the width is that of the nearest third.
    away = np.hypot(*(draws[:, None] - draws[None]).transpose(2, 0, 1))
    near = np.median(np.sort(away, axis=1)[:, len(draws) // 3])
    width = max(0.6 * near * len(draws) ** (-1.0 / 6.0), 0.003)
    apart = at[:, None] - draws[None]
    found: Floats = np.exp(-0.5 * (apart**2).sum(axis=2) / width**2).mean(axis=1)
    return found


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
    lost = sum(one["lost"] for one in found)
    both = sum(one["named"] and not one["moved"] for one in found)
    drawn_off = sum(one["moved"] and not one["lost"] for one in found)
    accused = sum(one["accused"] for one in found)
    fits = np.percentile([one["seconds"] for one in found], [50, 95])
    work = np.percentile([one["work"] for one in found], [50, 95])
    shots = [shot for one in found for shot in one["foretold"]]
    inside = 100.0 * np.mean([shot["inside"] for shot in shots])
    spread = 1000.0 * np.median([shot["spread"] for shot in shots])
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
            f" moves an unknown past its interval in {moved}; in {lost} of these one moves as well"
            f" when the reading is known to be wrong and taken out, and {drawn_off} are the"
            f" blunder's own doing; named, and nothing moved: {both}",
            f"- of {len(shots)} shots that are not of the menu, {inside:.1f} % end in the 80 %"
            f" region foretold; half of a region's draws lie within {spread:.0f} mm (median)",
            f"- a fit takes {work[0]:.1f} s of processor time (median), {work[1]:.1f} s (95 %);"
            f" {fits[0]:.1f} s and {fits[1]:.1f} s by the clock, beside other work",
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
    os.nice(5)
    each = math.ceil(HELD_OUT / asked.tables)
    tasks = [(FIRST_SEED + k, each) for k in range(asked.tables)]
    found: list[dict[str, Any]] = []
    with multiprocessing.get_context("spawn").Pool(PROCESSES) as pool:
        try:
            for one in pool.imap(gauge_one, tasks):
                found.append(one)
                told = f"{len(found)} of {len(tasks)} tables"
                told += "" if one["named"] else ", blunder not named"
                told += ", an unknown moved" if one["moved"] else ""
                print(told, file=sys.stderr, flush=True)
        except KeyboardInterrupt:
            pool.terminate()  # what was found until then is told
    text = report(found, time.monotonic() - began)
    asked.output.write_text(text, encoding="utf-8")
    print(text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
