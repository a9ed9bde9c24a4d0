"""One server for the tests of a module, and a browser that it knows."""

from __future__ import annotations

from collections.abc import Iterator

import httpx
import pytest

from web.running import Running, running


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("library")) as one:
        yield one


@pytest.fixture(scope="module")
def browser(server: Running) -> Iterator[httpx.Client]:
    with server.browser() as client:
        yield client
