"""The same two-ball shots in stunline, in MuJoCo, and in scipy's integrator, in one run.

``make compare`` installs MuJoCo beside the rest and runs this. Of each engine: the time of a
shot, warm, one thread, as a caller in Python sees it (median); how far the white's direction
half a second after contact and its resting place are from the exact law. See docs/comparison.md.
"""

from __future__ import annotations

import argparse
import math
import platform
import statistics
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from importlib.metadata import version

from compared.exact_law import exact_outcome
from compared.played_by_mujoco import HARD, MujocoEngine, Setting
from compared.played_by_solve_ivp import SolveIvpEngine
from compared.played_by_stunline import StunlineEngine
from compared.two_ball_shot import NO_THROW, THROW, BallFriction, Outcome, TwoBallShot, shots
from stunline.shot import compiled

PLAYS, SECONDS = 200, 0.7  # at most so many plays, or so long, of one shot
LEAST_PLAYS = 3
MM, MICROSECONDS = 1e3, 1e6

# The step alone; then what helping it by hand gives, one help after the other.
SETTINGS = (
    Setting(2e-3, contact_steps=4),
    Setting(5e-4, contact_steps=4),
    Setting(1e-4, contact_steps=6),
    Setting(1e-3, impact_step=1e-6),
    Setting(1e-3, impact_step=1e-6, rolling_by_hand=True),
    Setting(1e-3, impact_step=1e-6, rolling_by_hand=True, contacts=HARD),
    Setting(1e-3, impact_step=1e-6, rolling_by_hand=True, spin_wears_off=False),
    Setting(2e-3, impact_step=1e-6, rolling_by_hand=True),
    Setting(2e-4, impact_step=1e-6, rolling_by_hand=True),
    Setting(1e-3, impact_step=1e-6, rolling_by_hand=True, integrator="RK4"),
)


@dataclass(frozen=True)
class Result:
    """One shot by one engine: seconds of a play, errors of direction [°] and of rest [mm]."""

    seconds: float
    direction: float
    rest: float


@dataclass(frozen=True)
class Engine:
    """A row of the table; ``ready`` gives for a shot what is timed and what is read."""

    name: str
    ready: Callable[[TwoBallShot], tuple[Callable[[], object], Callable[[], Outcome]]]


def _stunline(shot: TwoBallShot) -> tuple[Callable[[], object], Callable[[], Outcome]]:
    engine = StunlineEngine(shot)
    return engine.run, engine.outcome


def _stunline_read(shot: TwoBallShot) -> tuple[Callable[[], object], Callable[[], Outcome]]:
    engine = StunlineEngine(shot)
    return engine.outcome, engine.outcome


def _solve_ivp(shot: TwoBallShot) -> tuple[Callable[[], object], Callable[[], Outcome]]:
    engine = SolveIvpEngine(shot)
    return engine.outcome, engine.outcome


def _mujoco(setting: Setting) -> Engine:
    def ready(shot: TwoBallShot) -> tuple[Callable[[], object], Callable[[], Outcome]]:
        engine = MujocoEngine(shot, setting)
        return engine.outcome, engine.outcome

    return Engine(f"MuJoCo: {setting.name}", ready)


def measured(engine: Engine, shot: TwoBallShot) -> Result:
    """Played once to warm up and to read, then timed."""
    run, outcome = engine.ready(shot)
    found, exact = outcome(), exact_outcome(shot)
    run()
    times: list[float] = []
    while len(times) < LEAST_PLAYS or (len(times) < PLAYS and sum(times) < SECONDS):
        begun = time.perf_counter()
        run()
        times.append(time.perf_counter() - begun)
    off = math.remainder(found.direction - exact.direction, 2.0 * math.pi)
    return Result(
        statistics.median(times), abs(math.degrees(off)), MM * math.dist(found.rest, exact.rest)
    )


def measure(engines: Iterable[Engine], friction: BallFriction) -> dict[str, list[Result]]:
    """Every engine on the five shots, told as it goes: engine's name → a result for each shot."""
    found = {}
    for engine in engines:
        found[engine.name] = [measured(engine, shot) for shot in shots(friction)]
        print(f"  {engine.name}: {_time(_middle_time(found[engine.name]))}", flush=True)
    return found


def summary(found: dict[str, list[Result]]) -> list[str]:
    """Times, their ratios to the first two rows, and errors over the shots: a Markdown table."""
    lines = [
        "| engine | a shot | to played and read | to played"
        " | direction: median, worst | rest: median, worst |",
        "|---|---|---|---|---|---|",
    ]
    read, played, *_ = (_middle_time(results) for results in found.values())
    for name, results in found.items():
        middle = _middle_time(results)
        directions = sorted(one.direction for one in results)
        rests = sorted(one.rest for one in results)
        lines.append(
            f"| {name} | {_time(middle)} | {_ratio(middle / read)} | {_ratio(middle / played)}"
            f" | {_pair(directions, '°')} | {_pair(rests, ' mm')} |"
        )
    return lines


def details(found: dict[str, list[Result]]) -> list[str]:
    """Errors shot by shot: a Markdown table."""
    names = [shot.name for shot in shots(NO_THROW)]
    lines = ["| engine | " + " | ".join(names) + " |", "|---|" + "---|" * len(names)]
    for name, results in found.items():
        errors = [f"{_digits(one.direction)}°, {_digits(one.rest)} mm" for one in results]
        lines.append(f"| {name} | " + " | ".join(errors) + " |")
    return lines


def _middle_time(results: list[Result]) -> float:
    return statistics.median(result.seconds for result in results)


def _pair(errors: list[float], unit: str) -> str:
    """Median and worst; one bound for both where rounding is all that is left."""
    median, worst = _digits(statistics.median(errors)), _digits(max(errors))
    return f"{worst}{unit}" if median == worst else f"{median}{unit}, {worst}{unit}"


def _digits(error: float) -> str:
    """Two digits, or a bound where rounding is all that is left."""
    if error < 1e-9:
        return "< 1e-9"
    return f"{error:.3f}" if error < 1.0 else f"{error:.1f}"


def _ratio(ratio: float) -> str:
    """Two digits below ten, three from there on."""
    if ratio < 10.0:
        return f"{ratio:.2g} ×"
    return f"{float(f'{ratio:.3g}'):,.0f} ×"


def _time(seconds: float) -> str:
    if seconds < 1e-3:
        return f"{MICROSECONDS * seconds:.1f} µs"
    return f"{1e3 * seconds:.1f} ms" if seconds < 1.0 else f"{seconds:.2f} s"


def main() -> None:
    """Both tables, and what they were measured with."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--short", action="store_true", help="two settings of MuJoCo only")
    chosen = SETTINGS[3:5] if parser.parse_args().short else SETTINGS
    engines = [
        Engine("stunline, played and read", _stunline_read),
        Engine("stunline, played", _stunline),
        Engine("scipy `solve_ivp`, DOP853", _solve_ivp),
        *(_mujoco(setting) for setting in chosen),
    ]
    tables: list[str] = []
    for title, friction in (("without throw", NO_THROW), ("friction falls with speed", THROW)):
        print(title, flush=True)
        found = measure(engines, friction)
        tables += ["", f"{title}:", "", *summary(found), "", *details(found)]
    packages = ", ".join(f"{name} {version(name)}" for name in ("mujoco", "scipy", "numba"))
    print("\n".join(tables))
    print(f"\nkernels {compiled.sources_hash()}, {packages}, Python {platform.python_version()}")


if __name__ == "__main__":
    main()
