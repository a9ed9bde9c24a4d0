"""How the page's room is shared: the plan keeps its size, and nothing is cut off."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, ViewportSize, expect

from page.page_hand import SECONDS, set_number, until

LAPTOP = ViewportSize(width=1280, height=800)
LARGE = ViewportSize(width=1920, height=1080)
TABLET = ViewportSize(width=820, height=1180)
LOWER_LIP = 1.0  # scrolled places are whole pixels, those of boxes are not [px]


def height_of(page: Page, selector: str) -> float:
    box = page.locator(selector).bounding_box()
    assert box is not None
    return box["height"]


def is_of_this_width(page: Page) -> bool:
    """Whether the strip has been drawn for the screen as wide as it is now."""
    shown: float = page.locator(".ruler-picture svg").evaluate(
        "svg => svg.getBoundingClientRect().width / svg.width.baseVal.valueInSpecifiedUnits"
    )
    large = page.evaluate("() => parseFloat(getComputedStyle(document.documentElement).fontSize)")
    return abs(shown - large / 16) < 0.02  # letters of drawings grow with the page's own


@pytest.mark.parametrize("screen", [LAPTOP, LARGE, TABLET])
def test_the_plan_keeps_its_size_when_strikes_are_pinned(page: Page, screen: ViewportSize) -> None:
    page.set_viewport_size(screen)
    until(page, lambda: is_of_this_width(page))
    before = height_of(page, ".page-plan")
    for pace in ("1.2", "2.2", "2.6"):
        set_number(page, "Pace, in metres a second", pace)
        page.get_by_role("button", name="Pin", exact=True).click()
    marks = page.locator(".ruler-picture circle[id^='strip-mark-']")
    expect(marks).to_have_count(3, timeout=SECONDS)
    assert height_of(page, ".page-plan") == before
    # Bands so narrow that words stand over them, or a legend below.
    set_number(page, "Height above centre, in millimetres", "-9")
    page.wait_for_timeout(800)
    assert height_of(page, ".page-plan") == before


@pytest.mark.parametrize("screen", [LAPTOP, LARGE])
def test_numbers_on_the_strip_stand_clear_of_the_buttons_above(
    page: Page, screen: ViewportSize
) -> None:
    page.set_viewport_size(screen)
    page.get_by_role("button", name="Pin", exact=True).click()
    mark = page.locator(".ruler-picture circle[id^='strip-mark-']")
    expect(mark).to_have_count(1, timeout=SECONDS)
    number, button = mark.bounding_box(), page.get_by_text("By pace").bounding_box()
    assert number is not None and button is not None
    assert number["y"] >= button["y"] + button["height"] - LOWER_LIP
    last = page.locator(".ruler-picture text").evaluate_all(
        "all => Math.max(...all.map(one => one.getBoundingClientRect().bottom))"
    )
    assert last <= screen["height"]


def test_the_panel_scrolls_to_its_end_and_fades_while_there_is_more(page: Page) -> None:
    panel = page.locator(".page-panel")
    expect(panel).to_have_attribute("data-more", "")
    panel.evaluate("panel => panel.scrollTo(0, panel.scrollHeight)")
    expect(panel).not_to_have_attribute("data-more", "")
    inner = panel.bounding_box()
    last = page.locator(".cloth-numbers summary").bounding_box()
    assert inner is not None and last is not None
    assert last["y"] + last["height"] <= inner["y"] + inner["height"] + LOWER_LIP
    assert page.evaluate("() => document.documentElement.scrollHeight <= innerHeight")


def test_what_has_the_focus_stands_clear_of_the_fading_edge(page: Page) -> None:
    """However one comes to it by the keyboard."""
    page.locator("summary", has_text="All numbers").focus()
    page.wait_for_timeout(200)
    inner = page.locator(".page-panel").bounding_box()
    focused = page.locator("summary", has_text="All numbers").bounding_box()
    assert inner is not None and focused is not None
    assert focused["y"] + focused["height"] <= inner["y"] + inner["height"] - 3 * 16 + LOWER_LIP
