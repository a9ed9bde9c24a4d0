"""What a position file says, read into SI data. Expected numbers are the file's, converted."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from stunline.shot.goal import CircleArea, Gap, Meeting, NamedArea, NextBall, PolygonArea
from stunline.shot.position import (
    Arrive,
    ContactAim,
    DirectAim,
    LadderPlan,
    Lengths,
    NamedHeight,
    PocketWeight,
    PotAim,
)
from stunline.shot.position_file import PositionFile, parse_position, read_position_file
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions
from stunline.shot.position_file.writing import to_toml

FULL = """
title = "Everything at once"
table = "snooker-12ft"
cloth = "club"
units = "in"
[coefficients]
sliding_friction = 0.21
ball_friction = 0.06
squirt = false
gravity = 9.8
[balls]
black = [600.0, 3060.0]
white = [150, "120 5/64 in"]
blue = "blue"
reds = "triangle"
[strike]
pot = { ball = "black", pocket = "top right" }
pace = 1.7
height = 10.5
side = "-1/4 in"
elevation = 5
[ladder]
vary = "pace"
values = [1, "2.5 lengths", "pocket weight"]
[goal]
pot = { ball = "black", pocket = "top right" }
meet = { ball = "red7", on = "right", thickness = [0.05, "half"] }
through = { between = ["pink", "blue"] }
rest = { circle = [889.0, 1784.5, 150.0] }
next = { ball = "any red", cut = [0.0, 40.0] }
touch = ["red1"]
miss = ["blue"]
cushions = [0, 2]
in_off = false
vary = { pace = [0.8, 3.0], height = [-12.0, 12.0], side = 0.0 }
player = "club"
"""


def strike(lines: str, balls: str = "") -> PositionFile:
    """A small position with these lines under [strike]."""
    return parse_position(
        f'table = "snooker-12ft"\n[balls]\nwhite = [500, 2000]\nblack = "black"\n{balls}\n'
        f"[strike]\n{lines}"
    )


def test_every_section_is_read() -> None:
    file = parse_position(FULL)
    assert (file.title, file.units, file.position.cloth) == ("Everything at once", "in", "club")
    coefficients = file.position.coefficients
    assert (coefficients.sliding_friction, coefficients.ball_friction) == (0.21, 0.06)
    assert (coefficients.squirt, coefficients.pockets, coefficients.gravity) == (False, True, 9.8)
    assert coefficients.rolling_resistance == 0.014  # the club profile's
    assert list(file.position.balls)[:2] == ["white", "red1"]
    assert list(file.position.balls)[-2:] == ["blue", "black"]
    assert file.position.balls["white"] == pytest.approx((0.15, (120 + 5 / 64) * 0.0254))
    assert file.position.balls["blue"] == (0.889, 1.7845)
    assert file.plan.aim == PotAim("black", "top right")
    assert (file.plan.pace, file.plan.height, file.plan.side) == (1.7, 0.0105, -0.00635)
    assert file.plan.elevation == math.radians(5)
    assert file.ladder == LadderPlan("pace", (1.0, Lengths(2.5), PocketWeight()))


def test_the_goal_is_read() -> None:
    goal = parse_position(FULL).goal
    assert goal is not None
    assert goal.pot == PotAim("black", "top right")
    assert goal.meet == Meeting("red7", (0.05, 0.5), "right")
    assert goal.through == Gap(("pink", "blue"))
    assert goal.rest == CircleArea((0.889, 1.7845), 0.15)
    reds = tuple(f"red{number}" for number in range(1, 16))
    assert goal.next == NextBall(reds, (0.0, math.radians(40)))
    assert (goal.touch, goal.miss) == (("red1",), ("blue",))
    assert (goal.cushions, goal.in_off, goal.player) == ((0, 2), False, "club")
    assert goal.vary.pace == (0.8, 3.0)
    assert (goal.vary.height, goal.vary.side) == ((-0.012, 0.012), (0.0, 0.0))


@pytest.mark.parametrize(
    ("rest", "area"),
    [
        ('"D"', NamedArea("D")),
        ('"baulk"', NamedArea("baulk")),
        (
            "{ polygon = [[0, 0], [500, 0], [0, 500]] }",
            PolygonArea(((0.0, 0.0), (0.5, 0.0), (0.0, 0.5))),
        ),
    ],
)
def test_resting_areas(rest: str, area: object) -> None:
    goal = strike(f"aim = 90\npace = 1\n[goal]\nrest = {rest}").goal
    assert goal is not None and goal.rest == area


def test_what_is_left_out_has_its_default() -> None:
    file = strike("aim = 63.2\npace = 1.7")
    assert file.plan.aim == DirectAim(math.radians(63.2))
    assert (file.plan.height, file.plan.side, file.plan.elevation) == (0.0, 0.0, 0.0)
    assert (file.position.cloth, file.units, file.title) == ("match", "mm", "")
    assert file.ladder is None and file.goal is None


@pytest.mark.parametrize(
    ("word", "thickness"),
    [("full", 1), ("three-quarter", 0.75), ("half", 0.5), ("quarter", 0.25), ("fine", 0.125)],
)
def test_thickness_words(word: str, thickness: float) -> None:
    aim = strike(f'pace = 1\ncontact = {{ ball = "black", thickness = "{word}", on = "left" }}')
    assert aim.plan.aim == ContactAim("black", thickness, "left")


def test_only_a_full_contact_needs_no_side() -> None:
    plan = strike('pace = 1\ncontact = { ball = "black", thickness = "full" }').plan
    assert plan.aim == ContactAim("black", 1.0, None)


@pytest.mark.parametrize(
    ("line", "height"),
    [
        ('arrive = "stun"', Arrive(0.0)),
        ('arrive = "rolling"', Arrive(1.0)),
        ("arrive = -0.4", Arrive(-0.4)),
        ('height = "centre"', NamedHeight("centre")),
        ('height = "max follow"', NamedHeight("max follow")),
        ('height = "max screw"', NamedHeight("max screw")),
        ('height = "-3/8 in"', -0.009525),
        ("height = 13.125", 0.013125),  # the very limit, R/2
        ("height = 10.5\nside = 7.875", 0.0105),  # hypot 13.125: the limit again
    ],
)
def test_heights(line: str, height: object) -> None:
    assert (
        strike(f'pot = {{ ball = "black", pocket = "top right" }}\npace = 1\n{line}').plan.height
        == height
    )


@pytest.mark.parametrize("pace", ["0.02", "15", '"2.5 lengths"', '"1 length"', '".5 lengths"'])
def test_paces(pace: str) -> None:
    read = strike(f"aim = 90\npace = {pace}").plan.pace
    number = float(pace.strip('"').split()[0])
    assert read == (Lengths(number) if "length" in pace else number)


@pytest.mark.parametrize(
    ("vary", "values", "read"),
    [
        (
            "height",
            '[-10.5, "centre", "max screw"]',
            (-0.0105, NamedHeight("centre"), NamedHeight("max screw")),
        ),
        ("side", '[-4, "1/4 in"]', (-0.004, 0.00635)),
        ("distance", "[300, 600.5]", (0.3, 0.6005)),
        ("cloth", '["match", "worn"]', ("match", "worn")),
        ("table", '["snooker-12ft"]', ("snooker-12ft",)),
        ("thickness", '["half", 0.3]', (0.5, 0.3)),
    ],
)
def test_ladders(vary: str, values: str, read: tuple[object, ...]) -> None:
    contact = 'contact = { ball = "black", thickness = "half", on = "left" }\npace = 1'
    ladder = strike(f'{contact}\n[ladder]\nvary = "{vary}"\nvalues = {values}').ladder
    assert ladder == LadderPlan(vary, read)  # type: ignore[arg-type]


def test_reds_in_a_list_are_named_in_order() -> None:
    balls = strike("aim = 90\npace = 1", "reds = [[300, 300], 'pink', [400, 300]]").position.balls
    assert list(balls) == ["white", "red1", "red2", "red3", "black"]
    assert balls["red2"] == (0.889, 2.67675)


def test_reds_may_be_named_one_by_one() -> None:
    balls = strike("aim = 90\npace = 1", "red7 = [300, 300]").position.balls
    assert list(balls) == ["white", "red7", "black"]


def test_order_of_the_file_does_not_change_the_position() -> None:
    one = strike("aim = 90\npace = 1", "pink = 'pink'\nred2 = [300, 300]")
    other = strike("pace = 1\naim = 90", "red2 = [300, 300]\npink = 'pink'")
    assert list(one.position.balls.items()) == list(other.position.balls.items())


def test_shut_pockets_leave_contact_and_aim() -> None:
    text = FULL.replace("squirt = false", "pockets = false").replace(
        'pot = { ball = "black", pocket = "top right" }', ""
    )
    text = text.replace("[strike]", "[strike]\naim = 90").replace(', "pocket weight"', "")
    assert parse_position(text).position.coefficients.pockets is False


def test_a_table_file_beside_the_position(tmp_path: Path) -> None:
    import stunline.equipment

    shipped = Path(stunline.equipment.__file__).parent / "data" / "snooker-12ft.toml"
    narrow = shipped.read_text("utf-8").replace("value = 1778", "value = 1700")
    (tmp_path / "own.toml").write_text(narrow, "utf-8")
    path = tmp_path / "position.toml"
    path.write_text(FULL.replace('"snooker-12ft"', '"own.toml"'), "utf-8")
    file = read_position_file(path)
    assert (file.position.table.name, file.position.table.width) == ("own", 1.7)
    assert file.source == str(path)


def test_a_byte_order_mark_and_windows_line_ends_are_read(tmp_path: Path) -> None:
    path = tmp_path / "position.toml"
    path.write_bytes(b"\xef\xbb\xbf" + FULL.replace("\n", "\r\n").encode())
    assert read_position_file(path).title == "Everything at once"


@pytest.mark.parametrize("name", shipped_positions())
def test_shipped_positions_are_valid_and_say_that_they_are_invented(name: str) -> None:
    path = shipped_position_path(name)
    file = read_position_file(path)
    assert file.title and file.ladder is not None
    first = path.read_text("utf-8").splitlines()[0]
    assert first.startswith("# Harbour Lane Cue Club, ")
    assert first.endswith(": an invented club, an invented position.")


def test_the_first_shipped_position_is_the_edge_of_the_pack() -> None:
    file = read_position_file(shipped_position_path("edge-of-the-pack"))
    assert file.position.balls["white"] == (0.15, 3.05)
    assert file.ladder == LadderPlan("pace", (1.0, 1.7, 2.2, 2.6, 2.95))


@pytest.mark.parametrize("name", [*shipped_positions(), "full"])
def test_written_positions_read_back_the_same(name: str) -> None:
    text = FULL if name == "full" else shipped_position_path(name).read_text("utf-8")
    file = parse_position(text)
    again = parse_position(to_toml(file))
    assert again == file
