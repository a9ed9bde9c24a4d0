"""Players: how far off their strokes are, as standard deviations, shipped or from a file."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from stunline.errors import Fault, InputError
from stunline.files.text_file import read_text_file
from stunline.files.toml_fields import Faults, NumberField, Section
from stunline.files.toml_lines import parse_toml
from stunline.files.words import Limits, nearest_name, quoted
from stunline.units import radians

_SHIPPED = Path(__file__).parent / "players"
_SUFFIX = ".toml"
USUAL = "club"
_KEYS = ("title", "source", "scatter")
_SCATTER = {
    "aim": NumberField("the scatter of aim", Limits(0.0, 10.0, "degrees"), "0.18"),
    "pace": NumberField("the scatter of pace", Limits(0.0, 50.0, "%"), "8.0"),
    "height": NumberField("the scatter of height", Limits(0.0, 15.0, "mm"), "2.0"),
    "side": NumberField("the scatter of side", Limits(0.0, 15.0, "mm"), "1.5"),
}
_PERCENT, _MM = 0.01, 0.001


@dataclass(frozen=True, slots=True)
class Player:
    """Standard deviations of one player's strokes about what was meant.

    Attributes:
        name: as in ``player = …``
        title: in words
        source: where the numbers are from
        aim: of the cue's direction [rad]
        pace: over the pace meant [-]
        height, side: of the tip's contact point [m]
    """

    name: str
    title: str
    source: str
    aim: float
    pace: float
    height: float
    side: float

    @property
    def deviations(self) -> dict[str, float]:
        """Those four by name."""
        return {"aim": self.aim, "pace": self.pace, "height": self.height, "side": self.side}


@cache
def player_names() -> tuple[str, ...]:
    """The shipped players, the least exact first."""
    names = [path.stem for path in _SHIPPED.glob(f"*{_SUFFIX}")]
    return tuple(sorted(names, key=lambda name: -load_player(name).aim))


def load_player(name_or_path: str, relative_to: Path | None = None) -> Player:
    """A shipped player by name, "" for the usual one, or one from a file.

    Args:
        name_or_path: "club", or a path that ends in .toml
        relative_to: folder that a relative path starts from; None: the current one

    Raises:
        InputError: no such player, or a file with faults (all of them, with their lines).
    """
    name = name_or_path or USUAL
    if name.endswith(_SUFFIX):
        path = (relative_to or Path()) / name
        return parse_player(read_text_file(path, "a player file"), path.stem, str(path))
    path = _SHIPPED / f"{name}{_SUFFIX}"
    if not name.isidentifier() or not path.is_file():
        raise InputError([_unknown(name)])
    return parse_player(path.read_text(encoding="utf-8"), name, str(path))


def parse_player(text: str, name: str, source: str = "") -> Player:
    """The player that a file's text describes.

    Raises:
        InputError: with every fault and its line.
    """
    faults = Faults()
    root = Section(parse_toml(text, source), (), faults, _KEYS)
    title = root.text("title", "the title", "A club player") or name
    said = root.text("source", "the source", "200 strokes on film") or "no source given"
    example = "[scatter] with aim, pace, height and side"
    root.require("scatter", "the player's scatter", "standard deviations", example)
    scatter = root.section("scatter", tuple(_SCATTER), example)
    read: dict[str, float] = {}
    for key, field in _SCATTER.items() if scatter is not None else ():
        assert scatter is not None
        scatter.require(key, field.name, field.allowed(), field.example)
        value = scatter.number(key, field)
        if value is not None:
            read[key] = value
    faults.raise_if_any(text, source)
    return Player(
        name,
        title,
        said,
        radians(read["aim"]),
        _PERCENT * read["pace"],
        _MM * read["height"],
        _MM * read["side"],
    )


def _unknown(name: str) -> Fault:
    near = nearest_name(name, player_names())
    return Fault(
        "there is no player of that name",
        given=f'"{name[:60]}"',
        allowed=f"{quoted(player_names())}, or the path of a player file ending in .toml",
        remedy=f'"{near or USUAL}"',
        key="goal.player",
    )
