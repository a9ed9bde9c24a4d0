"""Positions for the tests of reach, and requests over the usual ranges."""

from __future__ import annotations

from stunline.equipment.catalogue import load_table
from stunline.equipment.player import load_player
from stunline.planning.request import Request, request
from stunline.shot.goal import Goal, StrikeRange
from stunline.shot.position import Position, PotAim, StrikePlan

TABLE = load_table("snooker-12ft")
CLOTH = TABLE.default_cloth()
WIDE = StrikeRange((0.6, 3.0), (-0.011, 0.011), (0.0, 0.0))


def position(**balls: tuple[float, float]) -> Position:
    """These balls, the white first. [m]"""
    return Position(TABLE, CLOTH.name, CLOTH.coefficients, balls)


def asked(
    balls: dict[str, tuple[float, float]],
    pot: PotAim,
    vary: StrikeRange = WIDE,
    goal: Goal | None = None,
) -> Request:
    """A pot with what may vary."""
    from dataclasses import replace

    wanted = replace(goal or Goal(), vary=vary)
    plan = StrikePlan(pot, 1.5, 0.003)
    return request(position(**balls), plan, wanted, load_player("club"))


def mirrored(balls: dict[str, tuple[float, float]]) -> dict[str, tuple[float, float]]:
    """Left and right changed."""
    return {name: (TABLE.width - x, y) for name, (x, y) in balls.items()}


# A pot with a cut and two balls in the way of some runs, all invented.
OPEN = {"white": (1.15, 2.9), "black": (0.889, 3.245), "blue": (0.889, 1.7845), "red1": (1.3, 2.2)}
POT = PotAim("black", "top left")
