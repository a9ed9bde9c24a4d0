"""The pack opened many times from the page: run, watched as it grows, stopped."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from page.page_hand import SECONDS, set_number, until
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks.document import document_of
from stunline.tasks.page_pack import PackWish, open_pack_of_document
from web.running import Running


def opened(page: Page, racks: int) -> None:
    """The fold open, with so many racks to be played."""
    page.locator(".pack-study summary").click()
    set_number(page, "Number of racks", str(racks))


def table(page: Page) -> list[list[str]]:
    """Its columns, each from its name down."""
    rows = page.locator(".pack-table tr")
    cells = [
        [cell.inner_text() for cell in rows.nth(k).locator("th, td").all()]
        for k in range(rows.count())
    ]
    return [list(column) for column in zip(*cells, strict=True)][1:]


def test_packs_are_opened_and_told_as_the_library_does(page: Page, server: Running) -> None:
    opened(page, 300)
    page.get_by_role("button", name="Open 300 packs").click()
    expect(page.locator(".pack-state")).to_contain_text("300 of 300 racks", timeout=SECONDS)
    until(page, lambda: page.locator(".pack-ends circle").count() == 300)
    kept: list[dict[str, Any]] = []
    text = shipped_position_path("edge-of-the-pack").read_text(encoding="utf-8")
    open_pack_of_document(
        document_of(text),
        PackWish(0.2, 300),
        Path(server.folder),
        lambda words, done, growing: kept.append(growing),
    )
    assert table(page) == kept[-1]["rows"]
    expect(page.locator(".pack-study")).to_contain_text(kept[-1]["rest"])
    first = page.locator(".pack-ends circle").first
    assert float(first.get_attribute("cx") or "nan") == kept[-1]["ends"][0][0]


def test_a_run_is_watched_and_stopped_and_what_was_played_stays(page: Page) -> None:
    opened(page, 20_000)
    page.get_by_role("button", name="Open 20,000 packs").click()
    page.locator(".pack-table").wait_for(timeout=SECONDS)
    page.get_by_role("button", name="Stop", exact=True).click()
    expect(page.locator(".pack-state")).to_contain_text("Stopped:", timeout=SECONDS)
    (plays, *_) = [column[1] for column in table(page)]
    assert 0 < int(plays.replace(",", "")) < 20_000
    expect(page.get_by_role("button", name="Open 20,000 packs")).to_be_visible()


def test_another_position_takes_the_ends_away(page: Page) -> None:
    opened(page, 100)
    page.get_by_role("button", name="Open 100 packs").click()
    until(page, lambda: page.locator(".pack-ends circle").count() == 100)
    set_number(page, "Pace, in metres a second", "2.4")
    until(page, lambda: page.locator(".pack-ends circle").count() == 0)
    expect(page.locator(".pack-state")).to_contain_text("Of the position as it was")
    page.get_by_role("button", name="Undo", exact=True).click()
    until(page, lambda: page.locator(".pack-ends circle").count() == 100)
