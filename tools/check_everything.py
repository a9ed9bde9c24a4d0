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
CLIENT = ROOT / "tools" / "client"
CHECKERS = CLIENT / "node_modules" / ".bin"
LINT = ["check", "--error-on-warnings", f"--config-path={CLIENT}"]
SPHINX = ["-m", "sphinx", "-W", "--keep-going", "-q", "-b", "html", "docs", "docs/_build/html"]

PAGE_CHECKS = ("page types", "page lint")

CHECKS: list[tuple[str, list[str]]] = [
    ("ruff check", [str(BIN / "ruff"), "check", *CODE]),
    ("ruff format", [str(BIN / "ruff"), "format", "--check", *CODE]),
    ("mypy", [sys.executable, "-m", "mypy"]),
    ("import floors", [str(BIN / "lint-imports"), "--no-cache", "--no-logo"]),
    ("page types", [str(CHECKERS / "tsc"), "--project", str(CLIENT)]),
    ("page lint", [str(CHECKERS / "biome"), *LINT, "src/stunline/web/client"]),
    ("docs", [sys.executable, *SPHINX]),
    ("tests", [sys.executable, "-m", "pytest", "-q", "-n", "2", "-p", "no:benchmark"]),
]


def main() -> int:
    """Run all; return how the process should exit."""
    chromium = find_chromium()
    if chromium is not None:
        os.environ["CHROMIUM"] = chromium
    checkers = CHECKERS.is_dir()
    chosen = [one for one in CHECKS if checkers or one[0] not in PAGE_CHECKS]
    failed = [name for name, command in chosen if not _passes(name, command)]
    if not checkers:
        failed += _left_out("no npm was found: the page's code was not checked", "page code")
    if chromium is None:
        failed += _left_out("no Chromium was found: the page was not tried in a browser", "browser")
    if failed:
        print(f"FAILED: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


def _passes(name: str, command: list[str]) -> bool:
    print(f"── {name}", flush=True)
    began = time.monotonic()
    code = subprocess.run(command, cwd=ROOT, stdin=subprocess.DEVNULL, check=False).returncode
    result = "passed" if code == 0 else "FAILED"
    print(f"   {name}: {result}, {time.monotonic() - began:.1f} s", flush=True)
    return code == 0


def _left_out(why: str, name: str) -> list[str]:
    """Says so; where nobody is there to read it, in CI, it counts as failed."""
    print(why, file=sys.stderr)
    return [name] if os.environ.get("CI") else []


if __name__ == "__main__":
    sys.exit(main())
