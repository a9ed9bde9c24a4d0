"""Ctrl-C as a question that long work asks, so that what was done until then is kept."""

from __future__ import annotations

import signal
from types import FrameType
from typing import Any


class Interrupts:
    """While it is entered, the first Ctrl-C is only noted; the second interrupts as usual."""

    def __init__(self) -> None:
        self._asked = False
        self._before: Any = None

    def __enter__(self) -> Interrupts:
        self._before = signal.signal(signal.SIGINT, self._note)
        return self

    def __exit__(self, *_: object) -> None:
        signal.signal(signal.SIGINT, self._before)

    def asked(self) -> bool:
        """Whether somebody has asked to stop."""
        return self._asked

    def _note(self, number: int, frame: FrameType | None) -> None:
        if self._asked:
            raise KeyboardInterrupt
        self._asked = True
