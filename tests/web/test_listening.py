"""The socket that the page's server listens on."""

from __future__ import annotations

import asyncio
import socket

from stunline.web.open import _listen


def test_parts_of_an_answer_do_not_wait_for_one_another() -> None:
    """On a connection that the server has taken, Nagle's algorithm (RFC 896) is off.

    Otherwise an answer's body waits until its head is acknowledged, which the other side may put
    off (RFC 1122, 4.2.3.2): 44 ms for each answer, as measured on Linux.
    """
    assert asyncio.run(_sends_at_once(_listen(None)))


async def _sends_at_once(listener: socket.socket) -> bool:
    """Whether asyncio, which the server runs on, sends without waiting on what it takes there."""
    found: asyncio.Future[bool] = asyncio.get_running_loop().create_future()

    def taken(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        own = writer.get_extra_info("socket")
        found.set_result(bool(own.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)))
        writer.close()

    async with await asyncio.start_server(taken, sock=listener):
        _, writer = await asyncio.open_connection(*listener.getsockname())
        sends_at_once = await found
        writer.close()
    return sends_at_once
