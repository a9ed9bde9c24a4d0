"""The page's document as a position that has been read, within the page's bounds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from stunline.errors import UnsolvableShotError
from stunline.shot.position_file import parse_position
from stunline.tasks.document import toml_of
from stunline.tasks.page_bounds import check_bounds
from stunline.tasks.read_position import ReadPosition


def read_document(document: Mapping[str, Any], folder: Path) -> ReadPosition:
    """Check and read it.

    Args:
        folder: the library's, for table files

    Raises:
        InputError: it is not in order, or more than the page plays.
    """
    check_bounds(document, folder)
    text = toml_of(document)
    return ReadPosition(parse_position(text, "", folder), text)


@contextmanager
def without_line() -> Iterator[None]:
    """Takes the line away from a refusal: the lines of the page's text are nobody's but ours.

    Raises:
        UnsolvableShotError: whatever was refused within, without its line.
    """
    try:
        yield
    except UnsolvableShotError as refusal:
        raise refusal.at("", None) from None
