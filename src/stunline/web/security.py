"""The gate that every request passes: who may ask, from where, what, and how much.

The page listens on this computer only, but any other page that the user has open could send it
requests. So it answers to its own exact host and origin, and to the browser that came through
the one-time start address; and what comes in is bounded before anything reads it.
"""

from __future__ import annotations

import hmac
import json
from collections.abc import Awaitable, Callable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs

from stunline.web.answers import broken, page_error
from stunline.web.refused_page import refused_page, wants_page

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Application = Callable[[Scope, Receive, Send], Awaitable[None]]

ADDRESS = "127.0.0.1"
START = "/start"
MOST_BYTES = 1_000_000  # of a body, and of a message on the socket
_READING = ("GET", "HEAD")
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
    "font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": _POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
}
_NEW_START = (
    "go to the tab or window in which the page is open; for another browser stop stunline with "
    "Ctrl-C and run it again, which prints a new address"
)
_Refusal = tuple[int, dict[str, Any]]


class Keys:
    """What lets a browser in: the key of the start address, once, and then the cookie.

    Args:
        port: that the page listens on
        cookie: what the cookie must hold
        start_key: of the start address
    """

    def __init__(self, port: int, cookie: str, start_key: str) -> None:
        self.host = f"{ADDRESS}:{port}"
        self.origin = f"http://{self.host}"
        # Cookies know no ports: two servers on one computer must not take each other's.
        self.cookie_name = f"stunline-{port}"
        self._cookie = cookie
        self.start_key: str | None = start_key

    def use(self, key: str) -> bool:
        """Whether that is the key of the start address; from then on it no longer is."""
        if self.start_key is None or not _equal(key, self.start_key):
            return False
        self.start_key = None
        return True

    def fits(self, cookie: str) -> bool:
        """Whether that is what the cookie holds."""
        return _equal(cookie, self._cookie)

    def set_cookie(self) -> str:
        """The header's value that gives the cookie to a browser."""
        return f"{self.cookie_name}={self._cookie}; HttpOnly; SameSite=Strict; Path=/"


def _equal(one: str, other: str) -> bool:
    return hmac.compare_digest(one.encode("utf-8", "replace"), other.encode())


class Gate:
    """Lets through to the application what may pass, and heads every answer."""

    def __init__(self, application: Application, keys: Keys) -> None:
        self._application = application
        self.keys = keys

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, or one socket."""
        if scope["type"] == "lifespan":
            await self._application(scope, receive, send)
        elif scope["type"] == "websocket":
            await self._socket(scope, receive, send)
        else:
            await self._request(scope, receive, _Headed(send, scope["path"]))

    async def _request(self, scope: Scope, receive: Receive, send: _Headed) -> None:
        headers = _headers(scope)
        refusal = self._misdirected(headers)
        if refusal is None and scope["path"] == START and scope["method"] == "GET":
            await self._start(scope, headers, send)
            return
        refusal = refusal or self._unknown(headers) or self._stranger(scope["method"], headers)
        if refusal is None:
            refusal, receive = await _bounded(scope["method"], headers, receive)
        if refusal is not None:
            await _refuse(refusal, send, wants_page(scope["method"], headers))
            return
        try:
            await self._application(scope, receive, send)
        except Exception as error:
            if not send.begun:
                await _answer((500, broken(error)), send)

    async def _socket(self, scope: Scope, receive: Receive, send: Send) -> None:
        headers = _headers(scope)
        refusal = self._misdirected(headers) or self._unknown(headers)
        if refusal is None and headers.get("origin") != self.keys.origin:
            refusal = _foreign(headers.get("origin"))
        if refusal is None:
            await self._application(scope, receive, send)
            return
        await receive()  # the browser's wish to connect
        if "websocket.http.response" in scope.get("extensions", {}):
            await _answer(refusal, _Headed(send, scope["path"]), "websocket.http.response")
        else:
            await send({"type": "websocket.close", "code": 1008})

    def _misdirected(self, headers: dict[str, str]) -> _Refusal | None:
        """The request must name this host and no other that leads here."""
        if headers.get("host") == self.keys.host:
            return None
        what = "the page answers to one address only"
        return 403, page_error(
            "wrong-host", what, f"open {self.keys.origin}/", allowed=self.keys.host
        )

    def _unknown(self, headers: dict[str, str]) -> _Refusal | None:
        """The browser must have come through the start address."""
        if self.keys.fits(_cookie(headers, self.keys.cookie_name)):
            return None
        what = "this browser is not known here"
        remedy = "open the address that stunline printed; where it was used before, run it again"
        return 403, page_error("no-cookie", what, remedy)

    def _stranger(self, method: str, headers: dict[str, str]) -> _Refusal | None:
        """What changes something must come from the page itself; so must all that says so."""
        origin = headers.get("origin")
        if origin == self.keys.origin or (origin is None and method in _READING):
            return None
        return _foreign(origin)

    async def _start(self, scope: Scope, headers: dict[str, str], send: Send) -> None:
        """Let the browser in, and lead it to an address without the key."""
        asked = parse_qs(scope["query_string"].decode("latin-1"))
        known = self.keys.fits(_cookie(headers, self.keys.cookie_name))
        if not known and not self.keys.use(asked.get("key", [""])[0]):
            what = "this start address was used before, or is not the one that was printed"
            refused = page_error("start-used", what, _NEW_START)
            await _refuse((403, refused), send, wants_page("GET", headers))
            return
        lead = [(b"location", b"/"), (b"content-length", b"0")]
        if not known:
            lead.append((b"set-cookie", self.keys.set_cookie().encode()))
        await send({"type": "http.response.start", "status": 303, "headers": lead})
        await send({"type": "http.response.body", "body": b""})


class _Headed:
    """Sends on, with the headers that every answer carries."""

    def __init__(self, send: Send, path: str) -> None:
        self._send = send
        # Code and fonts may be kept as long as they are asked after; data never.
        caching = "no-cache" if path.startswith(("/client/", "/fonts/")) else "no-store"
        self._extra = {**HEADERS, "cache-control": caching}
        self.begun = False

    async def __call__(self, message: Message) -> None:
        if message["type"].endswith("response.start"):
            self.begun = True
            kept = [pair for pair in message.get("headers", ())
                    if pair[0].decode("latin-1").lower() not in self._extra]  # fmt: skip
            own = [(name.encode(), value.encode()) for name, value in self._extra.items()]
            message = {**message, "headers": [*kept, *own]}
        await self._send(message)


def _headers(scope: Scope) -> dict[str, str]:
    """By name in small letters; one that comes twice counts as both together."""
    found: dict[str, str] = {}
    for raw_name, raw_value in scope["headers"]:
        name, value = raw_name.decode("latin-1").lower(), raw_value.decode("latin-1")
        joint = "; " if name == "cookie" else ", "
        found[name] = found[name] + joint + value if name in found else value
    return found


def _cookie(headers: dict[str, str], name: str) -> str:
    try:
        morsel = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return ""
    return "" if morsel is None else morsel.value


def _foreign(origin: str | None) -> _Refusal:
    what = "this did not come from the page itself" if origin else "this does not say who asks"
    return 403, page_error("wrong-origin", what, "use the page that stunline opened")


async def _bounded(
    method: str, headers: dict[str, str], receive: Receive
) -> tuple[_Refusal | None, Receive]:
    """Take in a body of bounded size, JSON only, before the application sees anything of it."""
    if method in _READING:
        return None, receive
    announced = headers.get("content-length", "0")
    if not announced.isascii() or not announced.isdigit() or int(announced[:12]) > MOST_BYTES:
        return _too_large(announced), receive
    body = bytearray()
    more = True
    while more:
        message = await receive()
        if message["type"] == "http.disconnect":
            return None, _replayed(message, receive)
        body += message.get("body", b"")
        more = message.get("more_body", False)
        if len(body) > MOST_BYTES:
            return _too_large(f"more than {MOST_BYTES}"), receive
    kind = headers.get("content-type", "").split(";")[0].strip().lower()
    if body and kind != "application/json":
        return _not_json(kind), receive
    whole = {"type": "http.request", "body": bytes(body), "more_body": False}
    return None, _replayed(whole, receive)


def _replayed(message: Message, receive: Receive) -> Receive:
    """Gives that message first, then what comes."""
    waiting = [message]

    async def replay() -> Message:
        return waiting.pop() if waiting else await receive()

    return replay


def _too_large(announced: str) -> _Refusal:
    what, remedy = "this is too large, and was not read", "a smaller file"
    given = f"{announced[:20]} bytes"
    return 413, page_error("too-large", what, remedy, given=given, allowed="at most 1 MB")


def _not_json(kind: str) -> _Refusal:
    what, remedy = "the page's server takes JSON only", "content-type: application/json"
    return 415, page_error("not-json", what, remedy, given=kind[:60], allowed="application/json")


async def _refuse(refusal: _Refusal, send: Send, as_page: bool) -> None:
    """In HTML for the address line of a browser, otherwise as JSON."""
    if not as_page:
        await _answer(refusal, send)
        return
    status, shape = refusal
    body = refused_page(shape).encode()
    headers = [
        (b"content-type", b"text/html; charset=utf-8"),
        (b"content-length", str(len(body)).encode()),
    ]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})


async def _answer(refusal: _Refusal, send: Send, kind: str = "http.response") -> None:
    status, shape = refusal
    body = json.dumps(shape, ensure_ascii=False).encode()
    headers = [
        (b"content-type", b"application/json"),
        (b"content-length", str(len(body)).encode()),
    ]
    if status == 413:
        headers.append((b"connection", b"close"))  # the rest of the body is not read
    await send({"type": f"{kind}.start", "status": status, "headers": headers})
    await send({"type": f"{kind}.body", "body": body})
