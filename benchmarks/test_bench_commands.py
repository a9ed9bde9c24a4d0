"""How long the commands take as processes, the compiled cache warm."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

STUNLINE = Path(sys.executable).parent / "stunline"

# command → target in seconds
COMMANDS = {
    ("--help",): 0.25,
    ("shot", "edge-of-the-pack"): 1.2,
    ("shot", "up-and-down"): 1.2,
    ("ladder", "edge-of-the-pack"): None,
}


@pytest.mark.parametrize("arguments", COMMANDS, ids=" ".join)
def test_command(benchmark, arguments):
    def run() -> bytes:
        return subprocess.run(
            [STUNLINE, *arguments], check=True, capture_output=True, timeout=120
        ).stdout

    assert b"\n" in benchmark.pedantic(run, rounds=5, warmup_rounds=1)
    if benchmark.stats:
        seconds = benchmark.stats.stats.median
        target = COMMANDS[arguments]
        told = ""
        if target is not None:
            told = f", target {target} s: {'met' if seconds <= target else 'not met'}"
        print(f"\nstunline {' '.join(arguments)}: {seconds:.2f} s{told}")
