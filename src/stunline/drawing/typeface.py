"""The shipped typeface: how wide a text is, and its files for embedding.

Stunline Sans is Lato cut down (see ``fonts/``). Kerning is left out of the widths; with it a
text comes out a little narrower, so that what is kept free is never too small.
"""

from __future__ import annotations

import json
from base64 import b64encode
from functools import cache
from importlib.resources import files
from pathlib import Path

FAMILY = "Stunline Sans"
# After the embedded face: the full Lato where installed, then plain humanist sans faces with
# tabular figures, then whatever the reader has.
STACK = f"'{FAMILY}', Lato, Carlito, Calibri, sans-serif"
CAPITAL_HEIGHT = 0.7165  # em; height of capitals and figures, 1433/2000 in the font's OS/2 table
DESCENT = 0.21  # em; how far g and p reach below the baseline
UNKNOWN_WIDTH = 0.6  # em; a letter that the cut-down font lacks comes from the stack

_STYLES = ("regular", "bold")


def text_width(words: str, size: float, bold: bool = False) -> float:
    """Width of a text in letters of that size, in the size's unit."""
    widths = _widths()["bold" if bold else "regular"]
    return size * sum(widths.get(letter, UNKNOWN_WIDTH) for letter in words)


def embedded_faces() -> str:
    """CSS that carries both faces as data, so that a file looks right wherever it is opened."""
    return "".join(
        f"@font-face{{font-family:'{FAMILY}';font-weight:{weight};"
        f"src:url(data:font/woff2;base64,{_encoded(style)}) format('woff2')}}"
        for style, weight in zip(_STYLES, (400, 700), strict=True)
    )


def font_files() -> list[str]:
    """The TTF files, for renderers that read no embedded faces."""
    return [str(Path(str(_folder())) / f"stunline-sans-{style}.ttf") for style in _STYLES]


def font_folder() -> str:
    """The folder that holds them, for renderers that read a whole folder."""
    return str(_folder())


def font_families() -> list[str]:
    """Families in the order in which a letter is looked for."""
    return [FAMILY]


def _folder() -> Path:
    return Path(str(files("stunline.drawing") / "fonts"))


@cache
def _widths() -> dict[str, dict[str, float]]:
    text = (_folder() / "widths.json").read_text(encoding="utf-8")
    widths: dict[str, dict[str, float]] = json.loads(text)
    return widths


@cache
def _encoded(style: str) -> str:
    return b64encode((_folder() / f"stunline-sans-{style}.woff2").read_bytes()).decode("ascii")
