"""The one door to the compiled kernels, and where their machine code is kept.

The folder's name holds a hash of the kernels' sources and of the versions of Python,
numba and numpy, because numba's own cache does not notice that a function called from
another file has changed. ``python -m stunline.shot.warm_up`` fills it.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import platform
import subprocess
import sys
import time
from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path

import numba
import numpy as np
from platformdirs import user_cache_path

_COMPLETE = "complete"  # a file that is written last


def sources_hash() -> str:
    """Hash of the kernels' sources alone, as quoted beside benchmark figures."""
    digest = hashlib.sha256()
    for path in sorted(_mechanics_folder().glob("*.py")):
        digest.update(path.name.encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()[:12]


def cache_folder() -> Path:
    """Where the machine code of exactly these kernels is kept."""
    versions = (platform.python_version(), numba.__version__, np.__version__, platform.machine())
    name = "-".join([sources_hash(), *versions])
    chosen = os.environ.get("STUNLINE_CACHE")
    root = Path(chosen) if chosen else user_cache_path("stunline", appauthor=False)
    return root / "kernels" / name


def _mechanics_folder() -> Path:
    spec = find_spec("stunline.mechanics")
    assert spec is not None and spec.origin is not None
    return Path(spec.origin).parent


def is_compiled() -> bool:
    """Whether a run now needs no compiling."""
    return bool(numba.config.DISABLE_JIT) or (cache_folder() / _COMPLETE).exists()


def mark_compiled() -> None:
    """Note that everything is in the folder; where it can't be written, nothing is noted."""
    with contextlib.suppress(OSError):
        (cache_folder() / _COMPLETE).touch()


def compile_in_child(report: Callable[[str], None]) -> None:
    """Compile in a process of its own, reporting once a second how long it has taken.

    A child, so that an interrupt leaves nothing half loaded here. A failure is not fatal: the
    kernels are then compiled as they are first used.
    """
    command = [sys.executable, "-m", "stunline.shot.warm_up"]
    started = time.monotonic()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as child:
        while True:
            seconds = time.monotonic() - started
            report(f"compiling the engine for this machine, once: {seconds:.0f} s")
            try:
                child.wait(timeout=1.0)
            except subprocess.TimeoutExpired:
                continue
            return


def _use_cache_folder() -> None:
    """Let numba keep what the kernels compile to in our folder, if it can be written."""
    folder = cache_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        writable = os.access(folder, os.W_OK)
    except OSError:
        writable = False
    numba.config.CACHE_DIR = str(folder) if writable else ""


_others_folder = numba.config.CACHE_DIR
_use_cache_folder()
from stunline.mechanics.aim_windows import (  # noqa: E402
    FOUND,
    LAST_AIMS,
    POCKETS,
    TOO_FEW_ROWS,
    WINDOWS,
    search_aims,
)
from stunline.mechanics.ball_impact import ball_impact  # noqa: E402
from stunline.mechanics.boundary import nose_reach  # noqa: E402
from stunline.mechanics.clear_ways import count_next, outside_of_cuts  # noqa: E402
from stunline.mechanics.cluster_members import (  # noqa: E402
    CONTACT_COLUMNS,
    CONTACTS_PER_BALL,
    MEMBER_COLUMNS,
)
from stunline.mechanics.cushion import cushion_impact  # noqa: E402
from stunline.mechanics.hertz import damping_of  # noqa: E402
from stunline.mechanics.holds import HOLD_COLUMNS, HOLDS_A_BALL  # noqa: E402
from stunline.mechanics.layout import BALL_MASS, BALL_RADIUS, BALL_REACH  # noqa: E402
from stunline.mechanics.moving_ball import WORK_COLUMNS  # noqa: E402
from stunline.mechanics.play_many import first_misplaced, play_many  # noqa: E402
from stunline.mechanics.read_shot import read_shot  # noqa: E402
from stunline.mechanics.run_events import run_events  # noqa: E402
from stunline.mechanics.strike import (  # noqa: E402
    ball_speed_from_cue_speed,
    squirt_angle,
    strike,
)

# Of a ball's row: radius, mass, reach.
BODY_COLUMNS = (BALL_RADIUS, BALL_MASS, BALL_REACH)

# Folders chosen elsewhere in this process for other packages' functions stay theirs.
numba.config.CACHE_DIR = _others_folder

__all__ = [
    "BODY_COLUMNS",
    "CONTACTS_PER_BALL",
    "CONTACT_COLUMNS",
    "FOUND",
    "HOLDS_A_BALL",
    "HOLD_COLUMNS",
    "LAST_AIMS",
    "MEMBER_COLUMNS",
    "POCKETS",
    "TOO_FEW_ROWS",
    "WINDOWS",
    "WORK_COLUMNS",
    "ball_impact",
    "ball_speed_from_cue_speed",
    "count_next",
    "cushion_impact",
    "damping_of",
    "first_misplaced",
    "nose_reach",
    "outside_of_cuts",
    "play_many",
    "read_shot",
    "run_events",
    "search_aims",
    "squirt_angle",
    "strike",
]
