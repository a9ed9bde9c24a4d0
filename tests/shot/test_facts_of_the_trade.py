"""Facts of the trade: what every coach says, and what the engine must therefore show.

[P] throughout, common practice without a source, unless marked [X]. The figures themselves
come from benchmarks/facts_of_the_trade.py and stand in docs/facts.md.
"""

from __future__ import annotations

import importlib.util
import math
import sys
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest

from stunline.shot.aiming.solve import Solver
from stunline.shot.position import StrikePlan


def _load() -> ModuleType:
    path = Path(__file__).resolve().parents[2] / "benchmarks" / "facts_of_the_trade.py"
    spec = importlib.util.spec_from_file_location("facts_of_the_trade", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


facts = _load()


def test_the_white_first_leaves_along_the_tangent_line_whatever_its_spin() -> None:
    # [P] within 6° from a cut of 15° on (half-ball about 2.6°, three-quarter about 5.9°, here ±0.3)
    found = facts.off_the_tangent_line()
    assert max(found[0.5]) == pytest.approx(2.6, abs=0.3)
    assert max(found[0.75]) == pytest.approx(5.9, abs=0.3)
    assert 0.0 < max(found[0.25]) < max(found[0.5])
    for angles in found.values():
        # Follow and screw change the first way by less than half a degree.
        assert max(angles) - min(angles) < 0.5


def test_the_bend_comes_later_the_faster_the_white() -> None:
    # [P] 5 mm off after 18, 34, 68, 136 mm at 0.5, 1, 2, 4 m/s: in proportion to pace. Ball
    # friction falls with slip, which adds up to 5 %.
    for speed, run in ((0.5, 18.0), (1.0, 34.0), (2.0, 68.0), (4.0, 136.0)):
        read = facts.rolling_half_ball(speed)
        assert read.arrival_speed_m_s == pytest.approx(speed, rel=1e-3)
        assert read.follow_ratio == pytest.approx(1.0, abs=1e-9)
        assert read.run_to_5mm_off_mm == pytest.approx(run, rel=0.05)


def test_sliding_and_the_first_five_degrees_grow_as_the_square_of_pace() -> None:
    # [X] under constant ball friction the contact is the same at every speed, only scaled, and on
    # the cloth every length goes with v²; with the match table's friction within 15 %
    slow, fast = facts.rolling_half_ball(1.0), facts.rolling_half_ball(2.0)
    assert fast.sliding_ended_after_mm / slow.sliding_ended_after_mm == pytest.approx(4.0, rel=0.15)
    assert fast.run_to_5deg_off_mm / slow.run_to_5deg_off_mm == pytest.approx(4.0, rel=0.15)
    position = facts.two_balls(0.4).position
    constant = replace(position.coefficients, ball_friction=0.06)
    solver = Solver(replace(position, coefficients=constant))
    way = 0.4 - 2.0 * facts.RADIUS * math.cos(math.radians(30.0))
    reads = [
        facts.told(
            solver,
            StrikePlan(facts.HALF_BALL, facts.rolling_pace(speed, way), facts.ROLLS_AT_ONCE),
        )[1]
        for speed in (0.5, 1.0)
    ]
    scale = (reads[1].arrival_speed_m_s / reads[0].arrival_speed_m_s) ** 2
    for name in ("sliding_ended_after_mm", "run_to_5deg_off_mm"):
        assert getattr(reads[1], name) / getattr(reads[0], name) == pytest.approx(scale, rel=1e-6)


def test_at_pocket_weight_a_half_ball_white_slides_a_few_centimetres() -> None:
    # [P] about 26–44 mm for pots of 0.9–1.5 m; the engine's pocket weight gives up to a tenth more
    found = facts.pocket_weight_slides()
    assert sorted(found) == [0.9, 1.2, 1.5]
    assert found[0.9] == pytest.approx(26.0, rel=0.15)
    assert found[1.5] == pytest.approx(44.0, rel=0.15)
    # [X] the slide goes with v², and so does the run of the potted ball
    assert found[1.5] / found[0.9] == pytest.approx(1.5 / 0.9, rel=0.05)


def test_side_does_not_bend_the_white() -> None:
    # [P] half the most side changes a full-roll or full-screw half-ball path by 4–7 %. The engine
    # shows about 2 and 4 % (share of the way to the end of sliding).
    found = facts.bend_with_side()
    assert 0.5 < found["rolling"] < 7.0
    assert 0.5 < found["screw"] < 7.0


def test_two_millimetres_of_height_count_below_centre_and_not_above() -> None:
    # [P] 11.1 → 13.1 mm below, 2.5 m/s, blue at 0.3–0.8 m: 11–15° (10.4–14.8° here); above: hardly
    below, above = facts.bend_of_two_millimetres(-1.0), facts.bend_of_two_millimetres(1.0)
    assert all(10.0 < change < 15.0 for change in below.values())
    assert all(change < 0.1 for change in above.values())


def test_a_slicker_cloth_lengthens_the_curve_and_leaves_its_direction() -> None:
    # [X] rolling to the contact, so sliding friction acts only after it: lengths as 1/μ_s
    usual, slick = facts.rolling_half_ball(1.0, 0.2), facts.rolling_half_ball(1.0, 0.1)
    ratio = slick.sliding_ended_after_mm / usual.sliding_ended_after_mm
    assert ratio == pytest.approx(2.0, rel=1e-9)
    assert slick.run_to_5deg_off_mm / usual.run_to_5deg_off_mm == pytest.approx(2.0, rel=1e-9)
    assert slick.total_bend_deg == pytest.approx(usual.total_bend_deg, rel=1e-9)


def test_full_into_the_back_row_the_white_stays_by_the_pack() -> None:
    # [P] about a ball's width from the pack's middle. The engine shows 2.6 of them where all reds
    # touch, 1.8 with gaps of 0.2 mm.
    assert 4.0 * facts.RADIUS < facts.full_into_the_back_row(1.8) < 6.0 * facts.RADIUS
    assert facts.full_into_the_back_row(1.8, 2e-4, 20) < 4.0 * facts.RADIUS


def test_the_end_red_half_ball_frees_a_few_reds() -> None:
    # [P] three or four reds, ± 1, and the white 1.5 to 2 m away. The engine shows 4 and 1.0 m in
    # racks with gaps of 0.2 mm; 9 and 0.9 m where all reds touch.
    freed, away = facts.end_red_half_ball(2e-4, 60)
    assert 2.0 <= freed[1] <= 5.0
    assert 0.5 < away[1] < 2.0
    tight, _ = facts.end_red_half_ball(0.0, 60)
    assert tight[1] > freed[1]
