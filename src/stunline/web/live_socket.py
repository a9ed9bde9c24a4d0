"""The live connection: plays as something is moved, the newest wish first.

At most one play of a socket is in flight, and one strip. A wish that still waits when a newer
one comes is never played. Strips are drawn in a process of their own, since a hand waits for plays.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter, WebSocket, WebSocketDisconnect
from pydantic import ValidationError

from stunline.errors import StunlineError
from stunline.tasks.page_bounds import check_bounds
from stunline.web.answers import broken, page_error, refusal, validation_error
from stunline.web.live_protocol import PlayRequest
from stunline.web.page import Page
from stunline.web.protocol import EngineStatus

if TYPE_CHECKING:  # the engine is loaded behind the page
    from stunline.tasks.live_moving import LastPot

routes = APIRouter()
MOST_SOCKETS = 8  # open at once: more tabs than anyone looks at
TRY_LATER = 1013  # code for closing a socket, as its standard has it
_plays = ThreadPoolExecutor(2, "play")
Wish = dict[str, Any]


@routes.websocket("/live")
async def live(socket: WebSocket) -> None:
    """Answer one page until it leaves."""
    page: Page = socket.app.state.page
    await socket.accept()
    if page.sockets >= MOST_SOCKETS:
        what = "too many pages are open already"
        await socket.send_json({"play": None, **page_error("busy", what, "close one of them")})
        await socket.close(TRY_LATER)
        return
    page.sockets += 1
    try:
        await _Conversation(socket, page).hold()
    finally:
        page.sockets -= 1


class _Conversation:
    """What one socket has asked for and not yet been told."""

    def __init__(self, socket: WebSocket, page: Page) -> None:
        self._socket, self._page = socket, page
        self._play: Wish | None = None
        self._strip: Wish | None = None
        self._news: EngineStatus | None = page.engine.status
        self._called, self._strip_called = asyncio.Event(), asyncio.Event()
        self._drawing: Wish | None = None  # the strip that is being drawn
        self._left = False
        self._last: LastPot | None = None

    async def hold(self) -> None:
        """Listen, play and draw strips, until the page leaves."""
        stop_listening = self._page.engine.listen(self._tell)
        tasks = [asyncio.create_task(one) for one in (self._answer_plays(), self._draw_strips())]
        self._called.set()
        try:
            while True:
                await self._hear(await self._socket.receive())
        except (WebSocketDisconnect, RuntimeError):
            pass  # the page has left
        finally:
            self._left = True
            stop_listening()
            for task in tasks:
                task.cancel()
            await asyncio.gather(*tasks, return_exceptions=True)

    def _tell(self, status: EngineStatus) -> None:
        self._news = status
        self._called.set()

    async def _hear(self, message: Any) -> None:
        """Take a wish in; what can't be read is answered at once."""
        if message["type"] == "websocket.disconnect":
            raise WebSocketDisconnect(message.get("code", 1000))
        wish, fault = _read(message.get("text"))
        if fault is not None:
            await self._send(fault)
            return
        self._play = wish
        self._called.set()

    async def _answer_plays(self) -> None:
        while True:
            await self._called.wait()
            self._called.clear()
            if self._news is not None:
                news, self._news = self._news, None
                await self._send({"engine": news.model_dump()})
            if self._play is None or not self._page.engine.ready.is_set():
                continue
            wish, self._play = self._play, None
            await self._send_text(await self._in_thread(self._played, wish))
            if wish["strip"] is not None:
                self._strip = wish
                if self._drawing is not None:
                    self._page.strips.overtake(self._drawing)
                self._strip_called.set()
            if self._play is not None:
                self._called.set()

    async def _draw_strips(self) -> None:
        while True:
            await self._strip_called.wait()
            self._strip_called.clear()
            wish, self._strip = self._strip, None
            if wish is None:
                continue
            self._drawing = wish
            answer = await self._page.strips.draw(wish)
            self._drawing = None
            if answer:
                await self._send_text(answer)

    async def _in_thread(self, work: Callable[[Wish], str], wish: Wish) -> str:
        return await asyncio.get_running_loop().run_in_executor(_plays, work, wish)

    def _played(self, wish: Wish) -> str:
        from stunline.tasks.live_moving import LastPot
        from stunline.tasks.live_play import live_play

        self._last = self._last or LastPot()
        try:
            folder = self._page.library.folder
            check_bounds(wish["document"], folder)
            return _as_text(live_play(wish, folder, self._last))
        except StunlineError as error:
            return _as_text({"play": wish["play"], "fault": refusal(error)["error"]})
        except Exception as error:
            return _as_text({"play": wish["play"], **broken(error)})

    async def _send(self, message: dict[str, Any]) -> None:
        await self._send_text(_as_text(message))

    async def _send_text(self, text: str) -> None:
        try:
            await self._socket.send_text(text)
        except (WebSocketDisconnect, RuntimeError):
            self._left = True  # the listening side ends the conversation


def _read(text: str | None) -> tuple[Wish | None, dict[str, Any] | None]:
    """A wish, or what is wrong with the message."""
    number = None
    try:
        raw = json.loads(text or "")
        number = _number(raw)
        return PlayRequest.model_validate(raw).model_dump(exclude_none=False), None
    except ValidationError as error:
        return None, {"play": number, **validation_error(error.errors(include_url=False))}
    except (ValueError, RecursionError):
        what = "this message is not JSON"
        return None, {"play": number, **page_error("not-json", what, "reload the page")}


def _number(raw: object) -> int | None:
    """The number of a wish that may be faulty otherwise."""
    number = raw.get("play") if isinstance(raw, dict) else None
    return number if isinstance(number, int) and 0 <= number <= 2**53 else None


def _as_text(message: dict[str, Any]) -> str:
    return json.dumps(message, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
