"""Live plays with a goal: its marks, its faults, and what of it is framed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from live.live_documents import asked, shipped
from stunline.tasks.live_play import live_play


def test_faulty_ladder_or_goal_is_noted_and_the_shot_played() -> None:
    document = shipped("edge-of-the-pack")
    plain = live_play(asked(document))
    document["ladder"] = {"vary": "thickness", "values": ["half"]}  # needs a contact
    document["goal"] = {"touch": ["red99"]}
    answer = live_play(asked(document))
    assert answer["phases"] == plain["phases"]
    said = " ".join(answer["notes"])
    assert "ladder.vary: a thickness can only be varied in a contact" in said
    assert "red99" not in said  # stands beside the field of the goal
    (fault,) = answer["goal_faults"]
    assert (fault["key"], fault["given"]) == ("goal.touch", '"red99"')


def test_the_goal_and_the_ways_to_it_are_drawn() -> None:
    document = shipped("stay-on-the-black")
    document["goal"] = {
        "rest": {"circle": [889.0, 2900.0, 200.0]},
        "through": {"between": ["pink", "red2"]},
    }
    strike = {"aim": 111.0, "pace": 1.5, "height": 5.0, "side": 0.0, "elevation": 0.0}
    ways = [{"letter": letter, **strike, "pace": pace} for letter, pace in (("A", 1.2), ("B", 2.0))]
    plain = live_play(asked(document))
    answer = live_play(asked(document, drawing={"ways": ways}))
    assert re.search('id="plan-goal-area"[^>]* r="200"', answer["layers"]["paths"])
    assert "plan-goal-gap" in answer["layers"]["paths"]
    assert "plan-way" not in plain["layers"]["ways"]
    for letter in "AB":
        assert f"plan-way-{letter}-label" in answer["layers"]["ways"]
        assert f">{letter}</text>" in answer["layers"]["ways"]
    hidden = live_play(asked(document, drawing={"ways": ways, "hidden": True}))
    assert "plan-way" not in hidden["layers"]["ways"]
    assert "plan-goal" not in hidden["layers"]["paths"]


def test_a_player_that_nobody_knows_is_told_beside_the_goal() -> None:
    document = shipped("stay-on-the-black")
    for name, words in (("clbu", "no player of that name"), ("../x.toml", "leads elsewhere")):
        document["goal"] = {"in_off": False, "player": name}
        (fault,) = live_play(asked(document), Path())["goal_faults"]
        assert fault["key"] == "goal.player"
        assert words in fault["what"]


@pytest.mark.parametrize("hidden", [False, True])
def test_what_the_goal_asks_for_is_framed(hidden: bool) -> None:
    """By hand: a circle round (900, 600), far from where anything happens, and its radius."""
    goal = {"rest": {"circle": [900.0, 600.0, 200.0]}}
    document = {**shipped("edge-of-the-pack"), "goal": goal}
    answer = live_play(asked(document, drawing={"hidden": hidden}))
    left, bottom, right, top = answer["window"]
    assert left < 700 and bottom < 400 and right > 1100 and top > 3000
    assert ("goal-area" in answer["layers"]["paths"]) is not hidden
    assert live_play(asked(shipped("edge-of-the-pack")))["window"][1] > 800
