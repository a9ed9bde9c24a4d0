"""What the commands print for people."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cli.command import POSITION, POSITIONS, SHIPPED, Ran, run, shipped
from stunline.shot.position import PotAim
from stunline.shot.position_file import PositionFile, read_position_file
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.shot.sentences import capital
from stunline.shot.words import with_article

WIDEST = 96


def printed(ran: Ran) -> list[str]:
    """The lines that a command printed, all within the width."""
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert max(map(len, lines)) <= WIDEST
    assert all(line == line.rstrip() for line in lines)
    return lines


def paragraphs(lines: list[str]) -> list[str]:
    return [" ".join(part.split()) for part in "\n".join(lines).split("\n\n")]


def rows(lines: list[str]) -> dict[str, str]:
    """The two columns of numbers: name → value."""
    found = (re.fullmatch(r"  (\S.*?)  +(\S.*)", line) for line in lines)
    return {match[1]: match[2] for match in found if match}


def file_of(name: str) -> PositionFile:
    return read_position_file(shipped_position_path(name))


def white_of(name: str) -> str:
    """What the game calls the ball that is struck: "the white"."""
    return with_article(file_of(name).position.table.cue_ball)


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shot_is_a_sentence_before_the_numbers(name: str) -> None:
    lines = printed(shipped("shot", name))
    title, sentence, *_ = paragraphs(lines)
    table = file_of(name).position.table.title
    assert title.endswith(f" {table}, match cloth: assumed, not measured on your table")
    assert re.match(r"(The|Red) .+\.$", sentence)
    assert white_of(name) in sentence.lower()
    values = [line for line in lines if re.match(r"  \S.*\S  +\S", line)]
    columns = {len(line) - len(re.split(r"  +", line[2:], maxsplit=1)[1]) for line in values[:4]}
    assert len(columns) == 1
    # A value shown as nought with a direction would say that something is there.
    assert not re.search(r"\b0\.0+° (to the|forward|back)", "\n".join(lines))


@pytest.mark.parametrize("name", SHIPPED)
def test_the_text_agrees_with_the_json(name: str) -> None:
    shape = shipped("shot", name, "--json").shape
    lines = printed(shipped("shot", name))
    shown, read = rows(lines), shape["readouts"]
    assert (
        shown["pace"] == f"{shape['strike']['pace']:.2f} m/s = {read['pace_lengths']:.2f} lengths"
    )
    assert shown["aim"].startswith(f"{shape['strike']['aim']:.3f}° ")
    assert shown[f"cushions met by {white_of(name)}"] == str(read["cushions"])
    assert ("squirt" in shown) == (abs(read["squirt_deg"]) > 0.005)
    assert ("cut angle" in shown) == (read["object_ball"] is not None)
    if read["object_ball"]:
        assert shown["cut angle"] == f"{read['cut_angle_deg']:.1f}°"
        assert f"cut {read['cut_angle_deg']:.1f}°" in paragraphs(lines)[1]
    if read["pot_made"]:
        pot = file_of(name).plan.aim
        assert isinstance(pot, PotAim)
        potted = f"{capital(with_article(pot.ball))} goes into the {pot.pocket} pocket, "
        assert paragraphs(lines)[1].startswith(potted)


def test_the_shot_of_the_pack_in_words() -> None:
    read = shipped("shot", "edge-of-the-pack", "--json").shape["readouts"]
    sentence = paragraphs(printed(shipped("shot", "edge-of-the-pack")))[1]
    inside = f"({read['off_tangent_deg']:.0f}° inside it)"
    leaves = f"It leaves along the tangent line {inside}, slides "
    assert f"; the white arrives rolling. {leaves}" in sentence
    assert f"bends forward by {read['total_bend_deg']:.0f}° and meets red 7 on its right side." in (
        sentence
    )


def test_a_ladder_says_where_the_white_rests_or_goes_in_off() -> None:
    for name in ("billiards-half-ball-in-off", "pool-stop-for-the-nine", "stun-and-hold"):
        shape = shipped("ladder", name, "--json").shape
        told = " ".join(" ".join(printed(shipped("ladder", name))).split("What each")[0].split())
        for rung in shape["rungs"]:
            places = rung["readouts"]["white_rest_from_cushions_mm"]
            if places is None:
                assert f"in-off, {rung['readouts']['in_off']}" in told
                continue
            inches = file_of(name).units == "in"
            words = [
                f"{one / 25.4:.2f} in" if inches else f"{one:.0f} mm"  # 25.4 mm to the inch [X]
                for one in places.values()
            ]
            cushions = list(places)
            assert f"rests {words[0]} from the {cushions[0]} and {words[1]} from the " in told


def test_a_ball_met_later_is_told(tmp_path: Path) -> None:
    """Quarter-ball off the red and two cushions later the pink: the row tells of both."""
    text = (
        'table = "snooker-12ft"\n[balls]\nwhite = [960, 2269]\nred1 = [300, 2500]\n'
        'black = "black"\npink = "pink"\nblue = "blue"\nbrown = "brown"\n[strike]\n'
        'pot = { ball = "red1", pocket = "top left" }\npace = "2 lengths"\nside = 4\nheight = 3\n'
        '[ladder]\nvary = "side"\nvalues = [4, 8]\n'
    )
    (tmp_path / "p.toml").write_text(text, encoding="utf-8")
    shape = run("ladder", "p.toml", "--json", folder=tmp_path).shape
    told = printed(run("ladder", "p.toml", folder=tmp_path))
    assert len(shape["rungs"]) == 2
    assert [line[:14] for line in told if "later meets the pink" in line] == ["  4.0 mm right"]


def test_a_white_that_nearly_stops_is_said_to() -> None:
    read = shipped("shot", "pool-stop-for-the-nine", "--json").shape["readouts"]
    sentence = paragraphs(printed(shipped("shot", "pool-stop-for-the-nine")))[1]
    left = read["white_speed_after_m_s"] / read["arrival_speed_m_s"]
    nearly = left < 0.05 or read["thickness"] >= 0.95
    assert ("It nearly stops (" in sentence) == nearly


def test_pocket_weight_with_a_way_of_arriving_says_what_it_is(tmp_path: Path) -> None:
    weight = POSITION.replace("pace = 1.7", 'pace = "pocket weight"')
    (tmp_path / "p.toml").write_text(weight.replace("height = 2.0", 'arrive = "stun"'), "utf-8")
    (tmp_path / "q.toml").write_text(weight, "utf-8")
    ran = run("shot", "p.toml", "--json", folder=tmp_path)
    text = " ".join(printed(run("shot", "p.toml", folder=tmp_path)))
    pace = f"{ran.shape['strike']['pace']:.2f} m/s"
    assert f"Pocket weight is here {pace}: the slowest pace at which the ball drops and" in text
    assert "Pocket weight" not in " ".join(printed(run("shot", "q.toml", folder=tmp_path)))


def test_a_shot_without_a_contact() -> None:
    lines = printed(shipped("shot", "up-and-down"))
    assert paragraphs(lines)[1].startswith("The white meets 2 cushions but no ball, and rests ")
    assert "thickness" not in rows(lines)


def test_where_the_table_decides_the_way_it_is_counted_and_the_same_is_named(
    tmp_path: Path,
) -> None:
    # Full and low: on slow cloths the screw is worn off and the white follows.
    (tmp_path / "p.toml").write_text(
        'table = "snooker-12ft"\n[balls]\nwhite = [889.0, 1500.0]\nred1 = [889.0, 2500.0]\n'
        '[strike]\ncontact = { ball = "red1", thickness = 0.9, on = "left" }\n'
        "pace = 2.3\nheight = -13.0\n",
        "utf-8",
    )
    text = " ".join(printed(run("shot", "p.toml", folder=tmp_path)))
    found = re.search(r"The white's way turns back on (\d+) of 100, forward on (\d+)\.", text)
    assert found is not None, text
    assert 5 <= int(found[1]) <= 95 and int(found[1]) + int(found[2]) <= 100
    assert "it comes to the same" not in text
    again = " ".join(printed(shipped("shot", "pool-stop-for-the-nine")))
    assert re.search(r"On all 100 the 8 ball goes in and the cue ball ", again), again
    assert "turns back" not in again


def test_events_are_those_of_the_white_the_object_ball_and_what_falls() -> None:
    shape = shipped("shot", "edge-of-the-pack", "--json").shape
    lines = printed(shipped("shot", "edge-of-the-pack"))
    told = [line for line in lines if re.match(r" +\d+\.\d{3} s ", line)]
    assert told
    assert all("white" in line or "black" in line or "falls" in line for line in told)
    (more,) = [line for line in lines if "--json" in line]
    assert f"and {len(shape['events']) - len(told)} more events" in more


@pytest.mark.parametrize("name", SHIPPED)
def test_a_ladder_in_columns(name: str) -> None:
    shape = shipped("ladder", name, "--json").shape
    lines = printed(shipped("ladder", name))
    held = "one aim, held" if shape["aim"] == "held" else "the aim solved again for each"
    heading = f"The same shot with {len(shape['rungs'])} values of {shape['vary']}, {held}."
    assert heading in paragraphs(lines)
    start = lines.index(heading) + 2
    told = "\n".join(lines[start:]).split("\n\n")[0]
    assert len(re.findall(r"^  \S", told, re.MULTILINE)) == len(shape["rungs"])
    white = f"  {white_of(name)} "
    told = [line for line in lines if white in line]
    assert len(told) == len(shape["rungs"]) + len(shape["bands"])
    bands = told[len(shape["rungs"]) :]
    for part in (told[: len(shape["rungs"])], bands):
        assert len({line.index(white) for line in part}) == 1
    for line, band in zip(bands, shape["bands"], strict=True):
        assert band["outcome"]["words"].split(";")[0].split(" on its")[0] in line


def test_the_ends_of_a_narrow_band_differ() -> None:
    for line in printed(shipped("ladder", "thin-contact-running-side")):
        match = re.match(r"  ([\d.]+) to ([\d.]+) mm", line)
        assert match is None or match[1] != match[2]


def test_a_rung_that_cannot_pot_says_why() -> None:
    text = "\n".join(printed(shipped("ladder", "edge-of-the-pack-low")))
    assert "misses the top right pocket: too slow to get there" in " ".join(text.split())


def test_inches_where_the_file_asks_for_them(tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text('units = "in"\n' + POSITION, encoding="utf-8")
    lines = printed(run("shot", "p.toml", folder=tmp_path))
    assert rows(lines)["contact point"] == "0.079 in above centre, no side"  # 2 mm ÷ 25.4 [X]
    assert [name for name, value in rows(lines).items() if " mm" in value] == []
    assert any(line.endswith("in  white is struck") for line in lines)
    assert "0.20 in off its first line" in rows(lines)  # 5 mm ÷ 25.4 [X]


# --- the other commands -------------------------------------------------------------------------


def test_new_writes_what_check_finds_in_order_and_shot_plays(tmp_path: Path) -> None:
    made = run("new", "black.toml", "--title", 'The "black"', folder=tmp_path)
    assert printed(made) == ["black.toml written. Next: stunline shot black.toml"]
    written = (tmp_path / "black.toml").read_text(encoding="utf-8")
    assert run("new", "--title", 'The "black"').out == written
    checked = printed(run("check", "black.toml", folder=tmp_path))
    assert checked == ["black.toml: in order. Snooker, 12 ft, match cloth; white, black."]
    assert printed(run("shot", "black.toml", folder=tmp_path))[0] == 'The "black"'


def test_check_tells_good_from_bad(tmp_path: Path) -> None:
    (tmp_path / "bad.toml").write_text(POSITION.replace("1.7", "nan"), encoding="utf-8")
    good = POSITIONS / "edge-of-the-pack.toml"
    ran = run("check", good, "bad.toml", folder=tmp_path)
    assert ran.code == 2
    assert ran.out.splitlines() == [
        f"{good}: in order. Snooker, 12 ft, match cloth; white, red 1, red 2, red 3 and 13 more; "
        "a ladder of 5 values of pace."
    ]
    (fault,) = ran.err.splitlines()
    assert fault.startswith("bad.toml:7: strike.pace: the pace is not a finite number")


def test_equipment_shows_every_number_with_its_source() -> None:
    listed = run("equipment")
    assert printed(listed)[0] == "snooker-12ft: Snooker, 12 ft"
    cloths = [len(one["cloths"]) for one in run("equipment", "--json").shape["tables"]]
    assert len(re.findall(r"^  cloth (\w+): ", listed.out, re.MULTILINE)) == sum(cloths)
    shown = run("equipment", "snooker-12ft")
    table = run("equipment", "snooker-12ft", "--json").shape["tables"][0]
    assert shown.code == 0
    for number in table["numbers"]:
        assert re.search(
            rf"^  {re.escape(number['what'])} .*{re.escape(number['source'])}$",
            shown.out,
            re.MULTILINE,
        ), number
