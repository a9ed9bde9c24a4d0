"""What helps to read a plan: a key of the whole table, the kinds of line, the scale bar."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf, pi

from stunline.drawing.marks import (
    Anchor,
    Box,
    Circle,
    Layer,
    Line,
    Mark,
    Point,
    Polygon,
    Role,
    Size,
    Text,
)
from stunline.drawing.page import Page
from stunline.drawing.theme import HATCHES
from stunline.drawing.typeface import CAPITAL_HEIGHT, text_width
from stunline.units import MILLIMETRES_PER_INCH

TOP = 14.0  # between the window and what stands below it [px]
SAMPLE = 36.0  # length of a line's sample in the legend [px]
TICK_SAMPLE = 8.0  # length of the tick's [px]
END_RADIUS = 1.5  # of the dot where a play ended [px]
DOTS_OF_SAMPLE = (0.25, 0.5, 0.75)  # along a sample
SAMPLE_GAP = 8.0  # between a sample and its words [px]
SCALE_BAR_TICK = 4.0  # half a tick [px]
ROUND_LENGTHS = (10, 20, 50, 100, 200, 250, 500, 1000, 2000)  # of a scale bar [mm]
ROUND_INCHES = (1, 2, 5, 10, 20, 50)
SCALE_BAR_PARTS = 5

LEGEND_WORDS = {
    Role.SLIDING: "{white}, sliding",
    Role.ROLLING: "{white}, rolling",
    Role.LATER: "{white}, later on",
    Role.OBJECT_WAY: "object ball",
    Role.TANGENT: "tangent line",
    Role.AIM: "line of aim",
    Role.END: "{white} at its end",
    Role.END_MISSED: "its end, goal missed",
    Role.HALF: "half of the ends",
    Role.GOAL: "goal",
    Role.WITHOUT: "without a cause",
    Role.DOUBT: "{doubt}",
    Role.DOUBT_EDGE: "{white} ends within",
    Role.MEANT: "as it was meant",
    Role.SEEN: "seen",
    Role.OTHER_STROKE: "another stroke",
    Role.TICK: "every",  # and the interval
    Role.HATCH_FOLLOW: "follow",
    Role.HATCH_STUN: "stun",
    Role.HATCH_SCREW: "screw",
    Role.HATCH_SIDE: "with side",
    Role.OUTER_EDGE: "passes over up to here",
}
SWATCH = 5.0  # half the height of a hatched sample [px]
SWATCH_GAP = 6.0  # between its lines, along its edge [px]


def legend_words(role: Role, tick: float, white: str, doubt: str = "") -> str:
    """What the legend says of that kind of line.

    Args:
        tick: time between ticks [s]
        white: what the game calls the ball that is struck
        doubt: whose doubt is drawn
    """
    if role is Role.TICK:
        return f"every {tick:g} s"
    return LEGEND_WORDS[role].format(white=white, doubt=doubt)


def legend_entry(page: Page, role: Role, told: str, across: float, down: float) -> Iterator[Mark]:
    """A sample of that kind of line with its words; the middle of its left end in pixels."""
    name = f"legend-{role.value}"
    if role is Role.TICK:
        middle, half = across + SAMPLE / 2, TICK_SAMPLE / 2
        yield sheet_line(page, name, role, (middle, down - half), (middle, down + half))
    elif role in (Role.END, Role.END_MISSED):
        for part in DOTS_OF_SAMPLE:
            at = page.below(across + part * SAMPLE, down)
            yield Circle(f"{name}-{part:g}", Layer.TITLE, role, at, page.mm(END_RADIUS))
    elif role is Role.DOUBT:
        corners = ((0.0, -SWATCH), (SAMPLE, -SWATCH), (SAMPLE, SWATCH), (0.0, SWATCH))
        field = tuple(page.below(across + x, down + y) for x, y in corners)
        yield Polygon(name, Layer.TITLE, role, field)
    elif role in HATCHES:
        yield from _swatch(page, name, role, across, down)
    else:
        yield sheet_line(page, name, role, (across, down), (across + SAMPLE, down))
    words = (across + SAMPLE + SAMPLE_GAP, down)
    yield sheet_text(page, f"{name}-words", Role.SHEET_NOTE, words, told)


def _swatch(page: Page, name: str, role: Role, across: float, down: float) -> Iterator[Mark]:
    """A small field of that hatching; the middle of its left end in pixels."""
    lean = {Role.HATCH_FOLLOW: -1.0, Role.HATCH_SCREW: 1.0}.get(role, 0.0) * 2.0 * SWATCH
    if role is Role.HATCH_STUN:
        for number, up in enumerate((-SWATCH, 0.0, SWATCH)):
            ends = (across, down + up), (across + SAMPLE, down + up)
            yield sheet_line(page, f"{name}-{number}", role, *ends)
        return
    left, right = across + max(-lean, 0.0), across + SAMPLE - max(lean, 0.0)
    count = int((right - left) / SWATCH_GAP)
    for number in range(count + 1):
        top = left + number * SWATCH_GAP
        ends = (top, down - SWATCH), (top + lean, down + SWATCH)
        yield sheet_line(page, f"{name}-{number}", role, *ends)


def entry_width(told: str) -> float:
    """Of a kind of line with its words. [px]"""
    return SAMPLE + SAMPLE_GAP + text_width(told, Size.SMALL.value)


KEY_CAPTION = "whole table"
KEY_CAPTION_GAP = 9.0  # from the key to the middle of its caption's letters [px]


def key(page: Page, table: Box, height: float, gap: float = 0.0) -> Iterator[Mark]:
    """The whole table, small, with the window marked on it.

    Args:
        height: of the table [px]
        gap: free to its right, where its caption stands if there is room [px]
    """
    shrink = height / table.height

    def small(point: Point) -> Point:
        across = min(max(point[0], table.left), table.right) - table.left
        up = min(max(point[1], table.bottom), table.top) - table.bottom
        return page.below(across * shrink, TOP + height - up * shrink)

    yield Polygon(
        "key-table", Layer.KEY, Role.KEY_TABLE, tuple(small(point) for point in table.corners)
    )
    crop = tuple(small(point) for point in page.window.corners)
    yield Polygon("key-crop", Layer.KEY, Role.KEY_CROP, crop, window_words(page, table))
    yield from _key_caption(page, table.width * shrink, height, gap)


def window_words(page: Page, table: Box) -> str:
    """Which part of the table the plan shows."""
    window = page.window
    left, right = (min(max(one, table.left), table.right) for one in (window.left, window.right))
    bottom, top = (min(max(one, table.bottom), table.top) for one in (window.bottom, window.top))
    if (left, bottom, right, top) == (table.left, table.bottom, table.right, table.top):
        return "The plan shows the whole table"
    across = f"{page.figure(left)} to {page.figure(right)} {page.unit} from its left edge"
    up = f"{page.figure(bottom)} to {page.figure(top)} {page.unit} up from the near one"
    return f"The part of the table that the plan shows: {across}, {up}"


def _key_caption(page: Page, width: float, height: float, gap: float) -> Iterator[Mark]:
    """Up along the key's right side."""
    size = page.at_least(Size.SMALL)
    if gap < 2 * KEY_CAPTION_GAP or text_width(KEY_CAPTION, size.value) > height:
        return
    base = width + KEY_CAPTION_GAP + size.value * CAPITAL_HEIGHT / 2
    at = page.below(base, TOP + height / 2)
    how = (KEY_CAPTION, size, Anchor.MIDDLE, False, pi / 2)
    yield Text("key-caption", Layer.TITLE, Role.SHEET_NOTE, at, *how)


def scale_bar_length(page: Page, longest: float, room: float = inf) -> int:
    """The largest round length whose bar is no longer than that, and has room for its words.

    Args:
        longest: of the bar [px]
        room: for the bar with its words [px]

    Returns:
        The length in the page's unit.
    """
    lengths = ROUND_INCHES if page.in_inches else ROUND_LENGTHS
    fitting = [
        length
        for length in lengths
        if length * _unit(page) <= longest and scale_bar_width(page, length) <= room
    ]
    return fitting[-1] if fitting else lengths[0]


def scale_bar_width(page: Page, length: int) -> float:
    """Of the bar with its words. [px; length in the page's unit]"""
    words = text_width(f"{length} {page.unit}", Size.SMALL.value)
    return length * _unit(page) + SAMPLE_GAP + words


def _unit(page: Page) -> float:
    """[px]"""
    return page.scale * (MILLIMETRES_PER_INCH if page.in_inches else 1.0)


def scale_bar(page: Page, length: int, left: float, down: float) -> Iterator[Mark]:
    """A bar of that length with its words; its left end in pixels below the window."""
    right = left + length * _unit(page)
    part = (right - left) / SCALE_BAR_PARTS
    yield sheet_line(page, "scale-bar", Role.SCALE_BAR, (left, down), (right, down))
    for number in range(SCALE_BAR_PARTS + 1):
        across = left + number * part
        half = SCALE_BAR_TICK if number in (0, SCALE_BAR_PARTS) else SCALE_BAR_TICK / 2
        ends = (across, down - half), (across, down + half)
        yield sheet_line(page, f"scale-bar-{number}", Role.SCALE_BAR, *ends)
    at = (right + SAMPLE_GAP, down)
    yield sheet_text(page, "scale-bar-words", Role.SHEET_TEXT, at, f"{length} {page.unit}")


def sheet_line(page: Page, name: str, role: Role, start: Point, end: Point) -> Line:
    """A line between places in pixels from the window's bottom left corner, down from it."""
    return Line(name, Layer.TITLE, role, page.below(*start), page.below(*end))


def sheet_text(
    page: Page,
    name: str,
    role: Role,
    middle: Point,
    words: str,
    size: Size = Size.SMALL,
    anchor: Anchor = Anchor.START,
    bold: bool = False,
) -> Text:
    """Words whose capitals are centred on that height, in pixels below the window."""
    at = page.below(middle[0], middle[1] + size.value * CAPITAL_HEIGHT / 2)
    return Text(name, Layer.TITLE, role, at, words, size, anchor, bold)
