"""The worker of the page: a process of low priority for what takes long, one job at a time.

Reads one wish as a line of JSON from its standard input, or that the one under way shall stop
with what it has; writes lines of JSON to its standard
output: progress, and what there is until then; then the file's size and name followed by its
bytes, or that it is finished, or an error object. It
ends by itself as soon as its input closes, which the end of the server does, however it ends.
"""

from __future__ import annotations

import json
import os
import queue
import sys
import threading
from pathlib import Path
from typing import Any

from stunline.errors import StunlineError
from stunline.tasks.error_shape import error_shape
from stunline.tasks.page_engine import compile_engine

STOP = b"stop\n"  # a line that asks the wish under way to end with what there is
STOPPABLE = ("choose", "margin", "reach", "gauge")  # kinds of wishes that heed it
_stopped = threading.Event()
_NICENESS = 10  # below everything that a hand waits for


def work() -> None:
    """Do wishes until the input closes."""
    os.nice(_NICENESS)
    wishes: queue.SimpleQueue[bytes] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(wishes,), daemon=True).start()
    while True:
        wish = json.loads(wishes.get())
        try:
            if wish["kind"] == "compile":
                compile_engine()
                _write({"compiled": True})
            elif wish["kind"] == "pack":
                _open_pack(wish)
            elif wish["kind"] == "played":
                _tell_played(wish)
            elif wish["kind"] in STOPPABLE:
                _search(wish)
            else:
                _export(wish)
        except StunlineError as error:
            _write(error_shape(error))
        except Exception as error:  # whatever it was, the page is told and the worker goes on
            _write({"broken": f"{type(error).__name__}: {error}"})


def _listen(wishes: queue.SimpleQueue[bytes]) -> None:
    """Pass wishes on; leave at once when nobody is there any more, in the middle of a job too."""
    for line in sys.stdin.buffer:
        if line == STOP:
            _stopped.set()
            continue
        _stopped.clear()  # only one wish is ever under way
        wishes.put(line)
    os._exit(0)


def _export(wish: dict[str, Any]) -> None:
    from stunline.tasks.page_export import ExportWish, export

    options = ExportWish(wish["kind"], wish["paper"], wish["large_print"], wish["date"])
    made = export(wish["document"], options, Path(wish["folder"]), _report)
    _write({"size": len(made.content), "name": made.name, "type": made.media_type})
    sys.stdout.buffer.write(made.content)
    sys.stdout.buffer.flush()


def _open_pack(wish: dict[str, Any]) -> None:
    from stunline.tasks.page_pack import PackWish, open_pack_of_document

    last: dict[str, Any] = {}

    def grow(words: str, done: float, growing: dict[str, Any]) -> None:
        last.update({"words": words, "done": done, "growing": growing})
        _write(last)

    asked = PackWish(wish["gaps"], wish["racks"])
    open_pack_of_document(wish["document"], asked, Path(wish["folder"]), grow)
    _write({**last, "finished": True})


def _tell_played(wish: dict[str, Any]) -> None:
    from stunline.tasks.page_played import played_of_document

    last: dict[str, Any] = {}

    def grow(words: str, done: float, growing: dict[str, Any]) -> None:
        last.update({"words": words, "done": done, "growing": growing})

    _report("playing strokes on many tables", 0.0)
    played_of_document(wish["document"], wish["theme"], Path(wish["folder"]), grow)
    _write({**last, "finished": True})


def _search(wish: dict[str, Any]) -> None:
    """What grows and can be stopped: ways to a goal, margins, places that are reached, fits."""
    last: dict[str, Any] = {}

    def grow(words: str, done: float, growing: dict[str, Any]) -> None:
        last.update({"words": words, "done": done, "growing": growing})
        _write(last)

    folder = Path(wish["folder"])
    if wish["kind"] == "gauge":
        from stunline.tasks.page_gauge_fit import fit_for_page

        fit_for_page(folder, wish["record"], wish["to"], grow, _stopped.is_set)
        _write({**last, "finished": True})
        return
    document = wish["document"]
    if wish["kind"] == "choose":
        from stunline.tasks.page_goal import choose_for_document

        choose_for_document(document, folder, grow, _stopped.is_set)
    elif wish["kind"] == "margin":
        from stunline.tasks.page_margin import margin_of_document

        margin_of_document(document, wish["theme"], folder, grow, _stopped.is_set)
    else:
        from stunline.tasks.page_reach import reach_for_document

        reach_for_document(document, wish["theme"], folder, grow, _stopped.is_set)
    _write({**last, "finished": True})


def _report(words: str, done: float) -> None:
    _write({"words": words, "done": done})


def _write(line: dict[str, Any]) -> None:
    sys.stdout.buffer.write(json.dumps(line).encode() + b"\n")
    sys.stdout.buffer.flush()


if __name__ == "__main__":
    work()
