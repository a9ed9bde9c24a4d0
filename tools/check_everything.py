"""Every check that a change must pass, one after the other; ``make test`` runs this.

A check that fails does not stop the others, so that one run shows everything that is
wrong; the exit code is 1 if any failed. The tests come last, so that their summary is
the last thing to read.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

from find_chromium import find_chromium

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(sys.executable).parent
FOLDERS = ("src", "tests", "tools", "benchmarks", "campaigns")
CODE = [name for name in FOLDERS if (ROOT / name).is_dir()] + ["docs/conf.py"]
SPHINX = ["-m", "sphinx", "-W", "--keep-going", "-q", "-b", "html", "docs", "docs/_build/html"]

CHECKS: list[tuple[str, list[str]]] = [
    ("ruff check", [str(BIN / "ruff"), "check", *CODE]),
    ("ruff format", [str(BIN / "ruff"), "format", "--check", *CODE]),
    ("mypy", [sys.executable, "-m", "mypy"]),
    ("import floors", [str(BIN / "lint-imports"), "--no-cache", "--no-logo"]),
    ("docs", [sys.executable, *SPHINX]),
    ("tests", [sys.executable, "-m", "pytest", "-q", "-n", "2", "-p", "no:benchmark"]),
]


def main() -> int:
    """Run all; return how the process should exit."""
    failed = []
    chromium = find_chromium()
    if chromium is not None:
        os.environ["CHROMIUM"] = chromium
    for name, command in CHECKS:
        print(f"── {name}", flush=True)
        began = time.monotonic()
        code = subprocess.run(command, cwd=ROOT, stdin=subprocess.DEVNULL, check=False).returncode
        result = "passed" if code == 0 else "FAILED"
        print(f"   {name}: {result}, {time.monotonic() - began:.1f} s", flush=True)
        if code != 0:
            failed.append(name)
    if chromium is None:
        print("no Chromium was found: the page was not tried in a browser", file=sys.stderr)
        if os.environ.get("CI"):
            failed.append("page in a browser")
    if failed:
        print(f"FAILED: {', '.join(failed)}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
