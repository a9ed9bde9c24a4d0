"""A million random shots: 1 to 7 balls, any strike, balls at cushions and touching.

With ``--full``, 200,000 shots with all 22 balls: racked, loosely racked, in clusters, scattered.
Writes its figures to docs/campaigns, with the hash of the kernels they hold for.
"""

from __future__ import annotations

import argparse
import multiprocessing
import sys
import time
from collections import Counter
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))

CHUNK = 2_000
SHOTS, FULL_SHOTS = 1_000_000, 200_000
MOST_TOLD = 50  # draws out of order


# file, title and option of each kind's report
REPORTS = {
    False: ("random-shots.md", "Random shots", ""),
    True: ("full-tables.md", "Shots with all 22 balls", " --full"),
}


def play_chunk(drawn: tuple[int, bool]) -> tuple[Counter[str], Counter[str], float, int, list[str]]:
    """Stop reasons, faults, deepest overlap over R, most events, and the faulty draws."""
    from anywhere import shot_anywhere
    from full_tables import shot_with_full_table

    from random_positions import random_shot
    from record_check import IN_ORDER, NAMES, check
    from stunline.shot.play import play

    seed, full = drawn
    random = np.random.default_rng(seed)
    stops: Counter[str] = Counter()
    faults: Counter[str] = Counter()
    deepest, most_events, faulty = 0.0, 0, []
    for index in range(CHUNK):
        # Half of them anywhere on the shipped cloths, half at pockets, balls and cushions, with
        # coefficients that no table has.
        if full:
            position, strike = shot_with_full_table(random)
        elif index % 2:
            position, strike = random_shot(seed * CHUNK + index)
        else:
            position, strike = shot_anywhere(random)
        shot = play(position, strike)
        stops[str(shot.stop_reason)] += 1
        if shot.stop_reason == "event-limit":
            faulty.append(f"seed {seed}, shot {index}: event limit")
        fault, depth = check(shot)
        most_events = max(most_events, len(shot.record.event_ints))
        if fault == IN_ORDER:
            deepest = max(deepest, depth)
        else:
            faults[NAMES[fault]] += 1
            faulty.append(f"seed {seed}, shot {index}: {NAMES[fault]} {depth:g}")
    return stops, faults, deepest, most_events, faulty


def main() -> int:
    """Play, report, and fail when anything was out of order."""
    from stunline.shot import compiled

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--full", action="store_true")
    parser.add_argument("--shots", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--no-report", action="store_true")
    arguments = parser.parse_args()
    shots = arguments.shots or (FULL_SHOTS if arguments.full else SHOTS)
    chunks = max(1, shots // CHUNK)
    seeds = [arguments.seed * 1_000_000 + index for index in range(chunks)]
    started = time.monotonic()
    stops: Counter[str] = Counter()
    faults: Counter[str] = Counter()
    deepest, most_events, faulty = 0.0, 0, []
    with multiprocessing.get_context("spawn").Pool(2) as pool:
        for one in pool.imap_unordered(play_chunk, [(seed, arguments.full) for seed in seeds]):
            stops += one[0]
            faults += one[1]
            deepest, most_events = max(deepest, one[2]), max(most_events, one[3])
            faulty += one[4]
    told = ", ".join(f"{name} {count:,}" for name, count in sorted(stops.items()))
    lines = [
        f"- shots: {chunks * CHUNK:,}, kernels `{compiled.sources_hash()}`",
        f"- stop reasons: {told}",
        f"- out of order (NaN, overlap, energy gain, off the table, potted moves): "
        f"{sum(faults.values())}" + (f" ({dict(faults)})" if faults else ""),
        f"- deepest overlap: {deepest:.2e} of the radius (allowed 1e-9)",
        f"- most events in one shot: {most_events:,}",
        f"- time: {time.monotonic() - started:.0f} s on two processes",
    ]
    print("\n".join([*lines, *faulty[:MOST_TOLD]]))
    if not arguments.no_report:
        name, title, option = REPORTS[arguments.full]
        report = ROOT / "docs" / "campaigns" / name
        report.parent.mkdir(parents=True, exist_ok=True)
        command = f"`campaigns/run_random_shots.py{option}`"
        text = f"# {title}\n\n{command}\n\n" + "\n".join(lines) + "\n"
        report.write_text(text, encoding="utf-8")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
