"""The pace strip: bands, the handle, hovering, pins."""

from __future__ import annotations

import tomllib

import pytest
from playwright.sync_api import Page, expect

from page.page_hand import SECONDS, band_edges, paths, set_number, slider, slider_words, until
from page.wire import Wire
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks.live_strip import live_strip


def band(page: Page, words: str) -> tuple[float, float]:
    """The middle of the band with these words, on the screen."""
    text = page.locator(".ruler-picture text", has_text=words).first
    name = (text.get_attribute("id") or "").removesuffix("-words")
    box = page.locator(f"[id='{name}']").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def stop_inside(page: Page, words: str) -> None:
    """Takes the pace in the middle of that band."""
    page.mouse.move(*band(page, words))
    page.mouse.down()
    page.mouse.up()
    until(page, lambda: slider_words(page, "Pace").endswith(words))


def test_the_bands_are_the_library_s(page: Page) -> None:
    document = tomllib.loads(shipped_position_path("edge-of-the-pack").read_text())
    strip = live_strip({"play": 1, "document": document, "strip": "pace", "strip_width": 1232})
    assert strip is not None
    shown = page.locator(".ruler-picture svg desc").text_content(timeout=SECONDS) or ""
    for one in strip["bands"]:
        assert f"{one['start']:.2f} to {one['end']:.2f} m/s: {one['words']}" in shown


def test_stopping_inside_a_band_is_playing_what_it_says(page: Page) -> None:
    x, y = band(page, "red 4")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.up()
    until(page, lambda: slider_words(page, "Pace").endswith(", red 4"))
    expect(page.locator(".sentence")).to_contain_text("red 4", timeout=SECONDS)


def test_dragging_the_pace_is_one_step_of_undo(page: Page) -> None:
    x, y = band(page, "red 4")
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(10):
        page.mouse.move(x + 6 * step, y)
    page.mouse.up()
    until(page, lambda: slider(page, "Pace") > 2.2)
    page.get_by_role("button", name="Undo", exact=True).click()
    until(page, lambda: slider(page, "Pace") == 1.7)


def test_hovering_shows_that_path_and_leaves_no_trace(settled: Page) -> None:
    page = settled
    before = paths(page)
    page.mouse.move(*band(page, "red 1"))
    until(page, lambda: paths(page) != before)
    assert slider(page, "Pace") == 1.7
    page.mouse.move(400, 200)
    until(page, lambda: paths(page) == before)
    expect(page.get_by_role("button", name="Undo", exact=True)).to_be_disabled()


def test_keys_move_the_pace_and_walk_through_the_bands(page: Page) -> None:
    page.get_by_role("slider", name="Pace", exact=True).focus()
    page.keyboard.press("ArrowRight")
    until(page, lambda: slider(page, "Pace") == pytest.approx(1.72))
    page.keyboard.press("PageUp")
    until(page, lambda: slider_words(page, "Pace").endswith(", red 4"))
    page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    until(page, lambda: slider_words(page, "Pace").endswith(", red 11"))


def test_lowering_the_tip_moves_the_bands(page: Page) -> None:
    before = band_edges(page)
    page.get_by_role("slider", name="Contact point on the white").focus()
    page.keyboard.press("Shift+ArrowDown")
    until(page, lambda: band_edges(page) != before)
    assert slider(page, "Contact point on the white") == 8.5


def test_the_strip_by_height_sets_the_height(page: Page) -> None:
    page.get_by_role("button", name="By height").click()
    height = page.get_by_role("slider", name="Height", exact=True)
    expect(height).to_be_visible(timeout=SECONDS)
    height.focus()
    page.keyboard.press("Home")
    until(page, lambda: slider(page, "Contact point on the white") < -13)


def test_lengths_can_be_typed(page: Page) -> None:
    """[X] The pace for a length is the other field's, whatever the table."""
    lengths = page.get_by_label("Pace, in lengths of the table", exact=True)
    lengths.fill("2")
    lengths.press("Enter")
    until(page, lambda: slider(page, "Pace") > 2.2)
    assert float(lengths.input_value()) == pytest.approx(2.0, abs=0.01)


def test_three_pinned_paces_are_a_ladder(page: Page) -> None:
    for words in ("red 11", "red 4", "red 2"):
        page.locator(".ruler-picture text", has_text=words).first.wait_for()
        stop_inside(page, words)
        page.get_by_role("button", name="Pin", exact=True).click()
    expect(page.locator(".pins li")).to_have_count(3)
    expect(page.locator(".pins li").nth(0)).to_contain_text("red 11", timeout=SECONDS)
    expect(page.locator(".ruler-picture circle[id^='strip-mark-']")).to_have_count(
        3, timeout=SECONDS
    )
    page.locator(".pins .take").first.click()
    until(page, lambda: slider_words(page, "Pace").endswith("red 11"))
    page.get_by_role("button", name="Unpin all").click()
    expect(page.locator(".pins li")).to_have_count(0)


def test_a_hidden_answer_is_not_told_by_the_strip(page: Page) -> None:
    page.get_by_role("button", name="Hide the answer").click()
    expect(page.locator(".ruler-picture")).not_to_contain_text("red 7", timeout=SECONDS)
    assert "red" not in slider_words(page, "Pace")


COUNTED = """() => {
    window.sent = [];
    const send = WebSocket.prototype.send;
    WebSocket.prototype.send = function (text) {
        window.sent.push(JSON.parse(text));
        return send.call(this, text);
    };
}"""


def sent(page: Page) -> tuple[int, int]:
    """How many plays, and how many of them with a strip, have left for the server.

    Moves that come faster than answers leave as one play, so a slow machine sends fewer.
    """
    page.wait_for_timeout(600)
    plays, strips = page.evaluate(
        "() => [window.sent.length, window.sent.filter((one) => one.strip !== null).length]"
    )
    return int(plays), int(strips)


def test_the_strip_is_asked_for_only_when_something_else_than_the_pace_moves(page: Page) -> None:
    page.wait_for_timeout(600)
    page.evaluate(COUNTED)
    picture = page.locator(".ruler-picture svg").inner_html()
    page.get_by_role("slider", name="Pace", exact=True).focus()
    for _ in range(8):
        page.keyboard.press("Shift+ArrowRight")
    until(page, lambda: slider(page, "Pace") == pytest.approx(2.5))
    x, y = band(page, "red 4")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 20, y)
    page.mouse.up()
    set_number(page, "Pace, in lengths of the table", "1.5")
    plays, strips = sent(page)
    assert plays >= 1
    assert strips == 0
    assert [one for one in band_edges(page) if one not in picture] == []
    page.get_by_role("slider", name="Contact point on the white").press("ArrowDown")
    until(page, lambda: page.locator(".ruler-picture svg").inner_html() != picture)
    assert sent(page)[1] == 1


def test_a_pace_beyond_the_ruler_brings_a_longer_one(settled: Page) -> None:
    page = settled
    page.evaluate(COUNTED)
    set_number(page, "Pace, in metres a second", "5.2")
    mark = page.get_by_role("slider", name="Pace", exact=True)
    expect(mark).to_have_attribute("aria-valuemax", "6", timeout=SECONDS)
    set_number(page, "Pace, in metres a second", "5.4")
    assert sent(page)[1] == 1
    set_number(page, "Pace, in metres a second", "1.7")
    page.get_by_role("slider", name="Contact point on the white").press("ArrowDown")
    expect(mark).to_have_attribute("aria-valuemax", "4", timeout=SECONDS)
    set_number(page, "Pace, in metres a second", "5.2")
    expect(mark).to_have_attribute("aria-valuemax", "6", timeout=SECONDS)


HELD_BACK = """() => {
    window.heldBack = null;
    window.WebSocket = class extends WebSocket {
        set onmessage(take) {
            super.onmessage = (message) => {
                const isStrip = JSON.parse(message.data).strip !== undefined;
                if (window.heldBack && isStrip) window.heldBack.push(() => take(message));
                else take(message);
            };
        }
    };
}"""


@pytest.fixture
def slow_strips(page: Page, wires: list[Wire]) -> Page:
    """The page, with strips that arrive only when a test lets them."""
    page.add_init_script(f"({HELD_BACK})()")
    wires[0].forget()
    page.reload()
    page.wait_for_selector(".ruler-picture svg")
    wires[0].settled()
    page.evaluate("() => { window.heldBack = []; }")
    return page


def lowered(page: Page, waiting: int) -> None:
    """Half a millimetre lower; then so many strips wait to be let in."""
    page.get_by_role("slider", name="Contact point on the white").press("ArrowDown")
    until(page, lambda: page.evaluate("() => window.heldBack.length") == waiting)


def let_in(page: Page, number: int) -> list[str]:
    """The bands after the strip that came at that place is let in."""
    page.evaluate("(number) => window.heldBack[number]()", number)
    page.wait_for_timeout(100)
    return band_edges(page)


def test_an_older_strip_that_comes_late_does_not_replace_the_newest(slow_strips: Page) -> None:
    page = slow_strips
    first = band_edges(page)
    lowered(page, 1)
    lowered(page, 2)
    newest = let_in(page, 1)
    assert newest != first
    assert let_in(page, 0) == newest


def test_an_older_strip_stands_in_and_the_newest_still_counts(slow_strips: Page) -> None:
    """While something is dragged the bands follow, but only the last ones are waited for."""
    page = slow_strips
    first = band_edges(page)
    lowered(page, 1)
    lowered(page, 2)
    between = let_in(page, 0)
    newest = let_in(page, 1)
    assert first != between != newest
    page.evaluate("() => { window.heldBack = null; }")
    page.evaluate(COUNTED)
    page.get_by_role("slider", name="Pace", exact=True).press("ArrowRight")
    assert sent(page)[1] == 0


def test_an_older_strip_never_tells_what_is_hidden(slow_strips: Page) -> None:
    page = slow_strips
    lowered(page, 1)
    page.get_by_role("button", name="Hide the answer").click()
    until(page, lambda: page.evaluate("() => window.heldBack.length") == 2)
    let_in(page, 1)
    expect(page.locator(".ruler-picture")).not_to_contain_text("red 7")
    let_in(page, 0)
    expect(page.locator(".ruler-picture")).not_to_contain_text("red 7")


def test_bands_of_a_shot_that_can_no_longer_be_played_are_shown_as_old(page: Page) -> None:
    """Red 5 stands inside the pack, where the white cannot come to it."""
    ruler = page.locator("div.ruler")
    expect(ruler).not_to_have_attribute("data-old", "")
    page.get_by_label("Aim by", exact=True).select_option("contact")
    page.get_by_label("Object ball", exact=True).select_option("red5")
    expect(page.get_by_role("alert")).to_be_visible(timeout=SECONDS)
    expect(ruler).to_have_attribute("data-old", "", timeout=SECONDS)
    expect(page.locator(".strip-says")).to_have_text("of the last shot that could be played")
    assert "," not in slider_words(page, "Pace")  # no band is named
    expect(page.locator(".ruler-picture .is-current")).to_have_count(0)
    page.get_by_role("button", name="Undo", exact=True).click()
    page.get_by_role("button", name="Undo", exact=True).click()
    expect(ruler).not_to_have_attribute("data-old", "", timeout=SECONDS)
    until(page, lambda: "," in slider_words(page, "Pace"))


def test_bands_of_a_pot_that_can_not_be_made_are_the_library_s(settled: Page) -> None:
    """The strip in hand stays when the pace alone is moved: it must be that pace's own, too."""
    page = settled
    page.evaluate(COUNTED)
    set_number(page, "Pace, in metres a second", "0.45")
    expect(page.get_by_role("alert")).to_be_visible(timeout=SECONDS)
    document = tomllib.loads(shipped_position_path("edge-of-the-pack").read_text())
    document["strike"]["pace"] = 0.45
    strip = live_strip({"play": 1, "document": document, "strip": "pace", "strip_width": 1232})
    assert strip is not None
    shown = page.locator(".ruler-picture svg desc").text_content(timeout=SECONDS) or ""
    for one in strip["bands"]:
        assert f"{one['start']:.2f} to {one['end']:.2f} m/s: {one['words']}" in shown
    assert sent(page)[1] == 0
