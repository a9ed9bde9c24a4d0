"""Saving through the page: nothing is lost, whoever changed what meanwhile."""

from __future__ import annotations

import random
import signal
import threading
import tomllib
from pathlib import Path
from typing import Any

import httpx
import pytest

from stunline.tasks.read_position import read_position
from web.running import Running, running

DEATHS = 10  # a campaign does more
DOCUMENT: dict[str, Any] = {
    "title": "Blue # half-ball $ <Ωμέγα>",
    "table": "snooker-12ft",
    "balls": {"white": [500.0, 1200.0], "blue": [889.0, 1784.5]},
    "strike": {"contact": {"ball": "blue", "thickness": "half", "on": "left"}, "pace": 1.4},
}


def save(
    browser: httpx.Client, name: str, document: dict[str, Any], revision: str | None
) -> httpx.Response:
    return browser.put(f"/api/positions/{name}", json={"document": document, "revision": revision})


def test_what_is_saved_is_a_position_file(browser: httpx.Client, server: Running) -> None:
    answer = save(browser, "first", DOCUMENT, None)
    assert answer.status_code == 200, answer.text
    read = read_position(server.folder / "first.toml")
    assert read.file.title == DOCUMENT["title"]
    opened = browser.get("/api/positions/first").json()
    assert opened["document"] == DOCUMENT
    assert opened["revision"] == answer.json()["revision"]


def test_the_comments_of_a_file_stay(browser: httpx.Client, server: Running) -> None:
    path = server.folder / "kept.toml"
    path.write_text(
        '# from the Harbour Lane Cue Club\ntable = "snooker-12ft"\n[balls]\n'
        "white = [500, 1200]  # on the baulk side\n[strike]\naim = 90\npace = 1.0\n"
    )
    opened = browser.get("/api/positions/kept").json()
    opened["document"]["strike"]["pace"] = 2.5
    assert save(browser, "kept", opened["document"], opened["revision"]).status_code == 200
    text = path.read_text()
    assert "# from the Harbour Lane Cue Club" in text
    assert "# on the baulk side" in text
    assert tomllib.loads(text)["strike"]["pace"] == 2.5


def test_two_tabs_on_one_file_keep_both_versions(browser: httpx.Client, server: Running) -> None:
    first = save(browser, "two", DOCUMENT, None).json()["revision"]
    mine = {**DOCUMENT, "title": "mine"}
    theirs = {**DOCUMENT, "title": "theirs"}
    assert save(browser, "two", theirs, first).status_code == 200
    conflict = save(browser, "two", mine, first)
    assert conflict.status_code == 409
    titles = {read_position(one).file.title for one in server.folder.glob("two*.toml")}
    assert titles == {"mine", "theirs"}


def test_what_was_deleted_comes_back(browser: httpx.Client, server: Running) -> None:
    save(browser, "gone", DOCUMENT, None)
    before = (server.folder / "gone.toml").read_bytes()
    token = browser.delete("/api/positions/gone").json()["undo"]
    assert not (server.folder / "gone.toml").exists()
    assert browser.post(f"/api/undo/{token}").status_code == 200
    assert (server.folder / "gone.toml").read_bytes() == before


def test_a_faulty_document_is_refused_and_changes_nothing(
    browser: httpx.Client, server: Running
) -> None:
    revision = save(browser, "good", DOCUMENT, None).json()["revision"]
    before = (server.folder / "good.toml").read_bytes()
    faulty = {**DOCUMENT, "table": "/etc/passwd"}
    answer = save(browser, "good", faulty, revision)
    assert 400 <= answer.status_code < 500
    assert (server.folder / "good.toml").read_bytes() == before


@pytest.mark.parametrize("seed", range(DEATHS))
def test_a_server_killed_while_saving_leaves_every_file_whole(tmp_path: Path, seed: int) -> None:
    after = random.Random(seed).uniform(0.0, 0.15)
    with running(tmp_path) as server, server.browser() as browser:
        revision = save(browser, "kill", DOCUMENT, None).json()["revision"]
        saved = _save_until_killed(server, browser, revision, after)
    files = list(tmp_path.glob("*.toml"))
    assert tmp_path / "kill.toml" in files
    for file in files:
        document = tomllib.loads(file.read_text(encoding="utf-8"))
        assert document["balls"] == DOCUMENT["balls"]
        assert read_position(file).file.title == document["title"]
    # What was answered as saved is there, or what was being saved after it.
    number = tomllib.loads((tmp_path / "kill.toml").read_text())["title"].rsplit(" ", 1)[1]
    assert number in (
        DOCUMENT["title"].rsplit(" ", 1)[1] if saved == 0 else str(saved),
        str(saved + 1),
    )


def _save_until_killed(server: Running, browser: httpx.Client, revision: str, after: float) -> int:
    """Save again and again until the server is gone; the number of the last save answered."""
    timer = threading.Timer(after, server.process.send_signal, [signal.SIGKILL])
    timer.start()
    saved = 0
    try:
        while True:
            named = {**DOCUMENT, "title": f"{'long ' * 30}{saved + 1}"}
            answer = save(browser, "kill", named, revision)
            assert answer.status_code == 200, answer.text
            revision = answer.json()["revision"]
            saved += 1
    except httpx.HTTPError:
        timer.join()
    return saved
