"""What the tests of the page do with it over and over."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import Page

SECONDS = 20_000  # longest wait for anything [ms]


def until(page: Page, holds: Callable[[], bool]) -> None:
    """Waits for it, and fails when it doesn't come."""
    for _ in range(SECONDS // 50):
        if holds():
            return
        page.wait_for_timeout(50)
    raise AssertionError("it did not come to that in time")


def slider(page: Page, name: str) -> float:
    """The value of the slider with that name."""
    value = page.get_by_role("slider", name=name, exact=True).get_attribute("aria-valuenow")
    assert value is not None
    return float(value)


def slider_words(page: Page, name: str) -> str:
    return page.get_by_role("slider", name=name, exact=True).get_attribute("aria-valuetext") or ""


def band_edges(page: Page) -> list[str]:
    """The outlines of the strip's bands."""
    found: list[str] = page.eval_on_selector_all(
        ".ruler-picture path[id^='strip-band-']", "all => all.map(one => one.getAttribute('d'))"
    )
    return found


def set_number(page: Page, label: str, value: str) -> None:
    field = page.get_by_label(label, exact=True)
    field.fill(value)
    field.press("Enter")


def place(page: Page, ball: str) -> tuple[float, float]:
    """Where the handle says that the ball is. [mm]"""
    label = page.locator(f'[data-ball="{ball}"]').get_attribute("aria-label") or ""
    x, y = map(float, re.findall(r"(\d+) mm", label))
    return x, y


def middle(page: Page, selector: str) -> tuple[float, float]:
    """The middle of what is found there. [px]"""
    box = page.locator(selector).bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def paths(page: Page) -> str:
    """The plan's ways of the balls; not how their dashes are rounded, which hangs on the scale."""
    drawn = page.locator("#plan-layer-paths").inner_html()
    return re.sub(r' stroke-dasharray="[^"]*"', "", drawn)


def drag(page: Page, ball: str, right: float, down: float) -> None:
    drag_by(page, f'[data-ball="{ball}"]', right, down)


def drag_by(page: Page, selector: str, right: float, down: float) -> None:
    """Drags from its middle. [px]"""
    x, y = middle(page, selector)
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 9):
        page.mouse.move(x + right * step / 8, y + down * step / 8)
    page.mouse.up()
