"""The search for a goal over HTTP: what it takes, what it tells, how it is stopped."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import httpx
import pytest

from stunline.shot.position_file import parse_position
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks.choose_strike import choose_strike
from stunline.tasks.document import document_of, toml_of
from stunline.tasks.page_goal import choose_for_document
from stunline.tasks.read_position import ReadPosition
from stunline.units import degrees, millimetres
from web.jobs import begun, ended, followed
from web.running import Running

Document = dict[str, Any]
ADDRESS = "/api/choices"
# What no strike of these meets: too soft by far. It is soon searched.
NOTHING: Document = {"rest": "D", "vary": {"pace": [0.8, 1.0], "height": [-5.0, 5.0]}}
MIRA = """\
title = "Mira"
source = "invented"
[scatter]
aim = 0.2
pace = 9.0
height = 2.0
side = 1.0
"""


def with_goal(name: str = "stay-on-the-black", **goal: Any) -> Document:
    document = document_of(shipped_position_path(name).read_text(encoding="utf-8"))
    return {**document, "goal": goal or document["goal"]}


@pytest.fixture(scope="module")
def usual(browser: httpx.Client) -> list[Document]:
    """What the job of the shipped goal says, until it has ended."""
    return list(followed(browser, begun(browser, ADDRESS, with_goal())))


def test_a_search_is_followed_and_finds_what_the_library_finds(usual: list[Document]) -> None:
    *before, last = usual
    shares = [job["done"] for job in before]
    assert shares == sorted(shares)
    assert last["state"] == "done"
    found = last["growing"]
    assert found["found"] and found["complete"]
    text = toml_of(with_goal())
    choice = choose_strike(ReadPosition(parse_position(text), text)).choice
    assert found["count"].startswith(f"{choice.met:,} of {choice.tried:,}")
    assert [one["letter"] for one in found["options"]] == ["A", "D", "E"]
    for told, option in zip(found["options"], choice.options, strict=False):
        assert told["strike"]["aim"] == degrees(option.strike.aim)
        assert told["strike"]["height"] == millimetres(option.strike.height)
        assert told["strike"]["pace"] == option.strike.pace
        assert told["end"] == told["way"][-1]


def test_a_search_that_is_stopped_keeps_what_it_found(browser: httpx.Client) -> None:
    number = begun(
        browser, ADDRESS, with_goal("edge-of-the-pack", through={"between": ["pink", "blue"]})
    )
    for job in followed(browser, number):
        if job["words"].startswith("playing strikes") and job["done"] > 0.0:
            break
    told = browser.delete(f"/api/jobs/{number}").json()
    assert told["state"] == "cancelled"
    assert told["growing"]["options"] == [] or not told["growing"]["complete"]
    assert browser.get(f"/api/jobs/{number}").json() == told
    assert ended(browser, ADDRESS, with_goal(**NOTHING))["state"] == "done"  # the next one's turn


def test_stopped_as_it_runs_it_tells_the_best_until_then(tmp_path: Path) -> None:
    seen: list[tuple[float, Document]] = []
    choose_for_document(
        with_goal(),
        tmp_path,
        lambda _, done, growing: seen.append((done, growing)),
        lambda: any(done > 0.0 for done, _ in seen),
    )
    assert [done for done, _ in seen] == sorted(done for done, _ in seen)
    last = seen[-1][1]
    assert last["found"]
    assert not last["complete"]
    assert last["options"]
    assert not last["count"].endswith("of 40,000 strikes meet the goal")


def test_when_nothing_works_it_tells_what_would_help(browser: httpx.Client) -> None:
    found = ended(browser, ADDRESS, with_goal(**NOTHING))["growing"]
    assert found["options"] == []
    (area,) = [one for one in found["help"] if one["what"] == "rest"]
    assert " mm larger; then " in area["words"]


@pytest.mark.parametrize(
    ("goal", "key", "words"),
    [
        ({"player": "clbu", "in_off": False}, "goal.player", "no player of that name"),
        ({"player": "../mira.toml", "in_off": False}, "goal.player", "leads elsewhere"),
        ({"player": "/etc/mira.toml", "in_off": False}, "goal.player", "leads elsewhere"),
        ({"player": "link.toml", "in_off": False}, "goal.player", "this is a link"),
        ({"player": "bad.toml", "in_off": False}, "goal.player", "scatter of aim is too small"),
        ({"player": "none.toml", "in_off": False}, "goal.player", "none.toml"),
        ({"miss": ["red1"]}, "goal.miss", "both to be met and to be missed"),
        ({"in_off": False, "vary": {"pace": [3.0, 1.0]}}, "goal.vary.pace", "runs backwards"),
        ({"meet": {"ball": "green"}}, "goal.meet.ball", "green"),
        ({"player": "club"}, "goal", "demands nothing"),
    ],
)
def test_what_is_wrong_is_told_by_its_key(
    browser: httpx.Client, server: Running, goal: Document, key: str, words: str
) -> None:
    (server.folder / "mira.toml").write_text(MIRA, encoding="utf-8")
    (server.folder / "bad.toml").write_text(MIRA.replace("0.2", "-0.2"), encoding="utf-8")
    if not (server.folder / "link.toml").is_symlink():
        (server.folder / "link.toml").symlink_to(server.folder / "mira.toml")
    job = ended(browser, ADDRESS, with_goal(**goal))
    assert job["state"] == "failed"
    first = job["error"]["faults"][0]
    assert first["key"] == key
    assert words in first["what"] + first["given"] + first["allowed"]
    assert first["remedy"]


def test_a_player_file_of_the_library_is_taken(
    browser: httpx.Client, server: Running, usual: list[Document]
) -> None:
    (server.folder / "mira.toml").write_text(MIRA, encoding="utf-8")
    document = with_goal()
    document["goal"]["player"] = "mira.toml"
    hers = ended(browser, ADDRESS, document)["growing"]["options"]
    theirs = usual[-1]["growing"]["options"]
    assert [one["chance"] for one in hers] != [one["chance"] for one in theirs]


def test_a_document_without_a_goal_is_told_so(browser: httpx.Client) -> None:
    document = with_goal()
    del document["goal"]
    (fault,) = ended(browser, ADDRESS, document)["error"]["faults"]
    assert fault["key"] == "goal"
    assert "no [goal]" in fault["what"]


@pytest.mark.parametrize("wish", [{}, {"document": 3}, {"document": {}, "strikes": 10**9}])
def test_only_what_is_described_is_taken(browser: httpx.Client, wish: Document) -> None:
    assert browser.post("/api/choices", json=wish).status_code == 422


def test_only_the_page_may_ask(browser: httpx.Client, server: Running) -> None:
    wish = {"document": with_goal()}
    with server.stranger() as stranger:
        assert stranger.post("/api/choices", json=wish).status_code == 403
        assert stranger.get("/api/players").status_code == 403
    elsewhere = {"origin": "http://127.0.0.1:1"}
    assert browser.post("/api/choices", json=wish, headers=elsewhere).status_code == 403
    text = browser.post("/api/choices", content=b"{}", headers={"content-type": "text/plain"})
    assert text.status_code == 415


def test_the_shipped_players_are_told_as_assumptions(browser: httpx.Client) -> None:
    players = browser.get("/api/players").json()["players"]
    assert [one["name"] for one in players] == ["novice", "club", "match"]
    assert all("assumption" in one["source"] for one in players)
    assert "aim within 0.18°, pace 8 %" in players[1]["words"]
