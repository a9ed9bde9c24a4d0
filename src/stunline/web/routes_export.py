"""Addresses of what takes long: pictures and pages to print, packs to be opened, searches, maps."""

from __future__ import annotations

import asyncio
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter, HTTPException, Request, Response
from fastapi.responses import JSONResponse

from stunline.web.jobs_protocol import (
    ChoiceRequest,
    ExportRequest,
    JobAnswer,
    MapRequest,
    PackRequest,
)
from stunline.web.page import Page, ThisPage
from stunline.web.protocol import ErrorAnswer, ErrorObject
from stunline.web.worker import BusyError, Job, busy

routes = APIRouter(prefix="/api")
_FILE = {
    kind: {"schema": {"type": "string", "format": "binary"}}
    for kind in ("application/pdf", "image/png", "image/svg+xml")
}
_BUSY: dict[int | str, dict[str, Any]] = {429: {"model": ErrorAnswer}}


@routes.post("/export", response_class=Response, responses={200: {"content": _FILE}, **_BUSY})
async def make(page: ThisPage, request: Request, wish: ExportRequest) -> Response:
    """Make a file and send it; closing the request cancels it."""
    try:
        job = page.worker.begin(wish.model_dump())
    except BusyError:
        return JSONResponse(busy(), 429)
    assert job.task is not None
    gone = asyncio.create_task(_gone(request))
    await asyncio.wait([job.task, gone], return_when=asyncio.FIRST_COMPLETED)
    gone.cancel()
    if not job.task.done():
        await page.worker.cancel(job)
    return _file(job)


async def _gone(request: Request) -> None:
    """Returns when nobody waits for the answer any more."""
    while True:
        message = await request.receive()
        if message["type"] == "http.disconnect":
            return


@routes.post("/jobs", responses=_BUSY)
async def begin(page: ThisPage, wish: ExportRequest) -> JobAnswer:
    """Begin to make a file."""
    try:
        return told(page.worker.begin(wish.model_dump()))
    except BusyError:
        raise HTTPException(429, "several jobs are waiting already") from None


@routes.post("/packs", responses=_BUSY)
async def begin_pack(page: ThisPage, wish: PackRequest) -> JobAnswer:
    """Begin to open the document's pack; the job tells what there is as it grows."""
    try:
        return told(page.worker.begin({**wish.model_dump(), "kind": "pack"}))
    except BusyError:
        raise HTTPException(429, "several jobs are waiting already") from None


@routes.post("/choices", responses=_BUSY)
async def begin_choice(page: ThisPage, wish: ChoiceRequest) -> JobAnswer:
    """Begin to search the strikes for the document's goal."""
    try:
        return told(page.worker.begin({**wish.model_dump(), "kind": "choose"}))
    except BusyError:
        raise HTTPException(429, "several jobs are waiting already") from None


@routes.post("/margins", responses=_BUSY)
async def begin_margin(page: ThisPage, wish: MapRequest) -> JobAnswer:
    """Begin to try how much the document's strike forgives."""
    try:
        return told(page.worker.begin({**wish.model_dump(), "kind": "margin"}))
    except BusyError:
        raise HTTPException(429, "several jobs are waiting already") from None


@routes.post("/played", responses=_BUSY)
async def begin_played(page: ThisPage, wish: MapRequest) -> JobAnswer:
    """Begin to find the stroke that the document's [played] tells of."""
    try:
        return told(page.worker.begin({**wish.model_dump(), "kind": "played"}))
    except BusyError:
        raise HTTPException(429, "several jobs are waiting already") from None


@routes.post("/reaches", responses=_BUSY)
async def begin_reach(page: ThisPage, wish: MapRequest) -> JobAnswer:
    """Begin to search where the white can go when the document's shot is made."""
    try:
        return told(page.worker.begin({**wish.model_dump(), "kind": "reach"}))
    except BusyError:
        raise HTTPException(429, "several jobs are waiting already") from None


@routes.get("/jobs/{job}")
async def follow(page: ThisPage, job: str) -> JobAnswer:
    """How far it is."""
    return told(_found(page, job))


@routes.delete("/jobs/{job}")
async def cancel(page: ThisPage, job: str) -> JobAnswer:
    """Stop it."""
    found = _found(page, job)
    await page.worker.cancel(found)
    return told(found)


@routes.get("/jobs/{job}/file", response_class=Response, responses={200: {"content": _FILE}})
async def fetch(page: ThisPage, job: str) -> Response:
    """The file, once it is done."""
    return _file(_found(page, job))


def _found(page: Page, number: str) -> Job:
    job = page.worker.find(number)
    if job is None:
        raise HTTPException(404, "there is no such job any more")
    return job


def _file(job: Job) -> Response:
    if job.error is not None:
        return JSONResponse({"error": job.error}, 422)
    if job.state != "done" or job.file is None:
        raise HTTPException(409, f"the file is not there: {job.words}")
    name = f"attachment; filename*=UTF-8''{quote(job.file, safe='')}"
    return Response(job.content, media_type=job.media_type, headers={"content-disposition": name})


def told(job: Job) -> JobAnswer:
    """A job as a message."""
    error = None if job.error is None else ErrorObject.model_validate(job.error)
    return JobAnswer.model_validate(
        {
            "job": job.number,
            "state": job.state,
            "words": job.words,
            "done": job.done,
            "file": job.file,
            "growing": job.growing,
            "error": error,
        }
    )
