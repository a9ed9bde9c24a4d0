"""Live plays: what the page is given is what the library plays, checks and says."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from live.live_documents import (
    SIZE,
    Document,
    asked,
    drawn_paths,
    points_of,
    shipped,
    with_strike,
    words_of,
)
from stunline.shot.aiming.solve import play_plan
from stunline.shot.position_file import parse_position, read_position_file
from stunline.shot.position_file.shipped import shipped_position_path, shipped_positions
from stunline.shot.shot import Shot
from stunline.tasks.live_play import live_play
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import read_position
from stunline.tasks.tell_shot import number_rows, shot_lines
from stunline.web.live_protocol import LiveAnswer, LiveFault, PlayRequest

AS_DRAWN = 0.1  # what the drawn path may be off the library's [mm]: the page's own promise
SAMPLES = 8  # along each stretch of a way


def of_library(name: str) -> Shot:
    file = read_position_file(shipped_position_path(name))
    return play_plan(file.position, file.plan)


def at_part(points: list[tuple[float, float]], part: float) -> tuple[float, float]:
    """On a quadratic Bézier curve, or a line. [X]: de Casteljau's construction."""
    while len(points) > 1:
        points = [(x + part * (u - x), y + part * (v - y)) for (x, y), (u, v) in pairwise(points)]
    return points[0]


@pytest.mark.parametrize("name", shipped_positions())
def test_drawn_way_of_the_white_is_the_librarys(name: str) -> None:
    shot = of_library(name)
    white = shot.position.names[0]
    drawn = drawn_paths(live_play(asked(shipped(name)))["layers"]["paths"])
    ways = [path for ident, path in drawn.items() if ident.startswith("plan-white-")
            and not ident.endswith("-core")]  # fmt: skip
    phases = [phase for phase in shot.phases(white) if phase.motion != "spinning"]
    shown = 0
    for path in ways:
        points = points_of(path)
        start = [1000.0 * one for one in phases[shown].place]
        while math.dist(start, points[0]) > AS_DRAWN:  # too short a stretch to be drawn
            shown += 1
            start = [1000.0 * one for one in phases[shown].place]
        phase = phases[shown]
        for step in range(SAMPLES + 1):
            part = step / SAMPLES
            # A way with no acceleration along time's square is a line: a rolling ball slows
            # down along it, so only its ends are at equal parts of line and time.
            place = shot.place(white, phase.start + part * phase.duration)
            if len(points) == 3:
                off = math.dist(at_part(points, part), [1000.0 * one for one in place])
            else:
                off = distance_to_line([1000.0 * one for one in place], *points)
            assert off < AS_DRAWN
        shown += 1
    assert ways


def distance_to_line(place: list[float], start: Any, end: Any) -> float:
    """From a place to a stretch. [X] [mm]"""
    along = (end[0] - start[0], end[1] - start[1])
    square = along[0] ** 2 + along[1] ** 2
    away = (place[0] - start[0], place[1] - start[1])
    part = min(max((away[0] * along[0] + away[1] * along[1]) / square, 0.0), 1.0)
    return math.hypot(away[0] - part * along[0], away[1] - part * along[1])


@pytest.mark.parametrize("name", shipped_positions())
def test_playback_puts_every_ball_where_the_library_has_it(name: str) -> None:
    shot = of_library(name)
    answer = live_play(asked(shipped(name)))
    assert answer["duration"] == shot.duration
    for ball, stretches in answer["phases"].items():
        for one in stretches:
            for part in (0.0, 0.4, 1.0):
                t = part * (one["end"] - one["start"])
                place = [
                    p + v * t + 0.5 * a * t * t
                    for p, v, a in zip(
                        one["place"], one["velocity"], one["acceleration"], strict=True
                    )
                ]
                there = shot.place(ball, min(one["start"] + t, one["end"] - 1e-12))
                assert math.dist(place, [1000.0 * x for x in there]) < AS_DRAWN
    assert set(answer["phases"]) == {ball for ball in shot.position.names if len(shot.phases(ball))}


@pytest.mark.parametrize("name", shipped_positions())
def test_answer_says_what_the_command_says(name: str) -> None:
    result = play_shot(read_position(name))
    answer = live_play(asked(shipped(name)))
    assert answer["rows"] == [[row, words] for row, words in number_rows(result) if row]
    printed = " ".join(" ".join(shot_lines(result)).split())
    assert answer["sentence"] in printed
    for event in answer["events"][:5]:
        assert event["words"] in printed
    for note in answer["notes"]:
        assert note in printed


def test_doubt_is_told_and_drawn_once_things_rest() -> None:
    result = play_shot(read_position("stay-on-the-black"), with_doubt=True)
    document = shipped("stay-on-the-black")
    still = live_play(asked(document, drawing={"doubt": True}))
    assert still["rows"] == [[row, words] for row, words in number_rows(result) if row]
    (basis, _) = still["doubt"]["sentences"]
    assert basis.startswith("Tint and brackets: 90 % of 100 tables") and "never gauged" in basis
    assert "plan-doubt-ribbon-1" in still["layers"]["doubt"]
    without: tuple[dict[str, object], ...] = ({}, {"doubt": True, "words": False})
    for drawing in (*without, {"doubt": True, "hidden": True}):
        answer = live_play(asked(document, drawing=drawing))
        assert answer["doubt"] is None
        assert "plan-doubt" not in answer["layers"]["doubt"]


@pytest.mark.parametrize("name", shipped_positions())
def test_strike_typed_back_is_the_same_shot(name: str) -> None:
    document = shipped(name)
    first = live_play(asked(document))
    strike = {key: first["strike"][key] for key in ("aim", "pace", "height", "side", "elevation")}
    again = live_play(asked({**document, "strike": strike}))
    assert again["phases"] == first["phases"]


@pytest.mark.parametrize("name", shipped_positions())
def test_answer_has_the_protocols_shape(name: str) -> None:
    message = asked(shipped(name), held="white")
    request = PlayRequest.model_validate(message)
    answer = live_play(request.model_dump())
    LiveAnswer.model_validate(answer)
    assert set(answer) == set(LiveAnswer.model_fields)
    assert answer["play"] == message["play"]


def test_same_message_same_answer() -> None:
    message = asked(shipped("edge-of-the-pack"))
    assert live_play(message) == live_play(message)


def test_window_is_the_one_asked_for_and_a_ball_stands_at_x_minus_y() -> None:
    window = [0.0, 2600.0, 920.0, 3210.0]  # the size's own shape: a pixel is a millimetre [X]
    answer = live_play(asked(shipped("edge-of-the-pack"), drawing={"window": window}))
    assert answer["window"] == pytest.approx(window)
    assert answer["scale"] == pytest.approx(1.0)
    assert 'id="plan-ball-white"' in answer["layers"]["balls"]
    assert 'cx="150" cy="-3050"' in answer["layers"]["balls"]  # as the file places it
    assert answer["balls"]["white"]["at"] == pytest.approx([150.0, 3050.0])


def test_window_of_another_shape_is_shown_whole_and_centred() -> None:
    answer = live_play(
        asked(shipped("edge-of-the-pack"), drawing={"window": [0.0, 2000.0, 400.0, 2400.0]})
    )
    left, bottom, right, top = answer["window"]
    assert (bottom, top) == pytest.approx((2000.0, 2400.0))  # the narrower side decides [X]
    assert (left + right) / 2 == pytest.approx(200.0)
    assert (right - left) / (top - bottom) == pytest.approx(SIZE[0] / SIZE[1])


def test_layers_that_the_page_holds_are_left_out() -> None:
    document = shipped("edge-of-the-pack")
    first = live_play(asked(document))
    window, hashes = first["window"], first["hashes"]
    same = live_play(asked(document, drawing={"window": window, "have": hashes}))
    assert same["layers"] == {} and same["key"] is None
    assert same["hashes"] == hashes
    harder = live_play(
        asked(with_strike(document, pace=2.2), drawing={"window": window, "have": hashes})
    )
    assert "paths" in harder["layers"] and "table" not in harder["layers"]
    dark = live_play(asked(document, drawing={"window": window, "have": hashes, "theme": "dark"}))
    assert {"table", "balls", "paths"} <= set(dark["layers"])


def test_words_are_left_out_while_something_moves() -> None:
    document = shipped("edge-of-the-pack")
    still = live_play(asked(document))["layers"]
    moving = live_play(asked(document, drawing={"words": False}))["layers"]
    assert "meets red 7" in words_of(still["labels"])
    assert words_of(moving["labels"]) == []
    assert moving["paths"] == still["paths"] and moving["balls"] == still["balls"]


@pytest.mark.parametrize("name", shipped_positions())
def test_hidden_answer_gives_nothing_away(name: str) -> None:
    answer = live_play(asked(shipped(name), drawing={"hidden": True}))
    LiveAnswer.model_validate(answer)
    for layer in ("paths", "contacts", "inset"):
        assert "<path" not in answer["layers"][layer]
        assert "<circle" not in answer["layers"][layer]
    told = " ".join(words_of(answer["layers"]["labels"]))
    assert not any(word in told for word in ("meets", "rests", "potted", "to ", "tangent"))
    assert answer["sentence"] == "" and answer["duration"] == 0.0
    for part in ("rows", "events", "phases", "notes", "pinned"):
        assert not answer[part]
    assert answer["pot"] is None
    assert answer["balls"] and "<circle" in answer["layers"]["balls"]


def test_hidden_plan_is_framed_on_the_balls_not_on_the_answer() -> None:
    document = shipped("edge-of-the-pack")
    soft = live_play(asked(with_strike(document, pace=1.2), drawing={"hidden": True}))
    hard = live_play(asked(with_strike(document, pace=3.4), drawing={"hidden": True}))
    assert soft["window"] == hard["window"]


def test_held_ball_shows_its_two_distances_to_centre_and_edge() -> None:
    # The white at (150, 3050) on a table of 1778 × 3569 mm [R, the game's rules]: 150 from the
    # left and 519 from the top cushion; less its radius of 26.25 mm to its edge [X].
    message = asked(shipped("edge-of-the-pack"), held="white", drawing={"words": False})
    words = words_of(live_play(message)["layers"]["dimensions"])
    assert sorted(words) == sorted(["150", "124 to edge", "519 to top cushion", "493 to edge"])
    other = live_play({**message, "held": "black"})["layers"]["dimensions"]
    assert "held-dimension" in other and words_of(other) != words
    assert words_of(live_play({**message, "held": None})["layers"]["dimensions"]) == []


def test_pinned_strikes_stand_numbered_on_the_plan() -> None:
    document = shipped("edge-of-the-pack")
    paces = [1.0, 2.3, 2.7]
    pinned = [{"pace": pace} for pace in paces]
    answer = live_play(asked(document, drawing={"pinned": pinned}))
    labels = words_of(answer["layers"]["labels"])
    assert [number for number in labels if number in ("1", "2", "3")] == ["1", "2", "3"]
    drawn = drawn_paths(answer["layers"]["paths"])
    for number, pace in enumerate(paces, 1):
        alone = live_play(asked(with_strike(document, pace=pace)))
        met = next(row[1] for row in alone["rows"] if row[0] == "met next")
        assert met.startswith(answer["pinned"][number - 1]["words"])
        last = [path for ident, path in drawn.items() if f"pinned-{number}-way" in ident][-1]
        own = drawn_paths(alone["layers"]["paths"])
        end = [path for ident, path in own.items() if ident.startswith("plan-white-")
               and not ident.endswith("-core")][-1]  # fmt: skip
        assert points_of(last)[-1] == pytest.approx(points_of(end)[-1], abs=AS_DRAWN)


def test_pinned_strike_may_change_more_than_the_pace() -> None:
    document = shipped("edge-of-the-pack")
    pinned = [{"height": -8.0, "side": None}, {"arrive": "stun"}, {"aim": 12.0}, {"height": 40.0}]
    told = live_play(asked(document, drawing={"pinned": pinned}))["pinned"]
    # Stun at half-ball: the white stays on the tangent line, which passes the pack.
    assert told[1]["words"] == "meets nothing more"
    assert [one["played"] for one in told] == [True, True, True, False]
    assert "miscue" in told[3]["words"]


def fault_of(document: Document, **more: Any) -> dict[str, Any]:
    answer = live_play(asked(document, **more))
    LiveFault.model_validate(answer)
    assert "<path" in answer["layers"]["table"]
    return answer


@pytest.mark.parametrize(
    "changes, key, words",
    [
        ({"tabel": "snooker-12ft"}, "tabel", "no such key"),
        ({"table": "snooker-13ft"}, "table", "no table of that name"),
        ({"table": "own.toml"}, "table", "must stand beside"),
        ({"strike": {"aim": 3.0}}, "strike.pace", "missing"),
        ({"strike": {"aim": 3.0, "pace": 99.0}}, "strike.pace", "too large"),
        ({"strike": "hard"}, "strike", "must be a table"),
        ({"balls": {"white": [150.0]}}, "balls.white", "two numbers"),
        ({"balls": {"white": [-50.0, 300.0]}}, "balls.white", "off the table"),
        ({"balls": []}, "balls", "must be a table"),
        ({"balls": {"black": [600.0, 3060.0]}}, "balls.white", "missing"),
    ],
)
def test_faults_carry_the_key_and_the_picture_stays(
    changes: Document, key: str, words: str
) -> None:
    answer = fault_of({**shipped("edge-of-the-pack"), **changes})
    faults = answer["fault"]["faults"]
    assert any(one["key"] == key and words in one["what"] for one in faults)
    assert all(one["line"] is None for one in faults)


def test_faults_are_those_of_the_file() -> None:
    text = Path(shipped_position_path("edge-of-the-pack")).read_text("utf-8")
    with pytest.raises(Exception, match="too large") as found:
        parse_position(text.replace("pace = 1.7", "pace = 17"))
    said = {one.sentence() for one in found.value.faults}  # type: ignore[attr-defined]
    answer = fault_of(with_strike(shipped("edge-of-the-pack"), pace=17))
    for one in answer["fault"]["faults"]:
        assert any(one["what"] in sentence and one["remedy"] in sentence for sentence in said)
    assert len(said) == len(answer["fault"]["faults"])


def test_shot_that_cannot_be_made_says_why_and_shows_its_balls() -> None:
    document = shipped("edge-of-the-pack")
    pot = {"ball": "black", "pocket": "bottom left"}
    answer = fault_of(with_strike(document, pot=pot))
    assert answer["fault"]["kind"] == "unsolvable"
    assert 'id="plan-ball-black"' in answer["layers"]["balls"]
    assert "nearest_free" not in answer


def test_overlapping_balls_are_named_and_offered_the_nearest_place() -> None:
    document = shipped("edge-of-the-pack")
    document["balls"]["white"] = [560.0, 3050.0]  # 41.2 mm from the black's centre [X]
    answer = fault_of(document, held="white")
    (fault,) = answer["fault"]["faults"]
    assert "white and black overlap" in fault["what"]
    # The nearest place on the circle of 52.5 mm round the black: along the line of centres [X].
    scale = 52.5 / math.hypot(40.0, 10.0)
    assert answer["nearest_free"]["ball"] == "white"
    assert answer["nearest_free"]["at"] == pytest.approx(
        [600.0 - 40.0 * scale, 3060.0 - 10.0 * scale], abs=0.002
    )
    assert {"plan-ball-white", "plan-ball-black"} <= {
        name.split('"')[0] for name in answer["layers"]["balls"].split('id="')
    }
    document["balls"]["white"] = answer["nearest_free"]["at"]
    # There the cut is too thin for the pot, but the balls stand in order.
    assert live_play(asked(document, held="white"))["fault"]["kind"] == "unsolvable"


def test_a_smaller_white_is_drawn_and_told_with_its_own_radius() -> None:
    answer = live_play(asked(shipped("english-pool-small-white-comes-back")))
    white, others = answer["balls"]["white"], [
        ball for name, ball in answer["balls"].items() if name != "white"
    ]  # fmt: skip
    # 47.6 mm (1 7/8 in) and 50.8 mm (2 in) across [R, the table's own file].
    assert white["radius"] == pytest.approx(23.8)
    assert all(ball["radius"] == pytest.approx(25.4) for ball in others)
    assert 'r="23.8"' in answer["layers"]["balls"]


def test_a_table_without_pockets_has_none_in_picture_or_words() -> None:
    answer = live_play(asked(shipped("carom-red-two-cushions-yellow")))
    assert "drop" not in answer["layers"]["table"]
    told = " ".join([answer["sentence"], *(words for row in answer["rows"] for words in row)])
    assert "pocket" not in told
    assert answer["pot"] is None


def test_other_games_words() -> None:
    answer = live_play(asked(shipped("pool-open-the-rack")))
    told = answer["sentence"] + " ".join(event["words"] for event in answer["events"])
    assert "cue ball" in told and "white" not in told
    assert answer["pot"]["pocket"] == "foot right"
    assert answer["balls"]["10"]["letter"] == "10"


def test_a_document_in_inches_is_told_and_dimensioned_in_inches() -> None:
    """[X] An inch is 25.4 mm. The white stands 150 mm from the left cushion: 5.91 in, and its
    edge 26.25 mm nearer: 4.87 in."""
    document = {**shipped("edge-of-the-pack"), "units": "in"}
    answer = live_play(asked(document))
    figures = words_of(answer["layers"]["labels"])
    assert any(one.startswith("5.91") for one in figures)
    assert "4.87 to edge" in figures
    told = [answer["sentence"], *(value for _, value in answer["rows"])]
    assert " in" in answer["sentence"]
    assert not [one for one in told if re.search(r"\d mm\b", one)]


def test_the_held_ball_s_distances_are_in_the_document_s_unit() -> None:
    """[X] 150 mm are 5.91 in."""
    document = shipped("edge-of-the-pack")
    for units, figure in (("mm", "150"), ("in", "5.91")):
        drawing = {"words": False}
        answer = live_play(asked({**document, "units": units}, held="white", drawing=drawing))
        figures = words_of(answer["layers"]["dimensions"])
        assert any(one.split()[0] == figure for one in figures)
