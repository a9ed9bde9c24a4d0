"""One server for all tests of a test process; to each test it is as if nobody had been there.

A server starts three processes that load the engine, which takes more than most tests do.
"""

from __future__ import annotations

import functools
import shutil
import time
from contextlib import ExitStack
from pathlib import Path

from playwright.sync_api import Browser

from web.running import Running, below, running

_QUIET = 0.05  # so long nothing computes [s]
_PATIENCE = 3.0  # how long that is waited for [s]


class SharedServer:
    """Started when it is first asked for, and again when a test left it ended or at work."""

    def __init__(self, browser: Browser, folder: Path) -> None:
        self._browser, self._folder = browser, folder
        self._usual = browser.new_context
        self._running: Running | None = None
        self._stack = ExitStack()

    def __enter__(self) -> SharedServer:
        return self

    def __exit__(self, *_: object) -> None:
        self._browser.new_context = self._usual  # type: ignore[method-assign]
        self._stack.close()

    def as_new(self) -> Running:
        """With an empty library, with nothing kept for the page, at no work."""
        if self._running is not None and not _is_quiet(self._running):
            self._stack.close()
            self._running = None
        if self._running is None:
            self._running = self._stack.enter_context(running(self._folder))
            self._let_in(self._running)
        self._forget(self._running)
        return self._running

    def _let_in(self, server: Running) -> None:
        """The start address lets one browser in; what it was given, all contexts get from now."""
        first = self._usual()
        first.request.get(server.start)
        known = first.storage_state()
        first.close()
        self._browser.new_context = functools.partial(  # type: ignore[method-assign]
            self._usual, storage_state=known
        )

    def _forget(self, server: Running) -> None:
        context = self._browser.new_context()
        origin = {"origin": server.origin}
        address = f"{server.origin}/api/page-state"
        assert context.request.put(address, data={"state": {}}, headers=origin).ok
        context.close()
        for one in server.folder.iterdir():
            shutil.rmtree(one) if one.is_dir() and not one.is_symlink() else one.unlink()


def _is_quiet(server: Running) -> bool:
    """Whether it runs and its processes come to rest; a job that nobody awaits would not."""
    ends = time.monotonic() + _PATIENCE
    while server.process.poll() is None and time.monotonic() < ends:
        before = _ticks(server)
        time.sleep(_QUIET)
        if _ticks(server) == before:
            return True
    return False


def _ticks(server: Running) -> list[int]:
    """Processor time of the server and of each process below it. [1/100 s]"""
    found = []
    for process in sorted({server.process.pid} | below(server.process.pid)):
        try:
            fields = Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        found.append(int(fields[11]) + int(fields[12]))
    return found
