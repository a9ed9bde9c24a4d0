"""The page for a class, and the page for everyone: type, keys, touch, names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from page.page_hand import SECONDS, slider, until
from web.running import Running

ROOT = Path(__file__).resolve().parents[2]
AXE = ROOT / "tools" / "client" / "node_modules" / "axe-core" / "axe.min.js"
OUT = ROOT / "out"
LEAST_LETTER = 0.03  # of the screen's height


def enter(page: Page) -> None:
    page.get_by_role("button", name="Class view").click()
    page.get_by_role("button", name="Show", exact=True).wait_for()
    page.wait_for_timeout(800)


def letter_heights(page: Page) -> list[tuple[str, float]]:
    """Every text that is seen, with the size of its letters on the screen. [px]"""
    found: list[tuple[str, float]] = page.evaluate(
        """() => [...document.querySelectorAll('.page *')].flatMap((one) => {
            const own = [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
            const seen = one.checkVisibility() && one.getClientRects().length > 0;
            if (!(own || one.matches('input')) || !seen) return [];
            if (one.closest('.only-spoken, title, desc')) return [];
            const matrix = one.getScreenCTM?.();
            const scale = matrix ? Math.hypot(matrix.a, matrix.b) : 1;
            return [[one.textContent.trim(), scale * parseFloat(getComputedStyle(one).fontSize)]];
        })"""
    )
    return found


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (1920, 1080)])
def test_every_letter_can_be_read_from_the_back(page: Page, width: int, height: int) -> None:
    page.set_viewport_size({"width": width, "height": height})
    enter(page)
    page.get_by_role("button", name="Show", exact=True).click()
    expect(page.locator(".ruler-picture")).to_contain_text("red 7", timeout=SECONDS)
    page.wait_for_timeout(500)
    heights = letter_heights(page)
    assert len(heights) > 15
    small = [(words, size) for words, size in heights if size < LEAST_LETTER * height - 0.01]
    assert small == []
    OUT.mkdir(exist_ok=True)
    page.screenshot(path=OUT / f"class-{width}x{height}.png")


def test_only_plan_face_and_pace_are_there(page: Page) -> None:
    page.locator("summary", has_text="What it forgives").click()
    enter(page)
    assert not any(one.is_visible() for one in page.locator(".page-panel details").all())
    for gone in (".page-head", ".happens", ".arrival", ".aim-line", ".plan-foot"):
        expect(page.locator(gone)).not_to_be_visible()
    for there in (".plan", ".face", ".ruler-picture"):
        expect(page.locator(there)).to_be_visible()


def test_a_class_guesses_before_the_answer_is_shown(page: Page) -> None:
    enter(page)
    assert page.locator("[id^='plan-white-']").count() == 0
    box = page.locator(".plan").bounding_box()
    assert box is not None
    for x, y in ((0.3, 0.4), (0.6, 0.7)):
        page.mouse.click(box["x"] + x * box["width"], box["y"] + y * box["height"])
    expect(page.locator(".guess")).to_have_count(2)
    marked = page.locator(".guess").nth(1).bounding_box()
    assert marked is not None
    middle = marked["x"] + marked["width"] / 2
    assert middle == pytest.approx(box["x"] + 0.6 * box["width"], abs=2)
    page.get_by_role("button", name="Show", exact=True).click()
    page.locator("[id^='plan-white-']").first.wait_for(state="attached", timeout=SECONDS)
    expect(page.locator(".guess")).to_have_count(2)
    page.get_by_role("button", name="Clear guesses").click()
    expect(page.locator(".guess")).to_have_count(0)
    page.get_by_role("button", name="Leave").click()
    expect(page.locator(".happens")).to_be_visible()


def test_a_guess_by_keys(page: Page) -> None:
    enter(page)
    page.get_by_role("button", name="Guess by keys").press("Enter")
    guess = page.locator("#guess-1")
    expect(guess).to_be_focused()
    before = guess.get_attribute("aria-label")
    page.keyboard.press("ArrowUp")
    expect(guess).not_to_have_attribute("aria-label", before or "")


def test_the_page_by_keyboard_alone(page: Page) -> None:
    """Tab comes to the strike, the strip and the head; keys do what the hand does."""
    wanted = {
        "Contact point on the white",
        "Pace",
        "Arrival, from screw to rolling",
        "Open",
        "Stun",
    }
    seen: set[str] = set()
    for _ in range(90):
        page.keyboard.press("Tab")
        seen.add(
            page.evaluate(
                "document.activeElement.ariaLabel ?? document.activeElement.textContent.trim()"
            )
        )
        if wanted <= seen:
            break
    assert wanted <= seen
    page.keyboard.press("?")
    expect(page.get_by_role("dialog", name="Keys and layout")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    page.get_by_role("slider", name="Pace", exact=True).focus()
    page.keyboard.press("Shift+ArrowRight")
    until(page, lambda: slider(page, "Pace") == pytest.approx(1.8))


@pytest.fixture
def phone(chromium_browser: Browser, server: Running) -> Iterator[Page]:
    context = chromium_browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    page.goto(server.start)
    page.wait_for_selector(".strip-mark")
    yield page
    context.close()


def test_look_and_strike_on_a_phone(phone: Page) -> None:
    """The plan stays in sight while the strike below it is set by a finger."""
    stun = phone.get_by_role("button", name="Stun", exact=True)
    stun.scroll_into_view_if_needed()
    stun.tap()
    until(phone, lambda: slider(phone, "Contact point on the white") < 0)
    plan = phone.locator(".plan").bounding_box()
    assert plan is not None
    assert 0 <= plan["y"] < 100
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


def axe(page: Page) -> list[dict[str, Any]]:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found: list[dict[str, Any]] = page.evaluate(
        "async () => (await axe.run(document)).violations"
        ".map((one) => ({ rule: one.id, nodes: one.nodes.map((node) => node.html.slice(0, 160)) }))"
    )
    return found


@pytest.mark.skipif(not AXE.exists(), reason="npm's packages are not installed")
@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("state", ["page", "library", "export", "keys", "class view", "fault"])
def test_nothing_stands_in_anybody_s_way(page: Page, theme: str, state: str) -> None:
    page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
    buttons = {"library": "Open", "export": "Export", "keys": "Keys", "class view": "Class view"}
    if state in buttons:
        page.get_by_role("button", name=buttons[state], exact=True).click()
    if state == "fault":
        page.get_by_label("Object ball", exact=True).select_option("red1")
        page.get_by_label("Pocket", exact=True).select_option("bottom left")
    if state == "page":
        for summary in page.locator("summary").all():
            summary.click()
    page.wait_for_timeout(900)
    assert axe(page) == []


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (1920, 1080)])
def test_for_a_class_the_plan_is_the_largest_and_stays_where_it_is(
    page: Page, width: int, height: int
) -> None:
    page.set_viewport_size({"width": width, "height": height})
    enter(page)
    asked = page.locator(".plan").bounding_box()
    page.get_by_role("button", name="Show", exact=True).click()
    expect(page.locator(".ruler-picture")).to_contain_text("red 7", timeout=SECONDS)
    told, strip = (page.locator(one).bounding_box() for one in (".plan", ".ruler-picture svg"))
    assert asked == told
    assert told is not None
    assert strip is not None
    assert told["height"] >= 0.6 * height
    assert strip["y"] + strip["height"] <= height
    page.keyboard.press("Escape")
    expect(page.locator(".happens")).to_be_visible()


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (1920, 1080), (820, 1180), (390, 844)])
def test_a_layout_for_the_left_hand(page: Page, width: int, height: int) -> None:
    """The strike on the left, and everything within the screen and within reach."""
    page.set_viewport_size({"width": width, "height": height})
    page.keyboard.press("?")
    page.get_by_role("button", name="On the left", exact=True).click()
    keys, plan = (page.locator(one).bounding_box() for one in (".side-page", ".page-plan"))
    assert keys is not None
    assert plan is not None
    if width > 1000:
        assert keys["x"] + keys["width"] <= plan["x"]
    page.keyboard.press("Escape")
    if width > 1000:
        panel = page.locator(".page-panel").bounding_box()
        assert panel is not None
        assert panel["x"] + panel["width"] <= plan["x"]
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    for name in ("Stun", "Centre", "Pin", "Play", "Class view", "Keys"):
        page.get_by_role("button", name=name, exact=True).click(trial=True)
    before = slider(page, "Contact point on the white")
    page.get_by_role("slider", name="Contact point on the white").press("ArrowDown")
    until(page, lambda: slider(page, "Contact point on the white") == before - 0.5)


def test_the_keys_page_names_every_key_that_is_listened_to(page: Page) -> None:
    modules = ROOT / "src" / "stunline" / "web" / "client" / "modules"
    source = "\n".join(one.read_text("utf-8") for one in modules.glob("**/*.js"))
    named = re.findall(r"\b(Home|End|PageUp|PageDown|Delete|Escape|Enter)\b", source)
    page.keyboard.press("?")
    told = page.get_by_role("dialog", name="Keys and layout").inner_text()
    words = {"PageUp": "Page up", "PageDown": "down"}
    assert len(set(named)) == 7
    for key in {*named, "Alt", "Ctrl", "Shift", "Arrows"}:
        assert words.get(key, key) in told
