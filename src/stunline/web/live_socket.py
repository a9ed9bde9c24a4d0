"""The live connection: plays as something is moved, the newest wish first.

At most one play of a socket is in flight, and one strip. A wish that still waits when a newer
one comes is never played. A strip waits while a play runs, since a hand waits for the play.
"""

from __future__ import annotations

import asyncio
import json
import threading
import time
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
# A strip that a newer wish has overtaken still runs to its end when none has been shown for so
# long, so that the bands follow while something is dragged; but not for longer than that. [s]
_STALE, _LONGEST_OVERTAKEN = 0.25, 0.5
_LONGEST_WAIT = 0.5  # s that a strip waits for plays before it looks again whether it is wanted
_plays = ThreadPoolExecutor(2, "play")
_strips = ThreadPoolExecutor(1, "strip")
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
        self._resting = threading.Event()  # set while no play runs
        self._resting.set()
        self._left = False
        self._strip_shown = self._strip_begun = 0.0
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
            await self._send_text(await self._in_thread(_plays, self._played, wish))
            if wish["strip"] is not None:
                self._strip = wish
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
            answer = await self._in_thread(_strips, self._stripped, wish)
            if answer:
                await self._send_text(answer)
                self._strip_shown = time.monotonic()

    async def _in_thread(
        self, threads: ThreadPoolExecutor, work: Callable[[Wish], str], wish: Wish
    ) -> str:
        return await asyncio.get_running_loop().run_in_executor(threads, work, wish)

    def _played(self, wish: Wish) -> str:
        from stunline.tasks.live_moving import LastPot
        from stunline.tasks.live_play import live_play

        self._last = self._last or LastPot()
        self._resting.clear()
        try:
            folder = self._page.library.folder
            check_bounds(wish["document"], folder)
            return _as_text(live_play(wish, folder, self._last))
        except StunlineError as error:
            return _as_text({"play": wish["play"], "fault": refusal(error)["error"]})
        except Exception as error:
            return _as_text({"play": wish["play"], **broken(error)})
        finally:
            self._resting.set()

    def _stripped(self, wish: Wish) -> str:
        """The strip; "" when it is no longer wanted."""
        from stunline.tasks.live_strip import live_strip

        self._strip_begun = time.monotonic()
        try:
            folder = self._page.library.folder
            check_bounds(wish["document"], folder)
            strip = live_strip(wish, folder, self._is_overtaken)
            return _as_text(strip) if strip is not None else ""
        except StunlineError as error:
            return _as_text({"strip": wish["play"], "fault": refusal(error)["error"]})
        except Exception as error:
            return _as_text({"strip": wish["play"], "fault": broken(error)["error"]})

    def _is_overtaken(self) -> bool:
        """Asked by a strip every few plays, in its thread: lets a play go first."""
        self._resting.wait(_LONGEST_WAIT)
        now = time.monotonic()
        may_go_on = (
            now - self._strip_shown >= _STALE and now - self._strip_begun < _LONGEST_OVERTAKEN
        )
        return self._left or (self._strip is not None and not may_go_on)

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
