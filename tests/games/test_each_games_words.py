"""Files, refusals, text and JSON use the words of the table's game, and name what it allows."""

from __future__ import annotations

import pytest

from cli.command import run
from stunline.equipment.catalogue import load_table
from stunline.errors import Fault, InputError, UnsolvableShotError
from stunline.shot.aiming.solve import solve
from stunline.shot.goal import NamedArea
from stunline.shot.ladder import climb
from stunline.shot.play import play
from stunline.shot.position import Arrive, ContactAim, LadderPlan, PotAim, StrikePlan
from stunline.shot.position_file import PositionFile, parse_position
from stunline.shot.position_file.writing import to_toml
from stunline.shot.words import ball_in_file, ball_words, with_article

POOL = """table = "pool-9ft"
[balls]
cue-ball = [600.0, 900.0]
9 = "foot"
{balls}
[strike]
{strike}
"""
CAROM = 'table = "carom-10ft"\n[balls]\nwhite = [500.0, 900.0]\nred = "foot"\n[strike]\n{strike}\n'
POT_9 = 'pot = { ball = "9", pocket = "foot left" }\npace = 2'


def pool(strike: str = POT_9, balls: str = "") -> PositionFile:
    return parse_position(POOL.format(strike=strike, balls=balls))


def fault_of(text: str) -> Fault:
    with pytest.raises(InputError) as raised:
        parse_position(text)
    (fault,) = raised.value.faults
    return fault


@pytest.mark.parametrize(
    ("name", "words", "article", "in_file"),
    [
        ("9", "9 ball", "the 9 ball", "ball 9"),
        ("cue-ball", "cue ball", "the cue ball", "cue-ball"),
        ("red7", "red 7", "red 7", "red7"),
        ("yellow3", "yellow 3", "yellow 3", "yellow3"),
        ("yellow", "yellow", "the yellow", "yellow"),
        ("white", "white", "the white", "white"),
    ],
)
def test_what_a_ball_is_called(name: str, words: str, article: str, in_file: str) -> None:
    assert (ball_words(name), with_article(name), ball_in_file(name)) == (words, article, in_file)


def test_a_pool_players_file() -> None:
    file = pool(balls='1 = [300.0, 400.0]\n15 = [800, "20 in"]')
    assert list(file.position.balls) == ["cue-ball", "1", "9", "15"]
    assert file.position.balls["9"] == load_table("pool-9ft").spots["foot"]
    assert file.plan.aim == PotAim("9", "foot left")


@pytest.mark.parametrize(
    ("strike", "balls", "what", "allowed"),
    [
        (POT_9, "white = [300.0, 300.0]", "there is no such key here", "cue-ball, 1 to 15"),
        (POT_9, "red1 = [300.0, 300.0]", "there is no such key here", "cue-ball, 1 to 15"),
        (POT_9, "cue-ball2 = 1", "there is no such key here", "cue-ball, 1 to 15"),
        (POT_9, '8 = "pink"', "no spot of that name", "head, centre, foot"),
        (POT_9, 'rack = "square"', "this placing of rack is not known", '"triangle" or "diamond"'),
        (POT_9, "8 = [0.0, 300.0]", "ball 8 is inside the left cushion", "at least 27.5"),
        (POT_9, "8 = [640.0, 900.0]", "cue-ball and 8 overlap", "at least 57.15 mm"),
        (POT_9.replace("foot left", "top left"), "", "the pocket is not known", "side left"),
        (POT_9.replace('"9"', "9"), "", "a ball must be named, not a number", "9"),
        (POT_9.replace('"9"', '"8"'), "", "ball 8 is not on the table", "9"),
        (POT_9.replace('"9"', '"cue-ball"'), "", "the cue ball is the ball that is struck", "9"),
        ("pace = 2", "", "nothing says where the cue ball should go", "exactly one of pot"),
        (f"{POT_9}\nheight = 15", "", "from the cue ball's centre", "half the cue ball's radius"),
    ],
)
def test_faults_on_a_pool_table(strike: str, balls: str, what: str, allowed: str) -> None:
    fault = fault_of(POOL.format(strike=strike, balls=balls))
    assert what.replace("and 8", "and ball 8") in fault.what
    assert allowed in fault.allowed
    assert "white" not in f"{fault.what} {fault.allowed} {fault.remedy}"
    assert "baulk" not in fault.sentence()


def test_remedies_are_of_this_table() -> None:
    assert fault_of(POOL.format(strike="pace = 2", balls="")).remedy == (
        'pot = { ball = "9", pocket = "foot right" }'
    )
    number = fault_of(POOL.format(strike=POT_9.replace('"9"', "9"), balls=""))
    assert number.remedy == '"9"'
    missing = fault_of('table = "pool-9ft"\n[balls]\n9 = "foot"\n[strike]\naim = 9\npace = 1')
    assert missing.what == "the cue ball is missing"
    assert missing.remedy == "cue-ball = [635.0, 508.0]"
    place = fault_of(POOL.format(strike=POT_9, balls="8 = 4"))
    assert place.remedy.endswith("in mm from the left and from the head cushion")


def test_no_pot_where_there_are_no_pockets() -> None:
    text = CAROM.format(strike='pot = { ball = "red", pocket = "top left" }\npace = 2')
    fault = fault_of(text)
    assert fault.what == "this table has no pockets"
    assert fault.remedy == 'contact = { ball = "red", thickness = "half", on = "left" }'
    (pace,) = [fault_of(CAROM.format(strike='aim = 90\npace = "pocket weight"'))]
    assert "no ball is potted" in pace.what


def test_areas_and_any_balls_by_the_games_words() -> None:
    goal = '[goal]\nrest = "{area}"\nnext = {{ ball = "{any}" }}'
    balls = "1 = [300.0, 400.0]\n10 = [900.0, 400.0]"
    for area, any_ball, chosen in (
        ("kitchen", "any stripe", ("9", "10")),
        ("kitchen", "any solid", ("1",)),
        ("kitchen", "any ball", ("1", "9", "10")),
    ):
        file = pool(f"{POT_9}\n{goal.format(area=area, any=any_ball)}", balls)
        assert file.goal is not None and file.goal.next is not None
        assert (file.goal.rest, file.goal.next.balls) == (NamedArea("baulk"), chosen)
        assert parse_position(to_toml(file)) == file
    wrong = fault_of(POOL.format(strike=f'{POT_9}\n[goal]\nrest = "baulk"', balls=""))
    assert wrong.allowed.startswith('"kitchen"')
    assert (
        "any rack"
        not in fault_of(
            POOL.format(strike=f'{POT_9}\n[goal]\nnext = {{ ball = "any rack" }}', balls="")
        ).allowed
    )


def refusal(file: PositionFile, plan: StrikePlan) -> str:
    with pytest.raises(UnsolvableShotError) as raised:
        solve(file.position, plan)
    return str(raised.value)


def test_refusals_speak_of_the_cue_ball() -> None:
    behind = pool(balls="2 = [625.0, 1300.0]")
    reasons = [
        refusal(behind, StrikePlan(ContactAim("9", 1.0), 2.0)),
        refusal(behind, StrikePlan(PotAim("9", "foot left"), 2.0)),
        refusal(pool(), StrikePlan(ContactAim("9", 0.5, "left"), 0.1)),
        refusal(pool(), StrikePlan(ContactAim("9", 0.5, "left"), 1.0, Arrive(-1.0))),
        refusal(pool(), StrikePlan(PotAim("9", "head left"), 2.0)),
    ]
    assert "the cue ball meets the 2 ball first" in reasons[0]
    assert "the cue ball's way is blocked by the 2 ball" in reasons[1]
    assert "the cue ball" in reasons[2]
    assert "makes the cue ball arrive so" in reasons[3]
    assert "9 ball to head left: needs a cut of" in reasons[4]
    assert "the white" not in " ".join(reasons)


def test_a_ladder_of_tables_needs_tables_on_which_the_position_stands() -> None:
    ladder = '\n[ladder]\nvary = "table"\nvalues = ["{}"]'
    assert pool(POT_9 + ladder.format("pool-8ft")).ladder == LadderPlan("table", ("pool-8ft",))
    for table, why in (
        ("snooker-12ft", 'it has no ball "cue-ball"'),
        ("pool-7ft", "ball 8 would be off it or in a cushion"),
    ):
        fault = fault_of(
            POOL.format(strike=POT_9 + ladder.format(table), balls="8 = [1200.0, 500.0]")
        )
        assert fault.what.startswith("the position can't be played on that table")
        assert why in fault.what
    text = CAROM.format(strike='contact = { ball = "red", thickness = 1 }\npace = 2')
    # The same balls under the same names: a carom position may be held against billiards.
    other = parse_position(text + ladder.format("billiards-12ft"))
    assert other.ladder is not None
    (rung,) = climb(other.position, other.plan, other.ladder).rungs
    assert rung.shot.position.table.game == "English billiards"
    assert rung.outcome.object_ball == "red"


def test_twenty_two_balls() -> None:
    balls = "\n".join(
        f'{name} = "{name}"' for name in ("yellow", "green", "brown", "blue", "pink", "black")
    )
    file = parse_position(
        f'table = "snooker-12ft"\n[balls]\nwhite = [980.0, 600.0]\nreds = "triangle"\n{balls}\n'
        "[strike]\naim = 92.0\npace = 5.0\n"
    )
    assert len(file.position.balls) == 22
    shot = play(file.position, solve(file.position, file.plan).strike)
    assert all(shot.rest(name) or shot.potted(name) for name in file.position.names)
    assert parse_position(to_toml(file)).position == file.position


@pytest.mark.parametrize(("table", "count"), [("pool-9ft", 16), ("english-pool-7ft", 16)])
def test_a_break_of_a_whole_rack(table: str, count: int) -> None:
    data = load_table(table)
    x, y = data.spots[data.length_from]
    file = parse_position(
        f'table = "{table}"\n[balls]\n{data.cue_ball} = [{1000 * x + 20}, {1000 * y - 50}]\n'
        f'rack = "triangle"\n[strike]\naim = 91.0\npace = 7.0\n'
    )
    assert len(file.position.balls) == count
    shot = play(file.position, solve(file.position, file.plan).strike)
    moved = [name for name in file.position.names if shot.rest(name) != file.position.balls[name]]
    assert len(moved) > 8


def test_the_command_line_speaks_them_too() -> None:
    shown = run("shot", "pool-stop-for-the-nine")
    assert shown.code == 0
    told = " ".join(shown.out.split())
    expected = (
        "the cue ball arrives as stun",
        "8 ball after contact",
        "from head",
        "cue ball rests",
    )
    for words in expected:
        assert words in told
    assert "white" not in shown.out and "baulk" not in shown.out
    starter = run("new", "--table", "pool-8ft")
    assert 'table = "pool-8ft"' in starter.out and "\ncue-ball = " in starter.out
    wrong = run("new", "--table", "pol-8ft")
    assert (wrong.code, wrong.out) == (2, "")
    assert '"pool-8ft"' in wrong.err
    names = run("equipment", "carom-10ft", "--json").shape["tables"][0]["names"]
    assert names["balls"] == ["white", "yellow", "red"]
    assert (names["pockets"], names["cushions"]) == ([], ["head", "right", "foot", "left"])
