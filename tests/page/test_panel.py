"""The strike beside the plan: face, arrival, aim, and what happens."""

from __future__ import annotations

import math
import re

import pytest
from playwright.sync_api import Page, expect

from page.page_hand import SECONDS, drag_by, place, set_number, slider, slider_words, until
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import read_position
from web.running import Running

FACE = "Contact point on the white"
HEIGHT = "Height above centre, in millimetres"
SIDE = "Side, right of centre, in millimetres"
RADIUS = 26.25  # of a snooker ball [mm] [X] half of 52.5 mm
MISCUE = RADIUS / 2  # [X] a position file's limit, half the radius


def test_stun_solves_the_height(page: Page) -> None:
    """The arrival said to be stun is stun: no follow left, and the height is below centre."""
    page.get_by_role("button", name="Stun", exact=True).click()
    until(page, lambda: slider(page, FACE) < 0)
    until(page, lambda: abs(slider(page, "Arrival, from screw to rolling")) < 0.005)
    expect(page.get_by_role("button", name="Stun", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )


@pytest.mark.parametrize(("name", "above"), [("Max follow", True), ("Max screw", False)])
def test_the_usual_extremes_stay_short_of_a_miscue(page: Page, name: str, above: bool) -> None:
    page.get_by_role("button", name=name, exact=True).click()
    until(page, lambda: (slider(page, FACE) > 10.6) if above else (slider(page, FACE) < -10.0))
    assert abs(slider(page, FACE)) < MISCUE


def test_the_face_is_dragged_and_its_limit_is_a_wall(page: Page) -> None:
    """Pulled far out of the ball the contact stays on the limit, in the direction of the hand."""
    drag_by(page, ".face", 0, -400)
    until(page, lambda: slider(page, FACE) > 12)
    assert slider(page, FACE) <= MISCUE
    page.keyboard.press("Control+z")
    until(page, lambda: slider(page, FACE) == 10.5)


def test_arrow_keys_move_the_contact_by_half_a_millimetre(page: Page) -> None:
    page.get_by_role("slider", name=FACE).focus()
    page.keyboard.press("ArrowDown")
    until(page, lambda: slider(page, FACE) == 10.0)
    page.keyboard.press("ArrowRight")
    until(page, lambda: slider_words(page, FACE) == "10 mm above, 0.5 mm right")
    page.keyboard.press("Shift+ArrowDown")
    until(page, lambda: slider(page, FACE) == 8.0)


def test_typed_height_side_and_elevation_are_struck(page: Page) -> None:
    set_number(page, HEIGHT, "-4.5")
    set_number(page, SIDE, "3")
    set_number(page, "Elevation of the cue, in degrees", "5")
    until(page, lambda: slider_words(page, FACE) == "4.5 mm below, 3 mm right")
    expect(page.locator(".sentence")).to_be_visible()
    page.locator("summary", has_text="All numbers").click()
    expect(page.locator(".happens")).to_contain_text("4.5 mm below centre", timeout=SECONDS)


def test_escape_puts_a_typed_number_back(page: Page) -> None:
    field = page.get_by_label(HEIGHT, exact=True)
    field.fill("3")
    field.press("Escape")
    assert field.input_value() == "10.5"
    assert slider(page, FACE) == 10.5


def said_beside(page: Page) -> str:
    """Why the number that was typed last was not taken."""
    return page.locator(".typed-refusal").inner_text()


def test_a_number_that_is_not_allowed_is_refused_in_words(page: Page) -> None:
    """[X] Limits of a position file: a pace of 0.02 to 15 m/s, half the radius for the contact."""
    pace = page.get_by_label("Pace, in metres a second", exact=True)
    set_number(page, "Pace, in metres a second", "99")
    assert "99 m/s" in said_beside(page)
    assert "0.02 to 15 m/s" in said_beside(page)
    assert pace.input_value() == "1.7"
    set_number(page, HEIGHT, "-20")
    assert "slip off" in said_beside(page)
    assert "13.1 mm" in said_beside(page)  # 13.125, cut short
    expect(page.get_by_role("button", name="Undo", exact=True)).to_be_disabled()
    page.keyboard.press("Escape")
    expect(page.locator(".typed-refusal")).to_have_count(0)
    assert slider(page, FACE) == 10.5


def test_a_typed_place_off_the_table_or_on_a_ball_is_refused(page: Page) -> None:
    """[X] The ball touches the nose R·√(1 − (h/R − 1)²) away, h the height of the nose."""
    table = read_position("edge-of-the-pack").file.position.table
    nose = 1000 * table.nose_height / RADIUS - 1
    least = RADIUS * math.sqrt(1 - nose * nose)
    before = place(page, "white")
    for typed in ("3700", "-5"):
        set_number(page, "From the baulk cushion, in millimetres", typed)
        low, high = map(float, re.findall(r"([\d.]+) to ([\d.]+) mm", said_beside(page))[0])
        assert low == pytest.approx(least, abs=0.1)
        assert high == pytest.approx(1000 * table.length - least, abs=0.1)
    set_number(page, "From the left cushion, in millimetres", f"{place(page, 'black')[0]}")
    assert "on the black" in said_beside(page)
    assert place(page, "white") == before
    expect(page.get_by_role("button", name="Undo", exact=True)).to_be_disabled()


def test_undo_works_in_a_field_of_a_number(page: Page) -> None:
    """What is being typed is put back first; then Ctrl + Z takes the last change back."""
    set_number(page, HEIGHT, "3")
    until(page, lambda: slider(page, FACE) == 3.0)
    field = page.get_by_label(HEIGHT, exact=True)
    field.fill("7")
    field.press("Control+z")
    assert field.input_value() == "3"
    assert slider(page, FACE) == 3.0
    field.press("Control+z")
    until(page, lambda: field.input_value() == "10.5")


def test_an_answer_kept_back_is_kept_back_in_the_folds_too(page: Page) -> None:
    page.locator("summary", has_text="Why").click()
    page.get_by_role("button", name="Explain").click()
    expect(page.locator(".why")).to_contain_text("cause", timeout=SECONDS)
    page.get_by_role("button", name="Hide the answer").click()
    expect(page.locator(".why")).to_contain_text("kept back")
    expect(page.locator(".why")).not_to_contain_text("cause")
    page.get_by_role("button", name="Show the answer").click()
    expect(page.locator(".why")).to_contain_text("cause")


def test_the_arrival_can_be_asked_for_as_a_number(page: Page) -> None:
    set_number(page, "Follow ratio on arrival: 0 stun, 1 rolling, below 0 screw", "-0.4")
    until(page, lambda: abs(slider(page, "Arrival, from screw to rolling") + 0.4) < 0.005)
    expect(page.locator(".arrival")).to_contain_text("screw", timeout=SECONDS)


def test_another_pocket_and_another_way_to_aim(page: Page) -> None:
    page.get_by_label("Pocket", exact=True).select_option("middle right")
    expect(page.locator(".sentence")).to_contain_text("middle right", timeout=SECONDS)
    page.get_by_label("Aim by", exact=True).select_option("contact")
    expect(page.locator(".sentence")).to_contain_text("half-ball", timeout=SECONDS)
    page.get_by_label("Aim by", exact=True).select_option("aim")
    set_number(page, "Aim, in degrees anticlockwise from left to right", "90")
    expect(page.locator(".sentence")).not_to_contain_text("black", timeout=SECONDS)


def test_numbers_are_the_library_s(page: Page) -> None:
    """The rows say what ``stunline shot`` says of the same position."""
    result = play_shot(read_position("edge-of-the-pack"))
    after = dict(_rows(page))["white after contact"]
    assert float(re.findall(r"[\d.]+", after)[0]) == pytest.approx(
        result.readouts.white_speed_after_m_s, abs=0.005
    )


def _rows(page: Page) -> list[tuple[str, str]]:
    names = page.locator(".numbers dt").all_inner_texts()
    return list(zip(names, page.locator(".numbers dd").all_inner_texts(), strict=True))


def test_an_event_is_shown_on_the_plan(page: Page) -> None:
    page.locator("summary", has_text="Events").click()
    event = page.locator(".events button", has_text="white meets red 7")
    assert event.count() == 1
    before = page.locator(".plan-picture").inner_html()
    event.hover()
    until(page, lambda: page.locator(".plan-picture").inner_html() != before)


def test_a_note_is_written_and_taken_back(page: Page) -> None:
    page.locator("summary", has_text="Table, cloth").click()
    note = page.get_by_label("Note", exact=True)
    note.fill("Ask for the natural angle first.")
    note.press("Tab")
    page.get_by_role("button", name="Undo", exact=True).click()
    expect(note).to_have_value("")


def test_a_faulty_strike_is_said_with_what_to_do(page: Page) -> None:
    page.get_by_label("Object ball", exact=True).select_option("red1")
    page.get_by_label("Pocket", exact=True).select_option("bottom left")
    expect(page.get_by_role("alert")).to_contain_text(re.compile(r"\w+.*\."), timeout=SECONDS)
    assert "{" not in page.get_by_role("alert").inner_text()


def test_a_position_in_inches_is_typed_and_read_in_inches(page: Page, server: Running) -> None:
    """[X] An inch is 25.4 mm: 0.4 in is 10.16 mm, 5 7/8 in is 149.225 mm, shown as 5.875."""
    page.locator("summary", has_text="lengths").click()
    page.get_by_label("Lengths shown in", exact=True).select_option("in")
    height = page.get_by_label("Height above centre, in inches", exact=True)
    expect(height).to_have_value("0.413")  # 10.5 mm
    set_number(page, "Height above centre, in inches", "0.4")
    until(page, lambda: slider(page, FACE) == pytest.approx(10.2))  # spoken to a tenth
    expect(page.locator(".contact-words")).to_have_text("0.4 in above")
    left = page.get_by_label("From the left cushion, in inches", exact=True)
    set_number(page, "From the left cushion, in inches", "5.875")
    until(page, lambda: left.input_value() == "5.875")
    assert height.input_value() == "0.4"
    expect(page.locator(".scale-words")).to_contain_text(" in")
    expect(page.locator("#plan-layer-labels")).to_contain_text("5.88", timeout=SECONDS)
    expect(page.locator(".sentence")).to_contain_text(" in")
    page.get_by_role("button", name="By height").click()
    expect(page.get_by_role("slider", name="Height", exact=True)).to_have_attribute(
        "aria-valuetext", re.compile(r"^0\.4 in"), timeout=SECONDS
    )
    expect(page.locator(".file-state")).to_contain_text("· saved", timeout=SECONDS)
    file = read_position(str(server.folder / "edge-of-the-pack.toml")).file
    assert file.units == "in"
    assert file.plan.height == pytest.approx(0.01016)
    assert file.position.balls["white"][0] == pytest.approx(0.149225, abs=5e-6)


def test_what_is_being_typed_stays_while_the_shot_is_played_again(page: Page) -> None:
    """The answer to the change before comes while the next number is typed."""
    left = page.get_by_label("From the left cushion, in millimetres", exact=True)
    before = page.locator(".sentence").inner_text()
    left.fill("160")
    page.get_by_role("button", name="Stun", exact=True).dispatch_event("click")
    until(page, lambda: page.locator(".sentence").inner_text() != before)
    assert left.input_value() == "160"
    left.press("Escape")
    assert left.input_value() == "150"
    left.fill("160")
    page.get_by_role("button", name="Rolling", exact=True).dispatch_event("click")
    page.wait_for_timeout(500)
    left.press("Enter")
    until(page, lambda: place(page, "white")[0] == 160)
