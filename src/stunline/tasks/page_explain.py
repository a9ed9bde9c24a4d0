"""Why the white of the page's document goes where it goes: sentences, and each cause's share."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from stunline.tasks.explain_shot import explain_shot
from stunline.tasks.explain_words import explain_sentences
from stunline.tasks.page_read import read_document, without_line
from stunline.tasks.tell_explain import share_rows


def explain_document(document: Mapping[str, Any], folder: Path) -> dict[str, Any]:
    """Plain data for the page.

    Args:
        folder: the library's, for table files

    Returns:
        sentences; rows of name, value, what it gives, gives alone, takes away with it, what then
        is met next, and how far off the white then comes

    Raises:
        InputError: the document is not in order.
        UnsolvableShotError: no strike does what it asks for, or the white meets no ball.
    """
    read = read_document(document, folder)
    with without_line():
        result = explain_shot(read)
    rows = share_rows(result) if result.explanation.causes else ()
    return {
        "sentences": list(explain_sentences(result)),
        "rows": [[cell.strip() for cell in row] for row in rows],
        "straight": result.explanation.is_straight,
    }
