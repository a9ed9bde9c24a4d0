"""What opening a pack came to, as lines of text."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from stunline.shot.drawn_tables import doubt_of_position
from stunline.shot.pack_study import OpenedPacks, Share, Spread
from stunline.shot.position_file import PositionFile
from stunline.shot.words import UNMEASURED, ball_words, with_article
from stunline.tasks.lines import columns, fine_length_words, heading, length_words, wrapped
from stunline.tasks.open_pack import PacePlays, PackResult

_MM = 1000.0
# A point of contact with fewer plays than this is told with the others. [-]
_LEAST_SHARE = 0.02
_TABLE = (
    "All plays are on the table as it is thought to be. On another the white may meet another ball "
    "first, or miss the pack: stunline ladder says on how many of those it may be."
)
_HEAD = ("", "plays", "freed", "on next", "stuck", "in-off")


def pack_lines(result: PackResult) -> Iterator[str]:
    """What ``stunline pack`` prints."""
    yield from heading(result.file)
    yield ""
    yield from wrapped(_racks_words(result))
    for one in result.paces:
        yield ""
        yield from _pace_lines(result, one)
    yield ""
    yield from wrapped(
        "Freed: moved more than two ball widths and touching no other ball. On next: a clear way, "
        "as wide as a ball, to a pocket and from the white to the contact, cut less than 60°. "
        "Stuck: the white on the table and none on. Only balls of the pack count; what is potted "
        "stays off the table, a colour too. Numbers are means, then the middle half of the plays; "
        "a share is followed by its 95 % interval."
    )
    if doubt_of_position(result.file.position).names:
        yield ""
        yield from wrapped(_TABLE)


def _racks_words(result: PackResult) -> str:
    file = result.file
    if result.gaps == 0.0:
        return "The pack exactly touching, the same in every play."
    gaps = fine_length_words(file, _MM * result.gaps, 1)
    return (
        f"The pack racked anew for every play, with random gaps of up to {gaps} between "
        f"neighbours ({UNMEASURED}), seed {result.seed}. The strike is the same every time; a "
        "player's own differs as well."
    )


def _pace_lines(result: PackResult, one: PacePlays) -> Iterator[str]:
    if one.strike is None:
        yield from wrapped(f"{_asked(one)}: not played, {one.reason}.")
        return
    pace = f"At {one.strike.pace:.2f} m/s, {result.lengths(one.strike.pace):.1f} lengths"
    if one.packs is None:
        yield f"{pace}: not played yet."
        return
    yield f"{pace}, {one.packs.plays:,} plays:"
    yield ""
    yield from columns([_HEAD, *pack_rows(one.packs)])
    yield ""
    yield from wrapped(rest_words(result.file, one.packs), "  ", "  ")


def _asked(one: PacePlays) -> str:
    return f"At {one.pace:g} m/s" if isinstance(one.pace, float | int) else "At that pace"


def pack_rows(packs: OpenedPacks) -> Iterator[tuple[str, ...]]:
    """All plays, then those of each ball of the pack that the white met first."""
    points = packs.by_point()
    if len(points) == 1 and "" not in points:
        (ball,) = points
        yield _row(f"all, every time by {ball_words(ball)}", packs)
        return
    yield _row("all", packs)
    few = 0
    for ball, part in points.items():
        if part.plays < _LEAST_SHARE * packs.plays:
            few += part.plays
            continue
        yield _row(f"by {ball_words(ball)}" if ball else "meets none of it", part)
    if few:
        yield "by another", f"{few:,}", "", "", "", ""


def _row(name: str, packs: OpenedPacks) -> tuple[str, ...]:
    return (
        name,
        f"{packs.plays:,}",
        spread_words(packs.freed_spread),
        spread_words(packs.on_spread),
        share_words(packs.stuck),
        share_words(packs.in_off),
    )


def spread_words(spread: Spread) -> str:
    """ "4.1, 3 to 5"; "0.8, mostly 1" where half of the plays, the middle ones, are alike."""
    low, _, high = spread.quartiles
    if low == high:
        return f"{spread.mean:.1f}, mostly {low:.0f}"
    return f"{spread.mean:.1f}, {low:.0f} to {high:.0f}"


def share_words(share: Share) -> str:
    """ "12 %, 10 to 14"."""
    low, high = share.interval
    percent = 100.0 * share.count / share.plays
    if share.count == 0:
        return f"none, 0 to {100.0 * high:.1f}"
    digits = 0 if percent >= 10.0 else 1
    return f"{percent:.{digits}f} %, {100.0 * low:.{digits}f} to {100.0 * high:.{digits}f}"


def rest_words(file: PositionFile, packs: OpenedPacks) -> str:
    """Where the white ends: the middle of its places, and how near half of them are to it."""
    white = with_article(packs.position.names[0])
    places = packs.rests[~np.isnan(packs.rests[:, 0])]
    if not len(places):
        return f"{white[0].upper()}{white[1:]} never stays on the table."
    x, y = np.median(places, axis=0)
    near = float(np.median(np.hypot(places[:, 0] - x, places[:, 1] - y)))
    table = packs.position.table
    bottom, right, top, left = table.words.cushions
    across = min((left, x), (right, table.width - x), key=lambda one: one[1])
    up = min((bottom, y), (top, table.length - y), key=lambda one: one[1])
    return (
        f"{white[0].upper()}{white[1:]} ends about {length_words(file, _MM * across[1])} from the "
        f"{across[0]} and {length_words(file, _MM * up[1])} from the {up[0]} cushion, half of the "
        f"time within {length_words(file, _MM * math.ceil(near * 100) / 100)} of there."
    )
