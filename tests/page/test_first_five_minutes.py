"""The first five minutes with the page, in a real browser on a real server."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from page.page_hand import SECONDS, drag, middle, paths, place, until
from stunline.drawing.plan import plan_of_shot
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import read_position
from web.running import Running, running


def settled(page: Page, ball: str) -> tuple[float, float]:
    """Where it is once the last move has been played and drawn. [mm]"""
    before = place(page, ball)
    while True:
        page.wait_for_timeout(500)
        now = place(page, ball)
        if now == before:
            return now
        before = now


def test_a_finished_shot_is_showing(page: Page) -> None:
    expect(page.locator(".page-panel")).to_contain_text("The black goes into the top right pocket")
    expect(page.locator(".page-strip")).to_contain_text("red 7")


def test_the_path_follows_a_dragged_white_and_undo_brings_it_back(page: Page) -> None:
    before, start = paths(page), place(page, "white")
    drag(page, "white", 40, 60)
    until(page, lambda: paths(page) != before)
    x, y = settled(page, "white")
    assert x > start[0] + 20
    assert y < start[1] - 30
    page.keyboard.press("Control+z")
    until(page, lambda: place(page, "white") == start)
    page.keyboard.press("Control+Shift+z")
    until(page, lambda: place(page, "white") == (x, y))


def test_a_dragged_ball_slides_along_another_instead_of_overlapping(page: Page) -> None:
    white, black = middle(page, '[data-ball="white"]'), middle(page, '[data-ball="black"]')
    drag(page, "white", black[0] - white[0], black[1] - white[1])
    page.wait_for_timeout(500)
    (x, y), (u, v) = place(page, "white"), place(page, "black")
    assert ((x - u) ** 2 + (y - v) ** 2) ** 0.5 == pytest.approx(52.5, abs=1.0)


def test_keys_move_a_ball_by_one_and_by_ten(page: Page) -> None:
    x, y = place(page, "white")
    page.locator('[data-ball="white"]').focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowUp")
    until(page, lambda: place(page, "white") == (x + 1, y + 10))


def test_another_pocket_is_solved_again(page: Page) -> None:
    page.locator('[data-pocket="middle right"]').dispatch_event("click")
    expect(page.locator(".page-panel")).to_contain_text("middle right", timeout=SECONDS)


def test_stun_solves_the_height_and_the_bands_move(page: Page) -> None:
    bands = page.locator(".page-strip svg").first.inner_html()
    page.get_by_role("button", name="Stun").click()
    expect(page.locator(".page-panel")).to_contain_text("mm below", timeout=SECONDS)
    until(page, lambda: page.locator(".page-strip svg").first.inner_html() != bands)


def test_the_answer_can_be_hidden_and_shown(page: Page) -> None:
    page.get_by_role("button", name="Hide the answer").click()
    until(page, lambda: "plan-white-1" not in page.locator(".plan-picture").inner_html())
    expect(page.locator(".page-panel")).not_to_contain_text("bends forward")
    page.get_by_role("button", name="Show the answer").first.click()
    expect(page.locator(".page-panel")).to_contain_text("bends forward", timeout=SECONDS)


def test_how_far_off_it_may_be_can_be_left_out_for_good(page: Page) -> None:
    switch = page.get_by_role("checkbox", name="how far off it may be on this table")
    drawn = page.locator("#plan-layer-doubt path")
    expect(switch).to_be_checked()
    expect(page.locator(".how-sure")).to_contain_text("of 100 the white meets red 7")
    expect(page.locator(".numbers").first).to_contain_text("(1.7 to 5.8)", timeout=SECONDS)
    assert drawn.count() > 0
    switch.focus()
    page.keyboard.press("Space")
    expect(page.locator(".numbers").first).not_to_contain_text("(", timeout=SECONDS)
    expect(drawn).to_have_count(0)
    expect(page.locator(".how-sure")).not_to_contain_text("of 100")
    page.wait_for_timeout(800)  # until the page's state is kept
    page.reload()
    expect(switch).not_to_be_checked(timeout=SECONDS)
    expect(drawn).to_have_count(0, timeout=SECONDS)


def test_the_sheet_is_printed_from_the_page(page: Page, tmp_path: Path) -> None:
    with page.expect_download(timeout=60_000) as waiting:
        page.get_by_role("button", name="Sheet", exact=True).click()
    target = tmp_path / "sheet.pdf"
    waiting.value.save_as(target)
    assert waiting.value.suggested_filename == "edge-of-the-pack-sheet.pdf"
    assert target.read_bytes().startswith(b"%PDF-")


def test_everything_is_there_again_after_the_server_was_killed(
    chromium_browser: Browser, tmp_path: Path
) -> None:
    with running(tmp_path) as first:
        context = chromium_browser.new_context(viewport={"width": 1280, "height": 800})
        page = context.new_page()
        _opened(page, first)
        drag(page, "white", 30, 40)
        expect(page.locator(".file-state")).to_contain_text("· saved", timeout=SECONDS)
        page.wait_for_timeout(1000)
        left = place(page, "white")
        first.process.kill()
        context.close()
    saved = read_position(tmp_path / "edge-of-the-pack.toml").file.position.balls["white"]
    assert (round(1000 * saved[0]), round(1000 * saved[1])) == left
    with running(tmp_path) as second:
        context = chromium_browser.new_context(viewport={"width": 1280, "height": 800})
        page = context.new_page()
        _opened(page, second)
        until(page, lambda: place(page, "white") == left)
        context.close()


def _opened(page: Page, server: Running) -> None:
    page.goto(server.start)
    page.wait_for_selector("#plan-layer-paths", state="attached")
    page.wait_for_selector("[data-pocket]", state="attached")


def test_the_drawn_path_is_the_library_s(page: Page) -> None:
    """The rolling stretch after contact ends where the library says, to 0.1 mm."""
    drawn = page.locator("#plan-white-3-rolling").get_attribute("d") or ""
    result = play_shot(read_position("edge-of-the-pack"))
    marks = {mark.id: mark for mark in plan_of_shot(result.shot).marks}
    expected = marks["white-3-rolling"]
    numbers = [float(one) for one in re.findall(r"-?\d+\.?\d*", drawn)]
    ends = [*expected.start, *expected.end]  # type: ignore[union-attr]
    assert numbers == pytest.approx([ends[0], -ends[1], ends[2], -ends[3]], abs=0.1)


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (1920, 1080), (820, 1180), (390, 844)])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_hangs_over_the_edge(
    chromium_browser: Browser, server: Running, width: int, height: int, scheme: str
) -> None:
    context = chromium_browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme=scheme,  # type: ignore[arg-type]
    )
    page = context.new_page()
    _opened(page, server)
    page.locator(".ruler-picture path[id^='strip-band-']").first.wait_for(state="attached")
    page.wait_for_timeout(300)
    out = Path(__file__).resolve().parents[2] / "out"
    out.mkdir(exist_ok=True)
    page.screenshot(path=out / f"page-{width}x{height}-{scheme}.png", full_page=True)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()
