"""What full-size pages show, leave out, say and refuse."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import dist, radians, sqrt

import numpy as np
import pytest

from paper.full_size_pages import HEADING, Made, drawn_as, of_file, of_strike
from paper.pdf_reading import Page
from stunline.drawing.marks import Role
from stunline.drawing.theme import PAPER
from stunline.equipment.catalogue import load_table
from stunline.errors import InputError
from stunline.paper.full_size import Wishes
from stunline.paper.full_size_frame import Heading
from stunline.paper.full_size_guide import setting
from stunline.paper.full_size_sheets import PAPERS
from stunline.shot.position import Position, Strike
from stunline.tasks.print_full_size import print_full_size
from stunline.tasks.read_position import read_position

TABLE = load_table("snooker-12ft")
MATCH = TABLE.default_cloth().coefficients
TITLES = [
    "#set page(width: 1mm) // $x^2$",
    "a < b & \"c\" > 'd' \\ `e` *f* _g_ @h",
    "Καλή μπίλια, μετά το μαύρο",
    "כדור שחור לפינה",
    "Äußerst çıplak ñandú žluťoučký",
    "W" * 60,
    "i" * 60,
]


def struck(places: dict[str, tuple[float, float]], aim: float, pace: float = 1.5) -> Made:
    """Balls in mm, the aim in degrees."""
    balls = {name: (x / 1000.0, y / 1000.0) for name, (x, y) in places.items()}
    position = Position(TABLE, "match", MATCH, balls)
    return of_strike(position, Strike(radians(aim), pace), Wishes())


def whole_text(made: Made) -> str:
    return "\n".join(page.copied for page in made.pages)


# --- papers and edges -----------------------------------------------------------------


@pytest.mark.parametrize("paper", PAPERS)
def test_the_sheets_have_the_papers_size(paper: str) -> None:
    # [X] ISO 216, and 8.5 × 11 inches
    sizes = {"a4": (210.0, 297.0), "a3": (297.0, 420.0), "letter": (215.9, 279.4)}
    for page in of_file("edge-of-the-pack", paper).pages:
        assert sorted((page.width, page.height)) == pytest.approx(sorted(sizes[paper]), abs=0.01)


def test_larger_paper_takes_fewer_pages() -> None:
    small, large = (
        of_file("edge-of-the-pack", paper, "contact").full.scene.tiling for paper in ("a4", "a3")
    )
    assert len(large.tiles) < len(small.tiles)


def test_ball_and_white_at_contact_share_a_page() -> None:
    for name in ("edge-of-the-pack", "screw-between-two-balls", "stun-and-hold"):
        made = of_file(name)
        contact = made.full.scene.subject.contact
        assert contact is not None
        assert any(
            tile.tile.field.grown(-26.25).holds(contact.ghost)
            and tile.tile.field.grown(-26.25).holds(contact.ball_at)
            for tile in made.tiles
        )


# --- registration ---------------------------------------------------------------------


def test_a_corner_gives_two_nose_lines_and_paper_to_slide_under_them() -> None:
    made = struck({"white": (260.0, 120.0), "red1": (170.0, 90.0)}, 200.0)
    assert set(made.full.scene.registration.noses) == {"left", "baulk"}
    whole = made.full.scene.tiling.whole
    assert (whole.left, whole.bottom) == (-15.0, -15.0)
    text = " ".join(whole_text(made).split())
    assert "under the left cushion" in text or "under the baulk and the left" in text
    assert "left cushion: this line under the nose’s edge" in words_of(made)
    assert "baulk cushion: this line under the nose’s edge" in words_of(made)


def words_of(made: Made) -> list[str]:
    return [words.text for page in made.pages for words in page.words]


def test_in_the_open_the_tape_holds_the_paper_and_a_spot_checks_it() -> None:
    made = struck({"white": (820.0, 1500.0), "red1": (830.0, 1600.0)}, 86.0, 0.3)
    found = made.full.scene.registration
    assert found.noses == ()
    one, two = found.tape
    for point in (one, two):
        x, y = point.at
        assert [x % 10.0, y % 10.0] == pytest.approx([0.0, 0.0])
        words = " ".join(words_of(made))
        assert f"{x:.0f} from left" in words and f"{y:.0f} from baulk" in words
    assert dist(one.at, two.at) > 150.0
    # [R] the rules: blue midway between the cushions
    assert ("blue", (889.0, 1784.5)) not in found.spots or "blue spot" in words_of(made)


def test_a_spot_on_the_pages_is_a_cross_with_its_distances() -> None:
    made = struck({"white": (850.0, 1700.0), "red1": (860.0, 1800.0)}, 86.0, 0.3)
    assert dict(made.full.scene.registration.spots)["blue"] == pytest.approx((889.0, 1784.5))
    assert "blue spot" in words_of(made)
    assert "1784.5 baulk" in words_of(made)


def test_touching_balls_are_measured_from_the_same_two_cushions() -> None:
    # The blue on its spot, midway, and the white beyond it: nearest cushions would differ.
    made = struck({"white": (950.0, 1650.0), "blue": (889.0, 1784.5)}, 112.0, 0.3)
    ends = {
        (words.split()[-1])
        for words in words_of(made)
        if words.split()[-1] in ("left", "right", "baulk", "top") and words[0].isdigit()
    }
    assert len(ends) == 2
    text = " ".join(made.pages[0].copied.split())
    assert "of the same two cushions" in text


def test_a_spot_under_a_printed_ball_sets_the_paper() -> None:
    made = struck({"white": (950.0, 1650.0), "blue": (889.0, 1784.5)}, 112.0, 0.3)
    assert "blue" in dict(made.full.scene.registration.spots)
    guide = " ".join(made.pages[0].copied.split())
    assert "The blue stands on the blue spot: its centre cross lies there. Punch a hole" in guide
    # Its distances stand with the ball, and once is enough.
    assert "on the blue spot" in words_of(made)
    assert sum("1784.5 baulk" in words for words in words_of(made)) == 1


# --- what is shown --------------------------------------------------------------------


def test_the_start_of_the_white_is_printed_when_near_and_left_out_when_far() -> None:
    near = struck({"white": (800.0, 1500.0), "red1": (830.0, 1750.0)}, 83.0)
    assert near.full.around == "all"
    assert "white" in [ball.name for ball in near.full.scene.balls]
    far = struck({"white": (800.0, 300.0), "red1": (830.0, 3000.0)}, 89.4)
    assert far.full.around == "contact"
    assert "white" not in [ball.name for ball in far.full.scene.balls]
    guide = " ".join(far.pages[0].copied.split())
    # Every ball is listed, those that are printed marked
    assert "white 800.0 left" in guide and "white ●" not in guide
    assert "red 1 ● 830.0 left" in guide


def test_a_shot_that_meets_nothing_shows_the_white_and_its_way() -> None:
    made = struck({"white": (800.0, 1500.0)}, 30.0)
    assert [ball.name for ball in made.full.scene.balls] == ["white"]
    assert made.full.strips == ()
    assert "the white’s way" in words_of(made) or "the white's way" in words_of(made)


def test_every_rung_has_its_curve_and_its_value() -> None:
    made = of_file("edge-of-the-pack")
    said = set(words_of(made))
    assert {"1: 1.00 m/s", "2: 1.70 m/s", "3: 2.20 m/s", "4: 2.60 m/s", "5: 2.95 m/s"} <= said
    width = PAPER.styles[Role.SLIDING].width * 25.4 / 96
    curves = [
        path
        for tile in made.tiles
        for path in tile.page.paths
        if abs(path.width - width) < 0.01 and any(len(s) == 4 for s in path.subpaths[0])
    ]
    assert len({(round(p.points[-1][0]), round(p.points[-1][1])) for p in curves}) >= 5


def test_a_rung_says_what_it_meets_beyond_the_pages() -> None:
    made = of_file("carom-red-two-cushions-yellow")
    assert "yellow" not in [ball.name for ball in made.full.scene.balls]
    assert "meets yellow, not printed" in words_of(made)


def test_curves_are_the_whites_way_itself() -> None:
    """Every point of a drawn slide lies on the shot's own polynomial, to 0.05 mm."""
    made = of_file("edge-of-the-pack")
    slides = [
        np.array([phase.place_at(phase.start + phase.duration * k / 4000) for k in range(4001)])
        * 1000.0
        for way in made.full.scene.subject.ways
        for phase in way.shot.phases("white")
        if phase.motion == "sliding"
    ]
    width = PAPER.styles[Role.SLIDING].width * 25.4 / 96
    drawn = [
        tile.at(point)
        for tile in made.tiles
        for path in tile.page.paths
        if abs(path.width - width) < 0.01 and any(len(s) == 4 for s in path.subpaths[0])
        for point in path.points
    ]
    assert len(drawn) > 100
    assert max(min(beside(point, slide) for slide in slides) for point in drawn) < 0.05


def beside(point: tuple[float, float], line: np.ndarray) -> float:
    """Distance of a point from a line through many points. [mm]"""
    start, step = line[:-1], np.diff(line, axis=0)
    square = np.maximum((step**2).sum(axis=1), 1e-12)
    part = np.clip(((np.array(point) - start) * step).sum(axis=1) / square, 0.0, 1.0)
    near = start + part[:, None] * step
    return float(np.hypot(*(np.array(point) - near).T).min())


KINDS = (
    Role.AIM, Role.TANGENT, Role.SLIDING, Role.ROLLING, Role.OBJECT_WAY, Role.OUTLINE, Role.GHOST,
    Role.MEETING, Role.NOSE, Role.CUT, Role.OVERLAP,
)  # fmt: skip


def test_no_line_can_be_taken_for_another_kind() -> None:
    """By dash or width alone, as a grey printer leaves them."""
    seen = set()
    for name in ("edge-of-the-pack", "edge-of-the-pack-low"):
        for tile in of_file(name).tiles:
            for path in tile.page.paths:
                kinds = [role for role in KINDS if path.stroke and drawn_as(path, role)]
                assert len(kinds) <= 1
                seen.update(kinds)
    assert seen == set(KINDS)


# --- titles and many balls ------------------------------------------------------------


@pytest.mark.parametrize("title", TITLES)
def test_any_title_stands_on_every_page_as_it_is(title: str) -> None:
    position = Position(TABLE, "match", MATCH, {"white": (0.8, 1.5), "red1": (0.83, 1.6)})
    made = of_strike(position, Strike(1.5, 0.5), Wishes(), Heading(title, HEADING.table))
    letters = {letter for letter in title if letter.isalnum()}
    for page in made.pages[:-1]:
        assert letters <= set(page.copied)
        assert page.overlapping_words() == []
        assert page.words_outside(7.9) == []
    if title.isascii():
        assert "".join(title.split()) in "".join(made.pages[1].copied.split()) or "…" in (
            made.pages[1].copied
        )


def all_twenty_two() -> Iterator[tuple[str, tuple[float, float]]]:
    """A frame before it starts: the reds' rows by hand, the colours on their spots."""
    apex = TABLE.spots["pink"][1] + 2 * 0.02625 + 0.001
    number = 1
    for row in range(5):
        for place in range(row + 1):
            x = TABLE.width / 2 + (2 * place - row) * 0.02625
            yield f"red{number}", (x, apex + row * sqrt(3.0) * 0.02625)
            number += 1
    for colour in ("yellow", "green", "brown", "blue", "pink", "black"):
        yield colour, TABLE.spots[colour]


def test_twenty_two_balls() -> None:
    balls = {"white": (0.889, 2.2), **dict(all_twenty_two())}
    position = Position(TABLE, "match", MATCH, balls)
    assert len(balls) == 22
    made = of_strike(position, Strike(radians(90.0), 1.0), Wishes())
    (guide,) = [page for page in made.pages if "Mark, and lift" in page.copied]
    assert guide.overlapping_words() == []
    shown = {ball.ball for ball in made.full.scene.balls if ball.there_at_start}
    assert {"pink", "white"} <= shown
    told = " ".join(guide.copied.split())
    for name in balls:
        said = name.replace("red", "red ") if name.startswith("red") else name
        assert said in told


def test_twenty_two_balls_on_the_smallest_paper_leave_the_guide_on_one_page() -> None:
    balls = {"white": (0.889, 2.2), **dict(all_twenty_two())}
    position = Position(TABLE, "match", MATCH, balls)
    made = of_strike(position, Strike(radians(90.0), 1.0), Wishes("letter", "all"))
    assert made.full.pages == len(made.pages)
    assert [fault for page in made.pages for fault in page.overlapping_words()] == []
    assert [fault for page in made.pages for fault in page.words_outside(7.9)] == []


def test_a_rung_that_comes_off_a_cushion_is_named_and_not_drawn() -> None:
    # In this ladder of side the last rung's white misses the red and meets it off the top cushion.
    made = of_file("thin-contact-running-side")
    assert made.full.scene.subject.left_out == ("5: 8 mm",)
    assert "5: 8 mm" in " ".join(made.pages[0].copied.split())
    assert all("5: 8 mm" not in words.text for t in made.tiles for words in t.page.words)


def test_the_guide_is_one_page_and_names_what_to_do() -> None:
    for name in ("edge-of-the-pack", "thin-contact-running-side"):
        made = of_file(name)
        assert made.full.pages == len(made.pages)
        guide = " ".join(made.pages[0].copied.split())
        for words in (
            "Mark, then lift: never play on paper.",
            "never “fit”",
            "100 % × 100 ÷ reading",
            "98.0 mm 102.0 %",
            "If the two bars differ",
            "stunline sheet",
            "Ask the club before you mark its cloth",
            "match cloth",
        ):
            assert words in guide, words


def test_the_cure_of_a_printers_scale() -> None:
    # [X] by hand: what printed 98.0 at 100 % prints 100.0 at 100/0.98 %
    assert setting(98.0) == pytest.approx(102.0408, abs=1e-4)
    assert setting(98.0) / 100.0 * 98.0 == pytest.approx(100.0)


# --- strips ---------------------------------------------------------------------------


def balls_of(page: Page) -> list[tuple[tuple[float, float], float]]:
    """Outlines on a strip, from left to right and from the top."""
    found = [(one.centre, one.radius) for one, _ in page.circles if one.radius > 5.0]
    return sorted(found, key=lambda ball: (-round(ball[0][1]), ball[0][0]))


def test_strips_set_one_ball_from_another() -> None:
    made = of_file("edge-of-the-pack")
    (page,) = made.strips
    (one, two, three, four) = balls_of(page)
    for left, right in ((one, two), (three, four)):
        assert left[1] == pytest.approx(26.25, abs=0.05)
        assert dist(left[0], right[0]) == pytest.approx(52.5, abs=0.05)  # [X] they touch
    assert {"black", "red 1", "red 2"} <= {words.text for words in page.words}


def test_unequal_balls_touch_nearer_than_their_outlines() -> None:
    # [X] 2√(R₁R₂) with R 23.8 and 25.4 mm, in physics' list of exact values
    made = of_file("english-pool-small-white-comes-back")
    pair = made.full.strips[0]
    assert pair.distance == pytest.approx(2 * sqrt(23.8 * 25.4), abs=1e-6)
    (one, two, *_) = balls_of(made.strips[0])
    assert dist(one[0], two[0]) == pytest.approx(49.174, abs=0.05)
    assert sorted((one[1], two[1])) == pytest.approx([23.8, 25.4], abs=0.05)


def test_a_strip_as_asked_for() -> None:
    read = read_position("edge-of-the-pack")
    full = print_full_size(read, "a4", "white", ["red7,red11", "red1, red4"]).pages
    # [X] neighbours along an edge touch; red1 to red4 is two diameters along it
    assert [pair.distance for pair in full.strips] == pytest.approx([52.5, 105.0], abs=1e-6)


@pytest.mark.parametrize(
    ("strip", "says"),
    [
        ("red7", "two names of balls"),
        ("red7,red99", "no such ball"),
        ("red7,red7", "two different balls"),
        ("white,red1", "too far apart"),
    ],
)
def test_a_strip_that_cannot_be_is_refused(strip: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        print_full_size(read_position("edge-of-the-pack"), "a4", None, [strip])


def test_a_far_ball_changes_nothing_but_the_list() -> None:
    here = struck({"white": (820.0, 1500.0), "red1": (830.0, 1600.0)}, 86.0, 0.3)
    position = replace(
        here.full.scene.subject.shot.position,
        balls={"white": (0.82, 1.5), "red1": (0.83, 1.6), "red2": (0.1, 3.4)},
    )
    there = of_strike(position, Strike(radians(86.0), 0.3), Wishes())
    assert [tile.tile for tile in there.tiles] == [tile.tile for tile in here.tiles]
    assert "red 2 100.0 left 3400.0 baulk" in " ".join(there.pages[0].copied.split())
