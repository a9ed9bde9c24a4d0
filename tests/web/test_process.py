"""The command as a process: its address, its end, and its worker."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import httpx
import pytest

from cli.command import run
from paper.pdf_reading import read_pdf
from stunline.shot import compiled
from web.running import Running, below, running

DOCUMENT: dict[str, Any] = {
    "title": "Blue, half-ball",
    "table": "snooker-12ft",
    "balls": {"white": [500.0, 1200.0], "blue": [889.0, 1784.5]},
    "strike": {"contact": {"ball": "blue", "thickness": "half", "on": "left"}, "pace": 1.4},
}


def alive(process: int) -> bool:
    try:
        return Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def wait_until_gone(processes: set[int], seconds: float = 10.0) -> set[int]:
    ends = time.monotonic() + seconds
    while time.monotonic() < ends and any(map(alive, processes)):
        time.sleep(0.05)
    return {one for one in processes if alive(one)}


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGKILL])
def test_however_it_ends_nothing_is_left_running(tmp_path: Path, number: signal.Signals) -> None:
    with running(tmp_path) as server, server.browser() as browser:
        job = browser.post("/api/jobs", json={"document": DOCUMENT, "kind": "fullsize"}).json()
        assert job["state"] in ("waiting", "running")
        ends = time.monotonic() + 10
        while not (left := below(server.process.pid)) and time.monotonic() < ends:
            time.sleep(0.02)
        assert left  # the worker, in the middle of its job
        server.process.send_signal(number)
        code = server.process.wait(timeout=15)
    assert code == (-signal.SIGKILL if number == signal.SIGKILL else 0)
    assert wait_until_gone(left) == set()
    assert server.process.stdout is not None


@pytest.fixture(scope="module")
def exported(browser: httpx.Client) -> dict[str, httpx.Response]:
    return {
        kind: browser.post("/api/export", json={"document": DOCUMENT, "kind": kind})
        for kind in ("svg", "png", "pdf", "sheet", "fullsize")
    }


def test_files_come_with_their_kind_and_name(exported: dict[str, httpx.Response]) -> None:
    for kind, begins, name in [
        ("svg", b"<svg", "Blue%2C%20half-ball.svg"),
        ("png", b"\x89PNG", "Blue%2C%20half-ball.png"),
        ("pdf", b"%PDF", "Blue%2C%20half-ball.pdf"),
        ("sheet", b"%PDF", "Blue%2C%20half-ball%20sheet.pdf"),
        ("fullsize", b"%PDF", "Blue%2C%20half-ball%20full%20size.pdf"),
    ]:
        answer = exported[kind]
        assert answer.status_code == 200, answer.text[:300]
        assert answer.content.startswith(begins)
        assert answer.headers["content-disposition"].endswith(f"filename*=UTF-8''{name}")


def test_a_plan_carries_the_date_asked_for(browser: httpx.Client) -> None:
    wish = {"document": DOCUMENT, "kind": "svg", "date": "3 May 2026"}
    assert "3 May 2026" in browser.post("/api/export", json=wish).text


def test_a_plan_on_paper_has_no_letter_under_9_pt(exported: dict[str, httpx.Response]) -> None:
    (page,) = read_pdf(exported["pdf"].content)
    assert min(word.size for word in page.words) >= 9.0 - 0.01


def test_a_shot_that_cannot_be_made_is_told(browser: httpx.Client) -> None:
    strike = {"pot": {"ball": "blue", "pocket": "bottom left"}, "pace": 1.4}
    answer = browser.post(
        "/api/export", json={"document": {**DOCUMENT, "strike": strike}, "kind": "svg"}
    )
    assert answer.status_code == 422
    assert answer.json()["error"]["kind"] == "unsolvable"


def finished(browser: httpx.Client, number: str) -> dict[str, Any]:
    ends = time.monotonic() + 30
    while time.monotonic() < ends:
        job: dict[str, Any] = browser.get(f"/api/jobs/{number}").json()
        if job["state"] not in ("waiting", "running"):
            return job
        time.sleep(0.05)
    raise AssertionError("the job did not end")


def hold_worker(browser: httpx.Client, server: Running) -> None:
    """Have the worker stand still, so that what is begun now is not finished too soon."""
    browser.post("/api/export", json={"document": DOCUMENT, "kind": "svg"})
    (worker,) = below(server.process.pid)
    os.kill(worker, signal.SIGSTOP)


def test_a_job_can_be_followed_cancelled_and_another_done_after_it(
    browser: httpx.Client, server: Running
) -> None:
    wish = {"document": DOCUMENT, "kind": "fullsize"}
    hold_worker(browser, server)
    first, second, third = (browser.post("/api/jobs", json=wish).json()["job"] for _ in range(3))
    for cancelled in (second, first):  # one that waits, one that runs
        assert browser.delete(f"/api/jobs/{cancelled}").json()["state"] == "cancelled"
        assert browser.get(f"/api/jobs/{cancelled}/file").status_code == 409
    done = finished(browser, third)
    assert (done["state"], done["done"]) == ("done", 1.0)
    assert browser.get(f"/api/jobs/{third}/file").content.startswith(b"%PDF")
    assert len(below(server.process.pid)) == 1  # one worker, however many jobs
    assert browser.get("/api/jobs/none").status_code == 404


def test_the_worker_gives_way_to_everything_else(browser: httpx.Client, server: Running) -> None:
    browser.post("/api/export", json={"document": DOCUMENT, "kind": "svg"})
    (worker,) = below(server.process.pid)
    assert os.getpriority(os.PRIO_PROCESS, worker) >= 10


def test_only_so_many_jobs_wait(browser: httpx.Client, server: Running) -> None:
    wish = {"document": DOCUMENT, "kind": "fullsize"}
    hold_worker(browser, server)
    answers = [browser.post("/api/jobs", json=wish) for _ in range(8)]
    assert [one.status_code for one in answers] == 6 * [200] + 2 * [429]
    for one in reversed(answers[:6]):
        browser.delete(f"/api/jobs/{one.json()['job']}")


def test_the_page_finds_its_state_again_after_a_restart_and_knows_its_browser(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    library = tmp_path / "library"
    with running(library) as first, first.browser() as browser:
        state = {"position": "edge-of-the-pack", "theme": "dark", "pinned": [1, None]}
        assert browser.put("/api/page-state", json={"state": state}).status_code == 204
        held = next(iter(browser.cookies.jar)).value
        first.process.kill()
        first.process.wait()
    with running(library) as second, second.stranger() as again:
        port = second.origin.rsplit(":", 1)[1]
        again.cookies.set(f"stunline-{port}", held or "")
        kept = again.get("/api/page-state").json()
    assert kept["state"] == state
    mode = (tmp_path / "state" / "stunline" / "page-session").stat().st_mode
    assert mode & 0o077 == 0  # the secret is for its owner only


def test_a_file_is_opened_in_its_own_folder(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text('table = "snooker-12ft"\n')
    with running(tmp_path, str(tmp_path / "mine.toml")) as server, server.browser() as browser:
        told = browser.get("/api/page-state").json()
    assert told["open"] == "mine"
    assert told["folder"] == str(tmp_path.resolve())


@pytest.mark.parametrize(
    ("args", "told"),
    [
        (["none/such.toml"], "there is no such file"),
        (["no-such-position"], "no position of that name"),
        (["--library", "file/library"], "can't be written to"),
    ],
)
def test_a_start_that_cannot_be_made_is_told(tmp_path: Path, args: list[str], told: str) -> None:
    (tmp_path / "file").write_text("")
    done = run("open", "--no-browser", "--library", "library", *args, folder=tmp_path)
    assert done.code == 2
    assert told in done.err and "Traceback" not in done.err


def test_a_port_that_is_taken_is_told_and_without_one_another_is_found(tmp_path: Path) -> None:
    with running(tmp_path) as server:
        port = server.origin.rsplit(":", 1)[1]
        done = run("open", "--no-browser", "--port", port, folder=tmp_path)
    assert done.code == 2 and done.out == ""
    assert "can't listen there" in done.err and port in done.err


def test_without_a_command_the_page_is_opened(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "stunline"]
    # No browser is found on that path, no folder of the user's is touched, nothing is compiled.
    own = {
        "HOME": str(tmp_path),
        "PATH": str(tmp_path),
        "BROWSER": "none",
        "STUNLINE_CACHE": str(compiled.cache_folder().parents[1]),
        "PYTHONPATH": os.environ.get("PYTHONPATH", ""),
    }
    with subprocess.Popen(command, env=own, stdout=subprocess.PIPE, text=True) as page:
        assert page.stdout is not None
        start = page.stdout.readline().strip()
        try:
            assert httpx.get(start, timeout=30).status_code == 303
        finally:
            page.terminate()
    assert (tmp_path / "Documents" / "stunline").is_dir()
