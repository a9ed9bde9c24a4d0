"""Open the pack of the page's document over many racks, telling what there is as it grows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stunline.errors import UnsolvableShotError
from stunline.shot.position_file import parse_position
from stunline.tasks.document import toml_of
from stunline.tasks.open_pack import PackResult, open_pack
from stunline.tasks.page_bounds import check_bounds
from stunline.tasks.read_position import ReadPosition
from stunline.tasks.tell_pack import pack_rows, rest_words
from stunline.units import millimetres

# Ends of the white sent to the page: more dots only blacken the plan.
MOST_ENDS = 1_000
Grow = Callable[[str, float, dict[str, Any]], None]


@dataclass(frozen=True, slots=True)
class PackWish:
    """What is to be played.

    Attributes:
        gaps: the largest between neighbours [mm]; None: the document's, or what is usual
        racks: how many
    """

    gaps: float | None = None
    racks: int = 2_000


def open_pack_of_document(
    document: Mapping[str, Any], wish: PackWish, folder: Path, grow: Grow
) -> None:
    """Play it with the document's own pace.

    Args:
        folder: the library's, for table files
        grow: told what is being done, how much of it is, and what there is until then

    Raises:
        InputError: the document is not in order, or racks no pack.
        UnsolvableShotError: no strike does what it asks for.
    """
    check_bounds(document, folder)
    text = toml_of(document)
    read = ReadPosition(parse_position(text, "", folder), text)
    try:
        paces = [read.file.plan.pace]
        for result in open_pack(read, paces, wish.gaps, wish.racks):
            words = f"{result.played:,} of {result.wanted:,} racks"
            grow(words, result.played / max(result.wanted, 1), told(result))
    except UnsolvableShotError as refusal:
        raise refusal.at("", None) from None  # the text's lines are nobody's but ours


def told(result: PackResult) -> dict[str, Any]:
    """Plain data for the page: rows of words, and where the white ended. [mm]"""
    (one,) = result.paces
    packs = one.packs
    shown = {"gaps": millimetres(result.gaps), "plays": 0, "rows": [], "rest": "", "ends": []}
    if packs is None:
        return shown
    ends = packs.rests[:MOST_ENDS].tolist()
    return {
        **shown,
        "plays": packs.plays,
        "rows": [list(row) for row in pack_rows(packs)],
        "rest": rest_words(result.file, packs),
        "ends": [[round(millimetres(x), 1), round(millimetres(y), 1)] for x, y in ends if x == x],
    }
