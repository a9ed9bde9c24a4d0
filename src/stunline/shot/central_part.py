"""The middle part of a cloud of ways or of places: what holds, say, 90 % of them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# Spread below this is taken for this, so that ways that all but coincide are not told apart by
# rounding. [m]
_HARDLY = 2e-4
_MOST_STATIONS, _STATION_EVERY = 24, 0.05  # along a leg [-], [m]
# Ways with a story that fewer than this share of the tables tell lie outside before all others.
RARE = 0.05
_DIRECTIONS = np.arange(32) * (2.0 * np.pi / 32)
_AROUND = np.stack([np.cos(_DIRECTIONS), np.sin(_DIRECTIONS)], axis=1)
_SMALLEST_AREA = 1e-9  # of what is drawn [m²]


def unusualness(points: Floats) -> Floats:
    """(N,) how far each of N places, or of N ways of as many places, lies off the middle.

    The largest over the places of the way of the distance from their median, in standard
    deviations (Mahalanobis's distance).

    Args:
        points: (N, S, 2) [m]
    """
    off = points - np.median(points, axis=0)
    spread = np.einsum("nsi,nsj->sij", off, off) / len(points) + _HARDLY**2 * np.eye(2)
    scaled = off.transpose(1, 0, 2) @ np.linalg.inv(spread)
    squares = (scaled * off.transpose(1, 0, 2)).sum(axis=2)
    found: Floats = np.sqrt(squares.max(axis=0))
    return found


def central_hull(places: Floats, share: float) -> Floats:
    """The smallest convex polygon round the most usual share of places (N, 2).

    Anticlockwise; as few corners as 1 or 2 where they coincide or lie on a line. [m]
    """
    order = np.argsort(unusualness(places[:, None, :]), kind="stable")
    return hull(places[order[: kept(len(places), share)]])


def kept(count: int, share: float) -> int:
    """How many of them that share is, rounded up."""
    return min(count, int(np.ceil(share * count - 1e-9)))


def ribbon(
    legs: Sequence[Sequence[Floats]], stories: Sequence[Sequence[tuple[int, int]]], share: float
) -> tuple[Floats, ...]:
    """Convex pieces that together hold the most usual share of N ways whole.

    Ways that have met the same until then are compared place by place along each leg; where
    their stories part, the ribbon forks.

    Args:
        legs: of each way, polylines (m, 2) [m]
        stories: what ended each leg
    """
    groups: dict[tuple[tuple[int, int], ...], list[int]] = {}
    for way, story in enumerate(stories):
        for leg in range(len(story)):
            groups.setdefault(tuple(story[:leg]), []).append(way)
    stations = {
        story: stations_along([legs[way][len(story)] for way in ways])
        for story, ways in groups.items()
    }
    off = np.zeros(len(legs))
    for story, ways in groups.items():
        if len(ways) < RARE * len(legs):
            off[ways] = np.maximum(off[ways], 1e6 / len(ways))
        else:
            off[ways] = np.maximum(off[ways], unusualness(stations[story]))
    inside = np.zeros(len(legs), dtype=bool)
    inside[np.argsort(off, kind="stable")[: kept(len(legs), share)]] = True
    pieces: list[Floats] = []
    for story, ways in groups.items():
        points = stations[story][inside[ways]]
        if len(points):
            pieces += _swept(points)
    return tuple(pieces)


def _swept(points: Floats) -> list[Floats]:
    """Convex polygons, each about the stretch of N ways (N, S, 2) from one station to the next.

    Their corners are the places that stand out furthest in directions evenly spread over the
    ellipse of the places' own spread: hulls, but for corners that hardly stand out.
    """
    both = np.concatenate([points[:, :-1], points[:, 1:]]).transpose(1, 0, 2)
    off = both - both.mean(axis=1, keepdims=True)
    spread = np.einsum("sni,snj->sij", off, off) / off.shape[1] + _HARDLY**2 * np.eye(2)
    to_circle = np.linalg.inv(np.linalg.cholesky(spread))
    reach = (_AROUND @ to_circle) @ off.transpose(0, 2, 1)
    found = []
    for places, corners in zip(both, reach.argmax(axis=2), strict=True):
        piece = places[corners[corners != np.roll(corners, 1)]]
        if len(piece) > 2 and area(piece) > _SMALLEST_AREA:
            found.append(piece)
    return found


def stations_along(legs: Sequence[Floats]) -> Floats:
    """(N, S, 2): each polyline at the same shares of its own length. [m]"""
    steps = [np.hypot(*np.diff(leg, axis=0).T) for leg in legs]
    lengths = [float(step.sum()) for step in steps]
    count = int(np.clip(max(lengths) / _STATION_EVERY, 1, _MOST_STATIONS)) + 1
    shares = np.linspace(0.0, 1.0, count)
    found = np.empty((len(legs), count, 2))
    for number, (leg, step) in enumerate(zip(legs, steps, strict=True)):
        run = np.concatenate([[0.0], np.cumsum(step)])
        at = shares * run[-1]
        found[number, :, 0] = np.interp(at, run, leg[:, 0])
        found[number, :, 1] = np.interp(at, run, leg[:, 1])
    return found


def hull(places: Floats) -> Floats:
    """The convex hull of places (N, 2), anticlockwise (Andrew's monotone chain, 1979)."""
    points = sorted(set(map(tuple, places.tolist())))
    if len(points) < 3:
        return np.array(points)
    return np.array(_half(points) + _half(points[::-1]))


def _half(points: Sequence[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """One side of the hull, without its last point."""
    side: list[tuple[float, ...]] = []
    for point in points:
        while len(side) > 1 and _turn(side[-2], side[-1], point) <= 0.0:
            side.pop()
        side.append(point)
    return side[:-1]


def _turn(a: Sequence[float], b: Sequence[float], c: Sequence[float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def area(polygon: Floats) -> float:
    """Of a polygon whose corners run anticlockwise. [m²]"""
    x, y = polygon.T
    return float(0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def holds(polygon: Floats, places: Floats) -> NDArray[np.bool_]:
    """(N,) whether each of the places (N, 2) lies in a convex polygon or within a hair of it."""
    inside = np.ones(len(places), dtype=bool)
    for start, end in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        edge, to = end - start, places - start
        inside &= edge[0] * to[:, 1] - edge[1] * to[:, 0] >= -1e-9
    return inside
