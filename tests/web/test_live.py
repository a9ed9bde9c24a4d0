"""The live connection: who gets one, what it answers, and that the newest wish wins."""

from __future__ import annotations

import contextlib
import json
import os
import signal
from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from websockets.exceptions import InvalidStatus
from websockets.sync.client import ClientConnection, connect

from web.running import Running, below

MOST_SOCKETS = 8
DOCUMENT: dict[str, Any] = {
    "table": "snooker-12ft",
    "balls": {"white": [500.0, 1200.0], "blue": [889.0, 1784.5]},
    "strike": {"contact": {"ball": "blue", "thickness": "half", "on": "left"}, "pace": 1.4},
}


def cookies(browser: httpx.Client) -> str:
    return "; ".join(f"{name}={value}" for name, value in browser.cookies.items())


def opened(server: Running, browser: httpx.Client, origin: str | None = None) -> ClientConnection:
    address = server.origin.replace("http", "ws") + "/live"
    headers = {"cookie": cookies(browser)}
    return connect(address, origin=origin or server.origin, additional_headers=headers)  # type: ignore[arg-type]


@pytest.fixture
def live(server: Running, browser: httpx.Client) -> Iterator[ClientConnection]:
    with opened(server, browser) as socket:
        yield socket


def wish(number: int, **changes: Any) -> str:
    strike = {**DOCUMENT["strike"], **changes}
    drawing = {"window": None, "size": [800, 500], "theme": "light", "pinned": [], "hidden": False}
    document = {**DOCUMENT, "strike": strike}
    return json.dumps(
        {"play": number, "document": document, "drawing": drawing, "strip": None, "held": None}
    )


def answer(socket: ClientConnection) -> dict[str, Any]:
    """The next message that is no news of the engine."""
    while True:
        message: dict[str, Any] = json.loads(socket.recv(timeout=60))
        if "engine" not in message:
            return message


def test_no_connection_without_the_cookie(server: Running) -> None:
    address = server.origin.replace("http", "ws") + "/live"
    with pytest.raises(InvalidStatus) as refused, connect(address, origin=server.origin):  # type: ignore[arg-type]
        pass
    assert refused.value.response.status_code == 403


@pytest.mark.parametrize("origin", ["http://example.org", "null"])
def test_no_connection_from_another_page(
    server: Running, browser: httpx.Client, origin: str
) -> None:
    with pytest.raises(InvalidStatus) as refused, opened(server, browser, origin):
        pass
    assert refused.value.response.status_code == 403


def test_a_play_is_answered_with_its_number_layers_and_sentence(live: ClientConnection) -> None:
    live.send(wish(17))
    told = answer(live)
    assert told["play"] == 17
    assert told["layers"]["paths"].startswith("<g ")
    assert "the blue" in told["sentence"]


@pytest.mark.parametrize("garbage", ["", "{", "[]", '{"play": 1}', "null", '"x"', "[" * 5000])
def test_garbage_is_answered_with_an_error_and_the_connection_stays(
    live: ClientConnection, garbage: str
) -> None:
    live.send(garbage)
    assert "error" in answer(live) or "fault" in answer(live)
    live.send(wish(3))
    assert answer(live)["play"] == 3


def test_a_faulty_document_is_answered_with_its_fault(live: ClientConnection) -> None:
    live.send(wish(5, pace=-1.0))
    told = answer(live)
    assert told["play"] == 5
    assert "pace" in json.dumps(told["fault"])


def test_a_strip_is_held_to_the_same_bounds_as_a_play(live: ClientConnection) -> None:
    """What a play may not name, a strip asked for with it may not either."""
    message = json.loads(wish(8))
    message["document"]["table"] = "../elsewhere.toml"
    message["strip"] = "pace"
    live.send(json.dumps(message))
    told = [answer(live), answer(live)]
    assert [one.get("play", one.get("strip")) for one in told] == [8, 8]
    for one in told:
        assert "must stand in the library" in one["fault"]["faults"][0]["what"]


def strip_of(socket: ClientConnection, number: int, pace: float) -> dict[str, Any]:
    """Ask for a play with its strip; the play's answer comes first."""
    message = {**json.loads(wish(number, pace=pace)), "strip": "pace", "strip_width": 900.0}
    socket.send(json.dumps(message))
    assert answer(socket)["play"] == number
    return answer(socket)


def test_strips_are_drawn_below_the_server_and_come_again_after_their_process_has_ended(
    live: ClientConnection, server: Running
) -> None:
    first = strip_of(live, 1, 1.4)
    assert first["strip"] == 1 and first["bands"]
    (drawer,) = below(server.process.pid)
    assert os.getpriority(os.PRIO_PROCESS, drawer) >= 10  # a hand waits for plays, not for strips
    os.kill(drawer, signal.SIGKILL)
    second = strip_of(live, 2, 1.4)
    assert second["strip"] == 2
    assert second["bands"] == first["bands"]
    assert below(server.process.pid) != {drawer}


def test_the_newest_wish_wins(live: ClientConnection) -> None:
    last = 300
    for number in range(1, last + 1):
        live.send(wish(number, pace=1.0 + number / 1000))
    played = []
    while not played or played[-1] != last:
        played.append(answer(live)["play"])
    assert played == sorted(played)
    assert len(played) < last  # wishes that a newer one overtook were never played


def test_there_are_only_so_many_connections(server: Running, browser: httpx.Client) -> None:
    with contextlib.ExitStack() as stack:
        for number in range(MOST_SOCKETS):
            one = stack.enter_context(opened(server, browser))
            one.send(wish(number))
            assert answer(one)["play"] == number
        further = stack.enter_context(opened(server, browser))
        told = json.loads(further.recv(timeout=20))
        assert "too many pages" in json.dumps(told)
