"""The process that draws strips: started when the first is asked for, and again when it broke."""

from __future__ import annotations

import asyncio
import contextlib
import json
from pathlib import Path
from typing import Any

from stunline.tasks import page_strips
from stunline.web.answers import broken
from stunline.web.processes import started

_MODULE = page_strips.__name__
_LONGEST_END = 5.0  # s that a killed process is waited for


class Strips:
    """Draws one strip after another, for all sockets of a page."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._process: asyncio.subprocess.Process | None = None
        self._turn = asyncio.Lock()
        self._number = 0
        self._drawing: dict[str, Any] | None = None

    async def draw(self, wish: dict[str, Any]) -> str:
        """The strip of a wish as JSON; "" when it was overtaken."""
        async with self._turn:
            self._drawing = wish
            try:
                return await self._asked_twice(wish)
            finally:
                self._drawing = None

    def overtake(self, wish: dict[str, Any]) -> None:
        """Say that a newer wish has come than this one, if that is being drawn."""
        if self._drawing is wish and self._process is not None:
            self._send({"overtaken": self._number})

    async def close(self) -> None:
        """Leave nothing running."""
        process, self._process = self._process, None
        if process is not None and process.returncode is None:
            with contextlib.suppress(ProcessLookupError, TimeoutError):
                process.kill()
                await asyncio.wait_for(process.wait(), _LONGEST_END)

    async def _asked_twice(self, wish: dict[str, Any]) -> str:
        """A process that has ended meanwhile is found out by asking it; another is then started."""
        try:
            return await self._ask(wish)
        except OSError:
            try:
                return await self._ask(wish)
            except OSError as error:
                return _failed(wish, error)

    async def _ask(self, wish: dict[str, Any]) -> str:
        process = await self._ready_process()
        assert process.stdout is not None
        self._number += 1
        self._send({"number": self._number, "wish": wish, "folder": str(self._folder)})
        try:
            line = await process.stdout.readline()
        except asyncio.CancelledError:
            # Its answer would be taken for the next one's.
            await self.close()
            raise
        if not line:
            await self.close()
            raise BrokenPipeError("the process that draws strips has ended")
        text = line.decode().rstrip("\n")
        if text.startswith('{"strip":') and '"broken":' in text[:80]:
            return _failed(wish, RuntimeError(json.loads(text)["broken"]))
        return text

    def _send(self, message: dict[str, Any]) -> None:
        assert self._process is not None and self._process.stdin is not None
        with contextlib.suppress(OSError):  # that it has ended is seen where its answer is awaited
            self._process.stdin.write(json.dumps(message).encode() + b"\n")

    async def _ready_process(self) -> asyncio.subprocess.Process:
        if self._process is None or self._process.returncode is not None:
            self._process = await started(_MODULE)
        return self._process


def _failed(wish: dict[str, Any], error: Exception) -> str:
    return json.dumps({"strip": wish["play"], "fault": broken(error)["error"]})
