"""The shipped typefaces: how wide a text is, and their files for embedding.

Stunline Sans is Lato cut down, for Latin, Greek and Cyrillic; Stunline Sans Further is DejaVu
Sans cut down, for texts with Hebrew or Arabic and for more signs (see ``fonts/``). Kerning is
left out of the widths, and of an Arabic letter's forms the widest counts, so that what is kept
free is never too small.
"""

from __future__ import annotations

import json
from base64 import b64encode
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from itertools import groupby
from pathlib import Path
from unicodedata import bidirectional, category, east_asian_width

FAMILY = "Stunline Sans"
FURTHER_FAMILY = "Stunline Sans Further"
# After the embedded faces: the full Lato where installed, then plain humanist sans faces with
# tabular figures, then whatever the reader has.
STACK = f"'{FAMILY}', '{FURTHER_FAMILY}', Lato, Carlito, Calibri, sans-serif"
FURTHER_STACK = f"'{FURTHER_FAMILY}', '{FAMILY}', sans-serif"
CAPITAL_HEIGHT = 0.7165  # em; height of capitals and figures, 1433/2000 in the font's OS/2 table
DESCENT = 0.21  # em; how far g and p reach below the baseline
UNKNOWN_WIDTH = 0.6  # em; a letter that no shipped font has comes from the reader's own
UNKNOWN_WIDE = 1.0  # em; the same for scripts that are set in squares
RIGHT_TO_LEFT = ("R", "AL")  # Unicode's classes of letters that are written so
INVISIBLE = ("Mn", "Me", "Cf")  # Unicode's categories of signs that take no width of their own

_FILES = {FAMILY: "stunline-sans", FURTHER_FAMILY: "stunline-sans-further"}
_WEIGHTS = {"regular": 400, "bold": 700}


@dataclass(frozen=True, slots=True)
class _Range:
    """Letters of one family that are embedded together, in files of their own.

    Attributes:
        family: its name
        file: how its files' names begin
        name: "basic", "greek", …
        css: its letters as CSS writes them, "U+20-7E,U+B0"
        letters: the letters
    """

    family: str
    file: str
    name: str
    css: str
    letters: frozenset[str]


def text_width(words: str, size: float, bold: bool = False) -> float:
    """Width of a text in letters of that size, in the size's unit."""
    return size * _em_width(words, bold)


@lru_cache(maxsize=4096)  # a picture asks again and again for the same few words
def _em_width(words: str, bold: bool) -> float:
    first, second = (_widths()[family][_style(bold)] for family in _families_for(words))
    return sum(
        first.get(letter) or second.get(letter) or _foreign_width(letter, first) for letter in words
    )


def runs(words: str) -> list[tuple[str, str]]:
    """The text in pieces, each with the stack of families that it is set in.

    A sign that only the further family has is a piece of its own: left to itself a renderer
    takes all letters from the font that has them all. A text with Hebrew or Arabic is one
    piece, because letters that join change their number as glyphs, and a renderer that mixes
    two fonts in such a text loses count.
    """
    if words.isascii():
        return [(STACK, words)]
    if _is_right_to_left(words):
        return [(FURTHER_STACK, words)]
    first, second = (_widths()[family]["regular"] for family in _families_for(words))
    pieces = groupby(words, lambda letter: letter not in first and letter in second)
    return [(FURTHER_STACK if strange else STACK, "".join(some)) for strange, some in pieces]


def lacking(words: str) -> str:
    """The letters that no shipped font has, each once, in order: PNG and PDF show boxes there."""
    families = (FURTHER_FAMILY,) if _is_right_to_left(words) else (FAMILY, FURTHER_FAMILY)
    known = [_widths()[family]["regular"] for family in families]
    foreign = (
        letter
        for letter in words
        if all(letter not in one for one in known) and category(letter) not in INVISIBLE
    )
    return "".join(dict.fromkeys(foreign))


def embedded_faces(texts: Iterable[tuple[str, bool]]) -> str:
    """CSS that carries what these texts need as data, so that a file looks right anywhere.

    Args:
        texts: words, and whether they are in bold
    """
    needed: defaultdict[tuple[str, str], set[str]] = defaultdict(set)
    for words, bold in set(texts):
        first, second = _families_for(words)
        known, style = _widths()[first][_style(bold)], _style(bold)
        for letter in words:
            needed[first if letter in known else second, style].add(letter)
    return "".join(
        _face(one, style)
        for one in _ranges()
        for style in _WEIGHTS
        if not one.letters.isdisjoint(needed[one.family, style])
    )


def font_files() -> list[str]:
    """The TTF files, for renderers that read no embedded faces."""
    return [
        str(_folder() / f"{file}-{style}.ttf") for file in _FILES.values() for style in _WEIGHTS
    ]


def font_folder() -> str:
    """The folder that holds them, for renderers that read a whole folder."""
    return str(_folder())


def font_families() -> list[str]:
    """Families in the order in which a letter is looked for."""
    return list(_FILES)


def _families_for(words: str) -> tuple[str, str]:
    """The family of a text, and the one that helps out."""
    return (FURTHER_FAMILY, FAMILY) if _is_right_to_left(words) else (FAMILY, FURTHER_FAMILY)


def _is_right_to_left(words: str) -> bool:
    return not words.isascii() and any(bidirectional(one) in RIGHT_TO_LEFT for one in words)


def _style(bold: bool) -> str:
    return "bold" if bold else "regular"


def _foreign_width(letter: str, known: Mapping[str, float]) -> float:
    """Of a letter that takes no width of its own, or that the reader's own fonts must give."""
    if letter in known or category(letter) in INVISIBLE:
        return 0.0
    return UNKNOWN_WIDE if east_asian_width(letter) in "WF" else UNKNOWN_WIDTH


@cache
def _face(one: _Range, style: str) -> str:
    data = (_folder() / f"{one.file}-{style}-{one.name}.woff2").read_bytes()
    return (
        f"@font-face{{font-family:'{one.family}';font-weight:{_WEIGHTS[style]};"
        f"src:url(data:font/woff2;base64,{b64encode(data).decode('ascii')}) format('woff2');"
        f"unicode-range:{one.css}}}"
    )


@cache
def _ranges() -> tuple[_Range, ...]:
    listed = json.loads((_folder() / "ranges.json").read_text(encoding="utf-8"))
    return tuple(
        _Range(one["family"], one["file"], one["name"], one["letters"], _letters(one["letters"]))
        for one in listed
    )


def _letters(css: str) -> frozenset[str]:
    pairs = (run.removeprefix("U+").partition("-") for run in css.split(","))
    spans = (range(int(first, 16), int(last or first, 16) + 1) for first, _, last in pairs)
    return frozenset(chr(code) for span in spans for code in span)


def _folder() -> Path:
    return Path(str(files("stunline.drawing") / "fonts"))


@cache
def _widths() -> dict[str, dict[str, dict[str, float]]]:
    """Family → style → letter → advance. [em]"""
    text = (_folder() / "widths.json").read_text(encoding="utf-8")
    widths: dict[str, dict[str, dict[str, float]]] = json.loads(text)
    return widths
