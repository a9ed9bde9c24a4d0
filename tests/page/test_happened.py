"""What really happened: told by a tap and by keyboard, and the stroke told back, in a browser."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from page.page_hand import set_number, until
from page.test_maps import STUDY, document, open_red, pictured, press, unfold

__all__ = ["open_red"]  # the fixture


def test_a_tap_tells_where_it_ended_and_the_stroke_is_told_back(open_red: Page) -> None:
    page = open_red
    unfold(page, "happened")
    fold = page.locator(".happened")
    fold.get_by_role("button", name="Tap it").first.click()
    sheet = page.locator(".happened-tap rect")
    box = sheet.bounding_box()
    assert box is not None
    sheet.click(position={"x": 0.4 * box["width"], "y": 0.55 * box["height"]})
    expect(sheet).to_have_count(0)
    tapped = document(page)["played"]["white_rest"]
    expect(page.get_by_label("the white was seen at rest here")).to_have_count(1)
    # The same by keyboard, and what became of the pot.
    set_number(page, "The white ended, from the left, in millimetres", f"{tapped[0] + 5}")
    fold.get_by_label("The pot").select_option("potted")
    until(page, lambda: document(page)["played"].get("potted") is not None)
    assert document(page)["played"]["white_rest"] == [tapped[0] + 5, tapped[1]]
    press(page, "Tell the stroke")
    expect(fold.locator(".forgives-told .sentence")).to_be_visible(timeout=STUDY)
    assert fold.locator(".forgives-told tbody th, .forgives-told tbody tr").count() == 4
    assert page.locator(".happened-layer *").count() > 2
    pictured(page, "happened", "happened")
    page.set_viewport_size({"width": 390, "height": 844})
    pictured(page, "happened-narrow", "happened")
