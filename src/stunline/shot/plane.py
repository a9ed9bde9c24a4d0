"""Points and directions in plan."""

from __future__ import annotations

import math

from stunline.equipment.model import Point


def between(start: Point, end: Point) -> Point:
    """The vector from one point to another."""
    return end[0] - start[0], end[1] - start[1]


def length(vector: Point) -> float:
    """Its length."""
    return math.hypot(vector[0], vector[1])


def unit(vector: Point) -> Point:
    """Its direction; (0, 0) for a vector of no length."""
    size = length(vector)
    return (vector[0] / size, vector[1] / size) if size > 0.0 else (0.0, 0.0)


def dot(a: Point, b: Point) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Point, b: Point) -> float:
    """The z part of a × b: positive when b points to the left of a."""
    return a[0] * b[1] - a[1] * b[0]


def moved(start: Point, direction: Point, distance: float) -> Point:
    """The point at that distance from the start."""
    return start[0] + distance * direction[0], start[1] + distance * direction[1]


def angle(vector: Point) -> float:
    """Its direction, anticlockwise from +x. [rad]"""
    return math.atan2(vector[1], vector[0])


def angle_from(reference: Point, vector: Point) -> float:
    """Angle from one direction to another, anticlockwise positive, within ±π. [rad]"""
    return math.atan2(cross(reference, vector), dot(reference, vector))


def distance_to_stretch(point: Point, start: Point, end: Point) -> float:
    """Distance from a point to the stretch between two others."""
    along = between(start, end)
    size = dot(along, along)
    share = dot(between(start, point), along) / size if size > 0.0 else 0.0
    share = min(max(share, 0.0), 1.0)
    return length(between(moved(start, along, share), point))
