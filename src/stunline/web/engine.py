"""Gets the engine ready behind the page, and says how far that is."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections.abc import Callable

from stunline.tasks import page_engine
from stunline.web.protocol import EngineState, EngineStatus
from stunline.web.worker import Worker

Listener = Callable[[EngineStatus], None]
_TICK = 1.0  # s between two words about how long compiling has taken


class Engine:
    """The state of the engine, and who is told when it changes."""

    def __init__(self) -> None:
        self.status = EngineStatus(state="starting", words="loading the engine")
        self.ready = asyncio.Event()
        self._listeners: set[Listener] = set()

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Have that called at each change; gives what ends it."""
        self._listeners.add(listener)
        return lambda: self._listeners.discard(listener)

    async def prepare(self, worker: Worker) -> None:
        """Compile the engine if this machine has not yet, then load it.

        Compiling takes its time in the worker, where it can be ended at any moment.
        """
        try:
            if not await asyncio.to_thread(page_engine.is_compiled):
                await self._compile(worker)
                self._say("starting", "loading the engine")
            await asyncio.to_thread(page_engine.load_engine)
        except Exception as error:
            self._say("failed", f"the engine can't be loaded: {type(error).__name__}: {error}")
        else:
            self._say("ready", "")
        self.ready.set()

    async def _compile(self, worker: Worker) -> None:
        job = worker.begin({"kind": "compile"})
        assert job.task is not None
        began = time.monotonic()
        while not job.task.done():
            seconds = time.monotonic() - began
            words = f"compiling the engine for this machine, once: {seconds:.0f} s"
            self._say("compiling", words)
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(asyncio.shield(job.task), _TICK)

    def _say(self, state: EngineState, words: str) -> None:
        self.status = EngineStatus(state=state, words=words)
        for listener in tuple(self._listeners):
            listener(self.status)
