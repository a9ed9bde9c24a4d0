"""Open the pack of the page's document over many racks, telling what there is as it grows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stunline.tasks.open_pack import PackResult, open_pack
from stunline.tasks.page_read import read_document, without_line
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
    read = read_document(document, folder)
    with without_line():
        paces = [read.file.plan.pace]
        for result in open_pack(read, paces, wish.gaps, wish.racks):
            words = f"{result.played:,} of {result.wanted:,} racks"
            grow(words, result.played / max(result.wanted, 1), told(result))


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
