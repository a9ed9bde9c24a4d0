"""Finds a Chromium for the tests of the page, or installs the system's own.

$CHROMIUM, then the path, then apt where there is one and we may use it.
"""

from __future__ import annotations

import os
import shutil
import subprocess

NAMES = ("chromium", "chromium-browser")
_QUIET = {"stdin": subprocess.DEVNULL, "stdout": subprocess.DEVNULL}


def find_chromium() -> str | None:
    """Its path, or None when there is none and none can be installed."""
    return _found() or (_found() if _install() else None)


def _found() -> str | None:
    named = os.environ.get("CHROMIUM")
    return named or next((path for path in map(shutil.which, NAMES) if path), None)


def _install() -> bool:
    """Whether the system's package manager has brought one."""
    apt = shutil.which("apt-get")
    if apt is None or os.geteuid() != 0:
        return False
    print("installing Chromium for the tests of the page", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = [apt, "install", "-y", "-qq", "--no-install-recommends", "chromium"]
    for command in ([apt, "update", "-qq"], install):
        if subprocess.run(command, env=quiet, check=False, **_QUIET).returncode != 0:  # type: ignore[call-overload]
            return False
    return True
