"""A server as the command starts it, and a browser's way into it."""

from __future__ import annotations

import contextlib
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import httpx

START = "http://127.0.0.1:"


@dataclass(frozen=True, slots=True)
class Running:
    """Attributes: the process, its start address, its library's folder."""

    process: subprocess.Popen[str]
    start: str
    folder: Path

    @property
    def origin(self) -> str:
        found = re.match(r"http://[^/]+", self.start)
        assert found is not None
        return found[0]

    @contextlib.contextmanager
    def browser(self) -> Iterator[httpx.Client]:
        """A client with the cookie, which names the page as the place that it asks from."""
        with self.stranger() as client:
            answer = client.get(self.start)
            assert answer.status_code == 303
            yield client

    def stranger(self) -> httpx.Client:
        """A client that has not come through the start address."""
        return httpx.Client(base_url=self.origin, headers={"origin": self.origin}, timeout=60)


@contextlib.contextmanager
def running(folder: Path, *options: str) -> Iterator[Running]:
    """The command, until the block is left."""
    command = [sys.executable, "-m", "stunline", "open", "--no-browser", "--library", str(folder)]
    with subprocess.Popen(
        [*command, "--port", str(_free_port()), *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    ) as process:
        assert process.stdout is not None
        start = process.stdout.readline().strip()
        assert start.startswith(START), start
        try:
            yield Running(process, start, folder)
        finally:
            process.terminate()
            process.wait(timeout=20)


def _free_port() -> int:
    import socket

    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        port: int = one.getsockname()[1]
        return port


def below(parent: int) -> set[int]:
    """Processes that descend from that one."""
    children: dict[int, set[int]] = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                fields = (entry / "stat").read_text().rsplit(")", 1)[1].split()
            except OSError:
                continue
            children.setdefault(int(fields[1]), set()).add(int(entry.name))
    found: set[int] = set()
    waiting = [parent]
    while waiting:
        new = children.get(waiting.pop(), set()) - found
        found |= new
        waiting += new
    return found
