"""Make the virtual environment, or say in one sentence why it cannot be made.

Run by ``make install`` with whatever Python the user has, so this file keeps to syntax
that an old Python 3 can still read, in order to be able to say that it is too old.
"""

import importlib
import importlib.util
import os
import shutil
import subprocess
import sys

OLDEST = (3, 11)


def main(folder: str) -> None:
    """Make a working environment in ``folder``; leave one that works as it is."""
    if sys.version_info < OLDEST:
        sys.exit(
            f"stunline needs Python {OLDEST[0]}.{OLDEST[1]} or newer, and {sys.executable} is "
            f"{sys.version_info[0]}.{sys.version_info[1]}: say which one to use with "
            "make install PYTHON=/path/to/python3.11"
        )
    if works(folder):
        return
    shutil.rmtree(folder, ignore_errors=True)
    for make in (with_venv, with_venv_from_apt, with_uv):
        if make(folder) and works(folder):
            return
    sys.exit(
        f"{sys.executable} could not make a virtual environment in {folder} (often because its "
        "ensurepip is missing): install python3-venv, or uv, and run make install again."
    )


def works(folder: str) -> bool:
    """Whether ``folder`` holds an environment that is new enough and has pip."""
    python = os.path.join(folder, "bin", "python")
    question = f"import sys, pip; sys.exit(sys.version_info < {OLDEST!r})"
    return os.path.exists(python) and subprocess.call([python, "-c", question]) == 0


def with_venv(folder: str) -> bool:
    """By the standard library, where ensurepip is there."""
    if importlib.util.find_spec("ensurepip") is None:
        return False
    return subprocess.call([sys.executable, "-m", "venv", folder]) == 0


def with_venv_from_apt(folder: str) -> bool:
    """The same, after installing Debian's package for Debian's own Python: only as root."""
    if os.geteuid() != 0 or sys.base_prefix != "/usr" or shutil.which("apt-get") is None:
        return False
    if importlib.util.find_spec("ensurepip") is not None:
        return False  # it was there and failed: the package would not help
    print("installing python3-venv with apt-get", flush=True)
    quiet = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
    for command in (["update"], ["install", "-y", "--no-install-recommends", "python3-venv"]):
        subprocess.call(["apt-get", "-qq", *command], env=quiet, stdin=subprocess.DEVNULL)
    importlib.invalidate_caches()
    return with_venv(folder)


def with_uv(folder: str) -> bool:
    """By uv, where it is installed."""
    uv = shutil.which("uv")
    if uv is None:
        return False
    command = [uv, "venv", "--quiet", "--seed", "--python", sys.executable, folder]
    return subprocess.call(command) == 0


if __name__ == "__main__":
    main(sys.argv[1])
