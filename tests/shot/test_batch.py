"""Many shots in one call: the same as one by one, to the bit, however they are shared out."""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random

import numpy as np
import pytest

from random_positions import MATCH, NAMES, TABLE, random_position, random_shot
from stunline.errors import InputError
from stunline.mechanics import layout
from stunline.shot import plane
from stunline.shot.batch import BATCH_READOUTS, Batch, play_many
from stunline.shot.batch_input import coefficient_rows, strike_rows
from stunline.shot.batch_watch import Watch
from stunline.shot.contact import Contact, contacts
from stunline.shot.play import FIRST_EVENTS, play
from stunline.shot.position import Position, Strike
from stunline.shot.readouts import readouts
from stunline.shot.shot import MEETINGS, EventKind, Shot

PAIR = Position(TABLE, "match", MATCH, {"white": (0.9, 0.7), "blue": (0.93, 1.2)})
TRIANGLE = TABLE.racks["triangle"]
PACK = Position(TABLE, "match", MATCH, {"white": (0.9, 0.6), **TRIANGLE})
# A rounding of sums taken in another order, over values of some units in mm and degrees.
ROUNDING = 1e-7


def strikes_at(middle: float, count: int, seed: int = 1) -> np.ndarray:
    """Rows of strikes about an aim, by seed."""
    random = np.random.default_rng(seed)
    rows = np.zeros((count, layout.STRIKE_COLUMNS))
    rows[:, layout.STRIKE_AIM] = middle + random.uniform(-0.06, 0.1, count)
    rows[:, layout.STRIKE_PACE] = random.uniform(0.5, 5.0, count)
    rows[:, layout.STRIKE_HEIGHT] = random.uniform(-0.009, 0.009, count)
    rows[:, layout.STRIKE_SIDE] = random.uniform(-0.006, 0.006, count)
    return rows


def strike_of(row: np.ndarray) -> Strike:
    """One row as a strike."""
    return Strike(*row.tolist())


def second_contact(shot: Shot) -> Contact | None:
    """The white's first contact with a ball besides the one it met first."""
    own = contacts(shot, shot.position.names[0])
    return next((one for one in own if one.ball != own[0].ball), None)


def assert_tells_of(batch: Batch, row: int, shot: Shot) -> None:
    """That a row holds the very numbers of the shot."""
    assert batch.names == shot.position.names
    assert batch.events[row] == len(shot.record.event_ints)
    white = batch.names[0]
    for number, name in enumerate(batch.names):
        rest = shot.rest(name)
        if rest is None:
            assert np.isnan(batch.rests[row, number]).all()
            assert TABLE.pockets[batch.potted[row, number]].name == shot.potted(name)
        else:
            assert tuple(batch.rests[row, number]) == rest
            assert batch.potted[row, number] == -1
    told = readouts(shot)
    first = batch.first_contacts[row]
    assert (batch.names[first] if first >= 0 else None) == told.object_ball
    assert batch.cushions[row] == told.cushions
    other = second_contact(shot)
    second = batch.second_balls[row]
    assert (batch.names[second] if second >= 0 else None) == (other.ball if other else None)
    assert (batch.next_kinds[row] >= 0) == (told.next_met is not None)
    if told.next_met in batch.names:
        assert batch.names[batch.next_others[row]] == told.next_met
    for name, values in batch.readouts.items():
        at = {"x": 0, "y": 1}
        expected = getattr(told, name, None)
        if name.startswith("next_met_") and name.endswith("_mm"):
            expected = told.next_met_at_mm and told.next_met_at_mm[at[name[-4]]]
        elif name in ("contact_x_mm", "contact_y_mm", "next_met_time_s"):
            continue
        elif name.startswith("cushion_"):
            expected = first_cushion(shot, name)
        elif name == "second_sine":
            expected = other and other.signed_sine
        if expected is None:
            assert math.isnan(values[row]), name
        else:
            assert values[row] == pytest.approx(expected, rel=ROUNDING, abs=ROUNDING), name
    assert white == shot.position.names[0]


def first_cushion(shot: Shot, name: str) -> float | None:
    """The white's first after its first ball, of all where it met none: nose, or place in mm."""
    white, position = shot.position.names[0], shot.position
    met = next((k for k, one in enumerate(shot.events)
                if one.kind in MEETINGS and white in one.balls), 0)  # fmt: skip
    for one in shot.events[met + 1 :]:
        if one.kind is EventKind.CUSHION and white in one.balls:
            noses = position.table.noses if position.coefficients.pockets else (
                position.table.plain_noses
            )  # fmt: skip
            if name == "cushion_nose":
                x, y = one.at
                return float(
                    min(range(len(noses)), key=lambda k: plane.distance_to_stretch(
                        (x, y), noses[k].start, noses[k].end))
                )  # fmt: skip
            return 1000.0 * one.at[name == "cushion_y_mm"]
    return None


def test_how_near_the_white_passes_a_place() -> None:
    # Against 20,000 places along its way.
    strike = Strike(0.5 * math.pi + 0.02, 2.0, 0.004)
    points = ((0.8, 1.0), (0.95, 2.2), (0.3, 3.0))
    batch = play_many(PAIR, [strike], watch=Watch(near=(PAIR.names[1],), points=points))
    shot = play(PAIR, strike)
    way = np.array(
        [shot.place(PAIR.names[0], time) for time in np.linspace(0.0, shot.duration, 20_001)]
    )
    for told, point in zip(batch.nearest[0, 1:], points, strict=True):
        assert told == pytest.approx(np.hypot(*(way - point).T).min(), abs=2e-4)


@pytest.mark.parametrize("seed", range(40))
def test_a_row_is_the_shot_itself(seed: int) -> None:
    # Positions and strikes of the property tests: cushions, pockets, touching balls and all.
    position, strike = random_shot(seed)
    batch = play_many(position, [strike], readouts=BATCH_READOUTS)
    assert_tells_of(batch, 0, play(position, strike))


def test_many_strikes_on_one_position() -> None:
    rows = strikes_at(0.5 * math.pi, 60)
    batch = play_many(PAIR, rows, readouts=BATCH_READOUTS)
    for row in range(60):
        assert_tells_of(batch, row, play(PAIR, strike_of(rows[row])))
    assert batch.all_played


def test_packs_that_open() -> None:
    rows = strikes_at(0.5 * math.pi, 6)
    rows[:, layout.STRIKE_PACE] = 6.0
    batch = play_many(PACK, rows, readouts=BATCH_READOUTS)
    for row in range(6):
        assert_tells_of(batch, row, play(PACK, strike_of(rows[row])))


def test_one_strike_on_many_positions() -> None:
    random = np.random.default_rng(3)
    places = np.array([list(PAIR.balls.values())] * 30) + random.normal(0.0, 0.002, (30, 2, 2))
    strike = Strike(aim=0.5 * math.pi, pace=2.0, height=0.004)
    batch = play_many(PAIR, [strike], places=places)
    for row, each in enumerate(places):
        balls = dict(zip(PAIR.names, map(tuple, each.tolist()), strict=True))
        assert_tells_of(batch, row, play(replace(PAIR, balls=balls), strike))


def test_coefficients_of_their_own() -> None:
    each = [
        replace(MATCH, sliding_friction=0.15 + 0.01 * k, ball_restitution=0.9 + 0.01 * k)
        for k in range(8)
    ]
    strike = Strike(aim=0.5 * math.pi, pace=2.0, height=0.004)
    batch = play_many(PAIR, [strike], coefficients=coefficient_rows(PAIR, each))
    for row, one in enumerate(each):
        assert_tells_of(batch, row, play(replace(PAIR, coefficients=one), strike))


def test_the_first_ball_of_a_group_is_told() -> None:
    # The black is met first, then perhaps a red, after cushions or not.
    balls = {**PACK.balls, "black": (0.95, 1.0)}
    position = replace(PACK, balls=balls)
    rows = strikes_at(0.5 * math.pi, 40)
    batch = play_many(position, rows, group=tuple(TRIANGLE))
    met = []
    for row in range(40):
        shot = play(position, strike_of(rows[row]))
        reds = [one.ball for one in contacts(shot, "white") if one.ball in TRIANGLE]
        met.append(batch.names.index(reds[0]) if reds else -1)
    assert batch.firsts_of_group.tolist() == met
    assert -1 in met
    assert len(set(met)) > 3


def bits(batch: Batch) -> bytes:
    """Everything a batch holds."""
    arrays = (
        batch.played, batch.rests, batch.potted, batch.first_contacts, batch.firsts_of_group,
        batch.next_kinds,         batch.next_others, batch.cushions, batch.stop_codes, batch.events,
        *batch.readouts.values(),
    )  # fmt: skip
    return b"".join(array.tobytes() for array in arrays)


def test_the_same_bits_on_any_number_of_threads() -> None:
    rows = np.concatenate([strikes_at(0.5 * math.pi, 700), strikes_at(0.4 * math.pi, 313, seed=2)])
    told = [bits(play_many(PAIR, rows, readouts=BATCH_READOUTS, threads=n)) for n in (1, 2, 3, 7)]
    assert len(set(told)) == 1
    opened = strikes_at(0.5 * math.pi, 24)
    assert bits(play_many(PACK, opened, threads=1)) == bits(play_many(PACK, opened, threads=5))


def test_progress_is_told_and_ends_with_all() -> None:
    told: list[tuple[int, int]] = []
    play_many(
        PACK, strikes_at(0.5 * math.pi, 40), progress=lambda done, all_: told.append((done, all_))
    )
    assert told == sorted(told)
    assert told[-1] == (40, 40)


def test_a_cancelled_batch_keeps_what_was_played() -> None:
    rows = strikes_at(0.5 * math.pi, 4_000)
    batch = play_many(PACK, rows, threads=2, cancelled=lambda: True)
    assert 0 < batch.played.sum() < 4_000
    assert not batch.all_played
    row = int(np.flatnonzero(batch.played)[-1])
    assert_tells_of(batch, row, play(PACK, strike_of(rows[row])))
    left = int(np.flatnonzero(~batch.played)[0])
    assert np.isnan(batch.rests[left]).all()
    assert batch.events[left] == 0
    assert batch.first_contacts[left] == -1


def test_an_interrupt_stops_every_thread() -> None:
    def interrupted(done: int, count: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        play_many(PACK, strikes_at(0.5 * math.pi, 4_000), threads=2, progress=interrupted)


def test_long_shots_get_the_rows_they_need() -> None:
    # A pack without losses on a bed that hardly slows it: more events than the first try holds.
    endless = replace(
        MATCH, ball_restitution=1.0, cushion_restitution=1.0, cushion_friction=0.0,
        ball_friction=0.0, sliding_friction=0.01, rolling_resistance=0.001, pockets=False,
    )  # fmt: skip
    position = replace(PACK, coefficients=endless)
    strike = Strike(aim=0.5 * math.pi + 0.005, pace=14.0)
    batch = play_many(position, [strike])
    assert batch.events[0] > FIRST_EVENTS
    assert_tells_of(batch, 0, play(position, strike))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"strikes": np.zeros((3, 4))}, ["strikes", "(3, 4)", "(N, 5)"]),
        ({"strikes": np.zeros((0, 5))}, ["at least 1"]),
        ({"strikes": np.array([[0.0, 1.0, 0.0, 0.0, 0.0], [0.0, -1.0, 0.0, 0.0, 0.0]])},
         ["pace of strike 1", "-1.0", "more than 0"]),
        ({"strikes": np.array([[0.0, 1.0, 0.02, 0.0, 0.0]])}, ["strike 0", "mm from the centre"]),
        ({"strikes": np.array([[0.0, 1.0, 0.0, 0.0, 1.6]])}, ["elevation of strike 0"]),
        ({"strikes": np.array([[math.nan, 1.0, 0.0, 0.0, 0.0]])}, ["row 0 of strikes", "nan"]),
        ({"places": np.zeros((2, 3, 2))}, ["places", "(2, 3, 2)", "(N, 2, 2)"]),
        ({"places": np.array([[[0.9, 0.7], [0.9, 0.75]]])}, ["white", "blue", "overlap"]),
        ({"places": np.array([[[0.9, 0.7], [0.001, 1.0]]])}, ["blue", "position 0", "cushion"]),
        ({"strikes": strike_rows([Strike(0.0, 1.0)] * 2),
          "places": np.array([list(PAIR.balls.values())] * 3)}, ["2 and 3 rows"]),
        ({"readouts": ["cut"]}, ["read-out", '"cut"', "cut_angle_deg"]),
        ({"coefficients": np.zeros((1, 3))}, ["coefficients", "(1, 3)"]),
    ],
)  # fmt: skip
def test_what_can_not_be_played_is_named(change: dict[str, object], words: list[str]) -> None:
    arguments: dict[str, object] = {"strikes": [Strike(0.0, 1.0)]} | change
    strikes = arguments.pop("strikes")
    with pytest.raises(InputError) as caught:
        play_many(PAIR, strikes, **arguments)  # type: ignore[arg-type]
    assert all(word in str(caught.value) for word in words), str(caught.value)


def test_random_positions_have_places_that_are_accepted() -> None:
    # The check of places must not be stricter than the positions that are played one by one.
    for seed in range(200):
        position = random_position(Random(seed))
        assert set(position.names) <= set(NAMES)
        play_many(position, [Strike(aim=1.0, pace=0.05)], threads=1)
