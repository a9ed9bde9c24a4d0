"""Runs the server on a socket that already listens, until it is told to stop."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import signal
import socket
import sys
from collections.abc import Iterator

import uvicorn

from stunline.tasks.library import Library
from stunline.web.app import make_application
from stunline.web.security import MOST_BYTES, Gate, Keys

# How long a thread that waits for its turn lets another go on. [s] The usual 5 ms, each time a
# strip's thread has the turn, would keep a hand waiting; much less is lost in changing turns.
_TURN = 0.0005
_GRACE = 2  # s that open connections are given to end
_SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)  # the last: the terminal was closed


class _Server(uvicorn.Server):
    """Stops for a closed terminal too, and is silent about having been stopped."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Any of the signals: stop once what runs has ended; a second one: at once."""
        loop = asyncio.get_running_loop()
        for number in _SIGNALS:
            loop.add_signal_handler(number, self.handle_exit, number, None)
        yield


def serve(listener: socket.socket, library: Library, keys: Keys, opened: str | None) -> None:
    """Serve until a signal comes."""
    logging.getLogger("uvicorn").setLevel(logging.CRITICAL)  # the gate has told it already
    sys.setswitchinterval(_TURN)
    server = _Server(_settings(make_application(library, keys, opened)))
    server.run(sockets=[listener])


def _settings(application: Gate) -> uvicorn.Config:
    return uvicorn.Config(
        application,
        log_config=None,
        access_log=False,
        server_header=False,
        http="h11",
        ws="websockets-sansio",
        ws_max_size=MOST_BYTES,
        ws_per_message_deflate=False,  # costs more than it saves within one computer
        timeout_graceful_shutdown=_GRACE,
        lifespan="on",
    )
