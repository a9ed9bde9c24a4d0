"""Errors as answers: one shape, a sentence for each, never a traceback."""

from __future__ import annotations

import logging
from typing import Any

from fastapi import FastAPI, HTTPException, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse

from stunline.errors import StunlineError
from stunline.tasks.error_shape import error_shape
from stunline.tasks.library import MissingPositionError, TakenNameError
from stunline.tasks.page_record_errors import ChangedRecordError
from stunline.tasks.save_position import ChangedMeanwhileError, SavedPosition
from stunline.web.protocol import Saved

logger = logging.getLogger("stunline.web")
_MOST_FAULTS = 20  # of one message told; a garbled one has one for each value
_WORDS = {
    404: ("not-found", "there is nothing at this address", "go back to the page"),
    405: ("not-allowed", "this address does not take that", "reload the page"),
}
_STATUS: dict[type[StunlineError], int] = {
    MissingPositionError: 404,
    TakenNameError: 409,
    ChangedRecordError: 409,
}


def page_error(reason: str, what: str, remedy: str = "", **facts: Any) -> dict[str, Any]:
    """The error object of something that this server refuses."""
    fault = {"what": what, "given": "", "allowed": "", "remedy": remedy, "key": ""}
    return {
        "error": {
            "kind": "page",
            "reason": reason,
            "faults": [{**fault, "line": None, "file": None, **facts}],
        }
    }


def broken(error: BaseException) -> dict[str, Any]:
    """The error object of a mistake of ours; the terminal is told what it was."""
    logger.error("a request failed: %s: %s", type(error).__name__, error)
    return page_error(
        "failed",
        "something went wrong inside stunline, and nothing was changed",
        "try again; if it comes back, start stunline again",
        given=type(error).__name__,
    )


def refusal(error: StunlineError) -> dict[str, Any]:
    """The error object of what a task refuses."""
    shape = error_shape(error)
    for kind, reason in (
        (MissingPositionError, "not-found"),
        (TakenNameError, "name-taken"),
        (ChangedMeanwhileError, "changed-meanwhile"),
        (ChangedRecordError, "changed-meanwhile"),
    ):
        if isinstance(error, kind):
            shape["error"].update(kind="page", reason=reason)
    return shape


def validation_error(errors: Any) -> dict[str, Any]:
    """The error object of a message that is not as described."""
    shape = page_error("not-as-described", "")
    faults = [
        {
            **shape["error"]["faults"][0],
            "what": str(one.get("msg", "this is not as described")).removeprefix("Value error, "),
            "given": _shown(one.get("input")),
            "remedy": "reload the page, which may be older than its server",
            "key": ".".join(str(part) for part in one.get("loc", ()) if part != "body"),
        }
        for one in list(errors)[:_MOST_FAULTS]
    ]
    shape["error"]["faults"] = faults or shape["error"]["faults"]
    return shape


def _shown(value: object) -> str:
    text = ascii(value)
    return text if len(text) <= 60 else text[:59] + "…"


def saved(position: SavedPosition) -> Saved:
    """Where something now stands, as a message."""
    stored = position.position
    return Saved(name=stored.name, revision=stored.revision, note=position.note)


def add_handlers(app: FastAPI) -> None:
    """Have every error answered in the one shape."""
    app.add_exception_handler(StunlineError, _refused)
    app.add_exception_handler(RequestValidationError, _not_as_described)
    app.add_exception_handler(HTTPException, _plain)
    app.add_exception_handler(Exception, _broken)
    for status in _WORDS:
        app.add_exception_handler(status, _no_such_thing)


async def _refused(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, StunlineError)
    shape = refusal(error)
    if isinstance(error, ChangedMeanwhileError):
        kept = {name: saved(one).model_dump() for name, one in
                (("mine", error.mine), ("theirs", error.theirs))}  # fmt: skip
        return JSONResponse({**shape, **kept}, 409)
    status = _STATUS.get(type(error), 422)
    return JSONResponse(shape, status)


async def _not_as_described(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, RequestValidationError)
    return JSONResponse(validation_error(error.errors()), 422)


async def _plain(request: Request, error: Exception) -> JSONResponse:
    assert isinstance(error, HTTPException)
    shape = page_error("refused", str(error.detail), "reload the page")
    return JSONResponse(shape, error.status_code)


async def _no_such_thing(request: Request, error: Exception) -> JSONResponse:
    status = getattr(error, "status_code", 404)
    reason, what, remedy = _WORDS[status]
    given = _shown(f"{request.method} {request.url.path}")
    return JSONResponse(page_error(reason, what, remedy, given=given), status)


async def _broken(request: Request, error: Exception) -> JSONResponse:
    return JSONResponse(broken(error), 500)
