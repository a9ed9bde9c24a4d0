"""Long jobs, one after the other in one process of low priority, with progress and cancelling."""

from __future__ import annotations

import asyncio
import contextlib
import json
import secrets
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from stunline.tasks import page_worker
from stunline.web.answers import broken, page_error
from stunline.web.processes import started

_MOST_KEPT = 12  # finished jobs whose files can still be fetched
_MOST_WAITING = 6  # jobs not yet finished; more would only keep their askers waiting
_MODULE = page_worker.__name__
# One that ends by itself when told to stop still looks into what it has, beside an opened pack
# for some seconds; after so long its process is ended all the same. [s]
_PATIENCE = 20.0


class BusyError(Exception):
    """Too many jobs wait already."""


class _BrokenWorkerError(Exception):
    """The worker ended, or made a mistake."""


@dataclass
class Job:
    """A wish and what has become of it.

    Attributes:
        wish: for the worker
        state: waiting, running, done, failed, cancelled
        words, done: what it does now, and how much of it is done
        content, file, media_type: the result, when it is a file
        growing: what there is until now, of a job that tells it; kept when it is stopped
        error: the error object, when it failed
        stopping: whether it was asked to end with what it has
    """

    wish: dict[str, Any]
    number: str = field(default_factory=lambda: secrets.token_hex(8))
    state: str = "waiting"
    words: str = "waiting for its turn"
    done: float = 0.0
    content: bytes = b""
    file: str | None = None
    media_type: str = ""
    growing: dict[str, Any] | None = None
    error: dict[str, Any] | None = None
    stopping: bool = False
    task: asyncio.Task[None] | None = None


class Worker:
    """The process, started when it is first needed and again after a job was cancelled."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._process: asyncio.subprocess.Process | None = None
        self._turn = asyncio.Lock()
        self._jobs: dict[str, Job] = {}

    def begin(self, wish: dict[str, Any]) -> Job:
        """Take a job on.

        Raises:
            BusyError: too many wait already.
        """
        waiting = [job for job in self._jobs.values() if job.state in ("waiting", "running")]
        if len(waiting) >= _MOST_WAITING:
            raise BusyError
        job = Job({**wish, "folder": str(self._folder)})
        self._jobs[job.number] = job
        self._forget()
        job.task = asyncio.get_running_loop().create_task(self._do(job))
        return job

    def find(self, number: str) -> Job | None:
        """The job of that number."""
        return self._jobs.get(number)

    async def cancel(self, job: Job) -> None:
        """Stop a job; one that is finished stays so. A search still tells what it has found."""
        if job.task is not None and not job.task.done():
            await self._ask_to_stop(job)
            await self._end(job)

    async def _end(self, job: Job) -> None:
        if job.task is not None and not job.task.done():
            job.task.cancel()
            await asyncio.wait([job.task])

    async def _ask_to_stop(self, job: Job) -> None:
        """Have it end by itself, if it can and does so in time; it is not asked twice."""
        process = self._process
        if job.wish["kind"] not in page_worker.STOPPABLE or job.state != "running" or job.stopping:
            return
        if process is None or process.stdin is None or job.task is None:
            return
        job.stopping = True
        process.stdin.write(page_worker.STOP)
        await asyncio.wait([job.task], timeout=_PATIENCE)
        if job.state == "done":
            job.state = "cancelled"

    async def close(self) -> None:
        """Stop everything."""
        for job in list(self._jobs.values()):
            await self._end(job)
        await self._end_process()

    def _forget(self) -> None:
        finished = [job for job in self._jobs.values() if job.task and job.task.done()]
        for job in finished[: max(0, len(finished) - _MOST_KEPT)]:
            del self._jobs[job.number]

    async def _do(self, job: Job) -> None:
        try:
            async with self._turn:
                job.state, job.words = "running", "starting"
                try:
                    await self._talk(job)
                except asyncio.CancelledError:
                    await self._end_process()  # the one way to stop a computation
                    raise
        except asyncio.CancelledError:
            job.state, job.words = "cancelled", "cancelled"
            raise
        except Exception as error:
            await self._end_process()
            job.state, job.words, job.error = "failed", "failed", broken(error)["error"]

    async def _talk(self, job: Job) -> None:
        process = await self._ready_process()
        assert process.stdin is not None and process.stdout is not None
        process.stdin.write(json.dumps(job.wish).encode() + b"\n")
        await process.stdin.drain()
        while job.state == "running":
            line = await process.stdout.readline()
            if not line:
                raise _BrokenWorkerError("the worker ended in the middle of a job")
            answer = json.loads(line)
            if "size" in answer:
                job.content = await process.stdout.readexactly(answer["size"])
            _note(job, answer)

    async def _ready_process(self) -> asyncio.subprocess.Process:
        if self._process is None or self._process.returncode is not None:
            self._process = await started(_MODULE)
        return self._process

    async def _end_process(self) -> None:
        process, self._process = self._process, None
        if process is not None and process.returncode is None:
            with contextlib.suppress(ProcessLookupError):
                process.kill()
            await process.wait()


def _note(job: Job, answer: dict[str, Any]) -> None:
    """What one line of the worker's answer says about the job."""
    if "broken" in answer:
        raise _BrokenWorkerError(answer["broken"])
    if "error" in answer:
        job.state, job.words, job.error = "failed", "failed", answer["error"]
    elif "size" in answer:
        job.file, job.media_type = answer["name"], answer["type"]
        job.state, job.words, job.done = "done", "done", 1.0
    elif "compiled" in answer:
        job.state, job.words, job.done = "done", "compiled", 1.0
    else:
        job.words, job.done = answer["words"], answer["done"]
        job.growing = answer.get("growing", job.growing)
        if answer.get("finished"):
            job.state = "done"


def busy() -> dict[str, Any]:
    """The error object of a job that is not taken on."""
    what = "several jobs are waiting already"
    return page_error("busy", what, "wait for one of them, or cancel it")
