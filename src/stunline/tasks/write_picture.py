"""Write a drawing to a file, the whole of it or nothing."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path

from stunline.drawing.marks import Drawing
from stunline.drawing.svg import svg
from stunline.drawing.theme import SCREEN_LIGHT
from stunline.errors import Fault, InputError


def _as_svg(drawing: Drawing) -> bytes:
    return svg(drawing, SCREEN_LIGHT).encode()


def _as_png(drawing: Drawing) -> bytes:
    from stunline.drawing.png import png

    return png(drawing, SCREEN_LIGHT)


_WRITERS: dict[str, Callable[[Drawing], bytes]] = {".svg": _as_svg, ".png": _as_png}


def check_ending(path: str) -> None:
    """Refuse an ending that no picture has, before anything is played.

    Raises:
        InputError: with the endings that can be written.
    """
    ending = Path(path).suffix.lower()
    if ending not in _WRITERS:
        raise InputError(
            [
                Fault(
                    "no picture is written with that ending",
                    given=f'"{path}"',
                    allowed=" or ".join(_WRITERS),
                    remedy=f'"{Path(path).with_suffix(".svg")}"',
                    key="-o",
                )
            ]
        )


def write_picture(drawing: Drawing, path: str) -> None:
    """Write the drawing as its ending says; a failure leaves what was there before.

    Raises:
        InputError: the ending is unknown, or the file can't be written.
    """
    check_ending(path)
    write_whole(_WRITERS[Path(path).suffix.lower()](drawing), path)


def write_whole(content: bytes, path: str) -> None:
    """Write to a temporary file in the same folder, then rename it over the old one.

    Raises:
        InputError: the file can't be written, and why.
    """
    target = Path(path)
    temporary = ""
    try:
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name}-", dir=target.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(temporary, 0o666 & ~_umask())
        os.replace(temporary, target)
    except OSError as error:
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
        raise InputError(
            [
                Fault(
                    f"the file can't be written: {(error.strerror or str(error)).lower()}",
                    given=f'"{path}"',
                    allowed="a place in a folder that exists and that you may write to",
                    remedy="another folder",
                    key="-o",
                )
            ]
        ) from error


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
