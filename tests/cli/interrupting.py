"""Ctrl-C on a command at a terminal, once it says that Ctrl-C stops it."""

from __future__ import annotations

import contextlib
import os
import pty
import signal
import subprocess
import sys
from pathlib import Path

from cli.command import Ran

OFFERED = "Ctrl-C stops"  # beside the bar, which comes a second after the work has begun
_LONGEST = 120  # s; only stops a run that hangs


def interrupted(*args: str | Path, folder: Path | None = None) -> Ran:
    """What ``stunline`` with those arguments leaves; its messages go to a terminal."""
    reader, terminal = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "stunline", *map(str, args)],
        cwd=folder, stdout=subprocess.PIPE, stderr=terminal, text=True, encoding="utf-8",
        preexec_fn=_heeds_interrupts,
    ) as child:  # fmt: skip
        os.close(terminal)
        said = _until(OFFERED, reader)
        child.send_signal(signal.SIGINT)
        out, _ = child.communicate(timeout=_LONGEST)
        said += _until(None, reader)
    os.close(reader)
    assert OFFERED in said, f"it ended before it was interrupted: {said}"
    return Ran(child.returncode, out, said)


def _heeds_interrupts() -> None:
    """A shell starts background jobs deaf to interrupts, and so would these tests."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _until(words: str | None, reader: int) -> str:
    """What comes until those words do, or until nobody is there to write any."""
    said = b""
    with contextlib.suppress(OSError):  # how Linux tells that a terminal was left
        while words is None or words.encode() not in said:
            more = os.read(reader, 4096)
            if not more:
                break
            said += more
    return said.decode("utf-8", "replace")
