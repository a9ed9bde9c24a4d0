"""A drawing as PNG, for looking at; the SVG is the picture proper."""

from __future__ import annotations

from stunline.drawing.marks import Drawing
from stunline.drawing.svg import svg
from stunline.drawing.theme import Theme
from stunline.drawing.typeface import FAMILY, font_files

PIXELS_PER_INCH = 96  # CSS's pixel; without it the renderer falls back on its own
DEFAULT_ZOOM = 2  # sharp on a screen with two pixels to a CSS pixel


def png(drawing: Drawing, theme: Theme, zoom: int = DEFAULT_ZOOM) -> bytes:
    """The drawing rendered by resvg, ``zoom`` pixels to each pixel of 1/96 inch.

    Needs ``resvg-py``, which only this file imports.
    """
    from resvg_py import svg_to_bytes

    rendered: bytes = svg_to_bytes(
        svg_string=svg(drawing, theme, embed_font=False),
        dpi=PIXELS_PER_INCH,
        zoom=zoom,
        font_files=font_files(),
        font_family=FAMILY,
        skip_system_fonts=True,
    )
    return bytes(rendered)
