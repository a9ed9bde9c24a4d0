"""What a picture's title block says: which table, which profile, how sure."""

from __future__ import annotations

from stunline.drawing.title_block import TitleBlock
from stunline.shot.position import Position


def title_block(position: Position, date: str = "") -> TitleBlock:
    """Title, table with its profile, date. [doubt: no band is known before a table is gauged]"""
    table = f"{position.table.title}, {position.cloth} cloth"
    return TitleBlock(position.title or "Untitled position", table, date=date)
