"""What a strike forgives, where the white can go, and why: on the page, in a real browser."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from page.page_hand import SECONDS, set_number, until
from stunline.shot.aiming.solve import Solver
from stunline.shot.play import play
from stunline.shot.position_file import parse_position
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks.document import toml_of
from stunline.units import millimetres
from web.running import Running

ROOT = Path(__file__).resolve().parents[2]
AXE = ROOT / "tools" / "client" / "node_modules" / "axe-core" / "axe.min.js"
OUT = ROOT / "out"
NAME = "stay-on-the-black"
STUDY = 120_000  # longest wait for a study [ms]
CELL = 25.0  # of the raster of places, by default [mm]


def document(page: Page) -> dict[str, Any]:
    """The position as the page has it."""
    found: dict[str, Any] = page.evaluate(
        "async () => (await import('/client/modules/state.js')).documentNow.value"
    )
    return found


@pytest.fixture
def open_red(page: Page, server: Running) -> Page:
    """An open position with a goal, its own file in the library."""
    text = shipped_position_path(NAME).read_text(encoding="utf-8")
    (server.folder / "red.toml").write_text(text, encoding="utf-8")
    page.evaluate(
        """async () => {
            const found = await (await fetch('/api/positions/red')).json();
            const { openDocument } = await import('/client/modules/state.js');
            openDocument(found.document, { name: 'red', revision: found.revision, shipped: false });
        }"""
    )
    page.locator('[data-ball="red3"]').wait_for()
    return page


def unfold(page: Page, fold: str) -> None:
    page.locator(f".{fold} > summary").click()
    page.locator(f".{fold} .study-begin > button").wait_for()


def press(page: Page, name: str) -> None:
    """By keyboard."""
    button = page.get_by_role("button", name=name, exact=True)
    button.focus()
    page.keyboard.press("Enter")


def pictured(page: Page, name: str, fold: str) -> None:
    """Kept to be looked at; nothing of the fold is cut off at the side."""
    OUT.mkdir(exist_ok=True)
    page.locator(f".{fold} > summary").evaluate(
        "one => one.closest('.page-panel').scrollTo(0, one.offsetTop - 8)"
    )
    page.wait_for_timeout(500)
    page.screenshot(path=OUT / f"{name}-1280x800.png")
    cut: list[str] = page.evaluate(
        """fold => [...document.querySelectorAll(`.${fold} :not(svg *)`)]
            .filter((one) => one.getBoundingClientRect().right > innerWidth + 1)
            .map((one) => one.outerHTML.slice(0, 80))""",
        fold,
    )
    assert cut == []


def no_fault_of_access(page: Page) -> None:
    if not AXE.exists():
        return
    page.evaluate(AXE.read_text("utf-8") + "; undefined")
    found = page.evaluate("async () => (await axe.run()).violations")
    assert found == [], json.dumps([(one["id"], one["nodes"][0]["html"]) for one in found])


def test_what_a_strike_forgives_grows_and_is_told(open_red: Page) -> None:
    page = open_red
    unfold(page, "forgives")
    press(page, "Try it")
    page.locator(".forgives progress").wait_for()
    # The map stands there before it is whole.
    page.locator(".forgives-map svg").wait_for(timeout=STUDY)
    until(page, lambda: page.get_by_role("button", name="Try it", exact=True).count() == 1)
    said = page.locator(".forgives-told").inner_text()
    assert re.search(r"About \d in 10: \d\d %, \d\d to \d\d", said)
    assert "red 1 misses the pocket" in said
    assert re.search(r"pace\s+firmer\s+up to [\d.]+ %", said)
    assert page.locator(".forgives-map [id^='forgives-map']").count() > 10
    assert "{" not in said
    pictured(page, "forgives", "forgives")
    no_fault_of_access(page)
    set_number(page, "Pace, in metres a second", "2.2")
    expect(page.locator(".forgives .pack-state")).to_contain_text("as it was")


def test_a_trial_is_stopped_and_keeps_what_was_played(page: Page) -> None:
    unfold(page, "forgives")  # beside the opening shot's pack it takes long
    press(page, "Try it")
    state = page.locator(".forgives .pack-state")
    expect(state).to_contain_text(re.compile(r"[1-9][\d,]* of [\d,]+ strokes"), timeout=STUDY)
    press(page, "Stop")
    expect(state).to_contain_text("Stopped", timeout=SECONDS)
    assert page.locator(".forgives-told .sentence").inner_text()


def test_where_the_white_can_go_is_drawn_pointed_at_and_taken(open_red: Page) -> None:
    page = open_red
    unfold(page, "reach")
    press(page, "Search the table")
    page.locator(".reach-at").wait_for(timeout=STUDY)
    hatched = page.locator(".reach-layer .hatch-screw path")
    assert hatched.count() > 20
    expect(page.locator(".reach-shares")).to_contain_text("screw")
    places: list[list[float]] = page.evaluate(
        "async () => (await import('/client/modules/maps/reached.js')).study.told.value.places"
    )
    drawn = page.locator(".plan").bounding_box()
    assert drawn is not None

    def on_screen(at: list[float]) -> tuple[float, float]:
        x, y = page.evaluate(
            """([x, y]) => {
                const picture = document.querySelector('.plan-picture');
                const { x: left, y: top } = new DOMPoint(x, -y).matrixTransform(
                    picture.getScreenCTM());
                return [left, top];
            }""",
            at,
        )
        return float(x), float(y)

    balls = [
        (ball["at"], ball["radius"])
        for ball in page.evaluate(
            "async () => Object.values((await import('/client/modules/live.js')).ballsDrawn.value)"
        )
    ]

    def is_free(row: list[float]) -> bool:
        x, y = on_screen(row[:2])
        inside = drawn["x"] + 40 < x < drawn["x"] + 0.6 * drawn["width"]
        far = all(
            (row[0] - at[0]) ** 2 + (row[1] - at[1]) ** 2 > (radius + 120) ** 2
            for at, radius in balls
        )
        return inside and drawn["y"] + 40 < y < drawn["y"] + drawn["height"] - 60 and far

    free = [row for row in places if is_free(row)]
    chosen = free[len(free) // 2]
    page.mouse.click(*on_screen(chosen[:2]))
    strike = page.locator(".reach-strike")
    expect(strike).to_contain_text("m/s")
    until(page, lambda: page.locator("[id^=plan-way-X]").count() > 0)
    pictured(page, "reach", "reach")
    no_fault_of_access(page)
    before = document(page)
    strike.focus()
    page.keyboard.press("Enter")
    taken = document(page)
    assert taken["goal"]["pot"] == before["strike"]["pot"]
    # Played by the library from the file's text, the pot goes in and the white rests there.
    file = parse_position(toml_of(taken))
    shot = play(file.position, Solver(file.position).solve(file.plan).strike)
    assert shot.potted("red1") == "top left"
    rest = shot.rest("white")
    assert rest is not None
    assert [millimetres(one) for one in rest] == pytest.approx(chosen[:2], abs=CELL)
    assert page.locator(".reach-at").count() == 1  # other places can still be pointed at
    page.get_by_role("button", name="Undo", exact=True).click()
    assert document(page) == before
    set_number(page, "Place to go to, from left, in millimetres", "100")  # by keyboard
    set_number(page, "Place to go to, from baulk, in millimetres", "100")
    expect(page.locator(".reach [role=status]").last).to_contain_text("No strike found leaves")


def test_why_is_said_when_it_is_asked(open_red: Page, console: list[str]) -> None:
    page = open_red
    unfold(page, "why")
    press(page, "Explain")
    said = page.locator(".why-told")
    expect(said).to_contain_text("inside the tangent line")
    rows = page.locator(".why-shares tbody tr")
    whole = float(rows.last.locator("td").nth(1).inner_text().strip("+°").replace("−", "-"))
    gives = [one.locator("td").nth(1).inner_text() for one in rows.all()]
    names = [one.locator("th").inner_text() for one in rows.all()]
    assert names[0] in ("follow", "screw", "follow or screw")
    # The shares of the groups add up; height and cloth are parts of the first.
    parts = [
        float(words.strip("+°").replace("−", "-"))
        for name, words in zip(names, gives, strict=True)
        if name not in ("height", "cloth", "together")
    ]
    assert sum(parts) == pytest.approx(whole, abs=0.05 * (len(parts) + 1))
    pictured(page, "why", "why")
    no_fault_of_access(page)
    page.evaluate(
        """async () => {
            const { change } = await import('/client/modules/state.js');
            change('aim past everything', (position) => {
                position.strike = { aim: 270, pace: 1.0 };
            });
        }"""
    )
    press(page, "Explain")
    expect(page.locator(".why [role=alert]")).to_contain_text("meets no ball")
    console.clear()  # the browser notes that the server refused it


def test_folds_are_loaded_when_they_are_opened(page: Page) -> None:
    """Until then their code is not asked for: the first load stays small."""
    asked: list[str] = page.evaluate(
        "() => performance.getEntriesByType('resource').map((one) => one.name)"
    )
    assert not [one for one in asked if re.search(r"/(maps|goal)/|goal_inside|forgives|reach", one)]
