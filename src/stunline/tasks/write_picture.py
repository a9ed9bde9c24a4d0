"""Write a drawing to a file, as its ending says."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from stunline.errors import Fault, InputError
from stunline.tasks.write_whole import check_folder, write_whole

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing

OPTION = "-o"


def _as_svg(drawing: Drawing) -> bytes:
    from stunline.drawing.svg import svg
    from stunline.drawing.theme import SCREEN_LIGHT

    return svg(drawing, SCREEN_LIGHT).encode()


def _as_png(drawing: Drawing) -> bytes:
    from stunline.drawing.png import png
    from stunline.drawing.theme import SCREEN_LIGHT

    return png(drawing, SCREEN_LIGHT)


_WRITERS: dict[str, Callable[[Drawing], bytes]] = {".svg": _as_svg, ".png": _as_png}


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
            allowed=" or ".join(_WRITERS),
            remedy=f'"{place.with_suffix(".svg")}"' if place.stem else '"shot.svg"',
            key=OPTION,
        )
        raise InputError([fault])
    check_folder(path, OPTION)


def write_picture(drawing: Drawing, path: str) -> None:
    """Write the drawing; a failure leaves what was there before.

    Raises:
        InputError: the ending is unknown, or the file can't be written.
    """
    check_picture(path)
    write_whole(_WRITERS[Path(path).suffix.lower()](drawing), path, OPTION)
