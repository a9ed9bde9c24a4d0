"""What a picture's title block says: which table, which profile, how sure."""

from __future__ import annotations

from stunline.drawing.title_block import TitleBlock
from stunline.shot.position import Position
from stunline.shot.words import doubt_words


def title_block(position: Position, date: str = "") -> TitleBlock:
    """Title, table with its profile, date. How sure: whether its cloth was gauged."""
    table = f"{position.table.title}, {position.cloth} cloth"
    doubt = doubt_words(position.table.cloths[position.cloth])
    return TitleBlock(position.title or "Untitled position", table, doubt, date)
