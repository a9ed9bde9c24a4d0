"""Which engine computed a result."""

from __future__ import annotations

import stunline


def engine_shape() -> dict[str, str]:
    """The engine's version, which with the inputs makes a result repeatable."""
    return {"name": "stunline", "version": stunline.__version__}
