"""How far something long has come, on stderr: a bar on a terminal, nothing elsewhere."""

from __future__ import annotations

import sys
import time

import click

# Shorter work needs no bar; and how often one is drawn anew. [s]
_AFTER, _EVERY = 1.0, 0.1
_WIDTH = 24


class Progress:
    """One line that is written over."""

    def __init__(self, of: str) -> None:
        """``of``: what is counted, "racks"."""
        self._of = of
        self._begun = time.monotonic()
        self._told = 0.0
        self._shown = False

    def tell(self, done: int, wanted: int) -> None:
        """So many of so many."""
        now = time.monotonic()
        due = now - self._begun >= _AFTER and now - self._told >= _EVERY
        if not due or not sys.stderr.isatty():
            return
        full = _WIDTH * done // max(wanted, 1)
        bar = "█" * full + "░" * (_WIDTH - full)
        click.echo(f"{bar} {done:,} of {wanted:,} {self._of}; Ctrl-C stops\r", err=True, nl=False)
        self._told, self._shown = now, True

    def step(self, what: str, done: int, wanted: int) -> None:
        """So far with one of several steps, named here."""
        self._of = f"({what})"
        self.tell(done, wanted)

    def end(self) -> None:
        """Leave the line clear."""
        if self._shown:
            click.echo("\x1b[2K\r", err=True, nl=False)
