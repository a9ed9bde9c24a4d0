"""A real browser on a real server, for the tests of the page."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from page.shared_server import SharedServer
from page.wire import Wire
from web.running import Running

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def chromium() -> str | None:
    """Where the browser is: $CHROMIUM, or on the path."""
    named = os.environ.get("CHROMIUM")
    return named or shutil.which("chromium") or shutil.which("chromium-browser")


@pytest.fixture(scope="session")
def chromium_browser() -> Iterator[Browser]:
    path = chromium()
    if path is None:
        if os.environ.get("CI"):
            pytest.fail("no Chromium was found: install it, or name it in $CHROMIUM")
        pytest.skip("no Chromium was found, so the page was not tried in a browser")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def shared_server(
    chromium_browser: Browser, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[SharedServer]:
    with SharedServer(chromium_browser, tmp_path_factory.mktemp("library")) as one:
        yield one


@pytest.fixture
def server(shared_server: SharedServer) -> Running:
    """With an empty library; every new context of the browser is known to it."""
    return shared_server.as_new()


@pytest.fixture
def console() -> list[str]:
    """What the page says on the console; a test takes out what it provokes."""
    return []


@pytest.fixture
def wires() -> list[Wire]:
    """The live connection of the page."""
    return []


@pytest.fixture
def page(
    chromium_browser: Browser, server: Running, console: list[str], wires: list[Wire]
) -> Iterator[Page]:
    """The page with its opening shot; whatever it says on the console is a failure."""
    context = chromium_browser.new_context(viewport={"width": 1280, "height": 800})
    one = context.new_page()
    one.on("console", lambda message: console.append(message.text))
    one.on("pageerror", lambda error: console.append(str(error)))
    wires.append(Wire(one))
    one.goto(server.start)
    one.wait_for_selector("#plan-layer-paths")
    one.wait_for_selector(".page-strip svg")
    yield one
    assert console == []
    context.close()


@pytest.fixture
def settled(page: Page, wires: list[Wire]) -> Page:
    """The page, once the server has answered what a page asks for as it opens."""
    wires[0].settled()
    return page
