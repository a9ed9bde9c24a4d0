"""Which full-size pages are printed, what leads from words to what they name, and inches."""

from __future__ import annotations

from itertools import pairwise
from math import dist
from pathlib import Path

import pytest

from paper.full_size_pages import SHIPPED, of_file
from paper.pdf_reading import read_pdf
from stunline.drawing.marks import Layer, Line, Role
from stunline.drawing.segments import length_inside
from stunline.paper.full_size_registration import NOSE_SEEN, seen_length, straight_noses
from stunline.paper.full_size_words import segments_of
from stunline.tasks.print_full_size import print_full_size
from stunline.tasks.read_position import read_position


def test_the_next_ball_is_printed_where_that_is_a_page_more_at_most() -> None:
    """Red 1, which the last rung meets a little beyond its first stretch of 350 mm."""
    made = of_file("edge-of-the-pack", "a4", "contact")
    last = made.full.scene.subject.ways[-1]
    assert last.meeting is not None and last.meeting.ball == "red1"
    assert "red 1" in [ball.name for ball in made.full.scene.balls]
    length = sum(dist(one, two) for one, two in pairwise(last.points))
    assert 350.0 < length <= 600.0
    assert "not printed" not in " ".join(page.copied for page in made.pages)


@pytest.mark.parametrize("name", SHIPPED)
def test_no_page_shows_next_to_nothing(name: str) -> None:
    """A ball, something to set the paper by, a rung's end, or 100 mm of lines at least."""
    made = of_file(name)
    scene = made.full.scene
    for tile in scene.tiling.tiles:
        field = tile.field
        balls = [ball for ball in scene.balls if field.overlap(ball.box) > 0]
        lines = sum(
            length_inside(one, two, field)
            for mark in scene.marks
            if mark.layer is Layer.PATHS
            for one, two in segments_of([mark])
        )
        noses = any(
            seen_length(Line("", Layer.TABLE, Role.NOSE, one, two), field) >= NOSE_SEEN
            for _, one, two in straight_noses(scene.subject)
        )
        assert balls or noses or lines > 100.0


def test_words_off_a_rungs_end_are_led_to_it() -> None:
    made = of_file("stun-and-hold")
    ends = [way.points[-1] for way in made.full.scene.subject.ways]
    leaders = [
        mark
        for drawing in made.full.drawings
        for mark in drawing.marks
        if isinstance(mark, Line) and mark.id.startswith("leader-words-rung")
    ]
    assert leaders
    for line in leaders:
        assert any(dist(line.end, end) < 0.01 for end in ends)


def test_a_ladder_of_heights_in_inches_has_its_rungs_in_inches(tmp_path: Path) -> None:
    file = """
table = "pool-9ft"
units = "in"
[balls]
cue-ball = ["20 in", "76 in"]
9 = ["25 in", "75 in"]
[strike]
contact = { ball = "9", thickness = "half", on = "left" }
pace = 0.8
[ladder]
vary = "height"
values = [-6.0, 6.0]
"""
    written = tmp_path / "heights.toml"
    written.write_text(file, encoding="utf-8")
    full = print_full_size(read_position(str(written)), "a4").pages
    # [X] 6/25.4 = 0.2362 = 1/4 in by 32nds (0.25; 7/32 is 0.21875, 8/32 is nearer)
    assert [way.label for way in full.scene.subject.ways] == [
        "1: −1/4 in, −6 mm",
        "2: 1/4 in, 6 mm",
    ]


def test_a_file_in_inches_is_measured_in_inches_with_the_millimetres_beside(tmp_path: Path) -> None:
    file = """
table = "pool-9ft"
units = "in"
[balls]
cue-ball = ["20 in", "60 in"]
9 = ["38 in", "85 in"]
[strike]
pot = { ball = "9", pocket = "foot right" }
pace = 1.5
"""
    written = tmp_path / "nine.toml"
    written.write_text(file, encoding="utf-8")
    full = print_full_size(read_position(str(written)), "a4").pages
    pages = read_pdf(full.pdf)
    assert pages[0].overlapping_words() == []
    guide = " ".join(pages[0].copied.split())
    # [X] 38 in × 25.4 = 965.2 mm; a table 50 in across: 12 in from the right
    assert "9 ball ● 12 in, 304.8 15 in, 381.0" in guide
    assert any("12 in, 304.8 right" in words.text for page in pages for words in page.words)
    assert "cue ball" in guide and "cue-ball" not in guide
    # [X] 100/25.4 = 3.937 = 3 15/16 in; 12/25.4 = 0.472 = 15/32 in; 57.15 mm = 2 1/4 in
    assert "each must read 100.0 mm, which is 3 15/16 in" in guide
    assert "hatched 15/32 in (12 mm)" in guide
    said = [words.text for page in pages for words in page.words]
    assert sum("3 15/16 in (100.0 mm) across?" in words for words in said) >= len(pages) - 1
    assert any(words.startswith("2 1/4 in (57.15 mm) between centres") for words in said)
    for words in said:
        assert " mm" not in words or " in" in words or "100.0 mm" in words or "reading" in words
