"""A goal on the page: set by pointing or by keys, searched, stopped, its strikes taken."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from page.page_hand import SECONDS, drag_by, middle, set_number, until
from stunline.shot.outcome import outcome
from stunline.shot.play import play
from stunline.shot.position import Strike
from stunline.shot.position_file import parse_position
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks.document import document_of, toml_of
from stunline.units import metres, radians
from web.running import Running

ROOT = Path(__file__).resolve().parents[2]
AXE = ROOT / "tools" / "client" / "node_modules" / "axe-core" / "axe.min.js"
OUT = ROOT / "out"
NAME = "stay-on-the-black"
SEARCH = 60_000  # longest wait for a search [ms]


def document(page: Page) -> dict[str, Any]:
    """The position as the page has it."""
    found: dict[str, Any] = page.evaluate(
        "async () => (await import('/client/modules/state.js')).documentNow.value"
    )
    return found


def goal(page: Page) -> dict[str, Any]:
    found: dict[str, Any] = document(page).get("goal", {})
    return found


@pytest.fixture
def open_red(page: Page, server: Running) -> Page:
    """An open position without a goal, its own file in the library, the fold of the goal open."""
    text = shipped_position_path(NAME).read_text(encoding="utf-8")
    without = text[: text.index("\n[goal]\n")]
    (server.folder / "red.toml").write_text(without, encoding="utf-8")
    page.evaluate(
        """async () => {
            const found = await (await fetch('/api/positions/red')).json();
            const { openDocument } = await import('/client/modules/state.js');
            openDocument(found.document, { name: 'red', revision: found.revision, shipped: false });
        }"""
    )
    page.locator('[data-ball="red3"]').wait_for()
    page.locator(".goal > summary").click()
    page.locator(".goal-add").wait_for()
    return page


def add(page: Page, words: str) -> None:
    page.get_by_role("group", name="Add to the goal").get_by_role("button", name=words).click()


def click_ball(page: Page, ball: str) -> None:
    x, y = middle(page, f'[data-pick="{ball}"]')
    page.mouse.click(x, y)


def whole_table(page: Page) -> None:
    for _ in range(4):
        page.get_by_role("button", name="Further", exact=True).click()
        page.wait_for_timeout(250)


def search(page: Page) -> None:
    page.get_by_role("button", name="Find strikes").click()
    page.locator(".option-row, .help-row").first.wait_for(timeout=SEARCH)


def test_a_goal_is_set_by_clicking_and_stands_in_the_file_and_on_the_plan(
    open_red: Page, server: Running
) -> None:
    page = open_red
    whole_table(page)
    add(page, "meets a ball")
    click_ball(page, "pink")
    page.get_by_label("Side of it", exact=True).select_option("left")
    add(page, "passes a gap")
    click_ball(page, "pink")
    expect(page.locator(".picking-words")).to_contain_text("Click the other one")
    click_ball(page, "red2")
    add(page, "misses")
    click_ball(page, "blue")
    click_ball(page, "red4")
    page.get_by_role("button", name="Done").click()
    add(page, "leaves a next ball")
    click_ball(page, "black")
    set_number(page, "Most cut of the next ball, in degrees", "55")
    wanted = {
        "in_off": False,
        "meet": {"ball": "pink", "on": "left"},
        "through": {"between": ["pink", "red2"]},
        "miss": ["blue", "red4"],
        "next": {"ball": "black", "cut": [0, 55]},
    }
    until(page, lambda: goal(page) == wanted)
    page.locator("#plan-goal-gap").wait_for(state="attached")
    file = server.folder / "red.toml"
    until(page, lambda: document_of(file.read_text("utf-8")).get("goal") == wanted)
    text = file.read_text("utf-8")
    assert text.startswith("# Harbour Lane Cue Club")  # comments kept
    assert parse_position(text).goal is not None


def test_an_area_is_dragged_and_typed_and_drawn_by_the_server(open_red: Page) -> None:
    page = open_red
    whole_table(page)
    add(page, "rests in an area")
    x, y = middle(page, '[data-ball="blue"]')
    drag_by(page, '[data-ball="blue"]', 60.0, 0.0)
    blue = (889.0, 1784.5)  # of a full-size table, by the rules of snooker
    across, up, radius = goal(page)["rest"]["circle"]
    scale = float(
        page.evaluate("async () => (await import('/client/modules/plan/view.js')).scale.value")
    )
    assert (across, up) == pytest.approx(blue, abs=2.0 / scale)
    assert radius == pytest.approx(60.0 / scale, abs=2.0 / scale)
    set_number(page, "Radius of the area, in millimetres", "200")
    circle = page.locator("#plan-goal-area")
    until(page, lambda: circle.get_attribute("r") == "200")
    assert float(circle.get_attribute("cx") or "nan") == across
    assert (x, y) == middle(page, '[data-ball="blue"]')  # the ball below was not moved
    page.get_by_label("Area to rest in", exact=True).select_option("D")
    until(page, lambda: goal(page)["rest"] == "D")
    page.get_by_role("button", name="Undo", exact=True).click()
    assert goal(page)["rest"] == {"circle": [across, up, 200]}


def test_strikes_are_found_one_is_taken_and_taken_back(open_red: Page) -> None:
    page = open_red
    add(page, "leaves a next ball")
    page.get_by_label("Next ball", exact=True).select_option("black")
    set_number(page, "Most cut of the next ball, in degrees", "45")
    search(page)
    rows = page.locator(".option-row")
    assert rows.count() >= 2
    second = rows.nth(1)
    assert re.search(r"\d+ in 10+ \(", second.inner_text())
    assert "lengths" in second.inner_text()
    until(page, lambda: page.locator("[id^=plan-way-D-label]").count() > 0)
    second.hover()
    expect(page.locator("[id^=plan-way-A-label]").first).to_have_css("opacity", "0.22")
    expect(page.locator("[id^=plan-way-D-label]").first).to_have_css("opacity", "1")
    page.locator('[data-way-end="A"]').focus()
    expect(page.locator(".option-rows li").first).to_have_attribute("data-shown", "")
    expect(page.locator("[id^=plan-way-D-label]").first).to_have_css("opacity", "0.22")
    before = document(page)
    second.click()
    taken = document(page)
    assert "pot" not in taken["strike"]
    assert taken["goal"]["pot"] == before["strike"]["pot"]
    # Played by the library from the file's text, it does what the goal says.
    file = parse_position(toml_of(taken))
    numbers = taken["strike"]
    strike = Strike(
        radians(numbers["aim"]), numbers["pace"], metres(numbers["height"]),
        metres(numbers.get("side", 0.0)), radians(numbers.get("elevation", 0.0)),
    )  # fmt: skip
    shot = play(file.position, strike)
    assert shot.potted("red1") == "top left"
    assert shot.potted("white") is None
    assert outcome(shot, file.plan).words()
    assert rows.count() >= 2  # the others can still be taken
    page.get_by_role("button", name="Undo", exact=True).click()
    assert document(page) == before


def test_a_search_is_stopped_and_says_so(page: Page) -> None:
    page.locator(".goal > summary").click()  # beside the opening shot's pack a search takes long
    add(page, "rests in an area")
    page.keyboard.press("Escape")
    page.get_by_label("Area to rest in", exact=True).select_option("D")
    page.get_by_role("button", name="Find strikes").click()
    page.locator(".choices progress").wait_for()
    expect(page.locator(".choices .pack-state")).to_contain_text("strikes", timeout=SECONDS)
    page.get_by_role("button", name="Stop", exact=True).click()
    expect(page.locator(".choices .pack-state")).to_contain_text("Stopped", timeout=SECONDS)
    expect(page.get_by_role("button", name="Find strikes")).to_be_visible()


def test_when_nothing_works_what_would_help_is_said_and_can_be_taken(open_red: Page) -> None:
    page = open_red
    add(page, "rests in an area")
    page.keyboard.press("Escape")
    page.get_by_label("Area to rest in", exact=True).select_option("D")
    set_number(page, "Most pace, in metres a second", "1.1")
    search(page)
    expect(page.locator(".choices")).to_contain_text("No strike of these meets the goal")
    said = page.locator(".help-row").first.inner_text()
    assert re.search(r"The area \d+ mm larger; then 1\.\d\d m/s", said)
    page.locator(".help-row").first.click()
    assert "aim" in document(page)["strike"]


def test_what_is_wrong_stands_beside_its_field(open_red: Page, console: list[str]) -> None:
    page = open_red
    add(page, "misses")
    page.get_by_label("A ball that it misses", exact=True).select_option("red1")
    fault = page.locator('[data-demand="miss"] .goal-fault')
    expect(fault).to_contain_text("both to be met and to be missed")
    set_number(page, "Least pace, in metres a second", "5")
    expect(page.locator(".goal-ranges > .goal-fault")).to_contain_text("the range runs backwards",
                                                                      ignore_case=True)  # fmt: skip
    page.get_by_role("button", name="Leave out: misses").click()
    page.evaluate(
        """async () => {
            const { change } = await import('/client/modules/state.js');
            change('name a player', (position) => {
                position.goal = { in_off: false, player: 'clbu' };
            });
        }"""
    )
    beside = page.locator(".goal-player .goal-fault")
    expect(beside).to_contain_text("There is no player of that name")
    page.get_by_role("button", name="Find strikes").click()  # is refused for the same reason
    until(page, lambda: page.locator(".choices .pack-state").count() == 0)
    expect(beside).to_have_count(1)
    page.get_by_label("Player", exact=True).select_option("match")
    expect(beside).to_have_count(0)
    console.clear()  # a position that is not in order is not saved, and the browser says so


def pressed(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


def tab_to(page: Page, holds: Callable[[], bool]) -> None:
    for _ in range(80):
        if holds():
            return
        page.keyboard.press("Tab")
    raise AssertionError("the keyboard does not lead there")


def focused(page: Page, words: str) -> bool:
    found: str = page.evaluate(
        """() => {
            const at = document.activeElement;
            return at.getAttribute('aria-label') ?? at.textContent;
        }"""
    )
    return words in found


def test_everything_by_keyboard(open_red: Page) -> None:
    page = open_red
    page.locator(".goal > summary").focus()
    tab_to(page, lambda: focused(page, "leaves a next ball"))
    pressed(page, "Enter")
    until(page, lambda: focused(page, "Next ball"))
    page.keyboard.type("black")
    until(page, lambda: goal(page).get("next", {}).get("ball") == "black")
    tab_to(page, lambda: focused(page, "passes a gap"))
    pressed(page, "Enter")
    until(page, lambda: page.locator(".goal-target").count() > 0)
    page.locator('[data-pick="pink"]').focus()
    pressed(page, "Enter")
    page.locator('[data-pick="blue"]').focus()
    pressed(page, "Enter")
    until(page, lambda: goal(page).get("through") == {"between": ["pink", "blue"]})
    page.get_by_role("button", name="Leave out: passes between").focus()
    pressed(page, "Enter")
    until(page, lambda: "through" not in goal(page))
    tab_to(page, lambda: focused(page, "Find strikes"))
    pressed(page, "Enter")
    page.locator(".option-row").first.wait_for(timeout=SEARCH)
    tab_to(page, lambda: focused(page, "Take A"))
    pressed(page, "Enter")
    until(page, lambda: "aim" in document(page)["strike"])
    pressed(page, "Control+z")
    until(page, lambda: "pot" in document(page)["strike"])


@pytest.mark.skipif(not AXE.exists(), reason="axe-core is not installed")
def test_no_fault_of_access_is_found(open_red: Page) -> None:
    page = open_red
    add(page, "misses")
    page.get_by_label("A ball that it misses", exact=True).select_option("blue")
    add(page, "rests in an area")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Leave out: rests in").click()
    search(page)
    page.evaluate(AXE.read_text("utf-8") + "; undefined")
    found = page.evaluate("async () => (await axe.run()).violations")
    assert found == [], json.dumps([(one["id"], one["nodes"][0]["html"]) for one in found])


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (820, 1180)])
def test_nothing_is_cut_off_at_the_side(open_red: Page, width: int, height: int) -> None:
    page = open_red
    page.set_viewport_size({"width": width, "height": height})
    add(page, "leaves a next ball")
    page.get_by_label("Next ball", exact=True).select_option("black")
    add(page, "misses")
    page.get_by_label("A ball that it misses", exact=True).select_option("blue")
    page.get_by_role("button", name="Done").click()
    search(page)
    until(page, lambda: page.locator("[id^=plan-way-A-label]").count() > 0)
    page.locator(".option-row").first.scroll_into_view_if_needed()
    page.wait_for_timeout(500)  # the corner of the plan finds its place
    OUT.mkdir(exist_ok=True)
    page.screenshot(path=OUT / f"goal-{width}x{height}.png", full_page=True)
    cut: list[str] = page.evaluate(
        """() => [...document.querySelectorAll('.goal *')]
            .filter((one) => one.getBoundingClientRect().right > innerWidth + 1)
            .map((one) => one.outerHTML.slice(0, 80))"""
    )
    assert cut == []
    if width > 1000:  # the panel scrolls by itself
        assert page.evaluate("document.documentElement.scrollHeight") <= height
    for letter in "AD":  # the ways' ends are on the plan
        end = page.locator(f'[data-way-end="{letter}"]').bounding_box()
        plan = page.locator(".plan").bounding_box()
        assert end is not None
        assert plan is not None
        assert plan["x"] <= end["x"] <= plan["x"] + plan["width"]
        assert plan["y"] <= end["y"] <= plan["y"] + plan["height"]
