"""The page's server as an application, behind its gate."""

from __future__ import annotations

import asyncio
import contextlib
import mimetypes
from collections.abc import AsyncIterator
from typing import Any

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles

import stunline
from stunline.tasks.library import Library
from stunline.web import live_socket, routes_export, routes_gauge, routes_library, routes_page
from stunline.web.answers import add_handlers
from stunline.web.page import CLIENT, Page
from stunline.web.protocol import ErrorAnswer
from stunline.web.security import Gate, Keys

_ERRORS: dict[int | str, dict[str, Any]] = {
    status: {"model": ErrorAnswer, "description": what}
    for status, what in {
        403: "not from the page, or not from a browser that is known",
        404: "there is no such thing",
        409: "the name is taken, or the file was changed meanwhile",
        413: "larger than 1 MB",
        415: "not JSON",
        422: "not as described, or not in order",
    }.items()
}
# Systems disagree about some of these, and browsers take nothing else for a module.
for _ending, _kind in ((".js", "text/javascript"), (".mjs", "text/javascript")):
    mimetypes.add_type(_kind, _ending)


def make_application(library: Library, keys: Keys, opened: str | None = None) -> Gate:
    """The server of one library.

    Args:
        keys: what lets a browser in
        opened: name of the position to open, or None: the one that was open last
    """
    page = Page(library, opened)
    app = FastAPI(
        title="stunline, the local page",
        version=stunline.__version__,
        docs_url=None,  # the stock pages load scripts from outside
        redoc_url=None,
        lifespan=_lifespan,
        responses=_ERRORS,
    )
    app.state.page = page
    for part in (routes_page, routes_library, routes_export, routes_gauge, live_socket):
        app.include_router(part.routes)
    app.mount("/client", StaticFiles(directory=CLIENT), "client")
    add_handlers(app)
    return Gate(app, keys)


@contextlib.asynccontextmanager
async def _lifespan(app: FastAPI) -> AsyncIterator[None]:
    """The engine is made ready while the page is up; nothing is left when it closes."""
    page: Page = app.state.page
    preparing = asyncio.create_task(page.engine.prepare(page.worker))
    try:
        yield
    finally:
        preparing.cancel()
        await page.worker.close()
        await page.strips.close()
        await asyncio.gather(preparing, return_exceptions=True)
