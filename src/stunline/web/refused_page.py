"""What a browser that asks for a page is told instead of one: a short page of its own."""

from __future__ import annotations

import html
from typing import Any

_PAGE = """\
<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>stunline: not opened</title>
<h1>stunline</h1>
{paragraphs}
"""


def refused_page(shape: dict[str, Any]) -> str:
    """An error object as a page in HTML, which needs no style sheet: a stranger is given none."""
    sentences = [_sentences(fault) for fault in shape["error"]["faults"]]
    lines = [f"<p>{html.escape(one)}</p>" for parts in sentences for one in parts]
    return _PAGE.format(paragraphs="\n".join(lines))


def _sentences(fault: dict[str, Any]) -> list[str]:
    """What was wrong and what is allowed, then what to do."""
    allowed = f"allowed: {fault['allowed']}" if fault["allowed"] else ""
    parts = (fault["what"], allowed, fault["remedy"])
    return [f"{words[0].upper()}{words[1:]}." for words in parts if words]


def wants_page(method: str, headers: dict[str, str]) -> bool:
    """Whether it is a browser's address line that asks, not the page's own code."""
    return method == "GET" and "text/html" in headers.get("accept", "")
