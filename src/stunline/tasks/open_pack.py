"""Open the pack of a position file over many racks, with each pace that is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stunline.errors import Fault, InputError, UnsolvableShotError
from stunline.shot.aiming.pace import lengths_of
from stunline.shot.aiming.solve import Solver
from stunline.shot.pack_study import OpenedPacks, PackPlan, open_packs
from stunline.shot.position import Lengths, Pace, Strike
from stunline.shot.position_file import PositionFile
from stunline.shot.position_file.rack_value import SetRack
from stunline.tasks.read_position import ReadPosition, located_fault
from stunline.units import metres

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.tasks.shapes import Shape

RACKS = 2_000
MOST_RACKS = 100_000
# How far apart hands leave the balls of a rack at most. [mm] Common practice, no source.
USUAL_GAPS = 0.2
WIDEST_GAPS = 5.0
SEED = 1


@dataclass(frozen=True, slots=True)
class PacePlays:
    """The plays with one pace.

    Attributes:
        pace: as asked for: m/s, lengths or pocket weight
        strike: as solved; None where it can't be
        packs: what the plays came to; None before the first, and without a strike
        reason: why there is no strike, or ""
    """

    pace: Pace
    strike: Strike | None
    packs: OpenedPacks | None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class PackResult:
    """What opening a file's pack came to, as far as it was played.

    Attributes:
        file: as read
        rack: how the file sets the pack up
        gaps: the largest gap that was played with [m]
        racks: asked for, with each pace
        seed: of the first rack
        paces: in the order asked for
    """

    file: PositionFile
    rack: SetRack
    gaps: float
    racks: int
    seed: int
    paces: tuple[PacePlays, ...]

    @property
    def played(self) -> int:
        """Racks played, over all paces."""
        return sum(one.packs.plays for one in self.paces if one.packs is not None)

    @property
    def wanted(self) -> int:
        """Racks asked for, over the paces that can be played."""
        return self.racks * sum(one.strike is not None for one in self.paces)

    def lengths(self, pace: float) -> float:
        """A pace in lengths of this table and cloth."""
        return lengths_of(self.file.position, pace)

    def drawing(self, show: str = "plan", date: str = "", on_paper: bool = False) -> Drawing:
        """The plan with every place at which the white ended."""
        from stunline.tasks.pictures import pack_picture

        return pack_picture(self, date, on_paper)

    def shape(self) -> Shape:
        """The JSON."""
        from stunline.tasks.pack_shape import pack_shape

        return pack_shape(self)


def open_pack(
    read: ReadPosition,
    paces: Sequence[Pace] = (),
    gaps: float | None = None,
    racks: int = RACKS,
    seed: int | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Iterator[PackResult]:
    """Play the file's strike on rack after rack; what there is, again and again as it grows.

    Args:
        paces: to play with; without any the ladder's, and without such a ladder the file's own.
        gaps: the largest gap [mm]; None: the file's, and where the pack touches there 0.2 mm.
        racks: with each pace.
        seed: of the first rack; None: the file's, and where it gives none 1.

    Raises:
        InputError: the file racks no pack, or a number is not allowed.
        UnsolvableShotError: the shot can't be solved at any pace; with its line.
    """
    _check(gaps, racks, seed)
    file = read.file
    _, rack = _rack_of(read)
    seed = (rack.seed or SEED) if seed is None else seed
    largest = (rack.gaps or metres(USUAL_GAPS)) if gaps is None else metres(gaps)
    solved = _solved(read, paces or _paces_of(file))
    result = PackResult(file, rack, largest, racks, seed, solved)
    plan = PackPlan(file.position, dict(file.position.table.racks[rack.rack]), largest, racks, seed)
    yield result
    for number, one in enumerate(result.paces):
        if one.strike is None:
            continue
        for packs in open_packs(plan, one.strike, cancelled):
            now = (*result.paces[:number], replace(one, packs=packs), *result.paces[number + 1 :])
            result = replace(result, paces=now)
            yield result
        if cancelled is not None and cancelled():
            return


def _check(gaps: float | None, racks: int, seed: int | None) -> None:
    faults = []
    if gaps is not None and not 0.0 <= gaps <= WIDEST_GAPS:
        faults.append(
            Fault(
                "the size of the gaps is out of bounds",
                given=f"{gaps:g} mm",
                allowed=f"0 to {WIDEST_GAPS:g} mm",
                remedy=f"{USUAL_GAPS:g}",
                key="--gaps",
            )
        )
    if not 1 <= racks <= MOST_RACKS:
        faults.append(
            Fault(
                "the number of racks is out of bounds",
                given=f"{racks}",
                allowed=f"1 to {MOST_RACKS:,}",
                remedy=f"{RACKS}",
                key="--racks",
            )
        )
    if seed is not None and seed < 0:
        faults.append(
            Fault(
                "the seed is negative",
                given=f"{seed}",
                allowed="0 or more",
                remedy=f"{SEED}",
                key="--seed",
            )
        )
    if faults:
        raise InputError(faults)


def _rack_of(read: ReadPosition) -> tuple[str, SetRack]:
    """The file's pack: its largest rack."""
    table = read.file.position.table
    racks = read.file.racks
    if not racks:
        example = next(iter(table.racks), "")
        raise located_fault(
            read,
            Fault(
                "no pack is racked here",
                given="places for single balls",
                allowed="a rack of the table's" if example else "a table that has a rack",
                remedy=f'{_key_of(read.file)} = "{example}" in [balls]'
                if example
                else "another table",
                key="balls",
            ),
        )
    return max(racks.items(), key=lambda one: len(table.racks[one[1].rack]))


def _key_of(file: PositionFile) -> str:
    """A key of [balls] under which the table's first rack can stand."""
    table = file.position.table
    members = set(table.racks[next(iter(table.racks))])
    return next((key for key, group in table.groups.items() if members <= set(group)), "rack")


def _paces_of(file: PositionFile) -> Sequence[Pace]:
    if file.ladder is not None and file.ladder.vary == "pace":
        return [value for value in file.ladder.values if not isinstance(value, str)]  # type: ignore[misc]
    return [file.plan.pace]


def _solved(read: ReadPosition, paces: Sequence[Pace]) -> tuple[PacePlays, ...]:
    solver = Solver(read.file.position)
    found: list[PacePlays] = []
    refusal: UnsolvableShotError | None = None
    for pace in paces:
        try:
            strike = solver.solve(replace(read.file.plan, pace=pace)).strike
            found.append(PacePlays(pace, strike, None))
        except UnsolvableShotError as error:
            refusal = refusal or error
            found.append(PacePlays(pace, None, None, error.fault.what))
    if refusal is not None and all(one.strike is None for one in found):
        with read.located():
            raise refusal
    return tuple(found)


def pace_from_words(words: str) -> Pace:
    """ "3.2" in m/s, or "2.5 lengths".

    Raises:
        InputError: for anything else.
    """
    text = words.strip()
    number = text.removesuffix("lengths").strip()
    try:
        value = float(number)
    except ValueError:
        value = -1.0
    if not 0.0 < value <= 15.0:
        raise InputError(
            [
                Fault(
                    "this is no pace",
                    given=f'"{words}"',
                    allowed='m/s, more than 0 and up to 15, or lengths such as "2.5 lengths"',
                    remedy="3.0",
                    key="--pace",
                )
            ]
        )
    return Lengths(value) if number != text else value
