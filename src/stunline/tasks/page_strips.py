"""The page's strips in a process of their own, so that no play under a hand waits for one.

Reads lines of JSON from its standard input: wishes, each with a number, and the numbers of wishes
that newer ones have overtaken. Writes a line for each wish: the strip as JSON, or an empty line
for one that was overtaken. It ends by itself as soon as its input closes, which the end of the
server does, however it ends.
"""

from __future__ import annotations

import contextlib
import json
import os
import queue
import sys
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stunline.errors import StunlineError
from stunline.tasks.error_shape import error_shape

if TYPE_CHECKING:
    from stunline.tasks.kept_bands import KeptBands

# Far below the server and the browser, which a hand waits for.
_NICENESS = 15
# A strip that a newer wish has overtaken still runs to its end when none has been shown for so
# long, so that the bands follow while something is dragged; but not for longer than that. [s]
_STALE, _LONGEST_OVERTAKEN = 0.25, 0.5


class _Strips:
    """What is wished for, and when strips were begun and shown."""

    def __init__(self) -> None:
        self._wishes: queue.SimpleQueue[dict[str, Any]] = queue.SimpleQueue()
        self._overtaken = -1
        self._number = -1
        self._shown = self._begun = 0.0
        self._kept: KeptBands | None = None  # made with the first strip, when the engine is loaded

    def listen(self) -> None:
        """Take lines in; leave at once when nobody is there any more."""
        for line in sys.stdin.buffer:
            message = json.loads(line)
            if "overtaken" in message:
                self._overtaken = message["overtaken"]
            else:
                self._wishes.put(message)
        os._exit(0)

    def next(self) -> str:
        """Wait for a wish and draw its strip; "" when it is no longer wanted."""
        message = self._wishes.get()
        self._number, self._begun = message["number"], time.monotonic()
        drawn = self._draw(message["wish"], Path(message["folder"]))
        if drawn is None:
            return ""
        self._shown = time.monotonic()
        return json.dumps(drawn, ensure_ascii=False, allow_nan=False, separators=(",", ":"))

    def _draw(self, wish: dict[str, Any], folder: Path) -> dict[str, Any] | None:
        from stunline.tasks.kept_bands import KeptBands
        from stunline.tasks.live_strip import live_strip
        from stunline.tasks.page_bounds import check_bounds

        self._kept = self._kept or KeptBands()
        try:
            check_bounds(wish["document"], folder)
            return live_strip(wish, folder, self._is_overtaken, self._kept)
        except StunlineError as error:
            return {"strip": wish["play"], "fault": error_shape(error)["error"]}
        except Exception as error:  # whatever it was, the page is told and strips go on
            return {"strip": wish["play"], "broken": f"{type(error).__name__}: {error}"}

    def _is_overtaken(self) -> bool:
        """Asked by a strip every few plays."""
        now = time.monotonic()
        may_go_on = now - self._shown >= _STALE and now - self._begun < _LONGEST_OVERTAKEN
        return self._overtaken >= self._number and not may_go_on


def work() -> None:
    """Draw strips until the input closes."""
    with contextlib.suppress(OSError):
        os.nice(_NICENESS)
    strips = _Strips()
    threading.Thread(target=strips.listen, daemon=True).start()
    while True:
        sys.stdout.buffer.write(strips.next().encode() + b"\n")
        sys.stdout.buffer.flush()


if __name__ == "__main__":
    work()
