"""A two-ball shot in MuJoCo, a general rigid-body engine with soft contacts.

How each coefficient is carried over:

* sliding friction: the bed pairs' two sliding frictions, elliptic cones;
* rolling resistance: the bed's rolling friction, a length ρ. A ball that rolls needs
  μ_r of the cone's μ_s for its bed force and has the rest for the torque 7/5 μ_r m g R, so
  ρ = 7/5 R μ_r / √(1 − (μ_r/μ_s)²); then corrected by one roll (``_calibrated_roll``);
* spin deceleration: the bed's torsional friction, 2/5 R² times it over g [m];
* ball-on-ball restitution: stiffness and damping of that pair, the damping found by head-on
  impacts at this time step (``_calibrated_damping``);
* ball-on-ball friction: a constant. A law that falls with speed can't be given, so each shot is
  given the constant that is right for its own impact, taken from the exact law.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import Any

import mujoco
import numpy as np

from compared.exact_law import effective_friction
from compared.two_ball_shot import (
    GRAVITY,
    MASS,
    RADIUS,
    READ_AFTER,
    RESTITUTION,
    ROLLING_RESISTANCE,
    SLIDING_FRICTION,
    SPIN_DECELERATION,
    WAY,
    Outcome,
    TwoBallShot,
)

# The engine solves friction and support as one convex problem, in which a slip pushes the two
# apart: with hard contacts (impedance 0.9 and more) a sliding ball hops by millimetres, and two
# balls part too early. Contacts that are springs (low impedance) hold together, and the ratio
# keeps friction from going soft as well.
SPRINGS = (0.001, 1e6)  # [-] impedance, and the ratio of friction's to the support's
HARD = (0.9999, 1.0)  # the hardest that the engine takes
BED_RATE = 0.6  # the bed's own frequency times the time step; stable, and stiff
BED_DAMPING = 0.8  # of the critical one
CREEP_RATE = 0.5  # share of a slip that friction takes away in a step, where it can
TORSION = 0.4 * RADIUS**2 * SPIN_DECELERATION / GRAVITY  # [m]
ROLLING = 1.4 * RADIUS * ROLLING_RESISTANCE  # [m]
ROLLING /= math.sqrt(1.0 - (ROLLING_RESISTANCE / SLIDING_FRICTION) ** 2)
LEAST = 1e-5  # [m] of rolling and torsional friction; the engine takes no less
NO_SLIP = 5e-3  # [m s⁻¹]; below it the slip is what rolling friction needs at the bed
BODIES = (1, 2)  # the engine's numbers of the white and the object ball
AT_REST = 1e-4  # [m s⁻¹]; below it, what is left of the way is under a tenth of a micrometre
LOOK = 0.25  # [s] between looks whether all rests
LONGEST = 60.0  # [s]
PHASES = 16  # head-on impacts at that many starts within a step, for the damping
WHITE, BALL = slice(0, 3), slice(7, 10)  # places in qpos
WHITE_VELOCITY, BALL_VELOCITY = slice(0, 3), slice(6, 9)  # in qvel


@dataclass(frozen=True)
class Setting:
    """How the engine is set.

    Attributes:
        step: on the bed [s]
        impact_step: while the balls touch, changed over by hand; None for the same [s]
        contact_steps: how many steps the balls' impact lasts
        integrator: by the engine's name for it
        rolling_by_hand: whether rolling friction is taken away from a ball while it slips, which
            the engine doesn't do by itself
        contacts: ``SPRINGS`` or ``HARD``
        spin_wears_off: whether the bed has torsional friction
    """

    step: float
    impact_step: float | None = None
    contact_steps: int = 20
    integrator: str = "Euler"
    rolling_by_hand: bool = False
    contacts: tuple[float, float] = SPRINGS
    spin_wears_off: bool = True

    @property
    def name(self) -> str:
        """For the table."""
        told = f"{self.integrator}, {1e3 * self.step:g} ms"
        if self.impact_step is not None:
            told += f", {1e6 * self.impact_step:g} µs in impact"
        told += ", rolling by hand" if self.rolling_by_hand else ""
        told += ", hard contacts" if self.contacts == HARD else ""
        return told + ("" if self.spin_wears_off else ", no torsional friction")

    @property
    def finest(self) -> float:
        """Step while the balls touch. [s]"""
        return self.impact_step or self.step

    @property
    def pair_stiffness(self) -> float:
        """Of the ball pair, per mass: half a period lasts the impact. [s⁻²]"""
        return float((math.pi / (self.contact_steps * self.finest)) ** 2)


class MujocoEngine:
    """Plays a shot again and again in one model."""

    def __init__(self, shot: TwoBallShot, setting: Setting) -> None:
        self._setting = setting
        damping = _calibrated_damping(setting)
        rolling = _calibrated_roll(setting)
        self._model = _model(setting, damping, rolling, effective_friction(shot))
        self._data = mujoco.MjData(self._model)
        self._rolling = rolling
        self._start = _settled(setting, self._model, shot)
        self._motion = np.zeros(12)
        vx, vy, wx, wy, wz = shot.start
        self._motion[:6] = vx, vy, 0.0, wx, wy, wz

    def outcome(self) -> Outcome:
        """Played to rest and read on the way."""
        model, data, setting = self._model, self._data, self._setting
        mujoco.mj_resetData(model, data)
        data.qpos[:] = self._start
        data.qvel[:] = self._motion
        model.opt.timestep = setting.step
        self._slipping = set(BODIES) if setting.rolling_by_hand else set()
        model.pair_friction[:2, 3:] = LEAST if setting.rolling_by_hand else self._rolling
        self._approach(2.0 * setting.step)
        model.opt.timestep = setting.finest
        contact = self._through_impact()
        model.opt.timestep = setting.step
        if setting.rolling_by_hand:
            self._slipping = set(BODIES)
            model.pair_friction[:2, 3:] = LEAST
        direction = self._direction_at(contact + READ_AFTER)
        self._to_rest()
        return Outcome(contact, direction, (float(data.qpos[0]), float(data.qpos[1])))

    def _advance(self, steps: int) -> None:
        """That many steps; while a ball slips and is watched, one by one."""
        while steps > 0:
            taken = 1 if self._slipping else steps
            mujoco.mj_step(self._model, self._data, nstep=taken)
            steps -= taken
            for body in tuple(self._slipping):
                if self._slip(body) < NO_SLIP:
                    self._slipping.discard(body)
                    self._model.pair_friction[body - 1, 3:] = self._rolling

    def _slip(self, body: int) -> float:
        """Velocity of the ball's lowest point over the bed. [m s⁻¹]"""
        data, first = self._data, 6 * (body - 1)
        # The engine gives a free body's spin in the body's own frame.
        spin = data.xmat[body].reshape(3, 3) @ data.qvel[first + 3 : first + 6]
        vx, vy = data.qvel[first : first + 2]
        return math.hypot(vx - RADIUS * spin[1], vy + RADIUS * spin[0])

    def _approach(self, margin: float) -> None:
        """Up to that time before the meeting, in strides that can't overshoot it. [s]"""
        model, data = self._model, self._data
        for _ in range(10_000):
            gap, closing = _gap(data)
            steps = int((gap / closing - margin) / model.opt.timestep)
            if steps < 1:
                return
            self._advance(steps)
        raise ArithmeticError("the balls do not meet")

    def _through_impact(self) -> float:
        """Until the balls part again; the time at which they met. [s]"""
        model, data = self._model, self._data
        gap, closing = _gap(data)
        met = math.nan
        while gap <= 0.0 or closing > 0.0:
            mujoco.mj_step(model, data)
            gap, closing = _gap(data)
            if gap <= 0.0 and math.isnan(met):
                met = data.time + gap / closing
        if math.isnan(met):
            raise ArithmeticError("the balls missed")
        return float(met)

    def _direction_at(self, time: float) -> float:
        """The white's direction then, between two steps by interpolation. [rad]"""
        model, data = self._model, self._data
        steps = int((time - data.time) / model.opt.timestep)
        self._advance(steps)
        before, share = data.qvel[:2].copy(), (time - data.time) / model.opt.timestep
        mujoco.mj_step(model, data)
        vx, vy = before + share * (data.qvel[:2] - before)
        return math.atan2(vy, vx)

    def _to_rest(self) -> None:
        model, data = self._model, self._data
        steps = max(1, round(LOOK / model.opt.timestep))
        while data.time < LONGEST:
            self._advance(steps)
            if (
                np.abs(data.qvel[WHITE_VELOCITY]).max()
                < AT_REST
                > np.abs(data.qvel[BALL_VELOCITY]).max()
            ):
                return
        raise ArithmeticError(f"still moving after {LONGEST} s")


def _gap(data: Any) -> tuple[float, float]:
    """Distance between the two surfaces, and how fast it closes. [m, m s⁻¹]"""
    apart = data.qpos[BALL] - data.qpos[WHITE]
    distance = math.sqrt(apart @ apart)
    faster = data.qvel[WHITE_VELOCITY] - data.qvel[BALL_VELOCITY]
    return distance - 2.0 * RADIUS, float(faster @ apart) / distance


def _model(setting: Setting, damping: float, rolling: float, friction: float) -> Any:
    """Two balls on a plane, contacts given pair by pair."""
    step, stiffness = setting.step, setting.pair_stiffness
    impedance, ratio = setting.contacts
    # In the engine's direct form both numbers are negative: −stiffness, −damping.
    spring, damper = (BED_RATE / step) ** 2, 2.0 * BED_DAMPING * BED_RATE / step
    bed = f'solref="{-spring} {-damper}" {_impedance(impedance)}'
    no_spring = -1e-9
    creep = f'solreffriction="{no_spring} {-CREEP_RATE * impedance / step}"'
    torsion = TORSION if setting.spin_wears_off else LEAST
    frictions = f"{SLIDING_FRICTION} {SLIDING_FRICTION} {torsion} {rolling} {rolling}"
    pair_creep = f'solreffriction="{no_spring} {-CREEP_RATE * impedance / setting.finest}"'
    bodies = "".join(
        f'<body pos="{place} 0 {RADIUS}"><freejoint/><geom name="{name}" type="sphere"'
        f' size="{RADIUS}" mass="{MASS}" contype="0" conaffinity="0"/></body>'
        for place, name in enumerate(("white", "ball"))
    )
    pairs = "".join(
        f'<pair geom1="bed" geom2="{name}" condim="6" friction="{frictions}" {bed} {creep}/>'
        for name in ("white", "ball")
    )
    return mujoco.MjModel.from_xml_string(
        f"""<mujoco>
        <option timestep="{step}" gravity="0 0 {-GRAVITY}" integrator="{setting.integrator}"
          cone="elliptic" solver="Newton" iterations="100" tolerance="1e-14"
          impratio="{ratio}" jacobian="dense"/>
        <worldbody>
          <geom name="bed" type="plane" size="0 0 1" contype="0" conaffinity="0"/>{bodies}
        </worldbody>
        <contact>{pairs}
          <pair geom1="white" geom2="ball" condim="{3 if friction else 1}"
            friction="{friction} {friction} 0 0 0" solref="{-stiffness} {-damping}" {pair_creep}
            {_impedance(impedance)}/>
        </contact></mujoco>"""
    )


def _impedance(constant: float) -> str:
    return f'solimp="{constant} {constant} 0.001 0.5 1"'


def _settled(setting: Setting, model: Any, shot: TwoBallShot) -> Any:
    """Places at the start, both balls sunk into the soft bed as far as they rest in it."""
    data = mujoco.MjData(model)
    x, y = shot.object_ball
    data.qpos[:3], data.qpos[7:10] = (0.0, 0.0, RADIUS), (x, y, RADIUS)
    mujoco.mj_step(model, data, nstep=max(1, round(0.5 / setting.step)))
    return data.qpos.copy()


@functools.cache
def _calibrated_damping(setting: Setting) -> float:
    """Damping of the ball pair with which head-on impacts have the restitution. [s⁻¹]"""
    low, high = 0.0, 2.0 * math.sqrt(setting.pair_stiffness)
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _restitution(setting, middle) > RESTITUTION else (low, middle)
    return 0.5 * (low + high)


def _restitution(setting: Setting, damping: float) -> float:
    """Mean over head-on impacts in free space, begun at several parts of a step."""
    model = _model(setting, damping, ROLLING, 0.0)
    model.opt.timestep = setting.finest
    model.opt.gravity[:] = 0.0
    data = mujoco.MjData(model)
    found = []
    for phase in range(PHASES):
        mujoco.mj_resetData(model, data)
        gap = (1.0 + phase / PHASES) * setting.finest
        data.qpos[:3], data.qpos[7:10] = (0.0, 0.0, 1.0), (2.0 * RADIUS + gap, 0.0, 1.0)
        data.qvel[0] = 1.0
        mujoco.mj_step(model, data, nstep=2 * setting.contact_steps + 4)
        found.append(data.qvel[6] - data.qvel[0])
    return float(np.mean(found))


@functools.cache
def _calibrated_roll(setting: Setting) -> float:
    """Rolling friction with which a rolling ball stops where the law says. [m]"""
    rolling = ROLLING
    for _ in range(4):
        way = _roll(setting, rolling)
        rolling *= way / (0.5 / (2.0 * ROLLING_RESISTANCE * GRAVITY))
    return rolling


def _roll(setting: Setting, rolling: float) -> float:
    """How far a ball rolls from √0.5 m/s. [m]"""
    model = _model(setting, 0.0, rolling, 0.0)
    data = mujoco.MjData(model)
    data.qpos[7] = 100.0 * WAY
    mujoco.mj_step(model, data, nstep=max(1, round(0.5 / setting.step)))
    speed = math.sqrt(0.5)
    data.qpos[0], data.qvel[0], data.qvel[4] = 0.0, speed, speed / RADIUS
    time = speed / (ROLLING_RESISTANCE * GRAVITY)
    mujoco.mj_step(model, data, nstep=round(1.1 * time / setting.step))
    return float(data.qpos[0])
