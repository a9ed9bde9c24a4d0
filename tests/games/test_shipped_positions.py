"""One position for each game, and what it is there to show: the claims of its own comment.

[property] of the engine throughout; no figure here comes from outside.
"""

from __future__ import annotations

import pytest

from stunline.shot.aiming.solve import Solver
from stunline.shot.contact import first_contact
from stunline.shot.ladder import climb
from stunline.shot.outcome import outcome
from stunline.shot.position import PotAim
from stunline.shot.position_file import PositionFile, read_position_file
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions
from stunline.shot.readouts import readouts
from stunline.shot.shot import EventKind, Shot

FILES = {name: read_position_file(shipped_position_path(name)) for name in shipped_positions()}


def played(name: str) -> tuple[PositionFile, Shot]:
    file = FILES[name]
    solver = Solver(file.position)
    return file, solver.prepared.play(solver.solve(file.plan).strike)


def met_by_white(shot: Shot) -> list[str]:
    """Balls and cushions in the order in which the white met them."""
    white = shot.position.names[0]
    return [
        next((ball for ball in event.balls if ball != white), event.surface)
        for event in shot.events
        if white in event.balls and event.kind in (EventKind.BALL, EventKind.CUSHION)
    ]


def test_every_game_has_a_position() -> None:
    games = {file.position.table.game for file in FILES.values()}
    assert games == {"snooker", "English billiards", "American pool", "carom", "English pool"}
    assert "snooker-6ft" in {file.position.table.name for file in FILES.values()}


@pytest.mark.parametrize("name", shipped_positions())
def test_every_shipped_position_does_what_it_asks_for(name: str) -> None:
    file, shot = played(name)
    if isinstance(file.plan.aim, PotAim):
        assert shot.potted(file.plan.aim.ball) == file.plan.aim.pocket
    goal = file.goal
    if goal is None:
        return
    met = met_by_white(shot)
    assert set(goal.touch) <= set(met)
    assert not set(goal.miss) & set(met)
    if goal.in_off is not None:
        assert (shot.potted(shot.position.names[0]) is not None) == goal.in_off
    if goal.cushions is not None:
        least, most = goal.cushions
        assert least <= readouts(shot).cushions <= most


def test_the_cue_ball_stops_on_the_8() -> None:
    _, shot = played("pool-stop-for-the-nine")
    contact, rest = first_contact(shot), shot.rest("cue-ball")
    assert contact is not None and rest is not None
    assert abs(contact.white_place[0] - rest[0]) + abs(contact.white_place[1] - rest[1]) < 0.03


def test_harder_strokes_meet_the_rack_nearer_to_its_waist() -> None:
    file = FILES["pool-open-the-rack"]
    assert file.ladder is not None
    ladder = climb(file.position, file.plan, file.ladder)
    assert [rung.outcome.meets for rung in ladder.rungs] == ["foot cushion", "8", "7", "5"]
    assert all(rung.pot_made for rung in ladder.rungs)
    assert ladder.rungs[1].outcome.sentence() == "the cue ball meets the 8 ball on its right side"


def test_the_white_comes_to_the_yellow_off_two_cushions() -> None:
    _, shot = played("carom-red-two-cushions-yellow")
    assert met_by_white(shot)[:4] == ["red", "left", "foot", "yellow"]


def test_the_natural_angle_forgives_a_fifth_of_a_balls_width() -> None:
    file = FILES["billiards-half-ball-in-off"]
    assert file.ladder is not None
    ladder = climb(file.position, file.plan, file.ladder)
    in_off = [band for band in ladder.bands if band.outcome.in_off == "top left"]
    assert in_off[0].start < 0.42 and in_off[-1].end > 0.6
    assert [rung.outcome.in_off for rung in ladder.rungs[1:4]] == ["top left"] * 3


def test_the_small_white_comes_back() -> None:
    _, shot = played("english-pool-small-white-comes-back")
    read = readouts(shot)
    assert abs(read.follow_ratio or 1.0) < 0.1
    assert -30.0 < (read.off_tangent_deg or 0.0) < -20.0


def test_the_white_runs_up_for_the_pink() -> None:
    file, shot = played("six-foot-blue-then-pink")
    assert file.ladder is not None
    ladder = climb(file.position, file.plan, file.ladder)
    assert [rung.outcome.meets for rung in ladder.rungs[:3]] == ["pink", "", "top cushion"]
    rest = shot.rest("white")
    assert rest is not None and rest[1] > file.position.balls["pink"][1]


@pytest.mark.parametrize("name", shipped_positions())
def test_a_shot_is_told_in_the_games_own_words(name: str) -> None:
    from stunline.shot.sentences import event_words, shot_sentence

    file, shot = played(name)
    told = shot_sentence(readouts(shot, file.plan), outcome(shot, file.plan))
    told += " ".join(event_words(event) for event in shot.events)
    strange = {"American pool": ["white", "baulk", "top"], "carom": ["baulk", "top"]}
    for word in strange.get(file.position.table.game, ["cue ball", "head", "foot"]):
        assert word not in told.split()
