"""The strip: its bands are a ladder's, its pixels are its values, it stops when told to."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise

import pytest

from live.live_documents import asked, shipped, with_strike
from stunline.shot.ladder import Band, climb
from stunline.shot.position import LadderPlan
from stunline.shot.position_file import read_position_file
from stunline.shot.position_file.shipped import shipped_position_path
from stunline.tasks.live_play import live_play
from stunline.tasks.live_strip import (
    CHANGE_TOLERANCE,
    MOVING_SCANNED,
    SCANNED,
    live_strip,
)
from stunline.web.live_protocol import StripAnswer, StripFault

WIDTH = 1300.0


def strip_of(name: str, vary: str, **more: object) -> dict[str, object]:
    message = asked(shipped(name), strip=vary, strip_width=WIDTH, **more)
    answer = live_strip(message)
    assert answer is not None
    StripAnswer.model_validate(answer)
    return answer


def without_slivers(bands: tuple[Band, ...], narrowest: float) -> list[Band]:
    """The bands wider than that, those of one outcome that only slivers part joined first."""
    kept: list[Band] = []
    for band in bands:
        alike = [one for one in kept if one.outcome == band.outcome]
        if alike and band.start - alike[-1].end <= narrowest:
            kept = kept[: kept.index(alike[-1])]
            band = Band(alike[-1].start, band.end, band.outcome)
        kept.append(band)
    return [band for band in kept if band.end - band.start > narrowest]


@pytest.mark.parametrize(
    "name",
    ["edge-of-the-pack", "pool-open-the-rack", "carom-red-two-cushions-yellow", "up-and-down"],
)
def test_bands_are_those_of_a_ladder_over_the_same_span(name: str) -> None:
    strip = strip_of(name, "pace")
    file = read_position_file(shipped_position_path(name))
    start, end = float(str(strip["start"])), float(str(strip["end"]))
    own = file.plan.pace
    ladder = climb(file.position, file.plan, LadderPlan("pace", (own, start, end)))
    span = end - start
    step = span / (SCANNED - 1)  # what the strip may step over
    # A ladder plays a pot that can't be made along another rung's aim; so only made ones count.
    wanted = [
        band for band in without_slivers(ladder.bands, step)
        if band.outcome.pot_made is not False
    ]  # fmt: skip
    shown = strip["bands"]
    assert isinstance(shown, list)
    assert wanted
    for band in wanted:
        middle = 0.5 * (band.start + band.end)
        found = next(one for one in shown if one["start"] <= middle <= one["end"])
        assert found["words"].startswith(band.outcome.words())
        # To the strip's own tolerance, the ladder's ten-thousandth, and half a pixel of what
        # interpolated aims may move a change.
        most = (CHANGE_TOLERANCE + 1e-4 + 0.5 / WIDTH) * span
        assert abs(found["start"] - band.start) < most
        assert abs(found["end"] - band.end) < most


def test_while_something_moves_bands_are_coarser_and_the_same() -> None:
    still = strip_of("edge-of-the-pack", "pace")
    moving = live_strip(
        {
            "play": 2,
            "document": shipped("edge-of-the-pack"),
            "strip": "pace",
            "strip_width": WIDTH,
            "drawing": {"words": False},
        }
    )
    assert moving is not None
    span = float(str(still["end"])) - float(str(still["start"]))
    wide = [
        band for band in still["bands"]  # type: ignore[attr-defined]
        if band["end"] - band["start"] > 2.0 * span / (MOVING_SCANNED - 1)
    ]  # fmt: skip
    assert len(wide) > 3
    for band in wide:
        middle = 0.5 * (band["start"] + band["end"])
        found = next(one for one in moving["bands"] if one["start"] <= middle <= one["end"])
        assert found["words"] == band["words"]


def test_bands_say_what_a_play_in_them_does() -> None:
    document = shipped("edge-of-the-pack")
    bands = strip_of("edge-of-the-pack", "pace")["bands"]
    assert isinstance(bands, list)
    said = [band["words"] for band in bands]
    order = [said.index(f"red {number}") for number in (11, 7, 4, 2, 1)]
    assert order == sorted(order)  # down the pack's edge, the harder the stroke
    for band in bands:
        if band["words"].startswith("red") and "missed" not in band["words"]:
            pace = 0.5 * (band["start"] + band["end"])
            answer = live_play(asked(with_strike(document, pace=pace)))
            met = next(row[1] for row in answer["rows"] if row[0] == "met next")
            assert met.startswith(band["words"].split(",")[0])


def test_heights_go_to_the_miscue_limit_and_no_further() -> None:
    strip = strip_of("edge-of-the-pack", "height")
    # Half the radius of 26.25 mm [P, the table's own file].
    assert strip["start"] == pytest.approx(-13.125)
    assert strip["end"] == pytest.approx(13.125)
    assert strip["unit"] == "mm"


def test_heights_of_a_document_in_inches_stand_on_a_ruler_in_inches() -> None:
    """[X] Half the radius of 26.25 mm is 0.517 in; the answer's own numbers stay in mm."""
    in_mm = strip_of("edge-of-the-pack", "height")
    document = {**shipped("edge-of-the-pack"), "units": "in"}
    strip = live_strip(asked(document, strip="height", strip_width=WIDTH))
    assert strip is not None
    for same in ("start", "end", "bands", "ruler", "unit"):
        assert strip[same] == in_mm[same]
    figures = re.findall(r'id="strip-ruler-[-0-9]+-figure"[^>]*>([^<]+)<', strip["svg"])
    values = [float(one.replace("−", "-")) for one in figures]
    assert (values[0], values[-1]) == (-0.5, 0.5)
    assert re.search(r'id="strip-ruler-unit"[^>]*>in<', strip["svg"])


def test_height_that_is_solved_can_be_varied_too() -> None:
    assert strip_of("stun-and-hold", "height")["bands"]


def test_bands_leave_no_gap_and_fill_the_ruler() -> None:
    strip = strip_of("pool-open-the-rack", "pace")
    bands = strip["bands"]
    assert isinstance(bands, list)
    assert bands[0]["start"] == strip["start"] and bands[-1]["end"] == strip["end"]
    for before, after in pairwise(bands):
        assert before["end"] == after["start"]


def test_ruler_says_where_values_stand_in_the_picture() -> None:
    strip = strip_of("edge-of-the-pack", "pace")
    drawn = str(strip["svg"])
    view = re.search(r'viewBox="([-0-9. ]+)" width="([0-9.]+)"', drawn)
    assert view is not None
    left, _, width, _ = (float(one) for one in view[1].split())
    assert float(view[2]) == pytest.approx(WIDTH, abs=0.01)
    base = re.search(r'id="strip-ruler-base"[^>]* d="M([-0-9.]+)[ -][-0-9.]+H([-0-9.]+)"', drawn)
    assert base is not None
    pixels = [(float(end) - left) * WIDTH / width for end in base.groups()]
    assert pixels == pytest.approx(strip["ruler"], abs=0.05)


@pytest.mark.parametrize("name", ["edge-of-the-pack", "edge-of-the-pack-low"])
def test_bands_are_the_same_wherever_the_pace_is_set(name: str) -> None:
    """Also those of the paces at which the pot can't be made, such as 0.45 m/s here."""
    strips = [
        live_strip(asked(with_strike(shipped(name), pace=pace), strip="pace"))
        for pace in (0.45, 1.7, 2.5)
    ]
    bands = [strip["bands"] for strip in strips if strip is not None]
    assert any("pot missed" in band["words"] for band in bands[0])
    assert bands[0] == bands[1] == bands[2]


def test_ruler_stands_still_while_the_pace_is_slid_and_reaches_a_hard_one() -> None:
    document = shipped("edge-of-the-pack")
    spans = []
    for pace in (0.8, 2.0, 5.0):
        answer = live_strip(asked(with_strike(document, pace=pace), strip="pace"))
        assert answer is not None
        assert answer["start"] <= pace <= answer["end"]
        spans.append((answer["start"], answer["end"]))
    assert spans[0] == spans[1] != spans[2]


def test_hidden_strip_has_a_ruler_and_no_answer() -> None:
    strip = strip_of("edge-of-the-pack", "pace", drawing={"hidden": True})
    assert strip["bands"] == []
    assert "red" not in re.sub(r'id="[^"]*"|class="[^"]*"', "", str(strip["svg"]))


def test_pinned_strikes_are_numbered_on_it() -> None:
    pinned = [{"pace": 1.0}, {"pace": 2.3}, {"height": 0.0}]
    drawn = str(strip_of("edge-of-the-pack", "pace", drawing={"pinned": pinned})["svg"])
    assert 'id="strip-mark-1"' in drawn and 'id="strip-mark-2"' in drawn
    assert 'id="strip-mark-3"' not in drawn


def test_a_strip_no_longer_wanted_stops_within_a_few_plays() -> None:
    looks = 0

    def cancelled() -> bool:
        nonlocal looks
        looks += 1
        return looks > 2

    assert live_strip(asked(shipped("edge-of-the-pack"), strip="pace"), None, cancelled) is None
    assert looks == 3


def test_what_is_wrong_is_said_instead() -> None:
    document = with_strike(shipped("edge-of-the-pack"), pace=99.0)
    answer = live_strip(asked(document, strip="pace"))
    assert answer is not None
    StripFault.model_validate(answer)
    assert answer["fault"]["faults"][0]["key"] == "strike.pace"


def test_nothing_when_none_is_asked_for() -> None:
    assert live_strip(asked(shipped("edge-of-the-pack"))) is None


def test_plays_and_strips_in_several_threads_are_what_they_are_alone() -> None:
    names = ("edge-of-the-pack", "up-and-down", "billiards-half-ball-in-off")
    messages = [asked(with_strike(shipped(name), pace=1.5 + 0.01 * turn), strip="pace")
                for turn in range(8) for name in names]  # fmt: skip
    with ThreadPoolExecutor(3) as threads:
        together = list(threads.map(lambda one: (live_play(one), live_strip(one)), messages))
    for message, (play, strip) in list(zip(messages, together, strict=True))[::5]:
        assert play == live_play(message)
        assert strip == live_strip(message)
