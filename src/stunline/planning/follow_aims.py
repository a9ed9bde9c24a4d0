"""Aims of plain follows from many places at once: plane geometry, and throw as it is played."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stunline.equipment.contact_distances import ball_contact_distance
from stunline.mechanics import layout
from stunline.planning.demand import PLAIN_HEIGHT
from stunline.planning.request import Request
from stunline.shot import plane
from stunline.shot.aiming.pot_aim import pot_direction
from stunline.shot.batch import play_many
from stunline.shot.play import Prepared
from stunline.shot.position import ContactAim, PotAim

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_TURNS = 3  # throw changes little with the aim: each turn leaves a tenth of the error or less
_KNOTS = 3  # paces at which the throw is found


class FollowAims:
    """For each of P places, the aim at any pace of a range.

    A pot is sent, throw included, straight at the middle of the pocket's mouth, found with the
    two balls alone at three paces. A contact is plane geometry: without side nothing curves.
    """

    def __init__(self, asked: Request, places: Floats, paces: Floats) -> None:
        self._asked, self._places = asked, places
        assert isinstance(asked.aim, PotAim | ContactAim)
        position, ball = asked.position, asked.aim.ball
        self._ball = np.array(position.balls[ball])
        self._apart = ball_contact_distance(
            position.radius(position.names[0]), position.radius(ball)
        )
        self._knots = np.unique(np.geomspace(paces[0], paces[-1], _KNOTS))
        if isinstance(asked.aim, PotAim):
            self._towards = np.stack([self._thrown(pace) for pace in self._knots])

    def at(self, number: Ints, paces: Floats) -> Floats:
        """(N,) aims from these places at these paces. [rad]"""
        if isinstance(self._asked.aim, ContactAim):
            return self._contact(self._asked.aim)[number]
        if len(self._knots) == 1:
            return self._aim(self._towards[0])[number]
        # Along the logarithm of the pace, straight from knot to knot.
        share = np.interp(np.log(paces), np.log(self._knots), np.arange(len(self._knots)))
        low = np.clip(share.astype(np.int64), 0, len(self._knots) - 2)
        part = share - low
        towards = (1.0 - part) * self._towards[low, number] + part * self._towards[low + 1, number]
        return self._aim(towards, number)

    def _aim(self, towards: Floats, number: Ints | slice = slice(None)) -> Floats:
        """Aims whose line of centres points that way. [rad]"""
        lines = np.stack([np.cos(towards), np.sin(towards)], axis=1)
        way = self._ball - self._apart * lines - self._places[number]
        aims: Floats = np.arctan2(way[:, 1], way[:, 0])
        return aims

    def _contact(self, contact: ContactAim) -> Floats:
        way = self._ball - self._places
        off = (1.0 - contact.thickness) * self._apart / np.hypot(*way.T)
        # Past the ball's right side is to the right of its centre: clockwise.
        sign = -1.0 if contact.on == "right" else 1.0
        aims: Floats = np.arctan2(way[:, 1], way[:, 0]) + sign * np.arcsin(np.clip(off, -1.0, 1.0))
        return aims

    def _thrown(self, pace: float) -> Floats:
        """(P,) lines of centres with which the ball, thrown, leaves for the mouth. [rad]"""
        pot = self._asked.aim
        assert isinstance(pot, PotAim)
        position = self._asked.position
        wanted = plane.angle(pot_direction(position, pot))
        alone = Prepared(position).only((position.names[0], pot.ball)).position
        rows: Floats = np.zeros((len(self._places), layout.STRIKE_COLUMNS))
        rows[:, layout.STRIKE_PACE] = pace
        rows[:, layout.STRIKE_HEIGHT] = PLAIN_HEIGHT * position.radius(position.names[0])
        places = np.stack([self._places, np.broadcast_to(self._ball, self._places.shape)], axis=1)
        towards: Floats = np.full(len(rows), wanted)
        for _ in range(_TURNS if len(rows) else 0):
            rows[:, layout.STRIKE_AIM] = self._aim(towards)
            batch = play_many(alone, rows, places=places, readouts=("object_direction_deg",))
            left = np.radians(batch.readouts["object_direction_deg"]) - wanted
            off = np.remainder(left + np.pi, 2.0 * np.pi) - np.pi
            towards = towards - np.nan_to_num(off)
        return towards
