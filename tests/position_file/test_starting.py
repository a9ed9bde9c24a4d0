"""The commented file to start from, on every table: in order, solvable, every key of it right."""

from __future__ import annotations

import re

import pytest

from stunline.equipment.based_on import table_names
from stunline.equipment.catalogue import load_table
from stunline.errors import InputError
from stunline.shot.aiming.solve import Solver
from stunline.shot.outcome import outcome
from stunline.shot.position_file import parse_position
from stunline.shot.position_file.starting import write_new

COMMENTED = re.compile(r"^# (?=(\w+) = |\[)", re.MULTILINE)


@pytest.mark.parametrize("title", ["Black, white to the pack", 'A "quoted" \\ title\n\x7f', "é"])
def test_the_title_is_kept(title: str) -> None:
    assert parse_position(write_new(title)).title == title


@pytest.mark.parametrize("name", table_names())
def test_a_new_file_does_what_it_says(name: str) -> None:
    file = parse_position(write_new(table_name=name))
    assert file.position.table.name == name
    solver = Solver(file.position)
    came_to = outcome(solver.prepared.play(solver.solve(file.plan).strike), file.plan)
    assert came_to.pot_made is (True if file.position.table.pockets else None)
    assert came_to.object_ball
    assert not came_to.in_off
    assert came_to.object_ball in file.title.lower().replace(" ", "").replace("ball", "")


@pytest.mark.parametrize("name", table_names())
def test_every_key_of_a_new_file_is_right_when_its_comment_sign_is_taken_away(name: str) -> None:
    table = load_table(name)
    text = write_new(table_name=name)
    for other in ("contact", "aim", "arrive", *table.groups):  # instead of what stands there
        text = re.sub(rf"^# {other} = .*\n", "", text, flags=re.MULTILINE)
    text = COMMENTED.sub("", text)
    met = re.search(r'^meet = { ball = "([^"]+)"', text, re.MULTILINE)
    assert met is not None
    ball = f"{met[1]} = [300.0, 300.0]"
    file = parse_position(text.replace("[strike]", f"{ball}\n[strike]", 1))
    assert file.goal is not None and file.goal.cushions == (0, 2)
    assert (file.goal.next is not None) == bool(table.pockets)
    assert file.goal.through is not None
    assert file.ladder is not None and len(file.position.balls) == 3


@pytest.mark.parametrize("name", table_names())
def test_groups_of_a_new_file_fill_a_rack(name: str) -> None:
    table = load_table(name)
    for line in re.findall(r"^# (\w+ = \"\w+\")", write_new(table_name=name), re.MULTILINE):
        group, rack = line.split(" = ")
        if group not in table.groups:
            continue
        white = f"{table.cue_ball} = [300.0, 300.0]"
        head = f'table = "{name}"\n[balls]\n{white}\n{line}\n'
        file = parse_position(head + "[strike]\naim = 10\npace = 1")
        placed = {ball: place for ball, place in file.position.balls.items() if place != (0.3, 0.3)}
        assert placed.keys() == table.racks[rack.strip('"')].keys()


def test_an_unknown_table_is_refused() -> None:
    with pytest.raises(InputError) as raised:
        write_new(table_name="pool")
    assert raised.value.faults[0].remedy == '"pool-9ft"'
