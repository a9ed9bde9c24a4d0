"""Entries of quadratics and quartics: against roots known beforehand, numpy, and looking closely.

An entry is where a polynomial passes from positive to zero or below, a touching double root
included. Polynomials made from chosen roots have their entry known exactly.
"""

from __future__ import annotations

import math
from random import Random

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stunline.shot import compiled  # isort: skip  the cache folder is named here
from stunline.mechanics.roots import NEVER, entry_of_quadratic, entry_of_quartic

assert compiled.WORK_COLUMNS  # imported first, and used
LIMIT = 10.0
times = st.floats(0.05, 9.95)


def coefficients(*factors: np.ndarray) -> list[float]:
    """c0 … c4 of the product of polynomials, each lowest power first."""
    product = np.array([1.0])
    for factor in factors:
        product = np.convolve(product, factor)
    return np.pad(product, (0, 5 - len(product))).tolist()


def root(time: float) -> np.ndarray:
    """t − time."""
    return np.array([-time, 1.0])


def pair(middle: float, away: float) -> np.ndarray:
    """(t − middle)² + away²: no real root."""
    return np.array([middle * middle + away * away, -2.0 * middle, 1.0])


def value(c: list[float], t: float) -> float:
    """The polynomial at t."""
    return float(np.polyval(c[::-1], t))


def rounding(c: list[float], t: float) -> float:
    """How far the polynomial's value at t may be off by rounding alone."""
    return 1e-14 * float(np.polyval(np.abs(c[::-1]), abs(t)))


def doubt(c: list[float], t: float) -> float:
    """How far rounding of the polynomial may move a simple root at t."""
    slope = np.polyval(np.polyder(c[::-1]), t)
    return 10.0 * rounding(c, t) / abs(float(slope))


# --- quartics with known roots ---------------------------------------------------------


@settings(max_examples=300)
@given(times, st.floats(0.1, 3.0), st.floats(-3.0, 12.0), st.floats(0.05, 3.0))
def test_one_ball_passes_another(enters: float, lasts: float, middle: float, away: float) -> None:
    # [X] positive outside the two real roots: the entry is the first of them
    c = coefficients(root(enters), root(enters + lasts), pair(middle, away))
    assert entry_of_quartic(*c, LIMIT) == pytest.approx(enters, abs=doubt(c, enters))


@settings(max_examples=300)
@given(st.lists(st.integers(1, 990), min_size=4, max_size=4, unique=True))
def test_four_crossings_give_the_first(hundredths: list[int]) -> None:
    # [X] c4 > 0: positive before the first of four
    roots = sorted(number / 100.0 for number in hundredths)
    c = coefficients(*(root(time) for time in roots))
    assert entry_of_quartic(*c, LIMIT) == pytest.approx(roots[0], abs=doubt(c, roots[0]))


@given(times, st.floats(1e-3, 1.0), st.floats(-3.0, 12.0), st.floats(0.3, 3.0))
def test_a_miss_by_a_hair_is_a_miss(middle: float, miss: float, other: float, away: float) -> None:
    # [X] two complex pairs: never zero. A miss of 1e-3 is a millionth of the values around it.
    c = coefficients(pair(middle, miss), pair(other, away))
    assert entry_of_quartic(*c, LIMIT) == NEVER


@pytest.mark.parametrize("away", [1, 7, 40])
@pytest.mark.parametrize("middle", [1, 2, 5, 9])
def test_an_exact_graze_is_met_there_or_nowhere(middle: int, away: int) -> None:
    # [X] (t − n)²(t² + m²): a double root. Half a digit beside it the value is positive by the
    # square of that, so rounding may decide either way, but never for another place.
    c = coefficients(root(middle), root(middle), [float(away * away), 0.0, 1.0])
    found = entry_of_quartic(*c, LIMIT)
    assert found == NEVER or found == pytest.approx(middle, abs=1e-7)
    # A nanometre nearer than a graze, in the engine's units, it is a contact.
    c[0] -= 1e-9
    assert entry_of_quartic(*c, LIMIT) == pytest.approx(middle, abs=1e-4)


@given(times, st.floats(0.1, 3.0), st.floats(-3.0, 12.0), st.floats(0.1, 3.0))
def test_an_entry_after_the_limit_is_none(
    enters: float, lasts: float, middle: float, away: float
) -> None:
    # [property]
    c = coefficients(root(enters), root(enters + lasts), pair(middle, away))
    assert entry_of_quartic(*c, 0.999 * enters) == NEVER
    later = entry_of_quartic(*c, 1.001 * enters)
    assert later == pytest.approx(enters, abs=doubt(c, enters))


@given(times, st.floats(0.1, 3.0), st.floats(0.1, 3.0))
def test_balls_that_touch_and_part_meet_again_later(
    first: float, lasts: float, pull: float
) -> None:
    # [X] t(t − r₁)(t − r₂)(t + pull): a root at the start, rising; the entry is r₁
    c = coefficients(root(0.0), root(first), root(first + lasts), root(-pull))
    assert c[1] > 0.0
    assert c[0] == 0.0
    assert entry_of_quartic(*c, LIMIT) == pytest.approx(first, abs=doubt(c, first))


@pytest.mark.parametrize(
    ("c", "expected"),
    [
        ((0.0, -1.0, 0.0, 0.0, 0.0), 0.0),  # touching and closing
        ((0.0, 1.0, 1.0, 0.0, 0.0), NEVER),  # touching and parting
        ((0.0, 0.0, -1.0, 0.0, 0.0), 0.0),  # touching, pressed
        ((0.0, 0.0, 1.0, 0.0, 0.0), NEVER),  # touching, drawn apart
        ((0.0, 0.0, 0.0, 0.0, 0.0), NEVER),  # touching, and stays so
        ((-1e-18, 1e-3, 1.0, 0.0, 0.0), NEVER),  # in by rounding, parting
        ((-1e-18, -1e-3, 1.0, 0.0, 0.0), 0.0),  # in by rounding, closing
        ((1.0, -1.0, 0.0, 0.0, 0.0), 1.0),  # no acceleration at all
        ((1.0, 0.0, 0.0, 0.0, 0.0), NEVER),  # nothing moves
        ((1.0, 0.0, 0.0, 0.0, -1.0), 1.0),
    ],
)
def test_starts_and_ends_that_are_nasty(c: tuple[float, ...], expected: float) -> None:
    # [by hand]
    assert entry_of_quartic(*c, LIMIT) == pytest.approx(expected, rel=1e-12)


# --- quartics as balls make them -------------------------------------------------------


def of_two_balls(random: Random) -> list[float]:
    """|Δp|² − D² of two balls that slide, as the engine meets them."""
    way, turn = random.uniform(0.0, 2.0 * math.pi), random.gauss(0.0, 0.2)
    near = 0.0525 + 10 ** random.uniform(-9, -1)
    distance = random.choice([0.0525, near, random.uniform(0.1, 3.0)])
    speed = random.choice([0.0, 10 ** random.uniform(-6, 0), random.uniform(0.1, 6.0)])
    strength = random.choice([0.0, 0.1, 1.96, 3.9])
    pulls = random.uniform(0.0, 2.0 * math.pi)
    d = distance * np.array([math.cos(way), math.sin(way)])
    w = -speed * np.array([math.cos(way + turn), math.sin(way + turn)])
    h = 0.5 * strength * np.array([math.cos(pulls), math.sin(pulls)])
    return [d @ d - 0.0525**2, 2 * d @ w, w @ w + 2 * d @ h, 2 * w @ h, h @ h]


def test_random_meetings_agree_with_numpy_and_with_looking_closely() -> None:
    # [by an independent method] Before the entry no sample lies below zero by more than rounding;
    # at it the value is zero to rounding; every simple crossing that numpy finds counts.
    random, looked = Random(3), np.linspace(0.0, 1.0, 401)
    entries = 0
    for _ in range(3000):
        c = of_two_balls(random)
        if c[0] <= 0.0:
            continue
        limit = random.uniform(0.1, 4.0)
        found = entry_of_quartic(*c, limit)
        end = min(found, limit)
        sampled = np.polyval(c[::-1], looked * end)
        assert sampled.min() > -rounding(c, end), c
        if found != NEVER:
            entries += 1
            assert abs(value(c, found)) <= rounding(c, found), c
            continue
        roots = np.roots(c[::-1]) if np.any(c[1:]) else np.array([])
        real = [r.real for r in roots if abs(r.imag) < 1e-9 and 0.0 < r.real < 0.999 * limit]
        for time in real:
            around = [value(c, time * (1.0 + step)) for step in (-1e-3, 1e-3)]
            assert min(around) > -rounding(c, time), (c, time)
    assert entries > 500


# --- quadratics ------------------------------------------------------------------------


@given(times, st.floats(-20.0, 20.0), st.floats(0.01, 10.0))
def test_a_quadratic_s_entry_is_its_falling_root(enters: float, other: float, size: float) -> None:
    # [X] ±size·(t − r)(t − q), the sign such that it falls at r
    assume(abs(other - enters) > 1e-3)
    sign = math.copysign(size, other - enters)
    c = (sign * enters * other, -sign * (enters + other), sign)
    if c[0] > 0.0 or c[1] > 0.0:
        assert entry_of_quadratic(*c, LIMIT) == pytest.approx(enters, rel=1e-9)


@pytest.mark.parametrize(
    ("c", "expected"),
    [
        ((1.0, -1.0, 0.0), 1.0),
        ((1.0, 1.0, 0.0), NEVER),
        ((0.0, -1.0, 5.0), 0.0),
        ((0.0, 1.0, 5.0), NEVER),
        ((0.0, 1.0, -0.5), 2.0),  # touching, parting, drawn back
        ((0.0, 0.0, -1.0), 0.0),
        ((0.0, 0.0, 0.0), NEVER),
        ((-1e-18, 1.0, -0.5), 2.0),
        ((1.0, -2.0, 1.0), 1.0),  # a graze
        ((1.0, -2.0, 1.0 + 1e-12), NEVER),
        ((1e-20, -1.0, 1e-3), 1e-20),  # nothing may cancel
    ],
)
def test_nasty_quadratics(c: tuple[float, float, float], expected: float) -> None:
    # [by hand]
    assert entry_of_quadratic(*c, LIMIT) == pytest.approx(expected, rel=1e-12, abs=0.0)


def test_a_graze_whose_lowest_point_is_hit_exactly_is_a_contact() -> None:
    # By hand: (t − 2)² touches zero at 2, where bisecting lands on slope 0 exactly.
    assert entry_of_quartic(4.0, -4.0, 1.0, 0.0, 0.0, 4.0) == pytest.approx(2.0, abs=1e-7)
