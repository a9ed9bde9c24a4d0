"""Runs the real command, in a process of its own as a user does."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

SHOT = Path(__file__).resolve().parents[2] / "src" / "stunline" / "shot"
POSITIONS = SHOT / "position_file" / "positions"
SHIPPED = sorted(path.stem for path in POSITIONS.glob("*.toml"))
PROGRESS = "compiling the engine"
_LONGEST = 300  # s; only stops a run that hangs

POSITION = """\
table = "snooker-12ft"
[balls]
white = [560.0, 2740.0]
black = "black"
[strike]
pot = { ball = "black", pocket = "top right" }
pace = 1.7
height = 2.0
"""


@dataclass(frozen=True)
class Ran:
    """What a command left behind."""

    code: int
    out: str
    err: str

    @property
    def shape(self) -> dict[str, Any]:
        """The one JSON object on stdout."""
        found: dict[str, Any] = json.loads(self.out)
        return found

    @property
    def error(self) -> dict[str, Any]:
        """The error object on stderr."""
        found: dict[str, Any] = json.loads(self.err)["error"]
        return found


def run(*args: str | Path, folder: Path | None = None) -> Ran:
    """``stunline`` with those arguments."""
    done = subprocess.run(
        [sys.executable, "-m", "stunline", *map(str, args)],
        cwd=folder,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=_LONGEST,
        check=False,
    )
    # Where the kernels have just changed, the first run says that it compiles them.
    lines = done.stderr.splitlines(keepends=True)
    messages = [line for line in lines if not line.startswith(PROGRESS)]
    return Ran(done.returncode, done.stdout, "".join(messages))


@cache
def shipped(command: str, name: str, *options: str) -> Ran:
    """``shot`` or ``ladder`` of a shipped position, run once for all tests."""
    return run(command, POSITIONS / f"{name}.toml", *options)
