"""The [coefficients] of a position file, over those of the table's cloth profile."""

from __future__ import annotations

from dataclasses import replace

from stunline.equipment.model import Cloth, Coefficients, SpeedDependentFriction
from stunline.files.toml_fields import NumberField, Section, number
from stunline.files.words import Limits, quoted, shown

_MORE_THAN_NOTHING = Limits(0.0, 1.0, above_low=True)
SPEED_DEPENDENT = "speed-dependent"
NUMBERS = {
    "sliding_friction": NumberField("the sliding friction", _MORE_THAN_NOTHING, "0.20"),
    "rolling_resistance": NumberField("the rolling resistance", _MORE_THAN_NOTHING, "0.010"),
    "spin_deceleration": NumberField(
        "the spin deceleration", Limits(0.0, 100.0, unit="rad/s²"), "10.0"
    ),
    "ball_restitution": NumberField("the ball restitution", _MORE_THAN_NOTHING, "0.95"),
    "cushion_restitution": NumberField("the cushion restitution", _MORE_THAN_NOTHING, "0.98"),
    "cushion_friction": NumberField("the cushion friction", Limits(0.0, 1.0), "0.14"),
    # Down to a small moon's, up to ten times the earth's: beyond that a typing error is likelier.
    "gravity": NumberField("the gravity", Limits(0.1, 100.0, unit="m/s²"), "9.81"),
}
BALL_FRICTION = NumberField(
    "the ball friction", Limits(0.0, 1.0), "0.06", f'the text "{SPEED_DEPENDENT}"'
)
FLAGS = {"squirt": "squirt", "pockets": "the pockets' state"}
KEYS = (*NUMBERS, "ball_friction", *FLAGS)


def read_coefficients(root: Section, cloth: Cloth) -> Coefficients:
    """The profile's coefficients with the file's own values applied; faults are noted."""
    section = root.section("coefficients", KEYS, "[coefficients]")
    if section is None:
        return cloth.coefficients
    numbers = {key: section.number(key, field) for key, field in NUMBERS.items()}
    flags = {key: section.flag(key, what) for key, what in FLAGS.items()}
    profile = cloth.coefficients

    def own(key: str) -> float:
        value = numbers[key]
        return getattr(profile, key) if value is None else value

    return replace(
        profile,
        sliding_friction=own("sliding_friction"),
        rolling_resistance=own("rolling_resistance"),
        spin_deceleration=own("spin_deceleration"),
        ball_restitution=own("ball_restitution"),
        ball_friction=_ball_friction(section, cloth),
        cushion_restitution=own("cushion_restitution"),
        cushion_friction=own("cushion_friction"),
        gravity=own("gravity"),
        squirt=profile.squirt if flags["squirt"] is None else flags["squirt"],
        pockets=profile.pockets if flags["pockets"] is None else flags["pockets"],
    )


def _ball_friction(section: Section, cloth: Cloth) -> float | SpeedDependentFriction:
    """A constant, or the profile's law of slip."""
    profile = cloth.coefficients.ball_friction
    if "ball_friction" not in section:
        return profile
    value, path = section["ball_friction"], section.at("ball_friction")
    if not isinstance(value, str):
        constant = number(value, path, BALL_FRICTION, section.faults)
        return profile if constant is None else constant
    if value != SPEED_DEPENDENT or not isinstance(profile, SpeedDependentFriction):
        known = isinstance(profile, SpeedDependentFriction)
        section.faults.add(
            path,
            "the ball friction is not known by that name"
            if known
            else f"the cloth {quoted([cloth.name])} has no speed-dependent ball friction",
            given=shown(value),
            allowed=BALL_FRICTION.allowed() if known else BALL_FRICTION.limits.words(),
            remedy=f'"{SPEED_DEPENDENT}"' if known else "a number such as 0.06",
        )
    return profile
