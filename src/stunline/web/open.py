"""``stunline open``: the address first, then everything that takes time."""

from __future__ import annotations

import os
import secrets
import socket
import threading
from pathlib import Path

import click

from stunline.errors import Fault, InputError

ADDRESS = "127.0.0.1"
# Asked for first, so that a page that is still open finds its server again; any other will do.
USUAL_PORT = 14147
_KEY_BYTES = 32
_BACKLOG = 64  # connections that wait while the server is being loaded


@click.command(
    "open",
    epilog="""\b
Examples:
  stunline open
  stunline open black.toml
  stunline open edge-of-the-pack --no-browser
  stunline open --library lessons --port 8123

The address works once, in one browser; it is for this computer only. Stop with Ctrl-C.""",
)
@click.argument("file", type=click.Path(), required=False)
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    help=f"Where it listens; without it {USUAL_PORT}, or any that is free.",
)
@click.option(
    "--library",
    type=click.Path(),
    help="The folder of positions; without it FILE's folder, or stunline in your documents.",
)
def open_page(file: str | None, no_browser: bool, port: int | None, library: str | None) -> None:
    """Open the page: a table in the browser, on which the path moves as you drag a ball.

    FILE is a position file, or the name of a position in the library or of a shipped one.
    """
    folder, name = _place_of(file, library)
    listener = _listen(port)
    key = secrets.token_urlsafe(_KEY_BYTES)
    number = listener.getsockname()[1]
    start = f"http://{ADDRESS}:{number}/start?key={key}"
    click.echo(start)  # which flushes
    first = "Open this address in a browser" if no_browser else "Your browser opens this address"
    click.echo(f"{first}; it works once, on this computer. Ctrl-C stops.", err=True)
    if not no_browser:
        threading.Thread(target=_browse, args=(start,), daemon=True).start()
    _serve(listener, key, folder, name)


def _serve(listener: socket.socket, key: str, folder: str | None, name: str | None) -> None:
    from stunline.tasks.library import open_library
    from stunline.tasks.page_state import session_secret
    from stunline.web.security import Keys
    from stunline.web.serving import serve

    library = open_library(folder)
    if name is not None:
        library.read(name)  # which says so if there is none
    keys = Keys(listener.getsockname()[1], session_secret(), key)
    serve(listener, library, keys, name)


def _place_of(file: str | None, library: str | None) -> tuple[str | None, str | None]:
    """The library's folder and the position's name in it; None: the usual, the last one."""
    if file is None:
        return library, None
    path = Path(file)
    if not os.path.lexists(path):
        if path.name == file:
            return library, file.removesuffix(".toml")  # in the library, or shipped
        raise InputError([_missing(file)])
    if library is not None and path.resolve().parent != Path(library).resolve():
        raise InputError([_elsewhere(file, library)])
    return str(path.resolve().parent), path.resolve().name.removesuffix(".toml")


def _missing(file: str) -> Fault:
    return Fault(
        "there is no such file",
        given=f'"{file}"',
        allowed="a position file, or the name of a position in the library or of a shipped one",
        remedy="check the name and folder",
        key="FILE",
    )


def _elsewhere(file: str, library: str) -> Fault:
    return Fault(
        "the file does not stand in the library",
        given=f'"{file}", --library "{library}"',
        allowed="a file of that folder",
        remedy="leave --library out: the file's own folder is then the library",
        key="FILE",
    )


def _listen(port: int | None) -> socket.socket:
    """A socket that already takes connections; who comes early waits in its queue.

    Raises:
        InputError: the port that was asked for is taken.
    """
    for number in [port] if port is not None else [USUAL_PORT, 0]:
        # Named as TCP, since asyncio sends at once on such sockets only: otherwise the second part
        # of an answer waits for word that the first has come, 40 ms.
        listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((ADDRESS, number))
            listener.listen(_BACKLOG)
        except OSError as error:
            listener.close()
            reason = (error.strerror or str(error)).lower()
        else:
            return listener
    fault = Fault(
        f"the page can't listen there: {reason}",
        given=f"port {port if port is not None else USUAL_PORT}",
        allowed="a port that no other program uses, from 1024 on",
        remedy="leave --port out: a free one is found",
        key="--port",
    )
    raise InputError([fault])


def _browse(start: str) -> None:
    """Open the browser, and keep quiet where there is none: the address stands printed."""
    import webbrowser

    webbrowser.open(start)
