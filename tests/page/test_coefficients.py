"""The coefficients of table and cloth, typed on the page and checked by the server."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from page.page_hand import SECONDS, paths, set_number, until
from stunline.tasks.read_position import read_position
from web.running import Running

SLIDING = "Sliding friction, 0.02 to 1"
ROLLING = "Rolling resistance, 0.002 to 1"


def opened(page: Page) -> None:
    page.locator(".cloth-numbers summary").click()


def row(page: Page, words: str) -> str:
    return page.locator(".coefficient", has_text=words).inner_text()


def test_the_profile_s_numbers_stand_there_with_how_they_are_known(page: Page) -> None:
    """[S] The match cloth of the snooker table: 0.2, 10 rad/s², from its data file."""
    opened(page)
    assert page.get_by_label(SLIDING, exact=True).input_value() == "0.2"
    assert "published" in row(page, "sliding friction")
    assert "from memory" in row(page, "spin deceleration")
    assert "rad/s²" in row(page, "spin deceleration")
    page.locator("summary", has_text="Table, cloth").click()
    page.get_by_label("Cloth", exact=True).select_option("worn")
    until(page, lambda: "assumed" in row(page, "sliding friction"))
    assert page.get_by_label(SLIDING, exact=True).input_value() == "0.17"
    expect(page.locator(".cloth-numbers")).to_contain_text("Nobody has measured this table")


def test_a_coefficient_is_the_position_s_own_is_saved_and_taken_back(
    page: Page, server: Running
) -> None:
    opened(page)
    before = paths(page)
    set_number(page, SLIDING, "0.15")
    until(page, lambda: paths(page) != before)
    assert "own" in row(page, "sliding friction")
    expect(page.locator(".file-state")).to_contain_text("· saved", timeout=SECONDS)
    kept = read_position(str(server.folder / "edge-of-the-pack.toml")).file
    assert kept.position.coefficients.sliding_friction == 0.15
    page.get_by_role("button", name="Undo", exact=True).click()
    until(page, lambda: paths(page) == before)
    assert page.get_by_label(SLIDING, exact=True).input_value() == "0.2"
    page.get_by_role("button", name="Redo", exact=True).click()
    page.get_by_role("button", name="sliding friction as the cloth has it, 0.2").click()
    until(page, lambda: paths(page) == before)
    assert "published" in row(page, "sliding friction")
    expect(page.locator(".own-count")).to_have_count(0)


def test_what_is_out_of_bounds_is_refused_by_the_server_in_words(page: Page) -> None:
    opened(page)
    set_number(page, SLIDING, "1.4")
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("sliding friction", timeout=SECONDS)
    expect(alert).to_contain_text("1.4")
    page.get_by_role("button", name="Undo", exact=True).click()
    expect(alert).to_have_count(0, timeout=SECONDS)
    set_number(page, ROLLING, "0.0005")  # less than a page may ask for
    expect(alert).to_contain_text("0.002", timeout=SECONDS)
    assert page.locator("[data-ball='white']").count() == 1
    page.get_by_role("button", name="Undo", exact=True).click()
    expect(page.locator(".sentence")).to_contain_text("black", timeout=SECONDS)


def test_ball_friction_is_a_law_or_a_constant(page: Page) -> None:
    opened(page)
    how = page.get_by_label("How the ball friction is given", exact=True)
    how.select_option("number")
    number = page.get_by_label(re.compile(r"^Ball friction, "))
    assert number.input_value() == "0.06"
    before = paths(page)
    number.fill("0.12")
    number.press("Enter")
    until(page, lambda: paths(page) != before)
    how.select_option("law")
    expect(number).to_have_count(0)
    assert "own" not in row(page, "ball friction")


def test_pockets_can_be_closed(page: Page) -> None:
    opened(page)
    page.get_by_label("pockets").set_checked(False)
    expect(page.get_by_role("alert")).to_be_visible(timeout=SECONDS)  # nothing can be potted
    page.get_by_role("button", name="All as the cloth has them").click()
    expect(page.locator(".sentence")).to_contain_text("top right", timeout=SECONDS)
