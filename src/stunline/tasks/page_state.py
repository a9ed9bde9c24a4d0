"""What the page finds again at its next start, and the secret that its browser is known by.

Both are kept outside the library, which may be a folder that others see.
"""

from __future__ import annotations

import contextlib
import json
import os
import secrets
import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from platformdirs import user_state_path

from stunline.errors import InputError
from stunline.tasks.library import Library, unwritable
from stunline.tasks.save_durably import put

_SECRET_BYTES = 32
_SECRET_LASTS = 7 * 24 * 3600.0  # s; a browser that was let in stays known for a week


def read_page_state(library: Library) -> dict[str, Any]:
    """As it was kept; empty where there is none that can be read."""
    try:
        state = json.loads(_path(library).read_bytes())
    except (OSError, ValueError):
        return {}
    return state if isinstance(state, dict) else {}


def keep_page_state(library: Library, state: Mapping[str, Any]) -> None:
    """Keep it in place of the one before.

    Raises:
        InputError: it can't be written.
    """
    path = _path(library)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        put(json.dumps(state, ensure_ascii=False, allow_nan=False).encode(), path)
    except OSError as error:
        raise unwritable(error, str(path.parent)) from error


def _path(library: Library) -> Path:
    return library.state / "page-state.json"


def session_secret() -> str:
    """What the cookie holds: the same for a week, so that a page outlives its server.

    Where it can't be kept it holds for this start only.
    """
    path = user_state_path("stunline", appauthor=False) / "page-session"
    with contextlib.suppress(OSError, ValueError, InputError):
        if time.time() - path.stat().st_mtime < _SECRET_LASTS:
            kept = path.read_text(encoding="ascii").strip()
            if len(kept) >= _SECRET_BYTES and not path.stat().st_mode & 0o077:
                return kept
    secret = secrets.token_urlsafe(_SECRET_BYTES)
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.unlink(missing_ok=True)
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as file:
            file.write(secret)
    return secret
