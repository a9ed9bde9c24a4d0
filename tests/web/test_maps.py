"""What a strike forgives, where the white can go, and why, over HTTP: taken, told, stopped."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import httpx
import pytest

from stunline.shot.play import play
from stunline.shot.position import Strike
from stunline.shot.position_file import parse_position
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks import page_reach
from stunline.tasks.document import document_of, toml_of
from stunline.tasks.page_margin import margin_of_document
from stunline.tasks.page_reach import reach_for_document
from stunline.units import metres, millimetres, radians
from web.jobs import answered, begun, ended, followed
from web.running import Running

Document = dict[str, Any]
CELL = 25.0  # of the raster of places [mm]
STUDIES = ("/api/margins", "/api/reaches")


def position(name: str = "stay-on-the-black", **changed: Any) -> Document:
    return {**document_of(shipped_position_path(name).read_text(encoding="utf-8")), **changed}


def test_what_a_strike_forgives_grows_and_adds_up(browser: httpx.Client) -> None:
    jobs = list(followed(browser, begun(browser, "/api/margins", position())))
    shares = [job["done"] for job in jobs]
    assert shares == sorted(shares)
    told = jobs[-1]["growing"]
    assert jobs[-1]["state"] == "done"
    assert told["map"].startswith("<svg")
    assert told["plays"] == 16_384
    # The chance and what goes wrong are all of the strokes, each rounded to a per cent at most.
    rows = [row for row in told["kinds"] if not row[0].startswith("under")]
    whole = sum(float(words.split(" %")[0]) for words in (told["chance"], *(r[0] for r in rows)))
    assert whole == pytest.approx(100.0, abs=0.5 * (len(rows) + 1))
    assert {row[0] for row in told["margins"]} == {"aim", "pace", "height", "side"}


def test_where_the_white_can_go_is_played_by_the_library_to_those_places(
    browser: httpx.Client,
) -> None:
    document = position()
    told = ended(browser, "/api/reaches", document)["growing"]
    assert told["layer"].startswith('<g id="reach-layer-')
    assert len(told["places"]) > 1_000
    where = parse_position(toml_of(document)).position
    for row in told["places"][:: len(told["places"]) // 40]:
        x, y, _, aim, pace, height, side, raised = row
        strike = Strike(radians(aim), pace, metres(height), metres(side), radians(raised))
        shot = play(where, strike)
        assert shot.potted("red1") == "top left"
        rest = shot.rest("white")
        assert rest is not None
        assert math.dist([millimetres(one) for one in rest], (x, y)) < CELL


@pytest.mark.parametrize("address", STUDIES)
def test_a_study_that_is_stopped_says_so_and_the_next_one_is_done(
    browser: httpx.Client, address: str
) -> None:
    number = begun(browser, address, position("edge-of-the-pack"))
    for job in followed(browser, number):
        if job["state"] == "running" and job["growing"] is not None:
            break
    told = browser.delete(f"/api/jobs/{number}").json()
    assert told["state"] == "cancelled"
    assert browser.get(f"/api/jobs/{number}").json() == told
    assert ended(browser, address, position())["state"] == "done"


def test_stopped_as_they_run_they_tell_what_there_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Every growth is told, not only what a clock lets through: the first of them stops the search.
    monkeypatch.setattr(page_reach, "_BETWEEN", 0.0)
    seen: list[Document] = []
    margin_of_document(
        position(), "light", tmp_path, lambda _w, _d, told: seen.append(told), lambda: len(seen) > 2
    )
    assert 0 < seen[-1]["plays"] < 16_384
    assert seen[-1]["chance"]
    done: list[float] = []
    places: list[Document] = []

    def grow(_words: str, share: float, told: Document) -> None:
        done.append(share)
        places.append(told)

    reach_for_document(position(), "dark", tmp_path, grow, lambda: len(done) > 0)
    stopped, told = len(done), len(places[-1]["places"])
    reach_for_document(position(), "dark", tmp_path, grow, lambda: False)
    assert stopped < len(done) - stopped
    assert 0 < told < len(places[-1]["places"])


def test_why_adds_up_and_is_told_in_sentences(browser: httpx.Client) -> None:
    answer = answered(browser, "/api/explanations", position())
    assert answer.status_code == 200, answer.text
    told = answer.json()
    assert "inside the tangent line" in told["sentences"][0]
    assert told["rows"][-1][0] == "together"
    assert not told["straight"]


@pytest.mark.parametrize("address", [*STUDIES, "/api/explanations"])
def test_what_cannot_be_done_is_said(browser: httpx.Client, address: str) -> None:
    """A red that is aimed at beyond the table's end: by its key, with a remedy, no traceback."""
    wrong = position()
    wrong["balls"]["red1"] = [-500.0, 100.0]
    answer = answered(browser, address, wrong)
    if address in STUDIES:
        *_, job = followed(browser, answer.json()["job"])
        assert job["state"] == "failed"
        error = job["error"]
    else:
        assert answer.status_code == 422
        error = answer.json()["error"]
    first = error["faults"][0]
    assert first["key"] == "balls.red1"
    assert first["remedy"] or first["allowed"]


@pytest.mark.parametrize("address", STUDIES)
def test_a_player_file_elsewhere_is_refused(browser: httpx.Client, address: str) -> None:
    document = position()
    document["goal"]["player"] = "../mira.toml"
    (fault,) = ended(browser, address, document)["error"]["faults"]
    assert fault["key"] == "goal.player"
    assert "leads elsewhere" in fault["what"]


@pytest.mark.parametrize("address", [*STUDIES, "/api/explanations"])
@pytest.mark.parametrize(
    "wish", [{}, {"document": 3}, {"document": {}, "plays": 10**9}, {"document": {}, "cell": 0.1}]
)
def test_only_what_is_described_is_taken(
    browser: httpx.Client, address: str, wish: Document
) -> None:
    assert browser.post(address, json=wish).status_code == 422


@pytest.mark.parametrize("address", [*STUDIES, "/api/explanations"])
def test_more_than_the_page_plays_is_refused(browser: httpx.Client, address: str) -> None:
    slow = position(coefficients={"rolling_resistance": 1e-6})
    answer = answered(browser, address, slow)
    error = answer.json().get("error") or [*followed(browser, answer.json()["job"])][-1]["error"]
    assert error["faults"][0]["key"] == "coefficients.rolling_resistance"


@pytest.mark.parametrize("address", [*STUDIES, "/api/explanations"])
def test_only_the_page_may_ask(browser: httpx.Client, server: Running, address: str) -> None:
    wish = {"document": position()}
    with server.stranger() as stranger:
        assert stranger.post(address, json=wish).status_code == 403
    elsewhere = {"origin": "http://127.0.0.1:1"}
    assert browser.post(address, json=wish, headers=elsewhere).status_code == 403
    text = browser.post(address, content=b"{}", headers={"content-type": "text/plain"})
    assert text.status_code == 415
