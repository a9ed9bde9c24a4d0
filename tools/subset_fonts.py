"""Cut the drawing's fonts out of full Lato and DejaVu Sans; run by hand when the letters change.

    python tools/subset_fonts.py FOLDER_OF_LATO FOLDER_OF_DEJAVU src/stunline/drawing/fonts

Needs fontTools with brotli, which the package itself does not. Lato's name is reserved by its
licence, and DejaVu's asks that what is changed carries no name of its makers; so the cut-down
fonts carry names of their own.

Each style of a family becomes one TTF with every letter, for renderers, and one WOFF2 for each
of the family's ranges, so that a picture carries only the ranges whose letters it shows.
"""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

# What the product itself writes, whatever the user's words are.
OWN_SIGNS = "\u00a0°±·×−–—’…≤≥≈→"
BASIC = "".join(map(chr, range(0x20, 0x7F))) + OWN_SIGNS
# Accents set on their letters, joining for Arabic; no ligatures in Latin, so that a text is as
# wide as its letters together. Kerning only in the TTFs: it is a fifth of what a picture carries.
PLAIN_FEATURES = ("mark", "mkmk", "ccmp")
JOINING_FEATURES = ("isol", "init", "medi", "fina", "rlig")
KERNING = "kern"
MOST_FORMS = 4  # of an Arabic letter: alone, first, within, last
COPYRIGHT, FAMILY_NAME, STYLE_NAME, UNIQUE_NAME, FULL_NAME, POSTSCRIPT_NAME = 0, 1, 2, 3, 4, 6
LICENCE = 13
KEPT_NAMES = (COPYRIGHT, FAMILY_NAME, STYLE_NAME, 5, LICENCE, 14)
DROPPED_NAMES = (16, 17, 18, 21, 22)  # other ways of naming the family
WINDOWS_ENGLISH = (3, 1, 0x409)


def blocks(*pairs: tuple[int, int]) -> str:
    """Every letter from each first to each last, both included."""
    return "".join(chr(code) for first, last in pairs for code in range(first, last + 1))


@dataclass(frozen=True)
class Family:
    """One family to be cut.

    Attributes:
        name: its new name
        file: how its files begin
        sources: style → file name of the full font
        ranges: name → letters; a letter in two ranges belongs to the first
        features: layout features that are kept
    """

    name: str
    file: str
    sources: dict[str, str]
    ranges: dict[str, str]
    features: tuple[str, ...]


FAMILIES = (
    Family(
        "Stunline Sans",
        "stunline-sans",
        {"regular": "Lato-Regular.ttf", "bold": "Lato-Bold.ttf"},
        {
            "basic": BASIC,
            "signs": "½¼¾"
            + blocks((0x2010, 0x205E), (0x20A0, 0x20BF), (0x2150, 0x215F))
            + blocks((0x2190, 0x22FF), (0x2460, 0x2473), (0x25A0, 0x25FF)),
            "latin": blocks((0xA0, 0x17F)),
            "latin-further": blocks((0x180, 0x24F), (0x300, 0x36F), (0x1E00, 0x1EFF)),
            "greek": blocks((0x370, 0x3FF), (0x1F00, 0x1FFF)),
            "cyrillic": blocks((0x400, 0x52F)),
        },
        PLAIN_FEATURES,
    ),
    Family(
        "Stunline Sans Further",
        "stunline-sans-further",
        {"regular": "DejaVuSans.ttf", "bold": "DejaVuSans-Bold.ttf"},
        {
            # A text with joined letters must be of one font, whatever else stands in it: the
            # renderer gives up where two fonts make different numbers of glyphs of it.
            "basic": BASIC,
            "hebrew": blocks((0x591, 0x5F4)),
            "arabic": blocks((0x600, 0x6FF)),
            "signs": "½¼¾"
            + blocks((0x2010, 0x2044), (0x2190, 0x2193), (0x2460, 0x2469), (0x25A0, 0x25FF))
            + blocks((0x2605, 0x2606), (0x2660, 0x266F), (0x2713, 0x2718), (0xFFFD, 0xFFFD)),
            "latin": blocks((0xA0, 0x17F)),
            "greek": blocks((0x370, 0x3FF)),
            "cyrillic": blocks((0x400, 0x4FF)),
        },
        PLAIN_FEATURES + JOINING_FEATURES,
    ),
)


def cut(source: Path, family: Family, style: str, letters: str, *more: str) -> TTFont:
    """The subset of one style, renamed; ``more`` are further layout features to keep."""
    features = [*family.features, *more]
    options = subset.Options(
        layout_features=features,
        hinting=False,
        name_IDs=list(KEPT_NAMES),
        drop_tables=["FFTM"],
        notdef_outline=True,  # a letter that is lacking shows as a box, not as a gap
    )
    font = subset.load_font(str(source), options)
    cutter = subset.Subsetter(options)
    cutter.populate(text=letters)
    cutter.subset(font)
    rename(font, family.name, style.capitalize())
    return font


def rename(font: TTFont, family: str, style: str) -> None:
    """Give the font its new name wherever a name stands."""
    names = font["name"]
    for number in DROPPED_NAMES:
        names.removeNames(number)
    names.names = [record for record in names.names if record.platformID == WINDOWS_ENGLISH[0]]
    for number, words in (
        (FAMILY_NAME, family),
        (STYLE_NAME, style),
        (UNIQUE_NAME, f"{family} {style}"),
        (FULL_NAME, f"{family} {style}"),
        (POSTSCRIPT_NAME, f"{family}-{style}".replace(" ", "")),
    ):
        names.setName(words, number, *WINDOWS_ENGLISH)


def widths_of(font: TTFont) -> dict[str, float]:
    """Each letter's advance in em; of an Arabic letter that of its widest form."""
    em, advances = font["head"].unitsPerEm, font["hmtx"].metrics
    return {
        chr(code): round(max(advances[form][0] for form in forms(font, glyph)) / em, 4)
        for code, glyph in sorted(font.getBestCmap().items())
    }


def forms(font: TTFont, glyph: str) -> list[str]:
    """The glyph and what single substitutions make of it."""
    found = [glyph]
    table = font["GSUB"].table if "GSUB" in font else None
    for lookup in table.LookupList.Lookup if table and table.LookupList else ():
        for one in lookup.SubTable:
            one = getattr(one, "ExtSubTable", one)
            mapping = getattr(one, "mapping", {})
            if glyph in mapping and isinstance(mapping[glyph], str):
                found.append(mapping[glyph])
    return found[: 1 + MOST_FORMS]


def own_letters(full: TTFont, family: Family) -> dict[str, str]:
    """Each range's letters that the full font has and no earlier range holds."""
    known, taken, found = set(map(chr, full.getBestCmap())), set[str](), {}
    for name, letters in family.ranges.items():
        found[name] = "".join(sorted((set(letters) & known) - taken))
        taken |= set(found[name])
    return found


def unicode_range(letters: str) -> str:
    """The letters as CSS writes a range: "U+20-7E,U+B0"."""
    runs: list[list[int]] = []
    for code in sorted(map(ord, letters)):
        if runs and code == runs[-1][1] + 1:
            runs[-1][1] = code
        else:
            runs.append([code, code])
    return ",".join(f"U+{a:X}" if a == b else f"U+{a:X}-{b:X}" for a, b in runs)


def licence_of(font: TTFont) -> str:
    """The licence's text that the full font carries, with its copyright lines."""
    names = font["name"]
    return f"{names.getDebugName(COPYRIGHT)}\n{names.getDebugName(LICENCE)}\n"


def write_family(family: Family, folder: Path, target: Path) -> tuple[dict, list]:  # type: ignore[type-arg]
    """Write its files; gives its widths by style, and its ranges."""
    widths, ranges = {}, {}
    for style, source in family.sources.items():
        letters = own_letters(TTFont(folder / source), family)
        whole = cut(folder / source, family, style, "".join(letters.values()), KERNING)
        widths[style] = widths_of(whole)
        whole.save(target / f"{family.file}-{style}.ttf")
        for name, some in letters.items():
            font = cut(folder / source, family, style, some)
            font.flavor = "woff2"
            font.save(target / f"{family.file}-{style}-{name}.woff2")
            ranges[name] = unicode_range(some)
    listed = [
        {"family": family.name, "file": family.file, "name": name, "letters": letters}
        for name, letters in ranges.items()
    ]
    return widths, listed


def main(lato: Path, dejavu: Path, target: Path) -> None:
    """Write TTF (for rendering), WOFF2 (for embedding), the ranges and the table of widths."""
    widths, ranges = {}, []
    for family, folder in zip(FAMILIES, (lato, dejavu), strict=True):
        widths[family.name], listed = write_family(family, folder, target)
        ranges += listed
    for name, content in (("widths", widths), ("ranges", ranges)):
        text = json.dumps(content, ensure_ascii=False, indent=0)
        (target / f"{name}.json").write_text(text + "\n", encoding="utf-8")
    licence = licence_of(TTFont(dejavu / FAMILIES[1].sources["regular"]))
    (target / "DejaVu-licence.txt").write_text(licence, encoding="utf-8")


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:4]))
