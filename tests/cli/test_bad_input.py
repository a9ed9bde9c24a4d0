"""Input that can't be used: exit code 2, one message for each fault, nothing half written."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli.command import POSITION, Ran, run
from stunline.cli.main import main

POT = 'pot = { ball = "black", pocket = "top right" }'


def refused(ran: Ran) -> list[str]:
    """The lines on stderr of a command that must have refused its input."""
    assert ran.code == 2
    assert ran.out == ""
    assert "Traceback" not in ran.err
    lines = ran.err.splitlines()
    assert lines
    assert all("; given " in line or "; allowed: " in line for line in lines)
    return lines


def refused_position(folder: Path, *changes: tuple[str, str]) -> list[str]:
    """What ``stunline shot`` says about a good position with those texts replaced."""
    text = POSITION
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    (folder / "p.toml").write_text(text, encoding="utf-8")
    return refused(run("shot", "p.toml", folder=folder))


FAULTS = {
    "unknown key": (
        ("height =", "hieght ="),
        "p.toml:8: strike.hieght: there is no such key here; given hieght = 2.0;",
        "try: the key height",
    ),
    "unit of another kind": (
        ("height = 2.0", 'height = "2 kg"'),
        "p.toml:8: strike.height: the height has the unit kg, which is not a unit of length",
        'given "2 kg"',
    ),
    # 52.5 mm is the diameter of a snooker ball (rules of the game, section 1 [R]), so centres
    # 10 mm apart overlap by 42.5 mm, and touch 52.5 mm further on.
    "overlap": (
        ('black = "black"', "black = [570.0, 2740.0]"),
        "p.toml:4: balls.black: white and black overlap by 42.50 mm; given centres 10.00 mm apart",
        "try: black = [612.50, 2740.00]",
    ),
    "off the table": (
        ("[560.0, 2740.0]", "[-560.0, 2740.0]"),
        "p.toml:3: balls.white: white is off the table; given [-560.00, 2740.00], "
        "560.00 mm beyond the left cushion",
        "from every nose line",
    ),
    # Half the radius of 26.25 mm [M: the usual limit of a chalked tip].
    "miscue": (
        ("height = 2.0", "height = 14"),
        "p.toml:8: strike.height: the tip would slip off (a miscue)",
        "allowed: at most 13.125 mm, half the white's radius",
    ),
    "not a number": (("pace = 1.7", "pace = nan"), "p.toml:7: strike.pace", "given nan"),
    "infinite": (("pace = 1.7", "pace = inf"), "not a finite number", "given inf"),
    "infinite place": (("2740.0", "-inf"), "p.toml:3: balls.white", "-inf"),
    "true for a number": (
        ("pace = 1.7", "pace = true"),
        "p.toml:7: strike.pace: the pace must be a number, not true or false; given true",
        "allowed: 0.02 to 15 m/s",
    ),
    "true for a coordinate": (("2740.0", "true"), "p.toml:3: balls.white", "true"),
    "two ways to aim": (
        ("pace = 1.7", "aim = 20\npace = 1.7"),
        "p.toml:7: strike.aim: more than one key says where the white should go; given pot and aim",
        "allowed: exactly one of pot, contact, aim",
    ),
    "no way to aim": (
        (f"{POT}\n", ""),
        "p.toml:5: strike: nothing says where the white should go",
        "allowed: exactly one of pot, contact, aim",
    ),
    "broken TOML": (
        ("pace = 1.7", "pace = "),
        "p.toml:7: this line can't be read",
        "given pace =",
    ),
    "a pocket by another word": (
        ("top right", "centre right"),
        "p.toml:6: strike.pot.pocket: the pocket is not known",
        'try: "middle right"',
    ),
    "a side in words": (
        ("height = 2.0", 'side = "right"'),
        "p.toml:8: strike.side: the side is not a length",
        "allowed: -13.125 to 13.125 mm, beyond which the tip slips off",
        "try: 8.0 for right side, -8.0 for left",
    ),
    "one red without its number": (
        ("[strike]", "red = [400, 900]\n[strike]"),
        "p.toml:5: balls.red: there is no such key here",
        "try: the key red1",
    ),
    "one place for the reds": (
        ("[strike]", "reds = [400, 900]\n[strike]"),
        "p.toml:5: balls.reds: reds needs a list of places, each in its own brackets",
        "try: reds = [[400, 900]], or red1 = [400, 900]",
    ),
    "units in a place": (
        ("[560.0, 2740.0]", "[560 mm, 2740.5 mm]"),
        "p.toml:3: there is a unit outside quotes",
        "try: white = [560, 2740.5]",
    ),
    "inches in a place": (
        ("[560.0, 2740.0]", "[22 in, 100 1/2 in]"),
        "p.toml:3: there is a unit outside quotes",
        'try: white = ["22 in", "100 1/2 in"]',
    ),
    "decimal comma": (
        ("pace = 1.7", "pace = 1,7"),
        "p.toml:7: there is a comma inside a number",
        "try: pace = 1.7",
    ),
    "decimal comma in a place": (
        ("[560.0, 2740.0]", "[560,5, 2740]"),
        "p.toml:3: balls.white: a place must be two numbers, not a list of 3",
        "try: [560.5, 2740], with a point in the number",
    ),
    "blank in a name": (
        ("[strike]", "red 1 = [400, 900]\n[strike]"),
        "p.toml:5: there is a name with a blank in it",
        "try: red1 = [400, 900]",
    ),
    "the white under another name": (
        ("white =", "cueball ="),
        "p.toml:3: balls.cueball: there is no such key here",
        "try: the key white",
    ),
    "place without brackets": (
        ("white = [560.0, 2740.0]", "white = 560.0, 2740.0  # by the brown"),
        "p.toml:3: there is a place without its brackets",
        "try: white = [560.0, 2740.0]  # by the brown",
    ),
    "text without quotes": (
        ("pace = 1.7", "pace = pocket weight"),
        "p.toml:7: there is a text without quotes",
        'try: pace = "pocket weight"',
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_a_file(name: str, tmp_path: Path) -> None:
    change, *parts = FAULTS[name]
    (line,) = refused_position(tmp_path, change)
    assert all(part in line for part in parts), line
    assert "; try: " in line


IMPOSSIBLE_POTS = {
    "cut too thin": (
        [("[560.0, 2740.0]", "[1490.0, 1347.0]")],
        "p.toml:6: strike.pot: cut too thin; given black to top right: needs a cut of 8",
        "allowed: up to 88°",
    ),
    # 3569 − 3400 = 169 mm up the table [X: 3569 mm is its length].
    "white on the wrong side": (
        [("[560.0, 2740.0]", "[1700.0, 3400.0]")],
        "p.toml:6: strike.pot: the white is on the wrong side of the black for this pocket",
        "needs a cut of 1",
        "try: white = [1700.0, 169.0], if it was measured from the top cushion",
    ),
    "white's way blocked": (
        [("[strike]", "red1 = [700, 3000]\n[strike]")],
        "p.toml:7: strike.pot: the white's way is blocked by red 1",
        "move red 1",
    ),
    "ball's way blocked": (
        [("[strike]", "pink = [1300, 3400]\n[strike]")],
        "p.toml:7: strike.pot: the black's way is blocked by the pink",
        "move the pink",
    ),
    # Up the left cushion a ball passes the middle pocket, whose axis points across the table.
    "pocket closed": (
        [
            ('black = "black"', "black = [30, 1000]"),
            ("[560.0, 2740.0]", "[35.0, 400.0]"),
            ('"top right" }', '"middle left" }'),
        ],
        "p.toml:6: strike.pot: the pocket is closed at this angle; given black to middle left: 8",
        "try: less pace, another pocket, or move the ball",
    ),
    "too slow to reach the ball": (
        [("pace = 1.7", "pace = 0.4")],
        "p.toml:6: strike.pot: too slow to get there; given black to top right: 0.4 m/s, the white",
        "mm before it meets the ball",
    ),
    "too slow": (
        [("pace = 1.7", "pace = 0.6")],
        "p.toml:6: strike.pot: too slow to get there; given black to top right: 0.6 m/s, stops ",
        'try: more pace, or pace = "pocket weight"',
    ),
}


@pytest.mark.parametrize("name", IMPOSSIBLE_POTS)
def test_an_impossible_pot_says_why_and_where_it_was_asked_for(name: str, tmp_path: Path) -> None:
    changes, *parts = IMPOSSIBLE_POTS[name]
    (line,) = refused_position(tmp_path, *changes)
    assert all(part in line for part in parts), line


def test_a_way_of_arriving_that_cannot_be_had_names_its_line(tmp_path: Path) -> None:
    (line,) = refused_position(
        tmp_path, ("height = 2.0", 'arrive = "stun"'), ("pace = 1.7", "pace = 1.0")
    )
    assert line.startswith("p.toml:8: strike.arrive: no height within the advised limit")


def test_all_faults_come_at_once_each_on_a_line_of_its_own(tmp_path: Path) -> None:
    lines = refused_position(
        tmp_path, ("pace = 1.7", "pace = true"), ("2.0", "14"), ("2740.0", "nan")
    )
    assert [line[: len("p.toml:3")] for line in lines] == ["p.toml:3", "p.toml:7", "p.toml:8"]


def test_a_missing_file_and_one_that_is_nearly_it(tmp_path: Path) -> None:
    (tmp_path / "black.toml").write_text(POSITION, encoding="utf-8")
    (line,) = refused(run("shot", "blakc.toml", folder=tmp_path))
    assert line.startswith("blakc.toml: there is no such file; given blakc.toml;")
    assert 'try: "black.toml", which is in the same folder' in line


def test_the_shipped_positions_are_named_the_nearest_first(tmp_path: Path) -> None:
    (line,) = refused(run("shot", "screw-betwen", folder=tmp_path))
    assert "or the name of a shipped one: screw-between-two-balls, " in line
    assert "edge-of-the-pack" in line
    assert line.endswith("try: screw-between-two-balls")


def test_a_ball_of_another_game_is_told_what_the_set_has(tmp_path: Path) -> None:
    text = POSITION.replace("snooker-12ft", "pool-9ft").replace('ball = "black"', 'ball = "pink"')
    text = text.replace("white =", "cue-ball =").replace('black = "black"', "8 = [600, 2000]")
    text = text.replace("[560.0, 2740.0]", "[560.0, 1000.0]").replace("top right", "foot right")
    (tmp_path / "p.toml").write_text(text, encoding="utf-8")
    (line,) = refused(run("shot", "p.toml", folder=tmp_path))
    assert 'strike.pot.ball: the set of this table has no ball "pink"' in line
    assert 'allowed: 8; try: "8"' in line


def test_a_folder_instead_of_a_file(tmp_path: Path) -> None:
    (line,) = refused(run("shot", ".", folder=tmp_path))
    assert "this is a folder, not a file" in line


def test_a_huge_file_is_refused_by_its_size(tmp_path: Path) -> None:
    with (tmp_path / "film.toml").open("wb") as file:
        file.truncate(100_000_000)  # sparse: it takes no room, and holds no TOML
    (line,) = refused(run("shot", "film.toml", folder=tmp_path))
    assert "the file is too large, and was not read; given 100 000 000 bytes" in line


def test_a_ladder_needs_its_section(tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text(POSITION, encoding="utf-8")
    (line,) = refused(run("ladder", "p.toml", folder=tmp_path))
    assert "p.toml: ladder: the file has no [ladder]" in line
    assert "try: add one, or use: stunline shot" in line


# --- where the output should go ---------------------------------------------------------


@pytest.mark.parametrize("command", ["shot", "ladder"])
@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("plan.gif", '-o: no picture is written with that ending; given "plan.gif"; '
         'allowed: .svg, .png, .pdf; try: "plan.svg"'),
        ("plan", "-o: no picture is written with that ending"),
        (".", "-o: no picture is written with that ending"),
        ("", "-o: no picture is written with that ending"),
        ("missing/plan.svg", "-o: the file can't be written: its folder does not exist"),
        ("folder.svg", "-o: the file can't be written: it is a folder"),
    ],
)  # fmt: skip
def test_a_place_where_no_picture_can_be_written(
    command: str, place: str, words: str, tmp_path: Path
) -> None:
    (tmp_path / "p.toml").write_text(POSITION, encoding="utf-8")
    (tmp_path / "folder.svg").mkdir()
    (line,) = refused(run(command, "p.toml", "-o", place, folder=tmp_path))
    assert words in line
    assert sorted(path.name for path in tmp_path.iterdir()) == ["folder.svg", "p.toml"]


def test_a_picture_of_a_shot_that_fails_leaves_the_old_one(tmp_path: Path) -> None:
    (tmp_path / "plan.svg").write_text("the old plan", encoding="utf-8")
    text = POSITION.replace("pace = 1.7", "pace = 0.4")
    (tmp_path / "p.toml").write_text(text, encoding="utf-8")
    refused(run("shot", "p.toml", "-o", "plan.svg", folder=tmp_path))
    assert (tmp_path / "plan.svg").read_text(encoding="utf-8") == "the old plan"
    assert len(list(tmp_path.iterdir())) == 2


def test_new_never_writes_over_a_file(tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text("mine", encoding="utf-8")
    (line,) = refused(run("new", "p.toml", folder=tmp_path))
    assert line.startswith("FILE: the file exists already, and nothing was written")
    assert (tmp_path / "p.toml").read_text(encoding="utf-8") == "mine"
    (line,) = refused(run("new", "missing/p.toml", folder=tmp_path))
    assert "no such file or directory" in line


def test_an_unknown_table_has_a_suggestion() -> None:
    (line,) = refused(run("equipment", "snoker-12ft"))
    assert 'try: "snooker-12ft"' in line


COMMANDS = ", ".join(main.list_commands(None))  # type: ignore[attr-defined, arg-type]


# --- the command line itself ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["shott", "p.toml"], f"There is no command 'shott'; there are {COMMANDS}. "
         "Did you mean 'shot'?"),
        (["shot"], "Missing argument 'FILE'"),
        (["shot", "p.toml", "--jsn"], "--json"),
        (["shot", "p.toml", "q.toml"], "unexpected extra argument (q.toml)"),
        (["reach", "p.toml", "--at", "1000", "2400"], "one word, without a blank: 1000,2400"),
        (["shot", "p.toml", "-o"], "Option '-o' requires an argument"),
    ],
)  # fmt: skip
def test_a_command_line_that_is_not_understood(args: list[str], words: str) -> None:
    ran = run(*args)
    assert (ran.code, ran.out) == (2, "")
    assert words in ran.err
    assert "Traceback" not in ran.err


def test_a_gauging_record_is_not_taken_for_a_position(tmp_path: Path) -> None:
    record = 'table = "snooker-12ft"\n[[measured]]\nshot = "roll-up"\nwhite_rest = [891, 1540]\n'
    (tmp_path / "r.toml").write_text(record, encoding="utf-8")
    (line,) = refused(run("check", "r.toml", folder=tmp_path))
    assert line.startswith("r.toml: this is a gauging record, not a position")
    assert line.endswith("try: stunline gauge fit r.toml")


def test_the_folder_of_a_missing_table_is_named_and_what_is_in_it(tmp_path: Path) -> None:
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "gauged.toml").write_text('title = "Table 3"\nbased_on = "snooker-12ft"\n', "utf-8")
    for named in ("mine/gauged.toml", "gaugd.toml"):
        (mine / "p.toml").write_text(POSITION.replace("snooker-12ft", named), encoding="utf-8")
        (line,) = refused(run("check", "mine/p.toml", folder=tmp_path))
        assert "there is no such file in the folder mine" in line
        assert f'given "{named}"' in line
        assert line.endswith('try: "gauged.toml", which is there')


# --- with --json ------------------------------------------------------------------------------


def test_a_fault_with_json_is_one_object_on_stderr(tmp_path: Path) -> None:
    text = POSITION.replace("pace = 1.7", "pace = true").replace("height = 2.0", "height = 14")
    (tmp_path / "p.toml").write_text(text, encoding="utf-8")
    ran = run("shot", "p.toml", "--json", folder=tmp_path)
    assert (ran.code, ran.out) == (2, "")
    assert (ran.error["kind"], ran.error["reason"]) == ("input", "invalid-input")
    places = [(one["file"], one["line"], one["key"]) for one in ran.error["faults"]]
    assert places == [("p.toml", 7, "strike.pace"), ("p.toml", 8, "strike.height")]
    for fault in ran.error["faults"]:
        assert all(fault[part] for part in ("what", "given", "allowed", "remedy"))


@pytest.mark.parametrize(
    ("name", "reason"),
    [("cut too thin", "cut-too-thin"), ("white's way blocked", "way-blocked"),
     ("ball's way blocked", "way-blocked"), ("pocket closed", "pocket-closed"),
     ("too slow", "too-slow")],
)  # fmt: skip
def test_an_impossible_pot_with_json_has_a_stable_reason(
    name: str, reason: str, tmp_path: Path
) -> None:
    text = POSITION
    for old, new in IMPOSSIBLE_POTS[name][0]:
        text = text.replace(old, new)
    (tmp_path / "p.toml").write_text(text, encoding="utf-8")
    ran = run("shot", "p.toml", "--json", folder=tmp_path)
    assert (ran.code, ran.out) == (2, "")
    assert (ran.error["kind"], ran.error["reason"]) == ("unsolvable", reason)
    (fault,) = ran.error["faults"]
    assert (fault["file"], fault["key"]) == ("p.toml", "strike.pot")
    assert fault["line"] == text.split("pot = ")[0].count("\n") + 1


def test_a_misunderstood_command_line_with_json_is_the_same_object() -> None:
    ran = run("shot", "--json")
    assert (ran.code, ran.out) == (2, "")
    assert ran.error["reason"] == "invalid-usage"
    assert "Missing argument 'FILE'" in ran.error["faults"][0]["what"]
