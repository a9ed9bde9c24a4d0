"""Write a drawing to a file, as its ending says."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from stunline.tasks.write_whole import check_ending, check_folder, write_whole

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
    check_ending(
        path, tuple(_WRITERS), "no picture is written with that ending", "shot.svg", OPTION
    )
    check_folder(path, OPTION)


def is_paper(ending: str, theme_name: str | None = None) -> bool:
    """Whether a picture with that ending, in that theme, is meant for paper."""
    return (theme_name or _WRITERS[ending][1]) == "paper"


def picture(drawing: Drawing, ending: str, theme_name: str | None = None) -> bytes:
    """The drawing as a file's content.

    Args:
        ending: one that pictures have: ".svg", ".png", ".pdf"
        theme_name: one of ``THEME_NAMES``; None: paper for a PDF, light for the others
    """
    from stunline.drawing.theme import THEMES

    write, usual = _WRITERS[ending]
    return write(drawing, THEMES[theme_name or usual])


def write_picture(drawing: Drawing, path: str, theme_name: str | None = None) -> None:
    """Write the drawing; a failure leaves what was there before.

    Args:
        theme_name: as for ``picture``

    Raises:
        InputError: the ending is unknown, or the file can't be written.
    """
    check_picture(path)
    write_whole(picture(drawing, Path(path).suffix.lower(), theme_name), path, OPTION)
