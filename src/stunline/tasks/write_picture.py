"""Write a drawing to a file, as its ending says."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from stunline.errors import Fault, InputError
from stunline.tasks.write_whole import check_folder, write_whole

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.drawing.theme import Theme

OPTION = "-o"


# What a picture stands on: two screens, and paper, whose inks are greys.
THEME_NAMES = ("light", "dark", "paper")


def _as_svg(drawing: Drawing, theme: Theme) -> bytes:
    from stunline.drawing.svg import svg

    return svg(drawing, theme).encode()


def _as_png(drawing: Drawing, theme: Theme) -> bytes:
    from stunline.drawing.png import png

    return png(drawing, theme)


def _as_pdf(drawing: Drawing, theme: Theme) -> bytes:
    from stunline.drawing.pdf import pdf

    return pdf(drawing, theme)


# Ending → the writer, and the theme when none is asked for.
_WRITERS: dict[str, tuple[Callable[[Drawing, Theme], bytes], str]] = {
    ".svg": (_as_svg, "light"),
    ".png": (_as_png, "light"),
    ".pdf": (_as_pdf, "paper"),
}


def check_picture(path: str) -> None:
    """Refuse an ending that no picture has, or a missing folder, before anything is played.

    Raises:
        InputError: with what is allowed.
    """
    place = Path(path)
    if place.suffix.lower() not in _WRITERS:
        fault = Fault(
            "no picture is written with that ending",
            given=f'"{path}"',
            allowed=", ".join(_WRITERS),
            remedy=f'"{place.with_suffix(".svg")}"' if place.stem else '"shot.svg"',
            key=OPTION,
        )
        raise InputError([fault])
    check_folder(path, OPTION)


def is_paper(path: str, theme_name: str | None = None) -> bool:
    """Whether the picture at that path, in that theme, is meant for paper."""
    return (theme_name or _WRITERS[Path(path).suffix.lower()][1]) == "paper"


def write_picture(drawing: Drawing, path: str, theme_name: str | None = None) -> None:
    """Write the drawing; a failure leaves what was there before.

    Args:
        theme_name: one of ``THEME_NAMES``; None: paper for a PDF, light for the others

    Raises:
        InputError: the ending is unknown, or the file can't be written.
    """
    from stunline.drawing.theme import THEMES

    check_picture(path)
    write, usual = _WRITERS[Path(path).suffix.lower()]
    write_whole(write(drawing, THEMES[theme_name or usual]), path, OPTION)
