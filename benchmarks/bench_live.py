"""The server's own part of a live play, by part, for shipped shots and an opened pack.

Run: python benchmarks/bench_live.py
Each figure is the median over plays of the processor time of all threads [ms], so that other
work on the machine counts for little; the first plays, which fill caches, are left out. A strip,
which uses all cores, has besides the quickest of some by the clock, after a stroke.
"""

from __future__ import annotations

import gc
import statistics
import time
import tomllib
from collections.abc import Callable, Iterator, Sequence
from itertools import cycle
from pathlib import Path
from typing import Any

from stunline.drawing.screen_plan import ScreenPlan, layers_of, page_of_window, screen_drawing
from stunline.drawing.theme import THEMES
from stunline.shot.aiming.solve import Solver
from stunline.shot.outcome import outcome
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions
from stunline.shot.readouts import readouts
from stunline.tasks.live_document import check_document
from stunline.tasks.live_moving import LastPot
from stunline.tasks.live_play import live_play
from stunline.tasks.live_request import read_request
from stunline.tasks.live_strip import live_strip

WARM, PLAYS = 3, 21
SIZE = [920.0, 610.0]  # of the plan on a laptop's screen [px]

Document = dict[str, Any]


def full_pack() -> Document:
    """22 balls, every colour on its spot, the white sent into the triangle at 6 m/s."""
    colours = ("yellow", "green", "brown", "blue", "pink", "black")
    balls: Document = {"white": [889.0, 900.0], **{name: name for name in colours}}
    balls["blue"] = [300.0, 1784.5]  # out of the white's way
    balls["pink"] = [1500.0, 1784.5]
    balls["reds"] = "triangle"
    return {
        "table": "snooker-12ft",
        "balls": balls,
        "strike": {"aim": 90.4, "pace": 6.0},
    }


def median_ms(job: Callable[[], object], plays: int = PLAYS) -> float:
    """Processor time of all threads. [ms]"""
    for _ in range(WARM):
        job()
    gc.collect()
    times = []
    for _ in range(plays):
        start = time.process_time()
        job()
        times.append(time.process_time() - start)
    return 1e3 * statistics.median(times)


def least_ms(job: Callable[[], object], plays: int) -> float:
    """The quickest by the clock, which is what a waiting hand would see on an idle machine. [ms]"""
    times = []
    for _ in range(plays):
        start = time.perf_counter()
        job()
        times.append(time.perf_counter() - start)
    return 1e3 * min(times)


def dragged(document: Document, ball: str, place: Sequence[float]) -> Iterator[Document]:
    """The document with that ball half a millimetre further each time, to and fro. [mm]"""
    for step in cycle([*range(20), *range(20, 0, -1)]):
        at = [1000.0 * place[0] + 0.5 * step, 1000.0 * place[1]]
        yield {**document, "balls": {**document["balls"], ball: at}}


def parts(document: Document) -> dict[str, float]:
    """Median time of each part of a play while something is dragged. [ms]"""
    request: Document = {"play": 1, "document": document, "drawing": {"size": SIZE}}
    answer = live_play(request)
    held = next(iter(document["balls"]))
    drawing = {"size": SIZE, "window": answer["window"], "have": answer["hashes"]}
    file = check_document(document).file
    assert file is not None
    solver = Solver(file.position)
    solution = solver.solve(file.plan)
    shot = solver.prepared.play(solution.strike)
    asked = read_request({"drawing": drawing})
    assert asked.window is not None
    page = page_of_window(asked.window, asked.size)

    def draw() -> Any:
        fresh = solver.prepared.play(solution.strike)
        return screen_drawing(ScreenPlan(fresh, words=False), page)

    ways = dragged(document, held, next(iter(file.position.balls.values())))
    last = LastPot()

    def move(held: str | None) -> Any:
        moving = {**request, "document": next(ways), "drawing": {**drawing, "words": False}}
        return live_play({**moving, "held": held}, last=last)

    picture = draw()
    play = median_ms(lambda: solver.prepared.play(solution.strike))
    tell = median_ms(
        lambda: (
            readouts(solver.prepared.play(solution.strike), file.plan, solution.pot),
            outcome(shot, file.plan),
        )
    )
    return {
        "check": median_ms(lambda: check_document(document)),
        "solve": median_ms(lambda: Solver(file.position).solve(file.plan)),
        "play": play,
        "tell": tell - play,
        "draw": median_ms(draw) - play,
        "svg": median_ms(lambda: layers_of(picture, THEMES["light"])),
        "whole": median_ms(lambda: move(None)),
        "held": median_ms(lambda: move(held)),
        "words": median_ms(lambda: live_play({**request, "drawing": drawing}), 9),
    }


def strips(document: Document) -> dict[str, str]:
    """Processor time and clock of each strip, and with a ~ of that while something moves. [ms]"""
    request: Document = {"play": 1, "document": document, "strip_width": 1300.0}
    moving = {**request, "drawing": {"words": False}}
    figures = {}
    for vary in ("pace", "height"):
        for wish, sign in ((moving, "~"), (request, "")):

            def job(vary: str = vary, wish: Document = wish) -> object:
                return live_strip({**wish, "strip": vary})

            figures[f"{vary}{sign}"] = f"{median_ms(job, 3):.0f}/{least_ms(job, 7):.0f}"
    return figures


def main() -> None:
    """Print a row for each shot."""
    documents = {
        name: tomllib.loads(Path(shipped_position_path(name)).read_text("utf-8"))
        for name in shipped_positions()
    }
    documents["22 balls, the pack opened"] = full_pack()
    head = True
    for name, document in documents.items():
        told = {part: f"{value:.2f}" for part, value in parts(document).items()}
        told.update(strips(document))
        if head:
            print(" " * 36 + "".join(f"{part:>9}" for part in told))
            head = False
        print(f"{name:36}" + "".join(f"{value:>9}" for value in told.values()), flush=True)


if __name__ == "__main__":
    main()
