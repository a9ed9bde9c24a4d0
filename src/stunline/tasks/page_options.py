"""The ways to a goal as the page shows them: a strike each, in numbers and in words."""

from __future__ import annotations

from typing import Any

from stunline.drawing import story
from stunline.planning.option import Option
from stunline.shot.play import Prepared
from stunline.shot.shot import Shot
from stunline.shot.words import arrival_phrase
from stunline.tasks.choice_shape import strike_shape
from stunline.tasks.choose_strike import LETTERS, ChoiceResult
from stunline.tasks.goal_words import (
    chance_words,
    fault_words,
    option_kind_words,
)
from stunline.tasks.table_words import table_line
from stunline.tasks.tell_choice import strike_words

MOST_WAYS = 3  # on one plan; more would hide each other
_WAY_POINTS = 60  # of a way, for a pointer to find it


def told_options(result: ChoiceResult) -> list[dict[str, Any]]:
    """The best of them, as many as the plan shows."""
    prepared = Prepared(result.file.position)
    return [
        _told(result, letter, option, prepared.play(option.strike))
        for letter, option in zip(LETTERS, result.choice.options[:MOST_WAYS], strict=False)
    ]


def _told(result: ChoiceResult, letter: str, option: Option, shot: Shot) -> dict[str, Any]:
    file = result.file
    way = _way(shot)
    return {
        "letter": letter,
        "strike": strike_shape(option.strike),
        "words": strike_words(result, option),
        "kind": option_kind_words(option.kind),
        "arrives": arrival_phrase(option.follow_ratio),
        "chance": chance_words(option.chance),
        "tables": "" if option.on_tables is None else table_line(option.on_tables),
        "fault": "" if option.fault is None else fault_words(option.fault, file),
        "way": way,
        "end": way[-1],
    }


def _way(shot: Shot) -> list[list[float]]:
    """The white's way from its first contact to where the plan ends it. [mm]"""
    white = story.cue_ball(shot)
    since = next((contact.time for contact in story.contacts(shot)), 0.0)
    until = story.told_until(shot)
    times = [since + (until - since) * k / (_WAY_POINTS - 1) for k in range(_WAY_POINTS)]
    return [[round(x, 1), round(y, 1)] for x, y in (story.place(shot, white, t) for t in times)]
