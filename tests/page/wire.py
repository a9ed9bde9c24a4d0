"""What goes between a page and its server over the live connection, as the browser tells it."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Page, WebSocket

from page.page_hand import until


class Wire:
    """The newest wishes of a page, and the newest answers."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self.forget()
        page.on("websocket", self._follow)

    def forget(self) -> None:
        """Before the page is loaded again, which counts anew."""
        self._asked = {"play": -1, "strip": -1}
        self._told = dict(self._asked)

    def settled(self) -> None:
        """Wait until the newest play and the newest strip that were asked for are there."""
        until(self._page, lambda: self._asked["strip"] > -1 and self._asked == self._told)

    def _follow(self, socket: WebSocket) -> None:
        socket.on("framesent", self._sent)
        socket.on("framereceived", self._received)

    def _sent(self, text: str | bytes) -> None:
        message: dict[str, Any] = json.loads(text)
        if "document" in message:
            self._asked["play"] = message["play"]
            if message["strip"] is not None:
                self._asked["strip"] = message["play"]

    def _received(self, text: str | bytes) -> None:
        message: dict[str, Any] = json.loads(text)
        for kind in self._told:
            if isinstance(message.get(kind), int):
                self._told[kind] = message[kind]
