"""How much the strike of the page's document forgives, told as it is played."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from stunline.planning.table_doubt import TableChance
from stunline.tasks.goal_words import goal_words, player_words
from stunline.tasks.margin_of_strike import MarginResult, margin_of_strike
from stunline.tasks.margin_pictures import narrow_face
from stunline.tasks.page_goal import player_of_document
from stunline.tasks.page_read import read_document, without_line
from stunline.tasks.strike_words import strike_words
from stunline.tasks.table_words import basis_words, table_rows
from stunline.tasks.tell_margin import (
    first_fault_words,
    in_ten,
    kind_rows,
    margin_rows,
    share_words,
)

Grow = Callable[[str, float, dict[str, Any]], None]
_PLAYS_SHARE = 0.6  # of the time, about; the map takes the rest [-]


def margin_of_document(
    document: Mapping[str, Any],
    theme: str,
    folder: Path,
    grow: Grow,
    stopped: Callable[[], bool] = lambda: False,
) -> None:
    """Margins, chance and the map of the face, for the document's goal and player.

    Args:
        theme: that the map is drawn in, "light" or "dark"
        folder: the library's, for table and player files
        grow: told what is being done, how much of it is, and what there is until then
        stopped: asked often; once true, what was played until then is told

    Raises:
        InputError: the document is not in order, or its player is not known.
        UnsolvableShotError: no strike does what it asks for.
    """
    read = read_document(document, folder)
    with without_line():
        player = player_of_document(read.file, folder)
        for result in margin_of_strike(read, player, pictures=("face",), cancelled=stopped):
            grow(_words(result), _done(result), told(result, theme))


def _tables(one: TableChance | None, meets: bool) -> dict[str, Any] | None:
    if one is None:
        return None
    rows = [list(row) for row in table_rows(one, meets)]
    return {"basis": basis_words(one.doubt), "rows": rows}


def _words(result: MarginResult) -> str:
    if result.face is None:
        study = result.study
        return f"{study.played:,} of {study.asked.plays:,} strokes played"
    return f"{result.face.played:,} of {result.face.wanted:,} contacts on the face tried"


def _done(result: MarginResult) -> float:
    played = result.study.played / result.study.asked.plays
    mapped = 0.0 if result.face is None else result.face.played / result.face.wanted
    return _PLAYS_SHARE * played + (1.0 - _PLAYS_SHARE) * mapped


def told(result: MarginResult, theme: str) -> dict[str, Any]:
    """Plain data for the page: sentences, rows of words, and the map as SVG."""
    file, study = result.file, result.study
    margins = study.margins
    return {
        "goal": goal_words(result.asked.goal, file),
        "own": result.own,
        "meant": strike_words(file, result.strike),
        "player": player_words(study.asked.player, file),
        "chance": share_words(study.chance) if study.played else "",
        "in_ten": in_ten(study.chance.share) if study.played else "",
        "plays": study.played,
        "alone": study.alone,
        "tables": _tables(study.on_tables, bool(margins)),
        "margins": [list(row) for row in margin_rows(file, margins, result.strike.pace)]
        if margins
        else [],
        "first": first_fault_words(file, study.fault, study.asked.player) if margins else "",
        "kinds": [list(row) for row in kind_rows(result)] if study.played else [],
        "map": narrow_face(result, theme),
    }
