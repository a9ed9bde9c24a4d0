"""The one writer of pictures: a drawing and a theme into SVG text.

The user unit is the table's millimetre with ``y`` turned down, so a place in the picture is
``(x, −y)`` of the table. Every element carries its style itself: a layer can be taken out and
put back alone, and two drawings in one page do not colour each other.
"""

from __future__ import annotations

from math import cos, degrees, pi, sin
from xml.sax.saxutils import escape, quoteattr

from stunline.drawing.marks import (
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
from stunline.drawing.typeface import STACK, embedded_faces

DECIMALS = 2  # 0.01 mm of the table: under a hundredth of a pixel at any scale that fits a page
RATIO_DECIMALS = 4  # for lengths measured in parts of a ball
HATCH_FROM = 16.0  # diameter above which a ball is hatched; below it the lines clog [px]
HATCH_GAP = 3.6  # between hatch lines [px]
HATCH_WIDTH = 0.7  # [px]
HATCH_DOT = 0.65  # radius [px]
FEWEST_HATCH_LINES = 5


def svg(drawing: Drawing, theme: Theme, embed_font: bool = True) -> str:
    """The whole picture as one SVG document, readable on its own.

    With ``embed_font`` the two font files go in as data (58 kB), so that the lettering, which
    was measured with them, comes out right wherever the file is opened.
    """
    view = drawing.view
    frame = f"{_n(view.left)} {_n(-view.top)} {_n(view.width)} {_n(view.height)}"
    name = drawing.name
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{name}" viewBox="{frame}" '
        f'width="{_n(drawing.width)}" height="{_n(drawing.height)}" role="img" '
        f'aria-labelledby="{name}-title {name}-description" font-family="{STACK}">',
        f'<title id="{name}-title">{escape(drawing.title)}</title>',
        f'<desc id="{name}-description">{escape(drawing.description)}</desc>',
    ]
    if embed_font:
        parts.append(f"<style>{embedded_faces()}</style>")
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
    attributes, definitions = "", _hatches(drawing, marks, theme)
    window = drawing.windows.get(layer)
    if window is not None:
        attributes = f' clip-path="url(#{group}-window)"'
        definitions.append(f'<clipPath id="{group}-window">{_opening(window)}</clipPath>')
    lines = [f"<defs>{''.join(definitions)}</defs>"] if definitions else []
    for mark in marks:
        lines += _elements(drawing, mark, theme)
    return "\n".join([f'<g id="{group}"{attributes}>', *lines, "</g>"])


def _opening(window: Box | Disc) -> str:
    if isinstance(window, Disc):
        x, y = window.centre
        return f'<circle cx="{_n(x)}" cy="{_n(-y)}" r="{_n(window.radius)}"/>'
    return (
        f'<rect x="{_n(window.left)}" y="{_n(-window.top)}" '
        f'width="{_n(window.width)}" height="{_n(window.height)}"/>'
    )


def _elements(drawing: Drawing, mark: Mark, theme: Theme) -> list[str]:
    style, name = theme.styles[mark.role], f"{drawing.name}-{mark.id}"
    if isinstance(mark, Text):
        return [_text(drawing, mark, style, theme.ground(mark.role))]
    tag, shape = _shape(mark)
    own = f'<{tag} id={quoteattr(name)} class="{mark.role.value}" {shape}'
    elements = [f"{own} {_paint(style, drawing.scale)}/>"]
    if style.core:
        core = Style(stroke=theme.paper, width=style.core)
        elements.append(
            f"<{tag} id={quoteattr(name + '-core')} {shape} {_paint(core, drawing.scale)}/>"
        )
    if _is_hatched(mark, style, drawing.scale):
        hatch = f"<{tag} id={quoteattr(name + '-hatch')} {shape}"
        elements.append(f"{hatch} {_hatch_fill(drawing, mark)}/>")
    return elements


def _shape(mark: Mark) -> tuple[str, str]:
    """The element's name and its geometry."""
    if isinstance(mark, Line):
        return "path", f'd="M{_p(mark.start)}L{_p(mark.end)}"'
    if isinstance(mark, Polyline):
        return "path", f'd="M{"L".join(map(_p, mark.points))}"'
    if isinstance(mark, Polygon):
        return "path", f'd="M{"L".join(map(_p, mark.points))}Z"'
    if isinstance(mark, Curve):
        return "path", f'd="M{_p(mark.start)}Q{_p(mark.control)} {_p(mark.end)}"'
    if isinstance(mark, Circle):
        x, y = mark.centre
        return "circle", f'cx="{_n(x)}" cy="{_n(-y)}" r="{_n(mark.radius)}"'
    if isinstance(mark, Arc):
        return "path", f'd="{_arc_path(mark)}"'
    raise TypeError(f"no shape for {type(mark).__name__}")


def _arc_path(arc: Arc) -> str:
    turn = (arc.end_angle - arc.start_angle) % (2 * pi)
    start, end = (
        (arc.centre[0] + arc.radius * cos(angle), arc.centre[1] + arc.radius * sin(angle))
        for angle in (arc.start_angle, arc.end_angle)
    )
    radius, large = _n(arc.radius), int(turn > pi)
    # Anticlockwise on the table is sweep 0 in SVG, whose y points down.
    return f"M{_p(start)}A{radius} {radius} 0 {large} 0 {_p(end)}"


def _text(drawing: Drawing, mark: Text, style: Style, ground: str) -> str:
    scale = drawing.scale
    x, y = _n(mark.at[0]), _n(-mark.at[1])
    parts = [
        f'<text id={quoteattr(f"{drawing.name}-{mark.id}")} class="{mark.role.value}"',
        f'x="{x}" y="{y}" font-size="{_n(mark.size.value / scale)}" fill="{style.fill}"',
    ]
    if mark.bold:
        parts.append('font-weight="700"')
    if mark.anchor.value != "start":
        parts.append(f'text-anchor="{mark.anchor.value}"')
    if mark.angle:
        parts.append(f'transform="rotate({_n(-degrees(mark.angle))} {x} {y})"')
    if style.halo:
        parts.append(
            f'stroke="{ground}" stroke-width="{_n(style.halo / scale)}" '
            'stroke-linejoin="round" paint-order="stroke"'
        )
    return f"{' '.join(parts)}>{escape(mark.words)}</text>"


def _paint(style: Style, scale: float) -> str:
    parts = [f'fill="{style.fill or "none"}"']
    if style.stroke:
        parts.append(f'stroke="{style.stroke}" stroke-width="{_n(style.width / scale)}"')
    if style.dash:
        parts.append(f'stroke-dasharray="{" ".join(_n(part / scale) for part in style.dash)}"')
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
    return f"{_n(point[0])} {_n(-point[1])}"


def _n(value: float) -> str:
    return _rounded(value, DECIMALS)


def _r(value: float) -> str:
    return _rounded(value, RATIO_DECIMALS)


def _rounded(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".") if decimals else f"{value:.0f}"
    return "0" if text in ("-0", "") else text
