"""What a sheet says in words is what the shot's numbers say."""

from __future__ import annotations

import re
from functools import cache

import pytest

from paper.sheet_pages import POSITIONS, SHIPPED, subject_of
from random_positions import random_shot
from stunline.errors import UnsolvableShotError
from stunline.paper.sheet_cautions import cautions
from stunline.paper.sheet_lengths import Lengths
from stunline.paper.sheet_subject import Subject, of_ladder, of_shot
from stunline.paper.sheet_why import why
from stunline.paper.sheet_words import lead, rung_rows, strike_words
from stunline.shot.position_file import parse_position
from stunline.tasks.climb_ladder import climb_ladder
from stunline.tasks.play_shot import play_shot
from stunline.tasks.read_position import ReadPosition, read_position

MAIN = (POSITIONS / "edge-of-the-pack.toml").read_text(encoding="utf-8")
SEEDS = range(120)
FULL = 0.98  # thickness from which a contact is told as full


@cache
def of_file(name: str) -> Subject:
    return of_read(read_position(name))


def of_text(text: str) -> Subject:
    return of_read(ReadPosition(parse_position(text), text))


def of_read(read: ReadPosition) -> Subject:
    if read.file.ladder is not None:
        return of_ladder(climb_ladder(read).ladder)
    played = play_shot(read)
    return of_shot(played.shot, read.file.plan, played.outcome, played.solution.pot)


def subjects() -> list[Subject]:
    return [of_file(name) for name in SHIPPED] + [subject_of(*random_shot(s)) for s in SEEDS]


def told(subject: Subject) -> str:
    return " ".join(why(subject, Lengths()))


def span(text: str, before: str, after: str) -> tuple[float, float] | None:
    """The numbers between two phrases: "24 to 31" or "28"."""
    found = re.search(rf"{before}(\d+)(?: to (\d+))?{after}", text)
    return None if found is None else (float(found[1]), float(found[2] or found[1]))


def spans(values: list[float]) -> tuple[float, float]:
    return float(f"{min(values):.0f}"), float(f"{max(values):.0f}")


def test_degrees_off_the_tangent_line_are_the_read_outs() -> None:
    close = along = far = 0
    for subject in subjects():
        text = told(subject)
        met = [read for read in subject.reads if read.object_ball is not None]
        if not met or all((read.thickness or 0.0) >= FULL for read in met):
            assert "tangent line" not in text
            continue
        offs = [read.off_tangent_deg or 0.0 for read in met]
        if "along the tangent line" in text:
            assert max(map(abs, offs)) < 0.5
            along += 1
        elif "close to the tangent line" in text:
            assert max(map(abs, offs)) <= 6.0
            assert span(text, "line, ", "° (?:in|out)side it") == spans([abs(x) for x in offs])
            assert ("inside it" in text) == (max(offs) > 0.0)
            close += 1
        elif "between" not in text:
            assert max(map(abs, offs)) > 6.0
            said = span(text, "leaves ", "° (?:in|out)side the tangent line")
            assert said == spans([abs(x) for x in offs])
            assert ("inside the tangent line, towards" in text) == (max(offs) > 0.0)
            far += 1
    assert min(close, along, far) >= 1  # each case was seen


def test_bends_are_the_read_outs_and_follow_or_screw_is_their_cause() -> None:
    forward = back = straight = 0
    for subject in subjects():
        text = told(subject)
        met = [read for read in subject.reads if read.object_ball is not None]
        bends = [read.total_bend_deg or 0.0 for read in met]
        ratios = [read.follow_ratio or 0.0 for read in met]
        if "bends its way forward" in text:
            assert span(text, "forward by ", "°") == spans(bends) and min(bends) > 0.0
            assert "Its follow" not in text or min(ratios) > 0.05
            forward += 1
        elif "bends its way back" in text:
            assert span(text, "back by ", "°") == spans([-one for one in bends])
            assert max(bends) < 0.0 and ("Its screw" not in text or max(ratios) < -0.05)
            back += 1
        elif "stays straight" in text:
            assert max(map(abs, bends)) < 1.0
            assert "without spin" not in text or max(map(abs, ratios)) <= 0.05
            straight += 1
    assert min(forward, back, straight) >= 1


def test_whatever_holds_at_every_rung_holds_at_every_rung() -> None:
    for name in SHIPPED:
        subject = of_file(name)
        for sentence in why(subject, Lengths()):
            if " at every " in sentence and "leaves" in sentence:
                offs = [read.off_tangent_deg or 0.0 for read in subject.reads]
                assert max(offs) - min(offs) <= 1.5


def test_the_main_position_is_explained_by_its_pace() -> None:
    text = told(of_file("edge-of-the-pack"))
    assert "The contact is the same each time: how hard it is struck decides what it meets." in text
    runs = [read.run_to_5deg_off_mm for read in of_file("edge-of-the-pack").reads]
    for run, pace in zip(runs, ("1.00", "1.70", "2.20", "2.60", "2.95"), strict=True):
        assert f"{run:.0f} mm at {pace} m/s" in text


def test_a_rolling_half_ball_hardly_turns_more_or_less_than_a_third_of_a_right_angle() -> None:
    # [S] The natural angle of a rolling ball met half-ball is about 34° and flat about there
    # (docs/facts.md); the ladder goes 0.35 to 0.65 thick.
    text = told(of_file("billiards-half-ball-in-off"))
    said = span(text, "turned by ", "° only")
    assert said is not None and 28.0 <= said[0] <= said[1] <= 35.0


@pytest.mark.parametrize(
    ("paces", "said"),
    [
        ("[1.0, 2.0]", ""),
        ("[2.0, 3.2]", "Rung 2 is a power stroke"),
        ("[2.0, 3.3, 3.6]", "Rungs 2 and 3 are power strokes"),
        ("[3.3, 3.6]", "Both rungs are power strokes"),
    ],
)
def test_power_strokes_are_told_by_their_rungs(paces: str, said: str) -> None:
    # [S] 3.2 m/s is where a table of ball speeds begins to speak of power (shot/notes.py).
    text = " ".join(cautions(of_text(re.sub(r"values = .*", f"values = {paces}", MAIN))))
    assert ("power stroke" in text) == bool(said) and said in text
    assert ("physician" in text) == bool(said)
    assert "Ask the club before you mark its cloth." in text


def test_a_lone_power_stroke_and_a_raised_butt_are_told() -> None:
    text = MAIN.split("[ladder]")[0].replace("pace = 1.7", "pace = 3.4")
    alone = " ".join(cautions(of_text(text + "elevation = 12.0\n")))
    assert "A power stroke (up to 3.4 m/s)" in alone
    assert "The butt is raised by 12°: ask the club" in alone


def test_the_strike_in_words() -> None:
    alone = of_text(MAIN.split("[ladder]")[0])
    assert strike_words(alone, Lengths()) == (
        "A little fuller than half-ball on the right side of the black, 10.5 mm above centre, "
        "no side, 1.70 m/s = 1.3 lengths, arrives rolling."
    )
    assert lead(alone).startswith("Pot the black into the top right pocket; the white meets red 7")
    ladder = of_file("edge-of-the-pack")
    assert "m/s" not in strike_words(ladder, Lengths())
    assert lead(ladder) == (
        "Pot the black into the top right pocket, five times; only the pace changes. "
        "It decides what the white meets next."
    )


def test_rows_of_every_kind_of_ladder_say_what_is_set() -> None:
    rows = {name: rung_rows(of_file(name), Lengths()) for name in SHIPPED}
    assert [row.value for row in rows["screw-between-two-balls"]][:3] == [
        "9 mm below centre",
        "10 mm below centre",
        "11 mm below centre",
    ]
    assert [row.value for row in rows["thin-contact-running-side"]][::2] == [
        "8 mm left",
        "no side",
        "8 mm right",
    ]
    assert [row.second for row in rows["up-and-down"]] == [
        "1.0 length",
        "2.0 lengths",
        "3.0 lengths",
        "4.0 lengths",
    ]
    # Solved for each pace: the row says the height, and the softer the lower.
    heights = [float(row.second.split(", ")[1].split()[0]) for row in rows["stun-and-hold"]]
    assert heights == sorted(heights, reverse=True)
    too_slow = rows["edge-of-the-pack-low"][0]
    assert "misses the top right pocket" in too_slow.outcome and "too slow" in too_slow.outcome


@pytest.mark.parametrize(
    ("vary", "values", "strike"),
    [
        ("cloth", '["match", "worn"]', 'pot = { ball = "black", pocket = "top right" }'),
        ("table", '["snooker-12ft", "snooker-10ft"]', "aim = 90.0"),
        ("distance", "[200.0, 400.0]", 'contact = { ball = "black", thickness = "full" }'),
    ],
)
def test_ladders_without_numbers_or_with_other_ones_have_rows(
    vary: str, values: str, strike: str
) -> None:
    text = MAIN.replace('pot = { ball = "black", pocket = "top right" }', strike)
    text = re.sub(r'(?s)vary = "pace".*', f'vary = "{vary}"\nvalues = {values}\n', text)
    if vary == "table":
        text = text.replace('white = [150.0, 3050.0]\nblack = [600.0, 3060.0]\nreds = "triangle"',
                            "white = [150.0, 600.0]")  # fmt: skip
    try:
        rows = rung_rows(of_text(text), Lengths())
    except UnsolvableShotError as refusal:  # pragma: no cover
        pytest.fail(str(refusal))
    assert len(rows) == 2 and all(row.value and row.outcome for row in rows)
