"""Which stroke was really played of the page's document, from what its [played] tells."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from stunline.tasks.page_goal import player_of_document
from stunline.tasks.page_read import read_document, without_line
from stunline.tasks.played_pictures import narrow_face, played_layer
from stunline.tasks.played_stroke import PlayedResult, played_stroke
from stunline.tasks.played_words import basis_words, happened_words, sentences
from stunline.tasks.tell_played import number_rows

Grow = Callable[[str, float, dict[str, Any]], None]


def played_of_document(document: Mapping[str, Any], theme: str, folder: Path, grow: Grow) -> None:
    """The likely stroke, told once it is found.

    Args:
        theme: that face and ways are drawn in, "light" or "dark"
        folder: the library's, for table and player files
        grow: told what is being done, how much of it is, and what there is

    Raises:
        InputError: the document is not in order, tells nothing, or its player is not known.
        UnsolvableShotError: no strike does what it asks for.
    """
    read = read_document(document, folder)
    with without_line():
        player = player_of_document(read.file, folder)
        result = played_stroke(read, player=player)
    grow("done", 1.0, told(result, theme))


def told(result: PlayedResult, theme: str) -> dict[str, Any]:
    """Plain data for the page: sentences, a row for each number, the face and the ways as SVG."""
    explained = result.found.explained
    rows = list(number_rows(result.file, result.whole))[1:] if explained else []
    return {
        "told_back": list(sentences(result)),
        "seen": happened_words(result),
        "rows": [list(row) for row in rows],
        "basis": basis_words(result) if explained else "",
        "map": narrow_face(result, theme),
        "layer": played_layer(result, theme),
    }
