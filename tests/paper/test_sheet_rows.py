"""What a sheet's rows promise: where the white ends, what earns a cross, what the pupil keeps."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from math import dist

import pytest

from paper.sheet_pages import POSITIONS, SHIPPED, subject_of
from paper.test_sheet_words import MAIN, of_file, of_text
from random_positions import random_shot
from stunline.paper.sheet_crosses import cross_words, stopping_reach
from stunline.paper.sheet_doubt import sign_words
from stunline.paper.sheet_lengths import Lengths
from stunline.paper.sheet_places import EndPlace, end_place
from stunline.paper.sheet_subject import Subject
from stunline.paper.sheet_varied import changing, staying
from stunline.paper.sheet_words import lead, rung_rows
from stunline.shot.position_file import parse_position
from stunline.shot.shot import Shot
from stunline.tasks.play_shot import play_shot
from stunline.tasks.print_sheet import subject_of as subject_of_file
from stunline.tasks.read_position import ReadPosition, read_position

SEEDS = range(60)
FROM_TWO = re.compile(r"stops (\d+) from (\w+), (\d+) mm from (\w+)")


def alone(white: str, aim: float, pace: float) -> Shot:
    """The white by itself on a snooker table."""
    text = f"""
table = "snooker-12ft"
[balls]
white = {white}
[strike]
aim = {aim}
pace = {pace}
"""
    return play_shot(ReadPosition(parse_position(text), text)).shot


def cushion_distance(shot: Shot, name: str) -> float:
    """From that cushion's nose line to the white at rest. [mm]"""
    table = shot.position.table
    x, y = shot.rest(shot.position.names[0]) or (0.0, 0.0)
    near, right, far, left = table.words.cushions
    return 1000.0 * {left: x, right: table.width - x, near: y, far: table.length - y}[name]


# --- where the white ends -------------------------------------------------------------


def test_the_end_is_told_from_two_cushions_as_a_tape_reads_it() -> None:
    told = 0
    shots = [shot for name in SHIPPED for shot in of_file(name).shots]
    shots += [random_shot_played(seed) for seed in SEEDS]
    for shot in shots:
        place = end_place(shot, Lengths())
        if shot.rest(shot.position.names[0]) is None:
            assert place is None  # in a pocket: the outcome says it
            continue
        assert place is not None
        found = FROM_TWO.fullmatch(place.words)
        if found is None:
            assert " spot" in place.words or "against the" in place.words
            continue
        for distance, name in ((found[1], found[2]), (found[3], found[4])):
            assert abs(float(distance) - cushion_distance(shot, name)) <= 0.5
        told += 1
    assert told > 50


def random_shot_played(seed: int) -> Shot:
    return subject_of(*random_shot(seed)).shot


@pytest.mark.parametrize(
    ("white", "words"),
    [
        # A white that is hardly moved ends where it stood, to 5 mm. [R] the rules: the blue spot
        # is midway, 889 mm from the sides and 1784.5 mm from the ends.
        ("[888.0, 1784.5]", r"stops on the blue spot"),
        ("[889.0, 1820.0]", r"stops beside the blue spot"),
        ("[860.0, 1900.0]", r"stops 86\d from left, 166\d mm from top"),
        ("[24.06, 900.0]", r"stops against the left cushion, 90\d mm from baulk"),
    ],
)
def test_the_end_is_told_by_what_is_nearest(white: str, words: str) -> None:
    place = end_place(alone(white, 80.0 if "900.0" in white else 0.0, 0.02), Lengths())
    assert place is not None and re.fullmatch(words, place.words)


def test_the_end_stands_in_inches_where_the_file_does() -> None:
    shot = alone("[400.0, 900.0]", 0.0, 0.02)
    place = end_place(shot, Lengths("in"))
    # [X] 400/25.4 = 15.748 = 15 3/4 in; 900/25.4 = 35.433 = 35 3/8 or 35 1/2 in by eighths
    assert place is not None
    assert re.fullmatch(r"stops 15 3/4 from left, 35 (3/8|1/2) in from baulk", place.words)


def test_every_row_has_its_end_unless_the_white_is_in_a_pocket() -> None:
    for name in SHIPPED:
        subject = of_file(name)
        for row, one in zip(rung_rows(subject, Lengths()), subject.outcomes, strict=True):
            assert bool(row.place) == (not one.in_off)


# --- what earns a cross -----------------------------------------------------------------


def test_a_pot_with_the_next_ball_earns_a_cross() -> None:
    assert cross_words(of_file("edge-of-the-pack"), Lengths()) == (
        "For a cross the black goes in, and the white then meets what its row says, on whichever "
        "side, without going in-off."
    )


def test_the_side_counts_where_rows_differ_in_it_alone() -> None:
    subject = of_file("screw-between-two-balls")
    pairs = {(one.meets, one.on) for one in subject.outcomes if one.on}
    assert len(pairs) > len({meets for meets, _ in pairs})
    assert "on the side it says" in cross_words(subject, Lengths())


def test_a_white_that_meets_nothing_more_must_stop_near_its_place() -> None:
    subject = of_file("stun-and-hold")
    assert {one.meets for one in subject.outcomes} == {""}
    places = [end_place(shot, Lengths()) for shot in subject.shots]
    nearest = min(dist(one.at, two.at) for one, two in pairwise(places) if one and two)
    said = re.search(
        r"stops within (\d+) mm of the place in its row", cross_words(subject, Lengths())
    )
    assert said is not None and (float(said[1]) <= nearest / 2 or float(said[1]) == 25.0)


@pytest.mark.parametrize(
    ("apart", "reach"),
    # [X] half of what lies between, down to 5 mm; a hand (100) at most, half a ball (25) at least
    [(1000.0, 100.0), (150.0, 75.0), (97.0, 45.0), (20.0, 25.0)],
)
def test_how_near_it_must_stop(apart: float, reach: float) -> None:
    assert stopping_reach([EndPlace((0.0, 0.0), ""), EndPlace((0.0, apart), "")]) == reach


@pytest.mark.parametrize(
    "name",
    ["stay-on-the-black", "pool-stop-for-the-nine", "stun-and-hold", "six-foot-blue-then-pink"],
)
def test_no_row_asks_for_a_place_nearer_than_its_own_doubt(name: str) -> None:
    subject = on_such_tables(name)
    words = cross_words(subject, Lengths())
    said = re.search(r"stops within (?:(\d+) mm of the place|the ±) in its row", words)
    assert said is not None
    free = [
        row.place.rpartition("± ")[2]
        for row, one in zip(rung_rows(subject, Lengths()), subject.outcomes, strict=True)
        if not one.meets and not one.in_off
    ]
    if said[1]:  # a length that some row's doubt is within, and some row's is not
        beyond = [float(one) > float(said[1]) for one in free if one != "?"]
        assert not all(beyond)
        assert ("or its ± if that is more" in words) == any(beyond)
    assert ("anywhere at ± ?" in words) == ("?" in free)


def test_where_no_place_can_be_told_none_is_asked_for() -> None:
    words = cross_words(on_such_tables("edge-of-the-pack-low"), Lengths())
    assert "it may stop anywhere, as that is too unsure" in words
    assert "within" not in words


def test_a_shot_by_itself_is_held_to_its_doubt() -> None:
    text = (POSITIONS / "stay-on-the-black.toml").read_text(encoding="utf-8")
    text = text[: text.index("[ladder]")]
    read = ReadPosition(parse_position(text), text)
    subject = subject_of_file(read)
    (row,) = rung_rows(subject, Lengths())
    doubt = row.place.rpartition("± ")[2]
    assert doubt != "?" and float(doubt) > 100.0  # more than the hand that is asked for else
    assert f"stops within {doubt} mm of its place, its ±" in cross_words(subject, Lengths())


def test_both_signs_are_explained_where_they_stand() -> None:
    for name in ("edge-of-the-pack", "stay-on-the-black", "six-foot-blue-then-pink"):
        subject = on_such_tables(name)
        places = [row.place for row in rung_rows(subject, Lengths())]
        told = sign_words(subject, Lengths())
        assert ("± ?: " in told) == any(place.endswith("± ?") for place in places)
        assert ("±: " in told) == any(re.search(r"± \d+$", place) for place in places)
    assert sign_words(of_file("edge-of-the-pack"), Lengths()) == ""  # played without doubt


@cache
def on_such_tables(name: str) -> Subject:
    """A shipped position with what the table's doubt does to it."""
    return subject_of_file(read_position(name))


def test_a_row_that_fails_as_printed_earns_none() -> None:
    subject = of_file("edge-of-the-pack-low")
    assert [one.pot_made for one in subject.outcomes] == [False, True, True, True, True]
    assert "Row 1 shows how it fails, and earns none." in cross_words(subject, Lengths())


def test_an_in_off_earns_a_cross_only_where_it_scores() -> None:
    billiards = cross_words(of_file("billiards-half-ball-in-off"), Lengths())
    assert "going in-off where the row does" in billiards and "without" not in billiards
    for name in SHIPPED:
        if not name.startswith("billiards"):
            assert "without going in-off" in cross_words(of_file(name), Lengths())


def test_a_white_alone_counts_its_cushions() -> None:
    assert cross_words(of_file("up-and-down"), Lengths()).startswith(
        "For a cross the white meets as many cushions as its row says"
    )


# --- what changes and what stays ------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "changes", "stays"),
    [  # by the files: what each varies, and what its [strike] leaves to be solved
        ("edge-of-the-pack", ("pace",), ("contact", "height", "side")),
        ("stun-and-hold", ("pace", "height"), ("contact", "side")),
        ("billiards-half-ball-in-off", ("contact",), ("pace", "height", "side")),
        ("up-and-down", ("pace",), ("aim", "height", "side")),
        ("carom-red-two-cushions-yellow", ("side",), ("aim", "pace", "height")),
    ],
)
def test_what_the_pupil_changes_and_keeps(
    name: str, changes: tuple[str, ...], stays: tuple[str, ...]
) -> None:
    subject = of_file(name)
    assert changing(subject) == changes
    assert staying(subject) == stays


def test_nothing_that_is_said_to_stay_differs_between_the_rows() -> None:
    for name in SHIPPED:
        subject = of_file(name)
        strikes = [shot.strike for shot in subject.shots]
        for kept in set(staying(subject)) - {"contact"}:
            values = [getattr(strike, kept) for strike in strikes]
            assert max(values) - min(values) < 5e-5 or kept == "pace"


def test_only_is_said_of_one_thing() -> None:
    assert "only the pace changes" in lead(of_file("edge-of-the-pack"))
    assert "the pace and the height change." in lead(of_file("stun-and-hold"))
    assert changing(of_text(MAIN.split("[ladder]")[0])) == ()
