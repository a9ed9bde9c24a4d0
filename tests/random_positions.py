"""Positions and strikes for property tests, by seed: the same on every machine."""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random

from hypothesis import strategies as st

from stunline.equipment.catalogue import load_table
from stunline.equipment.contact_distances import nose_contact_distance
from stunline.equipment.model import Coefficients, Point
from stunline.shot.position import Position, Strike

TABLE = load_table("snooker-12ft")
MATCH = TABLE.default_cloth().coefficients
RADIUS = TABLE.balls["white"].radius
