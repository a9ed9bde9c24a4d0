"""Cut the drawing's two font files out of full Lato; run by hand when the letters change.

    python tools/subset_fonts.py FOLDER_WITH_LATO_TTF src/stunline/drawing/fonts

Needs fontTools with brotli, which the package itself does not. Lato's name is reserved by
its licence, so the cut-down fonts carry another one.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

FAMILY = "Stunline Sans"
STYLES = ("Regular", "Bold")
LETTERS = (
    "".join(map(chr, range(0x20, 0x7F)))
    + "".join(map(chr, range(0xA0, 0x180)))
    + "‐–—‘’‚“”„…−≤≥≈√∞→←↑↓◊′″•ωφθμ⅛⅜⅝⅞①②③④⑤⑥⑦⑧⑨"
)
# Kerning for the eye; no ligatures, so that a text's width is the sum of its letters'.
FEATURES = ["kern"]
COPYRIGHT, FAMILY_NAME, UNIQUE_NAME, FULL_NAME, POSTSCRIPT_NAME, TRADEMARK = 0, 1, 3, 4, 6, 7


def cut(source: Path, style: str) -> TTFont:
    """The subset of one style, renamed."""
    options = subset.Options(layout_features=FEATURES, hinting=False, name_IDs=[0, 1, 2, 5, 13, 14])
    font = subset.load_font(str(source), options)
    cutter = subset.Subsetter(options)
    cutter.populate(text=LETTERS)
    cutter.subset(font)
    names = font["name"]
    for record in list(names.names):
        if record.nameID == COPYRIGHT:
            continue
        if record.nameID == FAMILY_NAME:
            names.setName(FAMILY, FAMILY_NAME, record.platformID, record.platEncID, record.langID)
    for number, words in (
        (UNIQUE_NAME, f"{FAMILY} {style}"),
        (FULL_NAME, f"{FAMILY} {style}"),
        (POSTSCRIPT_NAME, f"{FAMILY}-{style}".replace(" ", "")),
    ):
        names.setName(words, number, 3, 1, 0x409)
    return font


def main(source: Path, target: Path) -> None:
    """Write TTF (for rendering), WOFF2 (for embedding) and the table of widths."""
    widths: dict[str, dict[str, float]] = {}
    for style in STYLES:
        font = cut(source / f"Lato-{style}.ttf", style)
        em = font["head"].unitsPerEm
        widths[style.lower()] = {
            chr(code): round(font["hmtx"][glyph][0] / em, 4)
            for code, glyph in sorted(font.getBestCmap().items())
        }
        font.save(target / f"stunline-sans-{style.lower()}.ttf")
        font.flavor = "woff2"
        font.save(target / f"stunline-sans-{style.lower()}.woff2")
    (target / "widths.json").write_text(
        json.dumps(widths, ensure_ascii=False, indent=0) + "\n", encoding="utf-8"
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
