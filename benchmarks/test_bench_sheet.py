"""How long practice sheets take, played and set: in a warm process, and as commands."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from stunline.paper.sheet import page_count
from stunline.shot.position_file.shipped import shipped_positions
from stunline.tasks.print_sheet import Choices, print_sheets, read_sheets

STUNLINE = Path(sys.executable).parent / "stunline"
MAIN = ("edge-of-the-pack",)
TEN = shipped_positions()[:10]
# what → files, pages, target in seconds
WORK = {
    "one-page sheet": (MAIN, 1, 1.0),
    "sheets of ten positions": (TEN, 11, 4.0),
}


def told(benchmark, what: str, target: float) -> None:
    if benchmark.stats:
        seconds = benchmark.stats.stats.median
        met = "met" if seconds <= target else "not met"
        print(f"\n{what}: {seconds:.2f} s, target {target} s: {met}")


@pytest.mark.parametrize("what", WORK)
def test_in_a_warm_process(benchmark, what):
    files, pages, target = WORK[what]
    choices = Choices(date="25 Nov 2026")

    def run() -> bytes:
        return print_sheets(read_sheets(files), choices).pdf

    assert page_count(benchmark.pedantic(run, rounds=5, warmup_rounds=1)) == pages
    told(benchmark, f"{what}, in a warm process", target)


@pytest.mark.parametrize("what", WORK)
def test_as_a_command(benchmark, what, tmp_path):
    files, pages, target = WORK[what]
    path = tmp_path / "sheets.pdf"

    def run() -> None:
        command = [STUNLINE, "sheet", *files, "-o", path]
        subprocess.run(command, check=True, capture_output=True, timeout=120)

    benchmark.pedantic(run, rounds=5, warmup_rounds=1)
    assert page_count(path.read_bytes()) == pages
    told(benchmark, f"{what}, as a command", target)
