"""Roles into ink: stroke, fill, dash and width, for three grounds.

Widths and dashes are the same in every theme; only inks change. So whatever tells two kinds
of line apart does so in greys as well, and for people who see no difference of hue.
Widths, dashes and hatch gaps are in pixels of 1/96 inch.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from stunline.drawing.marks import Role


class Weave(Enum):
    """How a ball's tint is hatched. See docs/drawing.md for why."""

    UPRIGHT = "upright"
    LEVEL = "level"
    FALLING = "falling"
    CROSSED = "crossed"
    DOTTED = "dotted"
    BROKEN = "broken"


@dataclass(frozen=True, slots=True)
class Hatch:
    """A ball's hatching: the weave and its ink."""

    weave: Weave
    ink: str


@dataclass(frozen=True, slots=True)
class Style:
    """How marks of one role are drawn.

    Attributes:
        stroke: ink of the line, or "" for none
        fill: ink of the area or the letters, or "" for none
        width: of the line [px]
        dash: strokes and gaps in turn [px]; empty for an unbroken line
        core: width of the stripe of ground inside the line, which leaves twin hairlines [px]
        hatch: over the fill, where the mark is large enough
        halo: width of the ground kept free round letters [px]
    """

    stroke: str = ""
    fill: str = ""
    width: float = 0.0
    dash: tuple[float, ...] = ()
    core: float = 0.0
    hatch: Hatch | None = None
    halo: float = 0.0


@dataclass(frozen=True, slots=True)
class Inks:
    """The few inks of a theme. ``accent`` is for the tangent line and nothing else."""

    paper: str
    ink: str
    soft: str
    faint: str
    accent: str
    white_ball: str
    white_letter: str
    black_ball: str
    black_letter: str
    band: str
    face: str
    tip: str
    tints: Mapping[Role, tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Theme:
    """A named set of inks and the style of every role."""

    name: str
    inks: Inks
    styles: Mapping[Role, Style]

    @property
    def paper(self) -> str:
        """Ink of the ground."""
        return self.inks.paper

    def ground(self, role: Role) -> str:
        """The ink that letters of this role stand on."""
        below = _LETTERS_ON.get(role)
        return self.styles[below].fill if below else self.paper


# Letters that do not stand on the bare paper.
_LETTERS_ON = {
    Role.BALL_LETTER: Role.PLATE,
    Role.BALL_LETTER_WHITE: Role.BALL_WHITE,
    Role.BALL_LETTER_BLACK: Role.BALL_BLACK,
    Role.BAND_TEXT: Role.BAND_SHADED,
}

LETTER_ROLES = (
    Role.BALL_LETTER,
    Role.BALL_LETTER_WHITE,
    Role.BALL_LETTER_BLACK,
    Role.LABEL,
    Role.NOTE,
    Role.TANGENT_NOTE,
    Role.TITLE,
    Role.SHEET_TEXT,
    Role.SHEET_NOTE,
    Role.BAND_TEXT,
)

# Lines that fill a region; which one it is, their direction tells, and a region's edge is known by
# what it bounds. See ``drawing/regions.py``.
HATCHES = (Role.HATCH_FOLLOW, Role.HATCH_STUN, Role.HATCH_SCREW, Role.HATCH_SIDE)

# Kinds of line that a reader must tell apart by dash or width alone.
LINE_KINDS = (
    Role.AIM,
    Role.TANGENT,
    Role.SLIDING,
    Role.ROLLING,
    Role.LATER,
    Role.OBJECT_WAY,
    Role.DIMENSION,
    Role.NOSE,
    Role.CENTRES,
    Role.LEAVES,
    Role.GHOST,
    Role.MEETING,
    Role.REST,
    Role.HALF,
    Role.GOAL,
    Role.WITHOUT,
    Role.MEANT,
    Role.SEEN,
    Role.OTHER_STROKE,
    Role.SCATTER,
    Role.OUTER_EDGE,
    Role.FACE_GRID,
    Role.FACE_CENTRE,
    Role.MISCUE,
    Role.SAFE,
    Role.TIP,
    Role.OUTLINE,
    Role.CUT,
    Role.OVERLAP,
)

# After the engravers' way of showing colours without ink (upright for red, level for blue,
# falling for green, dots for gold); pink and brown are our own. Black is a solid dark.
WEAVES = {
    Role.BALL_RED: Weave.UPRIGHT,
    Role.BALL_BLUE: Weave.LEVEL,
    Role.BALL_GREEN: Weave.FALLING,
    Role.BALL_YELLOW: Weave.DOTTED,
    Role.BALL_PINK: Weave.BROKEN,
    Role.BALL_BROWN: Weave.CROSSED,
}


def _line_styles(inks: Inks) -> dict[Role, Style]:
    ink, soft, faint = inks.ink, inks.soft, inks.faint
    return {
        Role.NOSE: Style(stroke=ink, width=1.5),
        Role.CUSHION_BACK: Style(stroke=soft, width=0.6),
        Role.MARKING: Style(stroke=faint, width=0.8),
        Role.SPOT: Style(stroke=soft, width=0.8),
        Role.DROP: Style(stroke=soft, width=0.7),
        Role.AIM: Style(stroke=soft, width=0.7, dash=(14.0, 5.0)),
        Role.TANGENT: Style(stroke=inks.accent, width=1.2, dash=(12.0, 3.0, 2.0, 3.0)),
        Role.SLIDING: Style(stroke=ink, width=3.6, core=2.0),
        Role.ROLLING: Style(stroke=ink, width=2.0),
        Role.LATER: Style(stroke=soft, width=0.86),
        Role.OBJECT_WAY: Style(stroke=ink, width=1.1, dash=(5.0, 4.0)),
        Role.TICK: Style(stroke=ink, width=1.0),
        Role.GHOST: Style(stroke=ink, width=1.2, dash=(3.0, 2.4)),
        Role.GHOST_CROSS: Style(stroke=ink, width=0.9),
        Role.CENTRES: Style(stroke=soft, width=0.9, dash=(1.5, 4.5)),
        Role.LEAVES: Style(stroke=ink, width=2.6),
        Role.LEAVES_HEAD: Style(fill=ink),
        Role.INSET_GROUND: Style(fill=inks.paper),
        Role.INSET_RING: Style(stroke=ink, width=0.8),
        Role.MEETING: Style(stroke=soft, width=1.0, dash=(1.4, 2.2)),
        Role.REST: Style(stroke=ink, width=1.0, dash=(6.0, 2.6)),
        Role.END: Style(fill=ink),
        Role.END_MISSED: Style(stroke=soft, width=0.7),
        Role.GOAL: Style(stroke=ink, width=1.0, dash=(7.0, 2.0, 1.5, 2.0, 1.5, 2.0)),
        Role.HALF: Style(stroke=soft, width=1.0, dash=(2.0, 2.0)),
        Role.DOUBT: Style(fill=inks.band),
        Role.DOUBT_EDGE: Style(stroke=soft, width=0.6),
        Role.WITHOUT: Style(stroke=ink, width=1.7, dash=(2.2, 3.4)),
        Role.MEANT: Style(stroke=soft, width=1.0, dash=(10.0, 2.0, 4.0, 2.0)),
        Role.SEEN: Style(stroke=ink, width=3.5),
        Role.OTHER_STROKE: Style(stroke=ink, width=1.5, dash=(3.0, 5.0)),
        Role.MAP_GROUND: Style(fill=inks.band),
        Role.MAP_MET: Style(fill=inks.face),
        Role.MAP_HATCH: Style(stroke=soft, width=0.6),
        Role.MAP_DOT: Style(fill=soft),
        Role.MAP_EDGE: Style(stroke=ink, width=1.0),
        Role.SCATTER: Style(stroke=ink, width=1.6, dash=(7.0, 1.8)),
        **{role: Style(stroke=soft, width=0.5) for role in HATCHES},
        Role.REGION_EDGE: Style(stroke=soft, width=1.1),
        Role.OUTER_EDGE: Style(stroke=soft, width=1.0, dash=(4.0, 2.0, 1.0, 2.0)),
        Role.FACE: Style(stroke=ink, width=1.6, fill=inks.face),
        Role.FACE_GRID: Style(stroke=faint, width=0.38),
        Role.FACE_CENTRE: Style(stroke=soft, width=0.66),
        Role.MISCUE: Style(stroke=ink, width=1.2, dash=(4.0, 3.0)),
        Role.SAFE: Style(stroke=soft, width=0.8, dash=(1.0, 2.6)),
        Role.TIP: Style(stroke=soft, width=0.7, dash=(2.6, 1.3), fill=inks.tip),
        Role.CUE_AXIS: Style(fill=ink),
        Role.STRIKE_POINT: Style(stroke=ink, width=1.8),
        Role.LEADER: Style(stroke=soft, width=0.6),
        Role.DIMENSION: Style(stroke=soft, width=0.5),
        Role.FRAME: Style(stroke=ink, width=1.0),
        Role.RULE: Style(stroke=soft, width=0.6),
        Role.SCALE_BAR: Style(stroke=ink, width=0.9),
        Role.SCALE_FILL: Style(fill=ink),
        Role.KEY_TABLE: Style(stroke=soft, width=0.8),
        Role.KEY_CROP: Style(stroke=ink, width=1.6),
        Role.OUTLINE: Style(stroke=ink, width=1.12),
        Role.CUT: Style(stroke=soft, width=0.8, dash=(1.0, 4.0)),
        Role.OVERLAP: Style(stroke=faint, width=0.28),
        Role.BAND_PLAIN: Style(stroke=ink, width=0.8, fill=inks.paper),
        Role.BAND_SHADED: Style(stroke=ink, width=0.8, fill=inks.band),
        Role.RULER: Style(stroke=ink, width=0.8),
        Role.RUNG_MARK: Style(stroke=ink, width=1.2, fill=inks.paper),
        Role.CHANGE: Style(stroke=ink, width=0.8),
    }


def _ball_styles(inks: Inks) -> dict[Role, Style]:
    outline = 1.1
    styles = {
        Role.BALL_WHITE: Style(stroke=inks.ink, width=1.6, fill=inks.white_ball),
        Role.BALL_BLACK: Style(stroke=inks.ink, width=outline, fill=inks.black_ball),
        Role.BALL_OTHER: Style(stroke=inks.ink, width=outline, fill=inks.band),
        Role.PLATE: Style(fill=inks.paper),
    }
    for role, (tint, hatch) in inks.tints.items():
        styles[role] = Style(
            stroke=inks.ink, width=outline, fill=tint, hatch=Hatch(WEAVES[role], hatch)
        )
    return styles


def _letter_styles(inks: Inks) -> dict[Role, Style]:
    return {
        Role.BALL_LETTER: Style(fill=inks.ink),
        Role.BALL_LETTER_WHITE: Style(fill=inks.white_letter),
        Role.BALL_LETTER_BLACK: Style(fill=inks.black_letter),
        Role.LABEL: Style(fill=inks.ink, halo=4.0),
        Role.NOTE: Style(fill=inks.soft, halo=4.0),
        Role.TANGENT_NOTE: Style(fill=inks.accent, halo=4.0),
        Role.TITLE: Style(fill=inks.ink),
        Role.SHEET_TEXT: Style(fill=inks.ink),
        Role.SHEET_NOTE: Style(fill=inks.soft),
        Role.BAND_TEXT: Style(fill=inks.ink),
    }


def _theme(name: str, inks: Inks) -> Theme:
    return Theme(name, inks, {**_line_styles(inks), **_ball_styles(inks), **_letter_styles(inks)})


SCREEN_LIGHT = _theme(
    "light",
    Inks(
        paper="#F7F4EC",
        ink="#1D2730",
        soft="#5D646A",
        faint="#8F938F",
        accent="#B23A1E",
        white_ball="#FFFFFF",
        white_letter="#1D2730",
        black_ball="#3A4048",
        black_letter="#FFFFFF",
        band="#E6DECB",
        face="#FFFFFF",
        tip="#E9E6DE",
        tints={
            Role.BALL_RED: ("#F3DDD5", "#B07F74"),
            Role.BALL_YELLOW: ("#F7EEC9", "#9A8436"),
            Role.BALL_GREEN: ("#DAE7D8", "#6F9474"),
            Role.BALL_BROWN: ("#E8DAC8", "#9C7F5F"),
            Role.BALL_BLUE: ("#D9E3EC", "#6E8CA8"),
            Role.BALL_PINK: ("#F9E6E8", "#BB8995"),
        },
    ),
)

SCREEN_DARK = _theme(
    "dark",
    Inks(
        paper="#14202B",
        ink="#E8E4D8",
        soft="#A7ACAB",
        faint="#6C7880",
        accent="#FF9A73",
        white_ball="#F4F1E8",
        white_letter="#14202B",
        black_ball="#05090D",
        black_letter="#F4F1E8",
        band="#24323F",
        face="#1B2936",
        tip="#324352",
        tints={
            Role.BALL_RED: ("#43302F", "#A8796F"),
            Role.BALL_YELLOW: ("#403C25", "#B7A45C"),
            Role.BALL_GREEN: ("#263B30", "#7FA487"),
            Role.BALL_BROWN: ("#3B3025", "#A88B6B"),
            Role.BALL_BLUE: ("#233648", "#7D9CBA"),
            Role.BALL_PINK: ("#4A3A40", "#C899A4"),
        },
    ),
)

PAPER = _theme(
    "paper",
    Inks(
        paper="#FFFFFF",
        ink="#111111",
        soft="#555555",
        faint="#909090",
        accent="#111111",
        white_ball="#FFFFFF",
        white_letter="#111111",
        black_ball="#333333",
        black_letter="#FFFFFF",
        band="#E6E6E6",
        face="#FFFFFF",
        tip="#EAEAEA",
        tints={
            Role.BALL_RED: ("#F0F0F0", "#8A8A8A"),
            Role.BALL_YELLOW: ("#FAFAFA", "#777777"),
            Role.BALL_GREEN: ("#EAEAEA", "#7C7C7C"),
            Role.BALL_BROWN: ("#E2E2E2", "#7A7A7A"),
            Role.BALL_BLUE: ("#EAEAEA", "#808080"),
            Role.BALL_PINK: ("#F6F6F6", "#8E8E8E"),
        },
    ),
)

THEMES = {theme.name: theme for theme in (SCREEN_LIGHT, SCREEN_DARK, PAPER)}
