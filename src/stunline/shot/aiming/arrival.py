"""Height of the tip solved so that the white arrives rolling, stunned or with screw."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from stunline.errors import Fault, UnsolvableShotError
from stunline.shot.aiming.contact_aim import arrival
from stunline.shot.aiming.root_search import root_between
from stunline.shot.aiming.strike_limits import safe_height
from stunline.shot.play import Prepared
from stunline.shot.position import Arrive, Strike
from stunline.shot.words import with_article

# Contact two fifths of the radius above centre rolls at once on every cloth [X].
_ROLLS_AT_ONCE = 0.4
# A white whose follow ratio is this near to 1 rolls. [-]
_ROLLING = 1e-9
# A solved height that misses the ratio by more has met a jump: the white stops on the way. [-]
_RATIO_TOLERANCE = 1e-4
_STOPPED = -10.0  # lower than any ratio that can be asked for
_HEIGHT_TOLERANCE = 1e-10  # [m] the ratio changes by 1e-8 at most over it
# Height moves the aim a little and the aim the height hardly; three rounds settle both.
_MOST_ROUNDS = 8

Aiming = Callable[[Strike], Strike]


def solve_height(prepared: Prepared, arrive: Arrive, strike: Strike, aiming: Aiming) -> Strike:
    """The strike that arrives with that follow ratio, aimed by ``aiming``.

    Args:
        aiming: turns a strike's aim to what was asked for, at that strike's height.

    Raises:
        UnsolvableShotError: "no-height" with the ratios that can be had; whatever ``aiming``
            raises.
    """
    strike = aiming(replace(strike, height=0.0))
    for _ in range(_MOST_ROUNDS):
        height = _height(prepared, arrive.follow_ratio, strike)
        settled = abs(height - strike.height) <= _HEIGHT_TOLERANCE
        strike = aiming(replace(strike, height=height))
        if settled:
            break
    return strike


def _height(prepared: Prepared, wanted: float, strike: Strike) -> float:
    limit = safe_height(prepared.position, strike.side)
    at_once = _ROLLS_AT_ONCE * prepared.position.radius(prepared.position.names[0])
    rolls = replace(strike, height=at_once)
    if (
        abs(wanted - 1.0) <= _ROLLING
        and at_once <= limit
        and abs((_ratio(prepared, rolls) or 0.0) - 1.0) <= _ROLLING
    ):
        return at_once

    def error(height: float) -> float:
        ratio = _ratio(prepared, replace(strike, height=height))
        # Struck so low that it stops on the way, the white counts as below every ratio.
        return _STOPPED if ratio is None else ratio - wanted

    height = root_between(error, -limit, limit, _HEIGHT_TOLERANCE)
    if height is not None and abs(error(height)) <= _RATIO_TOLERANCE:
        return height
    highest = _ratio(prepared, replace(strike, height=limit))
    if highest is None:
        raise _not_reached(prepared, strike)
    lowest = _ratio(prepared, replace(strike, height=-limit if height is None else height))
    lowest = highest if lowest is None else lowest
    raise _no_height(prepared, wanted, (lowest, highest), limit)


def _ratio(prepared: Prepared, strike: Strike) -> float | None:
    contact = arrival(prepared, strike)
    return None if contact is None else contact.follow_ratio


def _not_reached(prepared: Prepared, strike: Strike) -> UnsolvableShotError:
    return UnsolvableShotError(
        "no-contact",
        Fault(
            f"{with_article(prepared.position.names[0])} stops before it meets a ball",
            given=f"{strike.pace:.3g} m/s",
            allowed="a pace that reaches the ball",
            remedy="more pace",
            key="strike.pace",
        ),
    )


def _no_height(
    prepared: Prepared, wanted: float, reached: tuple[float, float], limit: float
) -> UnsolvableShotError:
    white = with_article(prepared.position.names[0])
    lowest, highest = reached
    remedy = (
        f"more pace, or {white} nearer to the ball"
        if wanted < lowest
        else 'less distance, or arrive = "rolling"'
    )
    return UnsolvableShotError(
        "no-height",
        Fault(
            f"no height within the advised limit makes {white} arrive so",
            given=f"follow ratio {wanted:.4g}",
            allowed=f"{lowest:.3f} to {highest:.3f} at this pace and distance, "
            f"for heights from {-1000 * limit:.1f} to {1000 * limit:.1f} mm",
            remedy=remedy,
            key="strike.arrive",
        ),
    )
