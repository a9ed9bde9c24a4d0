"""Work shared out over the cores, in threads that stay for the next piece of work."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import cache

# Pieces for each thread, so that one that got the long ones does not keep the others waiting.
_PIECES_A_THREAD = 8


def cores() -> int:
    """How many this process may use."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


@cache
def _helpers() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(max(1, cores() - 1), "core")


def over_cores(count: int, work: Callable[[int, int, int], None]) -> None:
    """Do pieces 0 … count − 1, some in this thread and some in others.

    Args:
        work: takes a thread's number, less than ``cores()``, and the first piece and the one
            after the last that it is to do; calls of one number never overlap.
    """
    size = max(1, count // (_PIECES_A_THREAD * cores()))
    lock = threading.Lock()
    begun = 0

    def turn() -> tuple[int, int]:
        nonlocal begun
        with lock:
            first = begun
            begun = min(first + size, count)
            return first, begun

    def run(thread: int) -> None:
        first, last = turn()
        while first < last:
            work(thread, first, last)
            first, last = turn()

    others = [_helpers().submit(run, thread) for thread in range(1, min(cores(), count))]
    try:
        run(0)
    finally:
        for one in others:
            one.result()
