"""Which stroke was really played, from where the white really went."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stunline.errors import Fault, InputError
from stunline.files.toml_fields import Faults
from stunline.files.toml_lines import parse_toml
from stunline.planning.likely_strokes import SEED, LikelyStrokes, PlayedAsked, likely_strokes
from stunline.planning.stroke_ways import StrokeWay, ways, whole
from stunline.shot.aiming.solve import Solver
from stunline.shot.contact import first_contact
from stunline.shot.happened import Happened
from stunline.shot.play import play
from stunline.shot.position import ContactAim, PotAim
from stunline.shot.position_file import PositionFile
from stunline.shot.position_file.names import Scene
from stunline.shot.position_file.played_section import PLAYED, happened_of
from stunline.shot.shot import Shot
from stunline.tasks.choose_strike import player_of
from stunline.tasks.read_position import ReadPosition

if TYPE_CHECKING:
    from stunline.drawing.marks import Drawing
    from stunline.tasks.shapes import Shape

# Keys of [played] by the options that give them.
OPTIONS = {
    "white_rest": "--rest", "white_passed": "--passed", "object_rest": "--object-rest",
    "white_met": "--met", "white_missed": "--missed", "white_cushion": "--cushion",
    "potted": "--potted", "not_potted": "--not-potted", "in_off": "--in-off", "time": "--time",
}  # fmt: skip
PLAYED_PICTURES = ("plan", "face")
_MOST_SEED = 2**31 - 1


@dataclass(frozen=True, slots=True)
class PlayedResult:
    """What is told of a stroke.

    Attributes:
        file: as read
        meant: the shot as it was meant, on the table in force
        found: the likely strokes, or the nearest
        whole: all of them together
        ways: those that are clearly different from each other, the likeliest first
    """

    file: PositionFile
    meant: Shot
    found: LikelyStrokes
    whole: StrokeWay
    ways: tuple[StrokeWay, ...]

    @property
    def happened(self) -> Happened:
        """What was seen."""
        return self.found.asked.happened

    def shot(self, number: int) -> Shot:
        """One of the found strokes, on the table that it is likely on."""
        position = self.file.position
        table = replace(position, coefficients=self.found.coefficients(number))
        return play(table, self.found.strike(number))

    def drawing(self, show: str = "plan", date: str = "", on_paper: bool = False) -> Drawing:
        """One of ``PLAYED_PICTURES``."""
        from stunline.tasks.played_pictures import played_picture

        return played_picture(self, show, date, on_paper)

    def shape(self) -> Shape:
        """The JSON."""
        from stunline.tasks.played_shape import played_shape

        return played_shape(self)


def played_stroke(
    read: ReadPosition,
    seen: Mapping[str, Any] | None = None,
    player: str | None = None,
    seed: int = SEED,
) -> PlayedResult:
    """Find the likely strokes.

    Args:
        seen: keys of [played] that go before the file's own
        player: a shipped player or a file instead of the goal's, or of the usual one
        seed: of all that is drawn

    Raises:
        InputError: nothing of what happened is told, or it can't be so; no such player.
        UnsolvableShotError: no strike does what the file asks for; with its line.
    """
    if not 0 <= seed <= _MOST_SEED:
        raise InputError([_seed_fault(seed)])
    file = read.file
    happened = _happened(read, seen or {})
    who = player_of(read, player)
    with read.located():
        solver = Solver(file.position)
        strike = solver.solve(file.plan).strike
        meant = solver.prepared.play(strike)
    ball = _object_ball(file, meant) if happened.object_rest is not None else ""
    found = likely_strokes(PlayedAsked(file.position, strike, who, happened, ball, seed))
    return PlayedResult(file, meant, found, whole(found), tuple(ways(found)))


def _happened(read: ReadPosition, seen: Mapping[str, Any]) -> Happened:
    """The file's own, overlaid with what is given here."""
    file = read.file
    if not seen:
        if file.happened is None:
            raise InputError([_nothing_seen()], file.source)
        return file.happened
    own = parse_toml(read.text).get(PLAYED, {})
    faults = Faults()
    table, balls = file.position.table, file.position.balls
    open_pockets = tuple(one.name for one in table.pockets)
    scene = Scene(table, tuple(balls), open_pockets, faults, balls)
    values = {**own, **seen} if isinstance(own, dict) else seen
    happened = happened_of(values, scene)
    if len(faults):
        raise InputError([_named_as_given(fault, seen) for fault in faults.by_key()])
    return happened


def _named_as_given(fault: Fault, seen: Mapping[str, Any]) -> Fault:
    """A fault of what an option gave carries the option's name, and advises options."""
    key = fault.key.removeprefix(f"{PLAYED}.").partition(".")[0]
    if key not in seen or key not in OPTIONS:
        return fault
    remedy = fault.remedy.replace("in_off = true", OPTIONS["in_off"])
    for one in seen:
        if "_" in one:  # the others are plain words
            remedy = remedy.replace(one, OPTIONS[one])
    return replace(fault, key=OPTIONS[key], remedy=remedy)


def _object_ball(file: PositionFile, meant: Shot) -> str:
    """The ball that was meant to be met first."""
    aim = file.plan.aim
    if isinstance(aim, PotAim | ContactAim):
        return aim.ball
    contact = first_contact(meant)
    if contact is not None:
        return contact.ball
    fault = Fault(
        "the strike as it was meant meets no ball, so there is no object ball that came to rest",
        given="object_rest",
        allowed="a strike that meets a ball",
        remedy="leave out object_rest, or correct [strike]: it is the strike that was meant",
        key=f"{PLAYED}.object_rest",
    )
    raise InputError([fault], file.source)


def _nothing_seen() -> Fault:
    return Fault(
        "nothing is told of what really happened",
        given=f"no [{PLAYED}], and no option that tells it",
        allowed="where the white came to rest, a place it passed, what it met",
        remedy="--rest 889,1784, or a section [played] with white_rest = [889.0, 1784.0]",
        key=PLAYED,
    )


def _seed_fault(seed: int) -> Fault:
    return Fault(
        "the seed is out of bounds",
        given=f"{seed}",
        allowed=f"0 to {_MOST_SEED}",
        remedy=f"--seed {SEED}",
        key="--seed",
    )
