"""Addresses of the library."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Response
from fastapi import Path as InAddress

from stunline.tasks.error_shape import error_shape
from stunline.tasks.library_changes import (
    delete_position,
    duplicate_position,
    rename_position,
    undo_delete,
)
from stunline.tasks.library_list import Listed, list_positions
from stunline.tasks.page_open import open_position, read_from_elsewhere, read_packed
from stunline.tasks.save_position import save_position
from stunline.web.answers import saved
from stunline.web.page import ThisPage
from stunline.web.protocol import (
    MOST_NAME,
    Conflict,
    ErrorObject,
    LeftOut,
    ListedPosition,
    NewName,
    PositionAnswer,
    PositionList,
    ReadAnswer,
    ReadRequest,
    Saved,
    SaveRequest,
    Theme,
    UndoAnswer,
)

routes = APIRouter(prefix="/api")
NameInAddress = Annotated[str, InAddress(max_length=MOST_NAME)]
Search = Annotated[str, Query(max_length=MOST_NAME)]


@routes.get("/positions")
def list_all(page: ThisPage, search: Search = "") -> PositionList:
    """The library: positions whose name or title holds every word of the search."""
    listing = list_positions(page.library, search)
    return PositionList(
        folder=str(page.library.folder),
        positions=[_listed(one) for one in listing.positions],
        left_out=[LeftOut(file=ascii_safe(file), why=why) for file, why in listing.left_out],
    )


def _listed(one: Listed) -> ListedPosition:
    return ListedPosition(
        name=one.name,
        title=one.title,
        table=one.table,
        changed=one.changed.isoformat() if one.changed else None,
        revision=one.revision,
        shipped=one.changed is None,
        fault=one.fault or None,
    )


def ascii_safe(file: str) -> str:
    """A file's name as text, with codes for bytes that are none."""
    return file.encode("utf-8", "backslashreplace").decode()


@routes.get("/positions/{name}")
def open_one(page: ThisPage, name: NameInAddress) -> PositionAnswer:
    """One position, in order or not."""
    opened = open_position(page.library, name)
    fault = None
    if opened.error is not None:
        fault = ErrorObject.model_validate(error_shape(opened.error)["error"])
    return PositionAnswer(
        name=opened.stored.name,
        revision=opened.stored.revision,
        shipped=opened.stored.shipped,
        document=opened.document,
        text=opened.text,
        fault=fault,
    )


@routes.put("/positions/{name}", responses={409: {"model": Conflict}})
def save(page: ThisPage, name: NameInAddress, wish: SaveRequest) -> Saved:
    """Save, unless the file has been changed meanwhile: then both versions are kept."""
    return saved(save_position(page.library, name, wish.document, wish.revision))


@routes.post("/positions/{name}/rename")
def rename(page: ThisPage, name: NameInAddress, wish: NewName) -> Saved:
    """Give it another name."""
    return saved(rename_position(page.library, name, wish.to or ""))


@routes.post("/positions/{name}/duplicate")
def duplicate(page: ThisPage, name: NameInAddress, wish: NewName) -> Saved:
    """Make a copy."""
    return saved(duplicate_position(page.library, name, wish.to))


@routes.delete("/positions/{name}")
def delete(page: ThisPage, name: NameInAddress) -> UndoAnswer:
    """Move it out of sight."""
    return UndoAnswer(undo=delete_position(page.library, name))


@routes.post("/undo/{token}")
def undo(page: ThisPage, token: NameInAddress) -> Saved:
    """Put what was deleted back."""
    return saved(undo_delete(page.library, token))


_SVG = {"image/svg+xml": {"schema": {"type": "string"}}}


@routes.get(
    "/positions/{name}/thumbnail.svg", response_class=Response, responses={200: {"content": _SVG}}
)
def picture(page: ThisPage, name: NameInAddress, theme: Theme = "light") -> Response:
    """The whole table with its balls."""
    from stunline.tasks.page_thumbnail import thumbnail

    opened = open_position(page.library, name)
    if opened.document is None and opened.error is not None:
        raise opened.error
    drawn = thumbnail(opened.document or {}, page.library.folder, theme)
    return Response(drawn, media_type="image/svg+xml")


@routes.post("/read")
def read(page: ThisPage, wish: ReadRequest) -> ReadAnswer:
    """Check a position that comes from elsewhere; nothing is saved."""
    folder = page.library.folder
    if wish.document is not None:
        document, text = read_packed(wish.document, folder)
    else:
        document, text = read_from_elsewhere(wish.text or "", folder)
    return ReadAnswer(document=document, text=text)
