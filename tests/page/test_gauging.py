"""Gauging on the page: a quick check from beginning to end, and one by keyboard alone."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from page.page_hand import SECONDS, until
from page.test_class_view import AXE, axe
from stunline.calibration.record_file import read_open_record
from stunline.tasks.library import open_library
from stunline.tasks.page_records import RecordWish, start_record
from web.running import Running


def begin(page: Page, title: str) -> None:
    page.get_by_text("Table, cloth, lengths and note").click()
    page.get_by_role("button", name="Gauge this table").click()
    page.get_by_label("What the record is called").fill(title)
    page.get_by_role("button", name="Start", exact=True).click()
    page.locator(".gauge-picture > div > svg").wait_for(timeout=SECONDS)


def tap(page: Page, x: float, y: float) -> None:
    """On the plan, at a place of the table [mm]; the drawing's own nose lines say where that is."""
    box: dict[str, float] = page.locator(".gauge-marks").evaluate(
        """(svg, [x, y]) => {
            const at = new DOMPoint(x, -y).matrixTransform(svg.getScreenCTM());
            return { x: at.x, y: at.y };
        }""",
        [x, y],
    )
    page.mouse.click(box["x"], box["y"])


def field(page: Page, words: str) -> Any:
    return page.get_by_label(re.compile(f"^{re.escape(words)}"))


def entries(server: Running) -> list[dict[str, Any]]:
    """What stands in the one record of the library."""
    (path,) = (one for one in server.folder.glob("*.toml") if "gauged" not in one.name)
    found: list[dict[str, Any]] = tomllib.loads(path.read_text("utf-8"))["measured"]
    return found


def test_a_quick_check_from_set_up_to_the_position_on_the_gauged_table(
    page: Page, server: Running
) -> None:
    """Invented values: those of docs/gauging.md."""
    begin(page, "Invented table")
    expect(page.locator(".gauge-shot")).to_contain_text("left 889, baulk 428 mm")
    tap(page, 891, 1540)
    put = page.locator('.gauge-put[data-reading="white_rest"]')
    label = put.get_attribute("aria-label") or ""
    x, y = (float(one) for one in re.findall(r"(\d+) mm", label))
    assert (x, y) == pytest.approx((891, 1540), abs=6)  # a pixel is 5 mm
    field(page, "The white rests: from the left").fill("891")
    field(page, "The white rests: from the baulk").fill("1540")
    field(page, "Time, in seconds").fill("4.15")
    page.reload()  # at once: what was typed goes out with the page
    expect(field(page, "Time, in seconds")).to_have_value("4.15", timeout=SECONDS)
    assert entries(server)[0]["white_rest"] == [891, 1540]

    page.get_by_role("button", name="Next shot").click()
    field(page, "The white rests: from the left").fill("885")
    # Measured from the far end, where the tape is shorter: 3569 − 1439 = 2130.
    page.get_by_label("The white rests: measured from").nth(1).select_option("top")
    field(page, "The white rests: from the top").fill("1439")
    field(page, "Time, in seconds").fill("5.25")
    page.get_by_role("button", name="Next shot").click()
    for words, value in (
        ("The white rests: from the left", "1725"),
        ("The white rests: from the baulk", "2759"),
        ("The object ball rests: from the left", "157"),
        ("The object ball rests: from the baulk", "2445"),
    ):
        field(page, words).fill(value)
    page.get_by_role("button", name="Cushion touch").click()
    tap(page, 1775, 2719)
    expect(field(page, "Cushion that the white touches")).to_have_value("right")
    field(page, "Along that cushion").fill("2719")
    expect(page.locator(".gauge-fit")).to_contain_text("from 3 shots, 7 measur", timeout=SECONDS)
    expect(page.locator(".gauge-rows li[data-told]").first).to_contain_text("rolling resistance")
    advised = page.locator(".gauge-next li")
    expect(advised).to_have_count(3)
    expect(advised.first).to_contain_text(re.compile(r"then ±\d+ mm"))
    assert entries(server)[1]["white_rest"] == [885, 2130]
    assert entries(server)[2]["white_cushion"] == {"cushion": "right", "at": 2719}

    page.get_by_label("Name of the table file").fill("invented-gauged")
    page.get_by_role("button", name="Write the table").click()
    page.get_by_role("button", name="Play the position on it").click(timeout=SECONDS)
    expect(page.locator(".gauge")).to_have_count(0)
    assert (server.folder / "invented-gauged.toml").exists()
    page.get_by_text("Coefficients", exact=True).click()
    expect(page.locator(".cloth-title")).to_contain_text(
        "gauged", timeout=SECONDS, ignore_case=True
    )


def test_a_shot_is_written_down_by_keyboard_and_what_is_wrong_is_told(
    page: Page, server: Running
) -> None:
    begin(page, "By keyboard")
    keys = page.keyboard
    field(page, "The white rests: from the left").focus()
    keys.type("35")
    keys.press("Tab")  # to the choice of the cushion
    keys.press("Tab")
    keys.type("60")
    alert = page.locator(".gauge-faults").first
    expect(alert).to_contain_text("looks like inches", timeout=SECONDS)
    expect(alert).to_contain_text("Allowed: millimetres")
    assert entries(server)[0]["white_rest"] == [35, 60]  # wrong, and kept
    page.get_by_role("button", name="They are inches").press("Enter")
    until(page, lambda: entries(server)[0]["white_rest"] == ["35 in", "60 in"])
    expect(page.locator(".gauge-faults")).to_have_count(0)

    # 60 in are 1524 mm; arrows move the mark from there, as they do a ball.
    page.locator('.gauge-put[data-reading="white_rest"]').focus()
    keys.press("ArrowUp")
    keys.press("Shift+ArrowRight")
    until(page, lambda: entries(server)[0]["white_rest"] == [899, 1525])
    field(page, "The white rests: from the left").press("ArrowDown")
    until(page, lambda: entries(server)[0]["white_rest"] == [898, 1525])

    watch = page.get_by_role("button", name=re.compile("Start watch|Stop"))
    watch.press("Space")
    page.wait_for_timeout(300)
    watch.press("Space")
    until(page, lambda: entries(server)[0].get("time", 0.0) > 0.25)
    assert entries(server)[0]["timed_by"] == "hand"

    page.get_by_role("button", name="Play it again").press("Enter")
    expect(page.locator(".gauge-shot h2")).to_be_focused(timeout=SECONDS)
    expect(page.locator(".gauge-shots li")).to_have_count(4)
    (path,) = server.folder.glob("*.toml")
    read = read_open_record(str(path))
    assert read.faults == ()
    assert read.record.unplayed[0].name == "roll-up (2)"
    if AXE.exists():
        assert axe(page) == []
        page.emulate_media(color_scheme="dark")
        page.wait_for_timeout(800)
        assert axe(page) == []


def test_records_of_one_name_are_told_apart_and_an_own_table_is_explained(
    page: Page, server: Running
) -> None:
    (server.folder / "home.toml").write_text('title = "At home"\nbased_on = "snooker-9ft"\n')
    library = open_library(str(server.folder))
    for _ in range(2):
        start_record(library, RecordWish("home.toml", "", False, 0.0, "Invented table"))
    page.goto(f"{server.origin}/#gauge")
    page.reload()
    rows = page.locator(".gauge-records li")
    expect(rows).to_have_count(2, timeout=SECONDS)
    titles = rows.locator("span:first-child").all_inner_texts()
    assert len(set(titles)) == 2 and all("Invented table (" in one for one in titles)
    expect(rows.first).to_contain_text(f"begun {date.today().isoformat()}")
    own = page.get_by_text("a table file of your own")
    expect(own).to_have_count(0)
    page.get_by_label("Table that is gauged").select_option("home.toml")
    expect(own).to_be_visible()
