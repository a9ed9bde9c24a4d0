"""The compiled engine that all of these tests share: the user's own, made if it is missing."""

from __future__ import annotations

import pytest

from stunline.shot import compiled


@pytest.fixture(scope="session", autouse=True)
def compiled_engine() -> None:
    """No test sees the progress of a first run among the messages that it reads."""
    if not compiled.is_compiled():
        compiled.compile_in_child(lambda text: None)
