"""What went wrong in a play that did not meet its goal, in a few words."""

from __future__ import annotations

import math

from stunline.planning.judge import Judge, Judgement
from stunline.shot.batch import Batch
from stunline.shot.outcome import count_of_cushions
from stunline.shot.words import with_article

_MM = 1000.0
_TELLING = 2.0  # less outside of an area is its very edge, where every margin ends [mm]


def fault_of(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    """The first demand of that play that failed, such as "meets the pink"; "" when none did."""
    for demand in judge.demands:
        if not judgement.holds[demand][row]:
            return _WORDS[demand](judge, batch, judgement, row)
    return ""


def _pot(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    pot = judge.goal.pot
    assert pot is not None
    first = int(batch.first_contacts[row])
    names = judge.position.names
    if pot.ball == names[0]:  # an in-off, where that is what is asked for
        return f"{with_article(pot.ball)} misses the pocket"
    if first < 0:
        return "no ball is met"
    if names[first] != pot.ball:
        return f"{with_article(names[first])} is met first"
    return f"{with_article(pot.ball)} misses the pocket"


def _meet(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    meet = judge.goal.meet
    assert meet is not None
    second = int(batch.second_balls[row])
    if second < 0:
        return (
            f"misses {with_article(meet.ball)}"
            if batch.potted[row, 0] < 0
            else _fell(judge, batch, row)
        )
    name = judge.position.names[second]
    if name != meet.ball:
        return f"meets {with_article(name)}"
    sine = float(batch.readouts["second_sine"][row])
    side = "right" if sine > 0.0 else "left"
    if meet.on is not None and side != meet.on:
        return f"meets {with_article(name)} on its {side} side"
    too = "thin" if 1.0 - abs(sine) < meet.thickness[0] else "full"
    return f"meets {with_article(name)} too {too}"


def _through(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    short = _MM * float(judgement.shortfalls["through"][row])
    if not math.isfinite(short):
        return "never comes to the gap"
    return f"misses the gap by {short:.0f} mm" if short >= 1.0 else "brushes the side of the gap"


def _rest(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    if batch.potted[row, 0] >= 0:
        return _fell(judge, batch, row)
    away = _MM * float(judgement.shortfalls["rest"][row])
    return f"rests {away:.0f} mm outside" if away >= _TELLING else "rests outside"


def _next(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    if batch.potted[row, 0] >= 0:
        return _fell(judge, batch, row)
    asked = judge.goal.next
    assert asked is not None
    away = math.degrees(float(judgement.shortfalls["next"][row]))
    what = with_article(asked.balls[0]) if len(asked.balls) == 1 else "a next ball"
    if not math.isfinite(away):
        return f"no clear way to pot {what}"
    return (
        f"the cut on {what} is {away:.0f}° out" if away >= 1.0 else f"the cut on {what} is just out"
    )


def _touch(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    missed = [
        ball
        for ball in judge.goal.touch
        if not batch.touched[row, judge.position.names.index(ball)]
    ]
    return "misses " + " and ".join(with_article(ball) for ball in missed)


def _miss(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    met = [ball for ball in judge.goal.miss if batch.touched[row, judge.position.names.index(ball)]]
    return "meets " + " and ".join(with_article(ball) for ball in met)


def _cushions(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    return f"meets {count_of_cushions(int(batch.cushions[row]))}"


def _in_off(judge: Judge, batch: Batch, judgement: Judgement, row: int) -> str:
    return _fell(judge, batch, row)


def _fell(judge: Judge, batch: Batch, row: int) -> str:
    pocket = judge.position.table.pockets[int(batch.potted[row, 0])].name
    return f"in-off, {pocket}"


_WORDS = {
    "pot": _pot,
    "meet": _meet,
    "through": _through,
    "rest": _rest,
    "next": _next,
    "touch": _touch,
    "miss": _miss,
    "cushions": _cushions,
    "in_off": _in_off,
}
