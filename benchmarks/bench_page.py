"""From the hand to the painted path, in a real browser on a real server.

Run: PYTHONPATH=tests python benchmarks/bench_page.py
A ball is dragged by the mouse at 60 moves a second. For each play the time from the pointer
event that asked for it to the frame in which its layers are painted [ms]: median and 95th
percentile. "ball" is the time from the event to the end of its own handling, in which the
ball's mark has been moved. Also the bytes of a first load, and the time until a strip stands.
"""

from __future__ import annotations

import shutil
import statistics
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import tomlkit
from playwright.sync_api import Browser, Page, sync_playwright

from page.conftest import FLAGS, chromium
from stunline.tasks.read_position import read_position
from web.running import Running, running

MOVES = 150
BETWEEN = 16  # moves [ms]
# Of "path": until the wish leaves, until its answer is there, until the layers are changed, until
# they are painted.
PARTS = ("waited", "away", "taken", "frame")
PLAN = {"width": 1280, "height": 800}

WATCH = """async () => {
  const live = await import('/client/modules/live.js');
  window.ball = []; window.path = [];
  window.waited = []; window.away = []; window.taken = []; window.frame = [];
  let event = 0; const sent = new Map(); const left = new Map(); let came = 0;
  addEventListener('pointermove', (one) => { event = one.timeStamp; }, true);
  addEventListener('pointermove', (one) => {
    window.ball.push(performance.now() - one.timeStamp);
  });
  live.watchPlays((play, what) => {
    const now = performance.now();
    if (what === 'sent') { sent.set(play, event); left.set(play, now); return; }
    if (what === 'answered') { came = now; return; }
    const from = sent.get(play);
    if (!from) return;
    window.waited.push(left.get(play) - from);
    window.away.push(came - left.get(play));
    window.taken.push(now - came);
    requestAnimationFrame(() => {
      const channel = new MessageChannel();
      channel.port1.onmessage = () => {
        window.frame.push(performance.now() - now);
        window.path.push(performance.now() - from);
      };
      channel.port2.postMessage(0);
    });
  });
}"""


def opened_pack() -> str:
    """22 balls, the white sent into the triangle at 6 m/s."""
    document: dict[str, Any] = {
        "title": "Open the pack",
        "table": "snooker-12ft",
        "balls": {
            "white": [889.0, 900.0],
            **{name: name for name in ("yellow", "green", "brown", "pink", "black")},
            "blue": [300.0, 1784.5],
            "reds": "triangle",
        },
        "strike": {"aim": 90.0, "pace": 6.0},
    }
    document["balls"]["pink"] = [1500.0, 1784.5]
    document["balls"]["brown"] = [1200.0, 1100.0]
    return tomlkit.dumps(document)


def measure(browser: Browser, server: Running, name: str, ball: str) -> None:
    context = browser.new_context(viewport=PLAN)  # type: ignore[arg-type]
    page = context.new_page()
    loaded: list[int] = []
    page.on("response", lambda answer: loaded.append(_size(answer)))
    page.goto(server.start)
    page.wait_for_selector("#plan-layer-paths")
    page.wait_for_selector(".page-strip svg")
    page.wait_for_timeout(3000)
    page.evaluate(WATCH)
    drag(page, ball)
    page.wait_for_timeout(500)
    print(f"{name}: first load {sum(loaded) / 1000:.0f} kB in {len(loaded)} answers")
    for what in ("ball", "path", *PARTS):
        print(f"  {what}: {_told(page.evaluate(f'window.{what}'))}")
    context.close()


def _size(answer: Any) -> int:
    return int(answer.headers.get("content-length", 0))


def drag(page: Page, ball: str) -> None:
    box = page.locator(f"#plan-ball-{ball}").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(MOVES):
        page.mouse.move(x + 0.3 * step, y + 0.2 * step)
        page.wait_for_timeout(BETWEEN)
    page.mouse.up()


def _told(times: Sequence[float]) -> str:
    spread = statistics.quantiles(times, n=20)
    median, late = statistics.median(times), spread[-1]
    return f"median {median:.1f} ms, 95th percentile {late:.1f} ms, of {len(times)}"


def main() -> None:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
        for name in ("edge-of-the-pack", "open-the-pack"):
            folder = Path(tempfile.mkdtemp())
            if name == "open-the-pack":
                (folder / "open-the-pack.toml").write_text(opened_pack())
                read_position(str(folder / "open-the-pack.toml"))
            with running(folder, name) as server:
                measure(browser, server, name, "white")
            shutil.rmtree(folder)
        browser.close()


if __name__ == "__main__":
    main()
