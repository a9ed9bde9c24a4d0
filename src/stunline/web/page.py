"""What the routes of one running page share."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated

from fastapi import Depends, Request

from stunline.tasks.library import Library
from stunline.web.engine import Engine
from stunline.web.strips import Strips
from stunline.web.worker import Worker

CLIENT = Path(__file__).parent / "client"


@dataclass
class Page:
    """One running page.

    Attributes:
        library: the folder of positions
        opened: name of the position that it was started with, or None
        engine: whether it can play yet
        worker: for long jobs
        strips: what draws them
        sockets: live sockets that are open now
    """

    library: Library
    opened: str | None = None
    engine: Engine = field(default_factory=Engine)
    worker: Worker = field(init=False)
    strips: Strips = field(init=False)
    sockets: int = 0

    def __post_init__(self) -> None:
        self.worker = Worker(self.library.folder)
        self.strips = Strips(self.library.folder)


def _of(request: Request) -> Page:
    page: Page = request.app.state.page
    return page


ThisPage = Annotated[Page, Depends(_of)]
