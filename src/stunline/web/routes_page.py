"""Addresses of the page itself: its files, its tables, what it finds again, the opening shot."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Response
from fastapi.responses import FileResponse

import stunline
from stunline.tasks.page_files import fonts
from stunline.tasks.page_opening import kept_opening
from stunline.tasks.page_players import page_players
from stunline.tasks.page_state import keep_page_state, read_page_state
from stunline.tasks.page_tables import page_tables
from stunline.web.jobs_protocol import Explained, ExplainRequest
from stunline.web.live_protocol import LiveAnswer
from stunline.web.page import CLIENT, ThisPage
from stunline.web.protocol import (
    PageState,
    PageStateAnswer,
    PlayersAnswer,
    TablesAnswer,
    Theme,
)

routes = APIRouter()
_HTML = {"text/html": {"schema": {"type": "string"}}}
_WOFF2 = {"font/woff2": {"schema": {"type": "string", "format": "binary"}}}


@routes.get("/", response_class=Response, responses={200: {"content": _HTML}})
def page_itself() -> Response:
    """The page."""
    return FileResponse(CLIENT / "index.html", media_type="text/html; charset=utf-8")


@routes.get("/fonts/{name}", response_class=Response, responses={200: {"content": _WOFF2}})
def font(name: str) -> Response:
    """One of the shipped fonts."""
    path = fonts().get(name)
    if path is None:
        raise HTTPException(404, "there is no such font")
    return FileResponse(path, media_type="font/woff2")


@routes.get("/api/tables")
def tables(page: ThisPage) -> TablesAnswer:
    """Every table, shipped and in the library: its measures in mm and its game's words."""
    return TablesAnswer.model_validate({"tables": page_tables(page.library)})


@routes.get("/api/players")
def players() -> PlayersAnswer:
    """Every shipped player, the least exact first."""
    return PlayersAnswer.model_validate({"players": page_players()})


@routes.post("/api/explanations")
def explanation(page: ThisPage, wish: ExplainRequest) -> Explained:
    """Why the white of the document's shot goes where it goes; done at once."""
    if not page.engine.ready.is_set():
        raise HTTPException(409, "the engine is not ready yet: wait a moment, and ask again")
    from stunline.tasks.page_explain import explain_document

    return Explained.model_validate(explain_document(wish.document, page.library.folder))


@routes.get("/api/opening", responses={200: {"model": LiveAnswer}})
def opening(theme: Theme = "light") -> Response:
    """The opening shot, there before the engine is: a live answer, its document and strip."""
    return Response(kept_opening(theme), media_type="application/json")


@routes.get("/api/page-state")
def page_state(page: ThisPage) -> PageStateAnswer:
    """What the page finds again, and what this start is about."""
    return PageStateAnswer(
        state=read_page_state(page.library),
        open=page.opened,
        folder=str(page.library.folder),
        version=stunline.__version__,
        engine=page.engine.status,
    )


@routes.put("/api/page-state", status_code=204)
def keep_state(page: ThisPage, wish: PageState) -> None:
    """Keep that for the next start."""
    keep_page_state(page.library, wish.state)
