"""What the tests of the page do with it over and over."""

from __future__ import annotations

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


def drag_by(page: Page, selector: str, right: float, down: float) -> None:
    """Drags from its middle."""
    box = page.locator(selector).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 6):
        page.mouse.move(x + right * step / 5, y + down * step / 5)
    page.mouse.up()
