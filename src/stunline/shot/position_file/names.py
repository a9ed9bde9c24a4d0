"""Names in a position file: balls that are on the table, pockets, sides, thicknesses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from stunline.equipment.model import Point, Table
from stunline.files.toml_fields import Faults, NumberField, Section, name_in, number
from stunline.files.toml_lines import KeyPath
from stunline.files.words import Limits, kind_of, listed, nearest_name, shown
from stunline.shot.position import PotAim, Side
from stunline.shot.words import ball_in_file, with_article

THICKNESS_WORDS = {
    "full": 1.0,
    "three-quarter": 0.75,
    "half": 0.5,
    "quarter": 0.25,
    "fine": 0.125,
}
FULL = 1.0
SIDES: tuple[Side, Side] = ("left", "right")
THICKNESS = NumberField(
    "the thickness", Limits(0.0, 1.0, above_low=True), "0.5", "a word: " + listed(THICKNESS_WORDS)
)
THICKNESS_OR_MISS = NumberField("the thickness", Limits(0.0, 1.0), "0.5", THICKNESS.or_else)


@dataclass(frozen=True, slots=True)
class Scene:
    """What the names of a file may refer to.

    Attributes:
        table: the table
        on_table: balls that the file places, the cue ball among them
        open_pockets: names, none when the pockets are shut
        faults: where faults are noted
        places: of the balls, as far as they are in order [m]
    """

    table: Table
    on_table: tuple[str, ...]
    open_pockets: tuple[str, ...]
    faults: Faults
    places: Mapping[str, Point] = field(default_factory=dict)

    @property
    def object_balls(self) -> tuple[str, ...]:
        """Balls on the table other than the cue ball."""
        return tuple(name for name in self.on_table if name != self.table.cue_ball)

    @property
    def white(self) -> str:
        """The cue ball in the game's words: "the white", "the cue ball"."""
        return with_article(self.table.cue_ball)

    @property
    def ball_example(self) -> str:
        """A ball on the table, or one of the set, for examples in messages."""
        others = tuple(name for name in self.table.balls if name != self.table.cue_ball)
        return (self.object_balls or others or ("…",))[-1]

    @property
    def pot_example(self) -> str:
        """A pot as a file may ask for it."""
        names = tuple(one.name for one in self.table.pockets)
        pocket = names[-1] if names else "…"
        return f'{{ ball = "{self.ball_example}", pocket = "{pocket}" }}'

    @property
    def contact_example(self) -> str:
        """A contact as a file may ask for it."""
        return f'{{ ball = "{self.ball_example}", thickness = "half", on = "left" }}'


ANY = "any "


def any_names(table: Table) -> dict[str, tuple[str, ...]]:
    """ "any red", "any stripe": names for any ball of a group, and for any ball at all."""
    named = {
        ANY + group.removesuffix("s"): names
        for group, names in table.groups.items()
        if group.endswith("s")
    }
    every = tuple(name for name in table.balls if name != table.cue_ball)
    return {**named, ANY + "ball": every}


def object_ball(value: object, path: KeyPath, scene: Scene) -> str | None:
    """A ball on the table that is not the cue ball, or None with a fault noted."""
    known = scene.object_balls
    if isinstance(value, str) and value in known:
        return value
    if not isinstance(value, str):
        what = f"a ball must be named, not {kind_of(value)}"
        remedy = f'"{value}"' if str(value) in known else "its name in quotes"
    elif value == scene.table.cue_ball:
        what = f"{scene.white} is the ball that is struck"
        remedy = "name the ball that it should meet"
    elif value in scene.table.balls:
        name = ball_in_file(value)
        what, remedy = f"{name} is not on the table", f"place {name} in [balls]"
    else:
        near = nearest_name(value, known) or nearest_name(value, tuple(scene.table.balls))
        remedy = f'"{near}"' if near else f'"{scene.ball_example}"'
        what = f"the set of this table has no ball {shown(value)}"
    others = tuple(name for name in scene.table.balls if name != scene.table.cue_ball)
    allowed = listed(known) or f"one of {listed(others)}, once [balls] places it"
    scene.faults.add(path, what, given=shown(value), allowed=allowed, remedy=remedy)
    return None


def pocket(value: object, path: KeyPath, scene: Scene) -> str | None:
    """The name of an open pocket, or None with a fault noted."""
    names = tuple(one.name for one in scene.table.pockets)
    if isinstance(value, str) and value in scene.open_pockets:
        return value
    if isinstance(value, str) and value in names:
        scene.faults.add(
            path,
            "the pockets are shut",
            given=shown(value),
            allowed="a pot only with open pockets",
            remedy="pockets = true in [coefficients]",
        )
        return None
    if not names:
        scene.faults.add(
            path,
            "this table has no pockets",
            given=shown(value),
            allowed="contact or aim instead of a pot",
            remedy=f"contact = {scene.contact_example}",
        )
        return None
    return name_in(value, path, "the pocket", names, scene.faults)


def pot(section: Section, scene: Scene) -> PotAim | None:
    """The pot under the key ``pot``, of [strike] or of [goal]."""
    entry = section.section("pot", ("ball", "pocket"), scene.pot_example)
    if entry is None:
        return None
    for key in ("ball", "pocket"):
        entry.require(key, f"the {key} of the pot", "a ball and a pocket", scene.pot_example)
    ball = object_ball(entry["ball"], entry.at("ball"), scene) if "ball" in entry else None
    into = pocket(entry["pocket"], entry.at("pocket"), scene) if "pocket" in entry else None
    return PotAim(ball, into) if ball and into else None


def side_of_ball(section: Section) -> Side | None:
    """The side under the key ``on``."""
    name = section.name("on", "the side of the ball", SIDES)
    return next((side for side in SIDES if side == name), None)


def thickness(
    value: object, path: KeyPath, faults: Faults, field: NumberField = THICKNESS
) -> float | None:
    """A thickness by its word or its number, or None with a fault noted."""
    if isinstance(value, str):
        name = name_in(value, path, "the thickness", tuple(THICKNESS_WORDS), faults)
        return None if name is None else THICKNESS_WORDS[name]
    return number(value, path, field, faults)


def balls_in_list(section: Section, key: str, scene: Scene) -> tuple[str, ...]:
    """Object balls under a key that holds a list of names."""
    value = section.get(key)
    if value is None:
        return ()
    if not isinstance(value, list):
        section.faults.add(
            section.at(key),
            f"{key} must be a list of balls, not {kind_of(value)}",
            given=shown(value),
            allowed=f"a list of {listed(scene.object_balls)}",
            remedy=f"[{shown(value)}]" if isinstance(value, str) else f'["{scene.ball_example}"]',
        )
        return ()
    most = len(scene.table.balls)
    read = [object_ball(name, (*section.at(key), i), scene) for i, name in enumerate(value[:most])]
    if len(value) > most:
        too_many(section, key, len(value), most, "the balls of the set")
    return tuple(dict.fromkeys(name for name in read if name is not None))


def too_many(section: Section, key: str, count: int, most: int, what: str) -> None:
    """Notes that a list is longer than it can be."""
    section.faults.add(
        section.at(key),
        "the list is too long",
        given=f"{count} entries",
        allowed=f"at most {most}, {what}",
        remedy=f"leave out {count - most}",
    )


def exactly_two(
    value: object, path: KeyPath, what: str, example: str, faults: Faults
) -> Sequence[object] | None:
    """A list of two values, or None with a fault noted."""
    if isinstance(value, list) and len(value) == 2:
        return value
    count = f"{len(value)} values" if isinstance(value, list) else kind_of(value)
    faults.add(
        path,
        f"{what} must be a list of two, not {count}",
        given=shown(value),
        allowed="two values in square brackets",
        remedy=example,
    )
    return None
