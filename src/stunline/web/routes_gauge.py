"""Addresses of gauging a table: its records, what is typed into them, plans, the fit.

What these need is imported when they are first asked: a page on which nobody gauges starts no
slower for it.
"""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, HTTPException, Query

from stunline.web.gauge_protocol import (
    AgainRequest,
    EntryRequest,
    FitRequest,
    HeadRequest,
    Number,
    RecordAnswer,
    RecordList,
    RecordRequest,
    ShotPlan,
    ShotsRequest,
)
from stunline.web.jobs_protocol import JobAnswer
from stunline.web.page import ThisPage
from stunline.web.protocol import ErrorAnswer, Theme
from stunline.web.routes_export import told
from stunline.web.routes_library import NameInAddress
from stunline.web.worker import BusyError

routes = APIRouter(prefix="/api/records")
Height = Annotated[float, Query(ge=100.0, le=3000.0)]
_BUSY: dict[int | str, dict[str, Any]] = {429: {"model": ErrorAnswer}}


@routes.get("")
def list_all(page: ThisPage) -> RecordList:
    """The library's records of gauging shots."""
    from stunline.tasks.page_records import list_records

    return RecordList.model_validate(list_records(page.library))


@routes.post("")
def start(page: ThisPage, wish: RecordRequest) -> RecordAnswer:
    """Start a record, under a name of its own."""
    from stunline.tasks.page_records import RecordWish, start_record

    asked = RecordWish(wish.table, wish.cloth, wish.full, wish.gap, wish.title.strip())
    return RecordAnswer.model_validate(start_record(page.library, asked))


@routes.get("/{name}")
def open_one(page: ThisPage, name: NameInAddress) -> RecordAnswer:
    """A record as it stands."""
    from stunline.tasks.page_records import open_record

    return RecordAnswer.model_validate(open_record(page.library, name))


@routes.put("/{name}", responses={409: {"model": ErrorAnswer}})
def save_head(page: ThisPage, name: NameInAddress, wish: HeadRequest) -> RecordAnswer:
    """Write title, cloth and the ramp's gap, right or wrong."""
    from stunline.tasks.page_records import change_head

    changed = change_head(page.library, name, wish.order, wish.title, wish.cloth, wish.gap)
    return RecordAnswer.model_validate(changed)


@routes.put("/{name}/plays/{number}", responses={409: {"model": ErrorAnswer}})
def save(page: ThisPage, name: NameInAddress, number: Number, wish: EntryRequest) -> RecordAnswer:
    """Write what was typed for one play, right or wrong."""
    from stunline.tasks.page_records import save_entry

    typed = wish.entry.model_dump(exclude_none=True)
    return RecordAnswer.model_validate(save_entry(page.library, name, number, wish.order, typed))


@routes.post("/{name}/plays/{number}/again", responses={409: {"model": ErrorAnswer}})
def again(page: ThisPage, name: NameInAddress, number: Number, wish: AgainRequest) -> RecordAnswer:
    """Add another play of the same shot behind it."""
    from stunline.tasks.page_records import play_again

    return RecordAnswer.model_validate(play_again(page.library, name, number, wish.order))


@routes.post("/{name}/plays", responses={409: {"model": ErrorAnswer}})
def add(page: ThisPage, name: NameInAddress, wish: ShotsRequest) -> RecordAnswer:
    """Add more shots of the menu."""
    from stunline.tasks.page_records import add_shots

    return RecordAnswer.model_validate(add_shots(page.library, name, wish.shots, wish.order))


@routes.get("/{name}/plays/{number}/plan")
def plan(
    page: ThisPage,
    name: NameInAddress,
    number: Number,
    theme: Theme = "light",
    height: Height = 640.0,
) -> ShotPlan:
    """The whole table with the shot set up on it and its expected way."""
    if not page.engine.ready.is_set():
        raise HTTPException(409, "the engine is not ready yet: wait a moment, and ask again")
    from stunline.tasks.page_gauge_plan import shot_plan

    return ShotPlan.model_validate(shot_plan(page.library, name, number, theme, height))


@routes.post("/{name}/fit", responses=_BUSY)
async def fit(page: ThisPage, name: NameInAddress, wish: FitRequest) -> JobAnswer:
    """Begin to fit the record as it stands when its turn comes."""
    try:
        return told(page.worker.begin({"kind": "gauge", "record": name, "to": wish.to}))
    except BusyError:
        raise HTTPException(429, "several jobs are waiting already") from None
