"""The one writer of pictures: a drawing and a theme into SVG text.

The user unit is the table's millimetre with ``y`` turned down, so a place in the picture is
``(x, −y)`` of the table. Every layer carries its style itself: it can be taken out and put back
alone, and two drawings in one page do not colour each other. Marks that follow one another in
the same manner stand in one group, which carries that manner for all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import groupby, pairwise
from math import cos, degrees, pi, sin
from xml.sax.saxutils import escape, quoteattr

from stunline.drawing.marks import (
    Anchor,
    Arc,
    Box,
    Circle,
    Curve,
    Disc,
    Drawing,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Polyline,
    Text,
)
from stunline.drawing.theme import Hatch, Style, Theme, Weave
from stunline.drawing.typeface import STACK, embedded_faces, runs, text_width

DECIMALS = 2  # 0.01 mm of the table: under a hundredth of a pixel at any scale that fits a page
SIZE_DECIMALS = 3  # of letters, widths and dashes: a full-size drawing has few millimetres of them
RATIO_DECIMALS = 4  # for lengths measured in parts of a ball, and for the frame
HATCH_FROM = 16.0  # diameter above which a ball is hatched; below it the lines clog [px]
HATCH_GAP = 3.6  # between hatch lines [px]
HATCH_WIDTH = 0.7  # [px]
HATCH_DOT = 0.65  # radius [px]
FEWEST_HATCH_LINES = 5
REMEMBERED_IDS = 4096  # quoted once; more only costs quoting them again


def svg(drawing: Drawing, theme: Theme, embed_font: bool = True) -> str:
    """The whole picture as one SVG document, readable on its own.

    With ``embed_font`` the fonts go in as data, as far as the words need them (20 kB for plain
    Latin in regular and bold), so that the lettering, which was measured with them, comes out
    right wherever the file is opened.
    """
    view = drawing.view
    # Finer than any mark: it is the whole drawing's scale that hangs on these.
    frame = f"{_r(view.left)} {_r(-view.top)} {_r(view.width)} {_r(view.height)}"
    name = drawing.name
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{name}" viewBox="{frame}" '
        f'width="{_r(drawing.width)}" height="{_r(drawing.height)}" role="img" '
        f'aria-labelledby="{name}-title {name}-description" font-family="{STACK}">',
        f'<title id="{name}-title">{escape(drawing.title)}</title>',
        f'<desc id="{name}-description">{escape(drawing.description)}</desc>',
    ]
    if embed_font:
        texts = ((mark.words, mark.bold) for mark in drawing.marks if isinstance(mark, Text))
        parts.append(f"<style>{embedded_faces(texts)}</style>")
    parts.append(
        f'<rect id="{name}-ground" x="{_n(view.left)}" y="{_n(-view.top)}" '
        f'width="{_n(view.width)}" height="{_n(view.height)}" fill="{theme.paper}"/>'
    )
    parts += [fragment(drawing, layer, theme) for layer in Layer if drawing.of_layer(layer)]
    return "\n".join([*parts, "</svg>"]) + "\n"


def fragment(drawing: Drawing, layer: Layer, theme: Theme) -> str:
    """One layer as a group that can replace the group of the same id."""
    marks = drawing.of_layer(layer)
    group = f"{drawing.name}-layer-{layer.value}"
    attributes, definitions = ' fill="none"', _hatches(drawing, marks, theme)
    window = drawing.windows.get(layer)
    if window is not None:
        attributes += f' clip-path="url(#{group}-window)"'
        definitions.append(f'<clipPath id="{group}-window">{_opening(window)}</clipPath>')
    lines = [f"<defs>{''.join(definitions)}</defs>"] if definitions else []
    for manner, alike in groupby(
        _words_last(marks), lambda mark: _manner(mark, theme, drawing.scale)
    ):
        lines += _in_one_manner(drawing, manner, list(alike), theme)
    return "\n".join([f'<g id="{group}"{attributes}>', *lines, "</g>"])


def _words_last(marks: Sequence[Mark]) -> list[Mark]:
    """Words stand above everything else of their layer; so they also stand together."""
    return sorted(marks, key=lambda mark: isinstance(mark, Text))


def _opening(window: Box | Disc) -> str:
    if isinstance(window, Disc):
        x, y = window.centre
        return f'<circle cx="{_n(x)}" cy="{_n(-y)}" r="{_n(window.radius)}"/>'
    return (
        f'<rect x="{_n(window.left)}" y="{_n(-window.top)}" '
        f'width="{_n(window.width)}" height="{_n(window.height)}"/>'
    )


def _in_one_manner(drawing: Drawing, manner: str, marks: list[Mark], theme: Theme) -> list[str]:
    """Marks in the same manner: one with its own attributes, several in a group."""
    if len(marks) == 1:
        return _elements(drawing, marks[0], theme, f" {manner}")
    inside = [line for mark in marks for line in _elements(drawing, mark, theme, "")]
    return [f"<g {manner}>", *inside, "</g>"]


def _manner(mark: Mark, theme: Theme, scale: float) -> str:
    """What a mark may share with its neighbours: the role, the ink, the letters."""
    style = theme.styles[mark.role]
    if isinstance(mark, Text):
        look = _letters(mark, style, theme.ground(mark.role), scale)
    else:
        look = _paint(style, scale)
    return f'class="{mark.role.value}" {look}'


def _elements(drawing: Drawing, mark: Mark, theme: Theme, manner: str) -> list[str]:
    style, name = theme.styles[mark.role], f"{drawing.name}-{mark.id}"
    if isinstance(mark, Text):
        return [_text(name, mark, drawing.scale, manner)]
    tag, shape = _shape(mark)
    title = mark.title if isinstance(mark, Polygon) else ""
    inside = f"><title>{escape(title)}</title></{tag}>" if title else "/>"
    elements = [f"<{tag} id={_quoted(name)}{manner} {shape}{inside}"]
    if style.core:
        core = Style(stroke=theme.paper, width=style.core)
        elements.append(
            f"<{tag} id={_quoted(name + '-core')} {shape} {_paint(core, drawing.scale)}/>"
        )
    if _is_hatched(mark, style, drawing.scale):
        hatch = f"<{tag} id={_quoted(name + '-hatch')} {shape}"
        elements.append(f'{hatch} {_hatch_fill(drawing, mark)} stroke="none"/>')
    return elements


@lru_cache(maxsize=REMEMBERED_IDS)
def _quoted(name: str) -> str:
    """An id as an attribute's value; the same few hundred come back with every picture."""
    return quoteattr(name)


def _shape(mark: Mark) -> tuple[str, str]:
    """The element's name and its geometry."""
    if isinstance(mark, Line):
        return "path", f'd="{_straight((mark.start, mark.end))}"'
    if isinstance(mark, Polyline):
        return "path", f'd="{_straight(mark.points)}"'
    if isinstance(mark, Polygon):
        return "path", f'd="{_straight(mark.points)}Z"'
    if isinstance(mark, Curve):
        return "path", f'd="M{_p(mark.start)}Q{_p(mark.control)} {_p(mark.end)}"'
    if isinstance(mark, Circle):
        x, y = mark.centre
        return "circle", f'cx="{_n(x)}" cy="{_n(-y)}" r="{_n(mark.radius)}"'
    if isinstance(mark, Arc):
        return "path", f'd="{_arc_path(mark)}"'
    raise TypeError(f"no shape for {type(mark).__name__}")


def _straight(points: Sequence[Point]) -> str:
    """Straight lines through points; level and upright ones say only what changes."""
    places = [(_n(x), _n(-y)) for x, y in points]
    parts = [f"M{_joined(*places[0])}"]
    for (before_x, before_y), (x, y) in pairwise(places):
        if y == before_y:
            parts.append(f"H{x}")
        elif x == before_x:
            parts.append(f"V{y}")
        else:
            parts.append(f"L{_joined(x, y)}")
    return "".join(parts)


def _arc_path(arc: Arc) -> str:
    turn = (arc.end_angle - arc.start_angle) % (2 * pi)
    start, end = (
        (arc.centre[0] + arc.radius * cos(angle), arc.centre[1] + arc.radius * sin(angle))
        for angle in (arc.start_angle, arc.end_angle)
    )
    radius, large = _n(arc.radius), int(turn > pi)
    # Anticlockwise on the table is sweep 0 in SVG, whose y points down.
    return f"M{_p(start)}A{radius} {radius} 0 {large} 0 {_p(end)}"


def _letters(mark: Text, style: Style, ground: str, scale: float) -> str:
    parts = [f'font-size="{_s(mark.size.value / scale)}" fill="{style.fill}"']
    if mark.bold:
        parts.append('font-weight="700"')
    if mark.anchor is not Anchor.START and len(runs(mark.words)) == 1:
        parts.append(f'text-anchor="{mark.anchor.value}"')
    if style.halo:
        parts.append(
            f'stroke="{ground}" stroke-width="{_s(style.halo / scale)}" '
            'stroke-linejoin="round" paint-order="stroke"'
        )
    return " ".join(parts)


def _text(name: str, mark: Text, scale: float, manner: str) -> str:
    x, y = _n(mark.at[0]), _n(-mark.at[1])
    pieces = runs(mark.words)
    parts = [f'<text id={_quoted(name)}{manner} x="{x}" y="{y}"']
    if len(pieces) == 1 and pieces[0][0] != STACK:
        parts.append(f'font-family="{pieces[0][0]}"')
    if mark.angle:
        parts.append(f'transform="rotate({_n(-degrees(mark.angle))} {x} {y})"')
    return f"{' '.join(parts)}>{_lettering(mark, pieces, scale)}</text>"


def _lettering(mark: Text, pieces: list[tuple[str, str]], scale: float) -> str:
    """The words; pieces set in different families each start at a place of their own.

    Without it a renderer that finds all letters in one of the families sets all in that one.
    """
    if len(pieces) == 1:
        return escape(mark.words)
    width = text_width(mark.words, mark.size.value, mark.bold) / scale
    x = mark.at[0] - width * {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[mark.anchor]
    spans = []
    for stack, words in pieces:
        family = "" if stack == STACK else f' font-family="{stack}"'
        spans.append(f'<tspan x="{_n(x)}"{family}>{escape(words)}</tspan>')
        x += text_width(words, mark.size.value, mark.bold) / scale
    return "".join(spans)


def _paint(style: Style, scale: float) -> str:
    """Ink and line; that a mark is not filled stands with its layer."""
    parts = [f'fill="{style.fill}"'] if style.fill else []
    if style.stroke:
        parts.append(f'stroke="{style.stroke}" stroke-width="{_s(style.width / scale)}"')
    if style.dash:
        parts.append(f'stroke-dasharray="{" ".join(_s(part / scale) for part in style.dash)}"')
    return " ".join(parts)


def _is_hatched(mark: Mark, style: Style, scale: float) -> bool:
    return (
        isinstance(mark, Circle)
        and style.hatch is not None
        and 2 * mark.radius * scale > HATCH_FROM
    )


def _hatch_fill(drawing: Drawing, mark: Mark) -> str:
    return f'fill="url(#{drawing.name}-{mark.layer.value}-hatch-{mark.role.value})"'


def _hatches(drawing: Drawing, marks: tuple[Mark, ...], theme: Theme) -> list[str]:
    """One pattern for each hatched role of the layer, in the order of first use."""
    patterns: dict[str, str] = {}
    for mark in marks:
        style = theme.styles[mark.role]
        if isinstance(mark, Circle) and style.hatch and _is_hatched(mark, style, drawing.scale):
            name = f"{drawing.name}-{mark.layer.value}-hatch-{mark.role.value}"
            diameter = 2 * mark.radius * drawing.scale
            patterns.setdefault(name, _pattern(name, style.hatch, diameter))
    return list(patterns.values())


def _pattern(name: str, hatch: Hatch, diameter: float) -> str:
    """A tile in parts of the ball's diameter, so that the hatching sits centred in each ball."""
    count = max(FEWEST_HATCH_LINES, round(diameter / HATCH_GAP)) | 1
    gap, width = 1 / count, HATCH_WIDTH / diameter
    turn = {Weave.FALLING: -45, Weave.CROSSED: 45, Weave.LEVEL: 90}.get(hatch.weave, 0)
    tall = 2 * gap if hatch.weave is Weave.BROKEN else gap
    return (
        f'<pattern id="{name}" width="{_r(gap)}" height="{_r(tall)}" '
        f'patternContentUnits="objectBoundingBox" patternTransform="rotate({turn} .5 .5)" '
        f'data-weave="{hatch.weave.value}">'
        f"{_tile(hatch, gap, width, HATCH_DOT / diameter)}</pattern>"
    )


def _tile(hatch: Hatch, gap: float, width: float, dot: float) -> str:
    middle = _r(gap / 2)
    if hatch.weave is Weave.DOTTED:
        return f'<circle cx="{middle}" cy="{middle}" r="{_r(dot)}" fill="{hatch.ink}"/>'
    stroke = f'stroke="{hatch.ink}" stroke-width="{_r(width)}"'
    tile = f'<path d="M{middle} 0V{_r(gap)}" {stroke}/>'
    if hatch.weave is Weave.CROSSED:
        tile += f'<path d="M0 {middle}H{_r(gap)}" {stroke}/>'
    return tile


def _p(point: Point) -> str:
    return _joined(_n(point[0]), _n(-point[1]))


def _joined(x: str, y: str) -> str:
    """Two numbers of a path: a minus parts them as well as a space does."""
    return f"{x}{y}" if y.startswith("-") else f"{x} {y}"


def _n(value: float) -> str:
    return _rounded(value, DECIMALS)


def _s(value: float) -> str:
    return _rounded(value, SIZE_DECIMALS)


def _r(value: float) -> str:
    return _rounded(value, RATIO_DECIMALS)


def _rounded(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".") if decimals else f"{value:.0f}"
    return "0" if text in ("-0", "") else text
