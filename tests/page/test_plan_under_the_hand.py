"""What the hand does on the plan: drag, keys, touch, zoom, typed places, playback, aim."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from page.page_hand import SECONDS, middle, until
from web.running import Running

RADIUS = 26.25  # of a snooker ball: half of 52.5 mm, rules of the game [R]
LAPTOP = {"viewport": {"width": 1280, "height": 800}}


@pytest.fixture
def visit(chromium_browser: Browser, server: Running) -> Iterator[Callable[..., Page]]:
    """Opens the page in a browser with those options."""
    with ExitStack() as stack:

        def opened(**options: Any) -> Page:
            context = stack.enter_context(chromium_browser.new_context(**options))
            page = context.new_page()
            page.goto(server.start)
            page.wait_for_selector("#plan-ball-white", state="attached")
            page.wait_for_selector('[data-pocket="top right"]', state="attached")
            page.wait_for_selector(".page-strip svg", state="attached")
            page.wait_for_timeout(300)
            return page

        yield opened


@pytest.fixture
def page(visit: Callable[..., Page]) -> Iterator[Page]:
    """The page with its opening shot; whatever it says on the console is a failure."""
    one = visit(**LAPTOP)
    said: list[str] = []
    one.on("console", lambda message: said.append(message.text))
    one.on("pageerror", lambda error: said.append(str(error)))
    yield one
    assert said == []


def place(page: Page, ball: str) -> tuple[float, float]:
    """Where the fields under the plan say that the ball is, once they do. [mm]"""
    page.get_by_label("Ball", exact=True).select_option(ball)
    fields = page.locator(".place input")
    return float(fields.nth(0).input_value()), float(fields.nth(1).input_value())


def view_box(page: Page) -> list[float]:
    text = page.locator(".plan-picture").get_attribute("viewBox") or ""
    return [float(one) for one in text.split()]


def wait_for_place(page: Page, ball: str, expected: tuple[float, float]) -> None:
    for _ in range(SECONDS // 100):
        if place(page, ball) == pytest.approx(expected, abs=0.05):
            return
        page.wait_for_timeout(100)
    assert place(page, ball) == pytest.approx(expected, abs=0.05)


WATCH = """() => {
  window.seen = [];
  addEventListener('pointermove', (event) => {
    const box = document.getElementById('plan-ball-white').getBoundingClientRect();
    window.seen.push([event.clientX, event.clientY,
      box.x + box.width / 2, box.y + box.height / 2]);
  });
}"""


def test_the_ball_is_under_the_hand_before_the_event_is_over(page: Page) -> None:
    """The ball's mark is moved in the handling of the event itself, so in the same frame."""
    x, y = middle(page, "#plan-ball-white")
    page.mouse.move(x, y)
    page.mouse.down()
    page.evaluate(WATCH)
    for step in range(1, 11):
        page.mouse.move(x + 4 * step, y + 6 * step)
    page.mouse.up()
    seen = page.evaluate("window.seen")
    assert len(seen) >= 5
    for hand_x, hand_y, ball_x, ball_y in seen:
        assert math.hypot(hand_x - ball_x, hand_y - ball_y) < 2.0


def test_a_ball_goes_to_a_typed_place_and_undo_takes_it_back(page: Page) -> None:
    before = place(page, "white")
    page.get_by_label("From the left cushion, in millimetres").fill("300.4")
    page.keyboard.press("Enter")
    wait_for_place(page, "white", (300.4, before[1]))
    page.get_by_role("button", name="Undo").click()
    wait_for_place(page, "white", before)


def test_a_typed_place_inside_a_cushion_is_refused_and_the_nearest_taken(page: Page) -> None:
    """The nose is 7R/5 up [M], so it touches at R·√(1 − (2/5)²) from the centre in plan [X]."""
    nearest = f"{RADIUS * math.sqrt(1 - 0.4**2):.1f}"
    field = page.get_by_label("From the left cushion, in millimetres")
    field.fill("3")
    page.keyboard.press("Enter")
    expect(page.locator(".typed-refusal")).to_contain_text(f"Allowed: {nearest} to ")
    assert field.input_value() == "150"
    field.fill(nearest)
    page.keyboard.press("Enter")
    wait_for_place(page, "white", (float(nearest), 3050.0))


def test_put_and_balls_without_a_pointer(page: Page) -> None:
    put = page.get_by_role("button", name="Place it: the white")
    put.focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")  # the first entry: touching the nearest ball
    black = (600.0, 3060.0)
    expect(page.locator('[data-ball="white"]')).not_to_have_attribute(
        "aria-label", re.compile("150 mm"), timeout=SECONDS
    )
    white = place(page, "white")
    assert math.dist(white, black) == pytest.approx(2 * RADIUS, abs=0.1)


def test_a_ball_is_added_on_its_spot_and_removed(page: Page) -> None:
    page.get_by_role("button", name="Balls").click()
    page.get_by_role("button", name="Add the blue").click()
    expect(page.locator('[data-ball="blue"]')).to_have_count(1, timeout=SECONDS)
    assert place(page, "blue") == pytest.approx((889.0, 1784.5))  # the middle [X]
    page.get_by_role("button", name="Balls").click()
    page.get_by_role("button", name="Remove the blue").click()
    expect(page.locator('[data-ball="blue"]')).to_have_count(0, timeout=SECONDS)


def test_mirror_turns_places_and_pocket_round(page: Page) -> None:
    page.get_by_role("button", name="Balls").click()
    page.get_by_role("button", name="Mirror left and right").click()
    wait_for_place(page, "white", (1778.0 - 150.0, 3050.0))
    expect(page.locator(".page-panel")).to_contain_text("top left pocket", timeout=SECONDS)


def test_the_key_shows_every_pocket_and_a_press_pots_into_it(page: Page) -> None:
    pockets = page.locator(".key-pocket")
    expect(pockets).to_have_count(6)
    pockets.filter(has_text="middle right").locator(".grasp").click(force=True)
    expect(page.get_by_label("Pocket", exact=True)).to_have_value("middle right")


def test_wheel_and_keys_zoom_and_nought_frames_the_shot_again(page: Page) -> None:
    framed = view_box(page)
    x, y = middle(page, ".plan")
    page.mouse.move(x, y)
    page.mouse.wheel(0, 300)
    until(page, lambda: view_box(page)[2] > 1.2 * framed[2])
    page.wait_for_timeout(300)
    wide = view_box(page)
    page.locator('[data-ball="white"]').focus()
    page.keyboard.press("+")
    until(page, lambda: view_box(page)[2] < wide[2])
    page.keyboard.press("0")
    until(page, lambda: view_box(page) == pytest.approx(framed, rel=0.02))


def test_the_ground_is_dragged_by_as_much_as_the_hand(page: Page) -> None:
    left, top, width, _ = view_box(page)
    box = page.locator(".plan").bounding_box()
    assert box is not None
    x, y = box["x"] + 0.5 * box["width"], box["y"] + 0.93 * box["height"]
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 60, y - 30, steps=5)
    page.mouse.up()
    millimetre = box["width"] / width
    now = view_box(page)
    assert now[0] - left == pytest.approx(60 / millimetre, rel=0.05)
    assert now[1] - top == pytest.approx(30 / millimetre, rel=0.05)


def test_playback_puts_the_balls_where_the_phases_say(page: Page) -> None:
    """At 0.2 s the white rolls; its place is the polynomial's of its phase in the answer."""
    phases: list[dict[str, Any]] = page.evaluate(
        "async () => (await import('/client/modules/state.js')).answer.value.phases.white"
    )
    one = next(phase for phase in phases if phase["start"] <= 0.2 < phase["end"])
    assert one["motion"] == "rolling"
    t = 0.2 - one["start"]
    expected = [
        one["place"][i] + one["velocity"][i] * t + one["acceleration"][i] * t * t / 2
        for i in range(2)
    ]
    page.get_by_label("Moment of the shot").fill("0.2")
    moved = page.locator("#plan-ball-white").get_attribute("transform") or ""
    dx, dy = (float(number) for number in re.findall(r"-?\d+\.?\d*", moved))
    assert (150.0 + dx, 3050.0 - dy) == pytest.approx(expected, abs=0.01)
    expect(page.locator(".motion-marks .rolls")).to_have_count(1)
    page.get_by_label("Moment of the shot").fill("0.3")
    expect(page.locator(".motion-marks .slides")).to_have_count(2)  # both just after contact


def test_play_runs_in_real_time_and_pauses(page: Page) -> None:
    page.get_by_role("button", name="Play", exact=True).click()
    page.wait_for_timeout(700)
    page.get_by_role("button", name="Pause").click()
    shown = float(page.get_by_label("Moment of the shot").input_value())
    assert 0.4 < shown < 1.2
    page.wait_for_timeout(200)
    assert float(page.get_by_label("Moment of the shot").input_value()) == shown


def test_where_motion_is_reduced_playback_steps_from_event_to_event(
    visit: Callable[..., Page],
) -> None:
    page = visit(reduced_motion="reduce", **LAPTOP)
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_enabled(timeout=SECONDS)
    times = page.evaluate(
        "async () => (await import('/client/modules/state.js'))"
        ".answer.value.events.map((event) => event.time)"
    )
    page.get_by_role("button", name="Play", exact=True).click()
    page.wait_for_timeout(1300)
    shown = page.evaluate(
        "async () => (await import('/client/modules/playback.js')).playTime.value"
    )
    assert shown == times[1]


def test_an_event_that_is_pointed_at_is_shown_on_the_plan(page: Page) -> None:
    page.get_by_text("Events, moment by moment").click()
    page.get_by_role("button", name=re.compile("white meets black")).hover()
    expect(page.locator(".event-mark")).to_have_count(1)
    x, y = middle(page, ".event-mark")
    u, v = middle(page, "#plan-ghost")
    assert math.hypot(x - u, y - v) < 2.0


def test_the_aim_is_turned_by_hand_and_by_keys(page: Page) -> None:
    page.get_by_label("Aim by").select_option("aim")
    handle = page.locator(".aim-handle")
    expect(handle).to_be_visible(timeout=SECONDS)
    before = float(handle.get_attribute("aria-valuenow") or "nan")
    handle.focus()
    page.keyboard.press("ArrowUp")
    expect(handle).to_have_attribute("aria-valuenow", f"{before + 0.05:.2f}")
    x, y = middle(page, ".aim-ring")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 40, steps=4)
    page.mouse.up()
    turned = float(handle.get_attribute("aria-valuenow") or "nan")
    assert turned == pytest.approx(before - math.degrees(math.atan2(40, 150)), abs=1.0)


def test_page_keys_go_from_ball_to_ball(page: Page) -> None:
    page.locator('[data-ball="white"]').focus()
    page.keyboard.press("PageUp")
    expect(page.locator('[data-ball="black"]')).to_be_focused()
    page.keyboard.press("Shift+ArrowRight")
    wait_for_place(page, "black", (610.0, 3060.0))


@pytest.fixture
def touched(visit: Callable[..., Page]) -> tuple[Page, Any]:
    page = visit(viewport={"width": 820, "height": 1180}, has_touch=True, is_mobile=True)
    return page, page.context.new_cdp_session(page)


def _touch(session: Any, kind: str, *points: tuple[float, float]) -> None:
    session.send(
        "Input.dispatchTouchEvent",
        {
            "type": kind,
            "touchPoints": [{"x": x, "y": y, "id": i} for i, (x, y) in enumerate(points)],
        },
    )


def test_a_finger_beside_the_ball_takes_hold_of_it_and_sees_it_in_the_loupe(touched: Any) -> None:
    page, session = touched
    x, y = middle(page, "#plan-ball-white")
    start = place(page, "white")
    _touch(session, "touchStart", (x + 18, y))  # beyond the ball, within the halo of 22 px
    for step in range(1, 9):
        _touch(session, "touchMove", (x + 18 + 5 * step, y + 5 * step))
    expect(page.locator(".loupe")).to_be_visible()
    box = page.locator(".loupe").bounding_box()
    assert box is not None
    assert box["y"] + box["height"] < y + 40 - 20  # clear of the finger
    _touch(session, "touchEnd")
    expect(page.locator(".loupe")).to_have_count(0)
    page.wait_for_timeout(500)
    now = place(page, "white")
    assert now[0] > start[0] + 20
    assert now[1] < start[1] - 20


def test_two_fingers_zoom(touched: Any) -> None:
    page, session = touched
    x, y = middle(page, ".plan")
    before = view_box(page)[2]
    _touch(session, "touchStart", (x - 40, y + 200), (x + 40, y + 200))
    for step in range(1, 9):
        _touch(session, "touchMove", (x - 40 - 8 * step, y + 200), (x + 40 + 8 * step, y + 200))
    _touch(session, "touchEnd")
    until(page, lambda: view_box(page)[2] == pytest.approx(before * 80 / 208, rel=0.15))
