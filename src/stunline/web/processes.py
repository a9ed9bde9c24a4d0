"""Processes of the page's own that are spoken to in lines: the worker's and the strips'."""

from __future__ import annotations

import asyncio
import sys

_LINE_LIMIT = 4_000_000  # bytes of one line of an answer: a strip, a strike for each place


async def started(module: str) -> asyncio.subprocess.Process:
    """That module as a program, its input and output as pipes."""
    return await asyncio.create_subprocess_exec(
        sys.executable, "-P", "-m", module,
        stdin=asyncio.subprocess.PIPE,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.DEVNULL,
        limit=_LINE_LIMIT,
        start_new_session=True,  # Ctrl-C in the terminal is for the server, which ends it
    )  # fmt: skip
