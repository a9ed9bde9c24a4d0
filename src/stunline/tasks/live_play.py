"""One live play: the page's document in, everything that the page shows of it out.

The document is checked as a file is, solved and played as ``stunline shot`` does, and drawn by
the one writer of pictures. Whatever is wrong with it, table and balls are drawn all the same.
"""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from stunline.drawing.doubt_marks import doubt_of_shot
from stunline.drawing.marks import Size
from stunline.drawing.page import Page
from stunline.drawing.screen_plan import (
    ScreenPlan,
    key_svg,
    layers_of,
    page_of_action,
    page_of_balls,
    page_of_window,
    screen_drawing,
    table_layer,
)
from stunline.drawing.theme import THEMES
from stunline.drawing.way_marks import LetteredWay
from stunline.errors import Fault, InputError, StunlineError, UnsolvableShotError
from stunline.shot.aiming.solve import Solver
from stunline.shot.band import band_of_shot
from stunline.shot.goal import Goal
from stunline.shot.notes import notes
from stunline.shot.position import PotAim
from stunline.shot.position_file import PositionFile, ReadValues
from stunline.shot.sentences import shot_sentence
from stunline.shot.shot import Shot
from stunline.tasks.band_words import whose_words
from stunline.tasks.error_shape import error_shape, fault_rows
from stunline.tasks.lines import length_words
from stunline.tasks.live_answer import (
    Part,
    balls_part,
    doubt_part,
    empty_parts,
    events_part,
    phases_part,
    pot_part,
    rows_part,
    strike_part,
)
from stunline.tasks.live_document import (
    Pinned,
    check_document,
    play_file,
    play_pinned,
    unplayed,
)
from stunline.tasks.live_free_place import free_place
from stunline.tasks.live_moving import LastPot
from stunline.tasks.live_request import LiveRequest, read_request
from stunline.tasks.page_players import player_faults
from stunline.tasks.play_shot import ShotResult
from stunline.units import millimetres

KEY_HEIGHT = 92.0  # of the table in the key [px]
_KEY = "key"  # its name among the hashes of what the page holds


def live_play(
    request: Mapping[str, Any], folder: Path | None = None, last: LastPot | None = None
) -> Part:
    """The answer to one message of the page.

    Args:
        request: as the server's protocol describes it
        folder: the library's, that table files may stand in; None: only shipped tables
        last: what this page's plays have found, for a quicker answer while something moves

    Returns:
        Plain data for JSON; with the key "fault", when no strike could be played.
    """
    asked = read_request(request)
    read = check_document(asked.document, folder)
    if read.playable is None:
        return _refused(asked, read, InputError(read.faults))
    solver = Solver(read.playable.position)
    try:
        result = _played(read.playable, solver, None if asked.words else last)
    except UnsolvableShotError as refusal:
        return _refused(asked, read, refusal)
    if asked.doubt and asked.words and not asked.hidden:
        result = _with_band(result, solver)
    pinned = [play_pinned(one, asked.document, read.scene, solver) for one in asked.pinned]
    # What is wrong with ladder or goal is said, and the shot is played all the same.
    ways = [(one, play_pinned(one, asked.document, read.scene, solver)) for one in asked.ways]
    return _answered(asked, read, result, pinned, ways, folder)


def _played(file: PositionFile, solver: Solver, last: LastPot | None) -> ShotResult:
    """Solved near the last play's solution, or by itself where that fails or there is none."""
    if last is not None and isinstance(file.plan.aim, PotAim):
        quick = solver.with_potting(last.potting(file.plan.aim))
        result = play_file(file, quick)
        if result.outcome.pot_made:
            return result
    return play_file(file, solver)


def _with_band(result: ShotResult, solver: Solver) -> ShotResult:
    """The same with what its table's doubt leaves of it; an opened pack only to the next ball."""
    band = band_of_shot(
        result.file.position,
        result.solution.strike,
        result.file.plan,
        patience=0,
        prepared=solver.prepared,
    )
    return replace(result, band=band)


def _answered(
    asked: LiveRequest,
    read: ReadValues,
    result: ShotResult,
    pinned: list[Pinned],
    ways: list[tuple[Mapping[str, object], Pinned]],
    folder: Path | None,
) -> Part:
    shot = result.shot
    beside = [one.shot for one in pinned if one.shot is not None]
    lettered = [
        LetteredWay(str(one["letter"]), played.shot)
        for one, played in ways
        if played.shot is not None
    ]
    goal = None if read.file is None else read.file.goal
    page = _page(asked, shot, [shot, *beside, *(way.shot for way in lettered)], goal)
    band = result.band
    doubt = None if band is None else doubt_of_shot(band, whose_words(band.doubt))
    plan = ScreenPlan(
        shot, beside, not asked.hidden, asked.words, asked.held, goal, lettered, doubt
    )
    goal_faults = [fault for fault in read.faults if is_of_goal(fault)]
    goal_faults += player_faults(read.file, folder)
    notes_of_file = [fault.sentence() for fault in read.faults if not is_of_goal(fault)]
    return {
        "play": asked.play,
        **_picture(asked, plan, page),
        "balls": balls_part(shot),
        "strike": strike_part(result),
        "goal_faults": fault_rows(goal_faults),
        **(empty_parts() if asked.hidden else _told(result, pinned, notes_of_file)),
    }


def is_of_goal(fault: Fault) -> bool:
    """Whether it is about [goal], beside whose fields the page tells it."""
    return fault.key == "goal" or fault.key.startswith("goal.")


def _told(result: ShotResult, pinned: list[Pinned], beside: list[str]) -> Part:
    file, shot = result.file, result.shot
    return {
        "sentence": shot_sentence(
            result.readouts, result.outcome, lambda mm: length_words(file, mm)
        ),
        "rows": rows_part(result),
        "events": events_part(result),
        "phases": phases_part(shot),
        "notes": [*notes(shot), *beside],
        "duration": shot.duration,
        "pot": pot_part(result),
        "doubt": doubt_part(result),
        "pinned": [
            {"number": number, "words": one.words, "played": one.shot is not None}
            for number, one in enumerate(pinned, 1)
        ],
    }


def _refused(asked: LiveRequest, read: ReadValues, error: StunlineError) -> Part:
    """What is wrong, with table and balls, and a place where the moved ball could stand."""
    shot = unplayed(read.position)
    page = _page(asked, shot, [])
    plan = ScreenPlan(shot, (), False, asked.words, asked.held)
    answer = {
        "play": asked.play,
        "fault": error_shape(error)["error"],
        **_picture(asked, plan, page),
        "balls": balls_part(shot),
    }
    free = _nearest_free(asked, read, error)
    return {**answer, "nearest_free": free} if free else answer


def _nearest_free(asked: LiveRequest, read: ReadValues, error: StunlineError) -> Part | None:
    """For the ball that is held, or the one that the first fault of a place is about."""
    if not isinstance(error, InputError):
        return None
    faulty = [fault.key.removeprefix("balls.") for fault in error.faults]
    named = [name for name in faulty if name in read.position.balls]
    if not named:
        return None
    ball = asked.held if asked.held in read.position.balls else named[0]
    assert ball is not None
    place = free_place(read.position, ball, read.position.balls[ball])
    if place is None:
        return None
    return {"ball": ball, "at": [round(millimetres(one), 3) for one in place]}


def _page(asked: LiveRequest, still: Shot, played: list[Shot], goal: Goal | None = None) -> Page:
    """The part of the table that is shown, the unit of its figures and the least of its letters."""
    page = replace(_framed(asked, still, played, goal), in_inches=asked.in_inches)
    if asked.signs:
        return page
    return replace(page, medium=replace(page.medium, smallest=Size.SMALL))


def _framed(asked: LiveRequest, still: Shot, played: list[Shot], goal: Goal | None) -> Page:
    """As asked, or framed on what is there to see."""
    if asked.window is not None:
        return page_of_window(asked.window, asked.size)
    if asked.hidden or not played:
        return page_of_balls(still, asked.size, goal)
    return page_of_action(played, asked.size, goal)


def _picture(asked: LiveRequest, plan: ScreenPlan, page: Page) -> Part:
    """The window and the layers that the page doesn't hold yet, each with its hash."""
    theme, position, window = THEMES[asked.theme], plan.shot.position, page.window
    table = table_layer(position.table, page, position.coefficients.pockets, theme)
    layers = {"table": table, **layers_of(screen_drawing(plan, page), theme)}
    key = key_svg(position.table, window, KEY_HEIGHT, theme)
    hashes = {name: _hash(text) for name, text in {**layers, _KEY: key}.items()}
    fresh = {name: text for name, text in layers.items() if asked.have.get(name) != hashes[name]}
    return {
        "window": [window.left, window.bottom, window.right, window.top],
        "scale": page.scale,
        "layers": fresh,
        "hashes": hashes,
        "key": key if asked.have.get(_KEY) != hashes[_KEY] else None,
    }


def _hash(text: str) -> str:
    return f"{zlib.crc32(text.encode()):08x}"
