"""Files from the page: library, saving, conflicts, links, dropped files, exports."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from page.page_hand import SECONDS, set_number, slider, until
from stunline.tasks.read_position import read_position
from web.running import Running

HEIGHT = "Height above centre, in millimetres"
DROPPED = """\
title = "Blue over the middle"
table = "snooker-12ft"
[balls]
white = [600.0, 1500.0]
blue = "blue"
[strike]
contact = { ball = "blue", thickness = "half", on = "left" }
pace = 1.2
"""


def saved(page: Page) -> None:
    expect(page.locator(".file-state")).to_contain_text("· saved", timeout=SECONDS)


def drop(page: Page, name: str, text: str) -> None:
    page.evaluate(
        """([name, text]) => {
            const data = new DataTransfer();
            data.items.add(new File([text], name));
            dispatchEvent(new DragEvent('drop', { dataTransfer: data, cancelable: true }));
        }""",
        [name, text],
    )


def open_library(page: Page) -> None:
    page.get_by_role("button", name="Open", exact=True).click()
    page.locator(".shelf li").first.wait_for()


def test_a_change_saves_itself_into_the_library(page: Page, server: Running) -> None:
    set_number(page, HEIGHT, "2.5")
    saved(page)
    file = read_position(str(server.folder / "edge-of-the-pack.toml")).file
    assert file.plan.height == pytest.approx(0.0025)


def test_the_library_lists_searches_and_opens(page: Page) -> None:
    open_library(page)
    assert page.locator(".shelf img").first.evaluate(
        "one => one.complete || one.loading === 'lazy'"
    )
    page.get_by_label("Search names and titles").fill("screw between")
    expect(page.locator(".shelf li")).to_have_count(1, timeout=SECONDS)
    page.locator(".shelf .entry").click()
    expect(page.get_by_label("Title of the position")).to_have_value(
        re.compile("Screw"), timeout=SECONDS
    )


def test_duplicate_rename_delete_and_undo(page: Page, server: Running) -> None:
    open_library(page)
    page.get_by_role("button", name="Duplicate Red, two cushions, yellow").click()
    until(page, lambda: len(list(server.folder.glob("*.toml"))) == 1)
    page.get_by_role("button", name="Rename Red, two cushions, yellow").click()
    page.get_by_label("New name of").fill("two cushions")
    page.keyboard.press("Enter")
    until(page, lambda: (server.folder / "two cushions.toml").exists())
    page.get_by_role("button", name="Delete Red, two cushions, yellow").click()
    until(page, lambda: not (server.folder / "two cushions.toml").exists())
    page.locator(".notices").get_by_role("button", name="Undo").click()
    until(page, lambda: (server.folder / "two cushions.toml").exists())


def focused_row(page: Page) -> str:
    """The title of the shelf's position that has the keyboard's focus; "" when none has."""
    row: str = page.evaluate(
        "document.activeElement.closest('.shelf .entry')?.querySelector('strong').textContent ?? ''"
    )
    return row


def test_the_focus_stays_in_the_row_that_is_renamed_and_near_one_that_is_deleted(
    page: Page, server: Running
) -> None:
    open_library(page)
    page.get_by_role("button", name="Duplicate Red, two cushions, yellow").click()
    rename = page.get_by_role("button", name="Rename Red, two cushions, yellow")
    rename.focus()
    page.keyboard.press("Enter")
    page.get_by_label("New name of").fill("zigzag")
    page.keyboard.press("Enter")
    until(page, lambda: (server.folder / "zigzag.toml").exists())
    until(page, lambda: focused_row(page).startswith("Red, two cushions"))
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Rename"
    page.keyboard.press("Enter")
    expect(page.get_by_label("New name of")).to_have_value("zigzag")
    page.keyboard.press("Escape")
    until(page, lambda: focused_row(page).startswith("Red, two cushions"))
    assert page.locator(".library").count() == 1
    page.get_by_role("button", name="Delete Red, two cushions").focus()
    page.keyboard.press("Enter")
    until(page, lambda: not (server.folder / "zigzag.toml").exists())
    until(page, lambda: focused_row(page) != "")


def test_escape_closes_the_library_and_the_focus_comes_back(page: Page) -> None:
    open_library(page)
    page.keyboard.press("Escape")
    expect(page.locator(".library")).to_have_count(0)
    assert page.evaluate("document.activeElement.textContent") == "Open"


def test_a_dropped_file_becomes_a_new_position(page: Page, server: Running) -> None:
    drop(page, "blue.toml", DROPPED)
    expect(page.get_by_label("Title of the position")).to_have_value(
        "Blue over the middle", timeout=SECONDS
    )
    until(page, lambda: (server.folder / "blue-over-the-middle.toml").exists())
    drop(page, "blue.toml", DROPPED)
    until(page, lambda: (server.folder / "blue-over-the-middle-2.toml").exists())


def test_a_file_out_of_order_is_refused_in_a_sentence(
    page: Page, server: Running, console: list[str]
) -> None:
    drop(page, "bad.toml", DROPPED.replace("pace = 1.2", "pace = -3"))
    expect(page.locator(".notices")).to_contain_text("Nothing was brought in", timeout=SECONDS)
    assert "{" not in page.locator(".notices").inner_text()
    assert list(server.folder.glob("*.toml")) == []
    assert "422" in console.pop()  # browsers write down every refusal themselves


def test_a_link_holds_the_position_and_never_overwrites(page: Page, server: Running) -> None:
    set_number(page, HEIGHT, "-3.5")
    saved(page)
    before = (server.folder / "edge-of-the-pack.toml").read_bytes()
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Export", exact=True).click()
    page.get_by_role("button", name="Copy a link").click()
    expect(page.locator(".notices")).to_contain_text("link is copied", timeout=SECONDS)
    link = page.evaluate("navigator.clipboard.readText()")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Centre", exact=True).click()
    until(page, lambda: slider(page, "Contact point on the white") == 0)
    saved(page)
    page.evaluate("link => { location.hash = new URL(link).hash }", link)
    until(page, lambda: slider(page, "Contact point on the white") == -3.5)
    assert page.evaluate("location.hash") == ""
    until(page, lambda: len(list(server.folder.glob("*.toml"))) == 2)
    kept = (server.folder / "edge-of-the-pack.toml").read_bytes()
    assert kept != before  # the centre, which was saved after the link was made
    assert b"-3.5" not in kept


def test_a_broken_link_is_refused(page: Page) -> None:
    page.evaluate("location.hash = '#position=abc'")
    expect(page.locator(".notices")).to_contain_text("The link is not whole", timeout=SECONDS)


def test_a_file_changed_elsewhere_is_kept_beside_mine(
    page: Page, server: Running, console: list[str]
) -> None:
    set_number(page, HEIGHT, "4")
    saved(page)
    path = server.folder / "edge-of-the-pack.toml"
    elsewhere = path.read_text().replace("pace = 1.7", "pace = 2.6")
    path.write_text(elsewhere)
    set_number(page, HEIGHT, "6")
    expect(page.locator(".notices")).to_contain_text("Both are kept", timeout=SECONDS)
    assert "409" in console.pop()  # browsers write down every refusal themselves
    assert path.read_text() == elsewhere
    others = [one for one in server.folder.glob("*.toml") if one != path]
    assert len(others) == 1
    assert read_position(str(others[0])).file.plan.height == pytest.approx(0.006)
    page.get_by_role("button", name="Open the other").click()
    until(page, lambda: slider(page, "Pace") == 2.6)


def test_a_file_changed_elsewhere_is_shown_when_the_page_is_looked_at_again(
    page: Page, server: Running
) -> None:
    set_number(page, HEIGHT, "4")
    saved(page)
    path = server.folder / "edge-of-the-pack.toml"
    path.write_text(path.read_text().replace("pace = 1.7", "pace = 2.6"))
    page.evaluate("dispatchEvent(new Event('focus'))")
    until(page, lambda: slider(page, "Pace") == 2.6)
    expect(page.locator(".notices")).to_contain_text("changed elsewhere")


@pytest.mark.parametrize(
    ("button", "begins"),
    [("Plan as SVG", b"<svg"), ("Plan as PNG", b"\x89PNG"), ("Full size", b"%PDF-")],
)
def test_exports(page: Page, tmp_path: Path, button: str, begins: bytes) -> None:
    page.get_by_role("button", name="Export", exact=True).click()
    with page.expect_download(timeout=60_000) as waiting:
        page.locator(".print-kinds").get_by_role("button", name=button, exact=True).click()
    target = tmp_path / "file"
    waiting.value.save_as(target)
    assert target.read_bytes().lstrip().startswith(begins)


def test_the_layout_and_the_colours_are_kept(
    chromium_browser: Browser, page: Page, server: Running
) -> None:
    page.keyboard.press("?")
    page.get_by_role("button", name="On the left", exact=True).click()
    page.get_by_role("button", name="Dark", exact=True).click()
    assert page.evaluate("document.documentElement.dataset.theme") == "dark"
    page.wait_for_timeout(900)
    page.reload()
    page.wait_for_selector("#plan-layer-paths", state="attached")
    assert page.evaluate("document.documentElement.dataset.theme") == "dark"
    panel, plan = page.locator(".page-panel"), page.locator(".page-plan")
    left, right = panel.bounding_box(), plan.bounding_box()
    assert left is not None
    assert right is not None
    assert left["x"] < right["x"]


def test_pinned_strikes_are_there_after_a_reload(page: Page) -> None:
    page.get_by_role("button", name="Pin", exact=True).click()
    expect(page.locator(".pins li")).to_have_count(1)
    saved(page)
    page.wait_for_timeout(900)
    page.reload()
    expect(page.locator(".pins li")).to_have_count(1, timeout=SECONDS)
