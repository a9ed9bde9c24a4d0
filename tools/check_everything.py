"""Every check that a change must pass; ``make test`` runs this.

A check that fails does not stop the others, so that one run shows everything that is
wrong; the exit code is 1 if any failed. The short checks run two at a time, and each tells
all it has to say at its end. The tests come last, so that their summary is the last thing to
read.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
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
]
# Work stealing leaves neighbours in one process for as long as there is enough for both: what the
# tests of a file share, a server or a ladder, is then made once.
XDIST = ["-n", "2", "--dist", "worksteal"]
TESTS = ("tests", [sys.executable, "-m", "pytest", "-q", *XDIST, "-p", "no:benchmark"])


def main() -> int:
    """Run all; return how the process should exit."""
    chromium = find_chromium()
    if chromium is not None:
        os.environ["CHROMIUM"] = chromium
    checkers = CHECKERS.is_dir()
    chosen = [one for one in CHECKS if checkers or one[0] not in PAGE_CHECKS]
    with ThreadPoolExecutor(2) as pool:
        passed = list(pool.map(lambda one: _passes(one[0], one[1], True), chosen))
    passed.append(_passes(*TESTS))
    names = [name for name, _ in [*chosen, TESTS]]
    failed = [name for name, good in zip(names, passed, strict=True) if not good]
    if not checkers:
        failed += _left_out("no npm was found: the page's code was not checked", "page code")
    if chromium is None:
        failed += _left_out("no Chromium was found: the page was not tried in a browser", "browser")
    if failed:
        print(f"FAILED: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


def _passes(name: str, command: list[str], at_its_end: bool = False) -> bool:
    """Run it; what it says comes as it says it, or all at its end."""
    if not at_its_end:
        print(f"── {name}", flush=True)
    began = time.monotonic()
    ran = subprocess.run(
        command,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE if at_its_end else None,
        stderr=subprocess.STDOUT if at_its_end else None,
        text=True,
        check=False,
    )
    result = "passed" if ran.returncode == 0 else "FAILED"
    last = f"   {name}: {result}, {time.monotonic() - began:.1f} s\n"
    said = f"── {name}\n{ran.stdout}" if at_its_end else ""
    print(said + last, end="", flush=True)
    return ran.returncode == 0


def _left_out(why: str, name: str) -> list[str]:
    """Says so; where nobody is there to read it, in CI, it counts as failed."""
    print(why, file=sys.stderr)
    return [name] if os.environ.get("CI") else []


if __name__ == "__main__":
    sys.exit(main())
