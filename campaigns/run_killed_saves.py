"""Two hundred servers killed while they save: no file is ever damaged or lost.

Writes its figures to docs/campaigns/killed-saves.md.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))

KILLED = 200
FIRST_SEED = 1000  # others than the test's


def main() -> int:
    """Kill them all; return how the process should exit."""
    from web.test_saving import test_a_server_killed_while_saving_leaves_every_file_whole as kill

    began, damaged = time.monotonic(), []
    with tempfile.TemporaryDirectory() as state:
        os.environ["XDG_STATE_HOME"] = state
        for seed in range(FIRST_SEED, FIRST_SEED + KILLED):
            with tempfile.TemporaryDirectory() as folder:
                try:
                    kill(Path(folder), seed)
                except AssertionError as error:
                    damaged.append(f"seed {seed}: {error}")
    lines = [
        "# Killed while saving",
        "",
        "`campaigns/run_killed_saves.py`",
        "",
        f"- servers killed (SIGKILL) while a page saved without pause: {KILLED}",
        f"- files damaged or lost, or a save lost that had been answered: {len(damaged)}",
        f"- time: {time.monotonic() - began:.0f} s",
    ]
    page = ROOT / "docs" / "campaigns" / "killed-saves.md"
    page.write_text("\n".join(lines) + "\n", encoding="utf-8")
    print("\n".join([*lines, *damaged]))
    return 1 if damaged else 0


if __name__ == "__main__":
    sys.exit(main())
