"""Runs the real command: the function that the console script calls, as a shell would see it."""

from __future__ import annotations

import contextlib
import json
import subprocess
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any
from unittest import mock

from cli.standard_streams import Caught, exit_code, usual_warnings
from stunline.cli.main import main

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
    """``stunline`` with those arguments, in this process.

    A process of its own spends most of its time on imports, so only what is about processes
    takes one: ``run_alone``. All else that the command is given and leaves is as there: arguments,
    working directory, both streams down to their descriptors, exit code, traceback, warnings.
    """
    out, err = Caught("stdout", 1), Caught("stderr", 2)
    with (
        contextlib.chdir(folder or Path.cwd()),
        mock.patch.object(sys, "argv", ["stunline", *map(str, args)]),
        out.catch(),
        err.catch(),
        usual_warnings(),
    ):
        code = exit_code(main)
    return Ran(code, out.text, err.text)


def run_alone(*args: str | Path, folder: Path | None = None) -> Ran:
    """``stunline`` with those arguments, in a process of its own."""
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
