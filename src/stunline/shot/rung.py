"""One value of a ladder: the shot with that one thing changed, solved and played."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, fields, replace

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import ball_contact_distance, nose_contact_distance
from stunline.equipment.model import Coefficients, Point, Table
from stunline.errors import Fault, UnsolvableShotError
from stunline.shot.aiming.pace import pace_of_lengths
from stunline.shot.aiming.pot_aim import PotWindow, Why, solve_pot
from stunline.shot.aiming.pot_refusal import refusal, unexplained
from stunline.shot.aiming.solve import Potting, Solution, Solver
from stunline.shot.aiming.strike_limits import named_height
from stunline.shot.contact import first_contact
from stunline.shot.outcome import Outcome, outcome
from stunline.shot.outcome_of_rows import outcome_of_strike
from stunline.shot.position import (
    Arrive,
    ContactAim,
    DirectAim,
    Height,
    LadderPlan,
    Lengths,
    NamedHeight,
    Pace,
    Position,
    PotAim,
    Strike,
    StrikePlan,
)
from stunline.shot.shot import Shot
from stunline.shot.strikes_along import FINE, StrikesAlong, Tolerances
from stunline.shot.words import with_article

Value = Pace | Height | str


@dataclass(frozen=True, slots=True)
class Rung:
    """One value, and the shot played with it.

    Attributes:
        value: SI number, or the name of a table or cloth; None for a value that is itself
            solved (pocket weight, a way of arriving), then see the shot's strike
        shot: as played
        outcome: what it came to
        pot: window of aim, when a pot was asked for and can be made
        pot_made: None when no pot was asked for
        reason: why the pot can't be made at this value, or the white not arrive as asked, or ""
    """

    value: float | str | None
    shot: Shot
    outcome: Outcome
    pot: PotWindow | None
    pot_made: bool | None
    reason: str = ""


def numbers_of(position: Position, plan: StrikePlan, ladder: LadderPlan) -> list[float]:
    """The ladder's values as SI numbers; none for tables and cloths."""
    if ladder.vary in ("table", "cloth"):
        return []
    numbers = (_number(position, value, plan.side) for value in ladder.values)
    return [number for number in numbers if number is not None]


def _number(position: Position, value: object, side: float) -> float | None:
    if isinstance(value, Lengths):
        return pace_of_lengths(position, value.value)
    if isinstance(value, NamedHeight):
        return named_height(position, value, side)
    return float(value) if isinstance(value, int | float) else None


@dataclass(frozen=True, slots=True)
class _Tried:
    """A plan as it was tried, and what came of it; a note where it was not quite as asked."""

    plan: StrikePlan
    solved: Solution | UnsolvableShotError
    note: str = ""


def _at_the_limit(plan: StrikePlan) -> StrikePlan:
    """The plan with the tip as low, or for more than rolling as high, as is safe."""
    assert isinstance(plan.height, Arrive)
    low = plan.height.follow_ratio < 1.0
    return replace(plan, height=NamedHeight("max screw" if low else "max follow"))


class RungPlayer:
    """Plays a plan with any value of what a ladder varies."""

    def __init__(
        self,
        position: Position,
        plan: StrikePlan,
        ladder: LadderPlan,
        tolerances: Tolerances = FINE,
        potting: Potting = solve_pot,
    ) -> None:
        """``tolerances``, ``potting``: of scans, for those that need not be as fine."""
        self._tolerances = tolerances
        self._position = position
        self.plan = plan
        self._ladder = ladder
        self.solver = Solver(position)
        self._scanning = Solver(position, unexplained, potting)
        self._is_pot = isinstance(plan.aim, PotAim)
        self.aim_held = not (
            self._is_pot or isinstance(plan.height, Arrive) or ladder.vary == "thickness"
        )
        self._line = self._held_line()
        self._known: dict[int, tuple[float, float]] = {}  # rung → its number and potting aim
        self._tried: dict[float, _Tried] = {}  # by scans

    def rungs(self) -> tuple[Rung, ...]:
        """Every value of the ladder, played."""
        solved = [self._try(value) for value in self._ladder.values]
        for index, (value, one) in enumerate(zip(self._ladder.values, solved, strict=True)):
            number = self._si(value)
            if isinstance(one.solved, Solution) and number is not None:
                self._known[index] = (number, one.solved.strike.aim)
        return tuple(
            self._rung(value, one) for value, one in zip(self._ladder.values, solved, strict=True)
        )

    def outcomes_over(self, low: float, high: float) -> Callable[[float], Outcome]:
        """What the shot comes to with any value in [low, high]. SI.

        Where all depends on a solved aim or height, that is solved at some of the values and
        interpolated between, as ``StrikesAlong`` says.
        """
        strike_at = self.strikes_over(low, high)

        def outcome_at(number: float) -> Outcome:
            strike = strike_at(number)
            if strike is not None:
                position, plan = self._with(number)
                result = outcome_of_strike(self._solver_for(position).prepared, strike, plan)
                # A pot that fails between two that succeed is for solving to look into.
                if result.pot_made is not False:
                    return result
            return self.outcome_solved_at(number)

        return outcome_at

    def strikes_over(self, low: float, high: float) -> Callable[[float], Strike | None]:
        """The strike for any value in [low, high], interpolated as ``outcomes_over`` says.

        None where it can't be had quite as asked for.
        """
        if self.aim_held:
            return self._plainly_solved
        return StrikesAlong(self._plainly_solved, low, high, self._tolerances).at

    def first_solutions(self) -> list[tuple[float, Solution]]:
        """The ladder's values at which the shot is solved, unplayed, for scans to start from.

        Where a pot can't be made it is then played along the aim of the nearest of these.
        """
        found = []
        for index, value in enumerate(self._ladder.values):
            solved, number = self._try(value, unexplained).solved, self._si(value)
            if isinstance(solved, Solution) and number is not None:
                self._known[index] = (number, solved.strike.aim)
                found.append((number, solved))
        return found

    def plan_with(self, number: float) -> StrikePlan:
        """The plan with that value in place."""
        return self._with(number)[1]

    def without_aim(self, number: float) -> Strike:
        """The strike with that value, aim and solved height left open."""
        return self.solver.without_aim(self.plan_with(number))

    def outcome_solved_at(self, number: float) -> Outcome:
        """What that value comes to, solved by itself as a scan solves; tried only once."""
        return self._outcome(number, self._tried_at(number))

    def solved_strike_at(self, number: float) -> tuple[Strike, StrikePlan, bool]:
        """The strike of ``outcome_solved_at``, its plan, and whether its pot can't be made."""
        position, _ = self._with(number)
        return self._strike_of(number, self._solver_for(position), self._tried_at(number))

    def _tried_at(self, number: float) -> _Tried:
        if number not in self._tried:
            self._tried[number] = self._try(number, unexplained)
        return self._tried[number]

    def _plainly_solved(self, number: float) -> Strike | None:
        one = self._tried_at(number)
        return one.solved.strike if isinstance(one.solved, Solution) and not one.note else None

    def outcome_at(self, number: float) -> Outcome:
        """What the shot comes to with that value, solved for just that value. SI."""
        return self._rung(number, self._try(number)).outcome

    def _outcome(self, number: float, tried: _Tried) -> Outcome:
        """What a tried value comes to: the outcome of its rung."""
        position, _ = self._with(number)
        solver = self._solver_for(position)
        strike, plan, missed = self._strike_of(number, solver, tried)
        result = outcome_of_strike(solver.prepared, strike, plan)
        return replace(result, pot_made=False) if missed else result

    def _strike_of(
        self, number: float, solver: Solver, tried: _Tried
    ) -> tuple[Strike, StrikePlan, bool]:
        plan, solved = tried.plan, tried.solved
        if isinstance(solved, Solution):
            return solved.strike, plan, False
        return self._nearest(number, solver, plan, solved), plan, True

    def _si(self, value: object) -> float | None:
        return _number(self._position, value, self.plan.side)

    def _try(self, value: object, why: Why = refusal) -> _Tried:
        position, plan = self._with(value)
        solver = self._solver_for(position, why)
        note = ""
        try:
            return _Tried(plan, solver.solve(plan))
        except UnsolvableShotError as error:
            if error.reason == "no-height":
                # As near as the tip may go to what was asked for.
                plan, note = _at_the_limit(plan), error.fault.what
            elif self._is_pot:
                return _Tried(plan, error)
            else:
                raise
        try:
            return _Tried(plan, solver.solve(plan), note)
        except UnsolvableShotError as error:
            if self._is_pot:
                return _Tried(plan, error)
            raise

    def _rung(self, value: object, tried: _Tried) -> Rung:
        position, _ = self._with(value)
        solver, plan, solved = self._solver_for(position), tried.plan, tried.solved
        number: float | str | None = value if isinstance(value, str) else self._si(value)
        if isinstance(solved, Solution):
            shot = solver.prepared.play(solved.strike)
            result = outcome(shot, plan)
            return Rung(number, shot, result, solved.pot, result.pot_made, tried.note)
        shot = solver.prepared.play(self._nearest(number, solver, plan, solved))
        result = replace(outcome(shot, plan), pot_made=False)
        return Rung(number, shot, result, None, False, solved.fault.what)

    def _nearest(
        self, number: object, solver: Solver, plan: StrikePlan, error: UnsolvableShotError
    ) -> Strike:
        """The strike along the aim of the nearest rung that pots, else along the direct line."""
        try:
            strike = solver.direct(plan)
        except UnsolvableShotError:
            raise error from None
        if not isinstance(number, float) or not self._known:
            return strike
        _, aim = min(self._known.values(), key=lambda known: abs(known[0] - number))
        return replace(strike, aim=aim)

    def _solver_for(self, position: Position, why: Why = refusal) -> Solver:
        if position is not self._position:
            return Solver(position, why)
        return self.solver if why is refusal else self._scanning

    def _with(self, value: object) -> tuple[Position, StrikePlan]:
        """The position and plan with that value in place."""
        position, plan, vary = self._position, self.plan, self._ladder.vary
        if self.aim_held and self._line is not None:
            plan = replace(plan, aim=DirectAim(self._line))
        if vary == "pace":
            return position, replace(plan, pace=value)  # type: ignore[arg-type]
        if vary == "height":
            return position, replace(plan, height=value)  # type: ignore[arg-type]
        if vary == "side":
            return position, replace(plan, side=float(str(value)))
        if vary == "thickness":
            assert isinstance(plan.aim, ContactAim)
            return position, replace(plan, aim=replace(plan.aim, thickness=float(str(value))))
        if vary == "distance":
            return self._at_distance(float(str(value))), plan
        if vary == "cloth":
            return with_cloth(position, position.table, str(value)), plan
        table = load_table(str(value))
        return with_cloth(position, table, table.default_cloth().name), plan

    def _held_line(self) -> float | None:
        """The aim of the first rung's line, solved with the file's own strike."""
        if isinstance(self.plan.aim, DirectAim):
            return self.plan.aim.angle
        if self._ladder.vary == "distance" or self.aim_held:
            return self.solver.solve(self._first_plan()).strike.aim
        return None

    def _first_plan(self) -> StrikePlan:
        vary, first = self._ladder.vary, self._ladder.values[0]
        if vary == "pace":
            return replace(self.plan, pace=first)  # type: ignore[arg-type]
        if vary == "height":
            return replace(self.plan, height=first)  # type: ignore[arg-type]
        return replace(self.plan, side=float(str(first))) if vary == "side" else self.plan

    def _at_distance(self, distance: float) -> Position:
        """The white moved along the line of aim until its contact is that far away."""
        assert self._line is not None
        white = self._position.names[0]
        strike = replace(self.solver.solve(self.plan).strike, aim=self._line)
        contact = first_contact(self.solver.prepared.play(strike))
        if contact is None:
            raise UnsolvableShotError(
                "no-contact",
                Fault(
                    f"{with_article(white)} meets no ball along its line, so there is no "
                    "distance to it",
                    key="ladder.vary",
                    allowed="a shot that meets a ball",
                    remedy="another aim, or vary something else",
                ),
            )
        x, y = contact.white_place
        place = (x - distance * math.cos(self._line), y - distance * math.sin(self._line))
        check_room(self._position, place, distance)
        return replace(self._position, balls={**self._position.balls, white: place})


def check_room(position: Position, place: Point, distance: float) -> None:
    """Refuse a place for the white off the table or on another ball.

    Raises:
        UnsolvableShotError: "no-room", naming the cushion or ball in the way.
    """
    table = position.table
    radius = position.radius(position.names[0])
    edge = nose_contact_distance(radius, table.nose_height)
    x, y = place
    in_the_way = [
        with_article(name)
        for name, other in position.balls.items()
        if name != position.names[0]
        and math.dist(place, other) < ball_contact_distance(radius, position.radius(name))
    ]
    if not (edge <= x <= table.width - edge and edge <= y <= table.length - edge):
        in_the_way.append("the cushion")
    if in_the_way:
        white = with_article(position.names[0])
        raise UnsolvableShotError(
            "no-room",
            Fault(
                f"{white} can't stand there: {in_the_way[0]} is in the way",
                given=f"{1000.0 * distance:.1f} mm from the contact",
                allowed=f"distances along the line of aim at which {white} stands free",
                remedy="other values, or move the position",
                key="ladder.values",
            ),
        )


def with_cloth(position: Position, table: Table, cloth: str) -> Position:
    """The position on another cloth or table; what the file itself had set stays set."""
    old = position.table.cloths[position.cloth].coefficients
    changes = {
        each.name: getattr(position.coefficients, each.name)
        for each in fields(Coefficients)
        if getattr(position.coefficients, each.name) != getattr(old, each.name)
    }
    return replace(
        position,
        table=table,
        cloth=cloth,
        coefficients=replace(table.cloths[cloth].coefficients, **changes),
    )
