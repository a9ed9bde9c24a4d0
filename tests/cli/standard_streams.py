"""What a process does around ``main``, done in this one: its streams, its end, its warnings."""

from __future__ import annotations

import contextlib
import io
import os
import sys
import tempfile
import traceback
import warnings
from collections.abc import Callable, Iterator
from typing import Any, TextIO
from unittest import mock

# What Python itself starts with outside of tests: docs.python.org, warnings, "Default filter".
_UNSEEN = (
    DeprecationWarning,
    PendingDeprecationWarning,
    ImportWarning,
    ResourceWarning,
)


def exit_code(main: Callable[[], Any]) -> int:
    """What the process would end with; what would end it with a traceback prints that."""
    try:
        main()
    except SystemExit as end:
        if isinstance(end.code, str):
            sys.stderr.write(f"{end.code}\n")
            return 1
        return end.code or 0
    except Exception:
        traceback.print_exc()
        return 1
    return 0


class Caught:
    """All that went to a standard stream, from Python and from everything below it."""

    def __init__(self, name: str, number: int) -> None:
        self._name, self._number = name, number
        self.text = ""

    @contextlib.contextmanager
    def catch(self) -> Iterator[None]:
        """Until the block is left; as a stream into a pipe, in UTF-8."""
        usual = os.dup(self._number)
        with tempfile.TemporaryFile() as file:
            os.dup2(file.fileno(), self._number)
            try:
                with self._stream():
                    yield
            finally:
                os.dup2(usual, self._number)
                os.close(usual)
            file.seek(0)
            self.text = io.TextIOWrapper(file, encoding="utf-8").read()

    @contextlib.contextmanager
    def _stream(self) -> Iterator[None]:
        with (
            open(self._number, "w", encoding="utf-8", closefd=False) as stream,
            mock.patch.object(sys, self._name, stream),
        ):
            yield


@contextlib.contextmanager
def usual_warnings() -> Iterator[None]:
    """Those that a user sees go to stderr; tests would keep them for their summary."""
    with warnings.catch_warnings():
        warnings.resetwarnings()
        for unseen in _UNSEEN:
            warnings.simplefilter("ignore", unseen)
        warnings.showwarning = _show
        yield


def _show(
    message: Warning | str,
    category: type[Warning],
    filename: str,
    lineno: int,
    file: TextIO | None = None,
    line: str | None = None,
) -> None:
    (file or sys.stderr).write(warnings.formatwarning(message, category, filename, lineno, line))
