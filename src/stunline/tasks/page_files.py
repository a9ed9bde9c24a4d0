"""Files of the package that the browser may ask for: the drawing's own fonts."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import stunline

_ENDING = ".woff2"


@lru_cache(maxsize=1)
def fonts() -> dict[str, Path]:
    """Every shipped font for the web, by its file's name."""
    # By its path: the drawing room itself takes a while to load, and the page asks at once.
    folder = Path(stunline.__file__).parent / "drawing" / "fonts"
    return {path.name: path for path in sorted(folder.glob(f"*{_ENDING}"))}
