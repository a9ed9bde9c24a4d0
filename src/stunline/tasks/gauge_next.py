"""What to measure next: the shots that would narrow most where the white ends, and when to stop."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

import stunline
from stunline.calibration.advice import NEXT, WORTH, Advice, Advised, advise
from stunline.calibration.fit import Fit
from stunline.calibration.menu import BY_ID
from stunline.calibration.targets import Target, band_of, standard_targets
from stunline.equipment.coefficient_scales import with_values
from stunline.equipment.player import Player, load_player
from stunline.errors import Fault, InputError
from stunline.planning.scatter import normal_draws, scattered
from stunline.planning.strike_space import struck
from stunline.shot.aiming.solve import Solver
from stunline.shot.batch import play_many
from stunline.shot.batch_input import strike_rows
from stunline.shot.compiled import sources_hash
from stunline.tasks.choose_strike import player_of
from stunline.tasks.gauge_fit import GaugeResult, gauge_fit
from stunline.tasks.lines import columns, wrapped
from stunline.tasks.read_position import ReadPosition, read_position
from stunline.units import millimetres

if TYPE_CHECKING:
    from stunline.tasks.shapes import Shape

_STROKES = 512  # of the player, a power of two
_SEED = 1
# A table's band that is half of the player's own widens it by an eighth: √(1 + 1/4).
_SMALL_BESIDE = 0.5
# A coefficient through which a shot narrows less than this share of the band isn't its reason. [-]
_WORTH_NAMING, _MOST_NAMED = 0.2, 2


@dataclass(frozen=True, slots=True)
class NextResult:
    """A record, and which shots would be worth adding to it.

    Attributes:
        gauged: the record and its fit
        position: file of the shot that is to be foretold, "" for the standard ones
        advice: shots and bands
        player: whose scatter the band is held to
        scatter: half of the 90 % band of the white's end for that player on a known table [m]
    """

    gauged: GaugeResult
    position: str
    advice: Advice
    player: Player
    scatter: float

    @property
    def small(self) -> bool:
        """Whether the table's doubt hardly shows beside the player's scatter."""
        return self.advice.band < _SMALL_BESIDE * self.scatter

    @property
    def stop(self) -> bool:
        """Whether more measuring is not worth it."""
        return self.small or self.advice.enough

    def shape(self) -> Shape:
        """The JSON."""
        return next_shape(self)


def gauge_next(
    record: str, position: str | None = None, told: Callable[[str], None] | None = None
) -> NextResult:
    """Fit a record and say what to measure next.

    Args:
        record: the record file
        position: a position file whose shot matters; None for four standard shots
        told: what is being done now, in words

    Raises:
        InputError: a file can't be read, or the white falls in the position's shot.
        UnsolvableShotError: no strike does what the position asks for; with its line.
    """
    read = None if position is None else read_position(position)
    gauged = gauge_fit(record, told)
    player = load_player("") if read is None else player_of(read)
    targets = (
        standard_targets(gauged.fit.predictor) if read is None else [_target(read, gauged.fit)]
    )
    if told is not None:
        told("weighing the shots of the menu")
    try:
        advice = advise(gauged.fit, targets)
    except ArithmeticError:
        raise InputError([_falls(position or "")], position or record) from None
    return NextResult(gauged, position or "", advice, player, _scatter(targets, gauged.fit, player))


def _target(read: ReadPosition, fit: Fit) -> Target:
    """The file's shot, aimed on the table as gauged."""
    file = read.file
    numbers = with_values(file.position.coefficients, fit.predictor.coefficients(fit.shared))
    position = replace(file.position, coefficients=numbers)
    with read.located():
        strike = Solver(position).solve(file.plan).strike
    return Target(position.title or "this shot", position, strike)


def _scatter(targets: Sequence[Target], fit: Fit, player: Player) -> float:
    """Half of the 90 % band of the white's end for a player, root mean square. [m]"""
    bands = []
    for one in targets:
        values = fit.predictor.coefficients(fit.shared)
        numbers = with_values(one.position.coefficients, values)
        position = replace(one.position, coefficients=numbers)
        rows = scattered(strike_rows([one.strike]), player, normal_draws(_STROKES, _SEED))
        ends = play_many(position, rows[struck(position, rows)]).rests[:, 0]
        bands.append(band_of(np.cov(ends[np.isfinite(ends).all(axis=1)].T)))
    return float(np.sqrt(np.mean(np.square(bands))))


def _falls(position: str) -> Fault:
    return Fault(
        "the white falls in this shot on most tables that the record allows, so it ends nowhere",
        given=f'"{position}"',
        allowed="a shot after which the white stays on the table",
        remedy="another position, or leave --for out",
        key="--for",
    )


def next_lines(result: NextResult) -> Iterator[str]:
    """What ``stunline gauge next`` prints."""
    advice, record = result.advice, result.gauged.fit.record
    yield record.title or "Untitled record"
    where = (
        f"where the white ends in {advice.targets[0]}"
        if result.position
        else "where the white ends in standard shots"
    )
    yield from wrapped(
        f"From {len(record.plays)} shots, {record.readings} measurements: {where} is known to "
        f"±{_mm(advice.band)} mm (90 %, the way it spreads most)"
    )
    if not result.position:
        yield from wrapped(f"The standard shots: {', '.join(advice.targets)}", "  ", "    ")
    mistakes = result.gauged.mistakes()
    for one in mistakes:
        yield from wrapped(one, "  ", "    ")
    yield ""
    yield from wrapped(_verdict(result))
    yield ""
    yield f"{'If you go on, best' if result.stop else 'Best'} next, in this order"
    yield from columns(
        [f"{number}", one.shot.id, f"then ±{_mm(one.band)} mm", _reason(one)]
        for number, one in enumerate(advice.best, 1)
    )
    yield ""
    yield "Each shot of the menu by itself"
    ordered = sorted(advice.alone.items(), key=lambda pair: pair[1])
    yield from columns([name, f"±{_mm(size)} mm", BY_ID[name].title] for name, size in ordered)


def _reason(one: Advised) -> str:
    """ "narrows rolling resistance and cushion friction": what the ends hang on."""
    helped = [name.replace("_", " ") for name, share in one.through if share >= _WORTH_NAMING]
    return f"narrows {' and '.join(helped[:_MOST_NAMED])}" if helped else "narrows a little of all"


def _verdict(result: NextResult) -> str:
    advice = result.advice
    gain = f"{NEXT} more shots would narrow it by {_mm(max(advice.gain, 0.0))} mm"
    who = result.player.title[:1].lower() + result.player.title[1:]
    own = f"{who} scatters by ±{_mm(result.scatter)} mm there on a known table"
    if advice.enough:
        return f"Enough measured: {gain}, less than a place can be read ({_mm(WORTH)} mm); {own}."
    if result.small:
        return (
            f"Enough measured for this player: {own}, more than twice the table's doubt, though "
            f"{gain}."
        )
    return f"Worth going on: {gain}; {own}."


def _mm(metres: float) -> str:
    return f"{millimetres(metres):.0f}"


def next_shape(result: NextResult) -> Shape:
    """What ``stunline gauge next --json`` prints."""
    advice, record = result.advice, result.gauged.fit.record
    return {
        "title": record.title,
        "measurements": record.readings,
        "for": result.position or None,
        "targets": list(advice.targets),
        "band_mm": millimetres(advice.band),
        "next": [
            {"shot": one.shot.id, "title": one.shot.title, "band_mm": millimetres(one.band)}
            for one in advice.best
        ],
        "shots": [
            {"shot": name, "title": BY_ID[name].title, "band_mm": millimetres(size)}
            for name, size in advice.alone.items()
        ],
        "player": {
            "name": result.player.name,
            "title": result.player.title,
            "band_mm": millimetres(result.scatter),
        },
        "stop": result.stop,
        "worth_mm": millimetres(WORTH),
        "engine": stunline.__version__,
        "kernels": sources_hash(),
    }
