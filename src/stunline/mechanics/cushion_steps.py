"""One step over normal impulse: an explicit one, and a stiff one for nearly dead slips.

Where both contacts slip well, directions turn slowly and the explicit pair of Dormand
and Prince, order 5(4), crosses the whole impact in some ten steps. A contact that has just
begun to slip turns almost at once to the direction that its friction allows, at a rate of
one over its slip; there the Rosenbrock method of Hairer and Wanner, order 4(3), L-stable,
takes steps as long as the accuracy wants instead of as short as stability does. Its
linear systems are of rank two and cost next to nothing.

Both return the new state, its rates of change, and the error estimate as a multiple of
the tolerance.

Sources: J. R. Dormand, P. J. Prince (1980), J. Comp. Appl. Math. 6; E. Hairer, G. Wanner,
Solving Ordinary Differential Equations II, section IV.7, method RODAS.
"""

import math

from stunline.mechanics.compiling import kernel
from stunline.mechanics.cushion_modes import (
    ALONG_COUPLING,
    APPROACH_SCALE,
    CLOTH_FRICTION,
    CLOTH_STICKS,
    COSINE,
    INTO_COUPLING,
    NOSE_FRICTION,
    NOSE_STICKS,
    OWN_RESPONSE,
    RISE_RESPONSE,
    SINE,
    SLIPPING,
    rates,
    unit,
)

# Error allowed to a step, in units of the approach speed. Over 20,000 impacts with widely varied
# coefficients, half of them nearly sticking, against a run with 3e-12, it leaves 8e-10 in the
# median, 2e-8 in ninety-nine of a hundred, and two above 1e-6. A third of it takes a fifth more
# steps and leaves one above 1e-6; three times as much takes a seventh fewer and leaves four.
STEP_TOLERANCE = 1e-8

RODAS_GAMMA = 0.25  # of the Rosenbrock method's coefficients, which are scaled by it


@kernel
def plus(state, slope, step):
    """state + step · slope."""
    return (
        state[0] + step * slope[0],
        state[1] + step * slope[1],
        state[2] + step * slope[2],
        state[3] + step * slope[3],
        state[4] + step * slope[4],
    )


@kernel
def least_slip(mode, state):
    """The smaller of the slips at the contacts that do slip. [approach speed]"""
    nose = state[0] * state[0] + state[1] * state[1]
    cloth = state[2] * state[2] + state[3] * state[3]
    if mode == NOSE_STICKS:
        return math.sqrt(cloth)
    if mode == CLOTH_STICKS:
        return math.sqrt(nose)
    return math.sqrt(min(nose, cloth))


@kernel
def take_step(contact, mode, stiff, state, slope, step):
    """One step by whichever method suits."""
    if stiff:
        return stiff_step(contact, state, slope, step)
    return explicit_step(contact, mode, state, slope, step)


@kernel
def _largest(vector):
    return max(
        max(abs(vector[0]), abs(vector[1])),
        max(max(abs(vector[2]), abs(vector[3])), abs(vector[4])),
    )


@kernel
def explicit_step(contact, mode, state, k1, h):
    """A step of Dormand and Prince's 5(4) pair in the given mode."""
    y = plus(state, k1, h * (1 / 5))
    k2 = rates(contact, mode, y)
    y = plus(plus(state, k1, h * (3 / 40)), k2, h * (9 / 40))
    k3 = rates(contact, mode, y)
    y = plus(plus(plus(state, k1, h * (44 / 45)), k2, h * (-56 / 15)), k3, h * (32 / 9))
    k4 = rates(contact, mode, y)
    y = plus(plus(state, k1, h * (19372 / 6561)), k2, h * (-25360 / 2187))
    y = plus(plus(y, k3, h * (64448 / 6561)), k4, h * (-212 / 729))
    k5 = rates(contact, mode, y)
    y = plus(plus(state, k1, h * (9017 / 3168)), k2, h * (-355 / 33))
    y = plus(plus(plus(y, k3, h * (46732 / 5247)), k4, h * (49 / 176)), k5, h * (-5103 / 18656))
    k6 = rates(contact, mode, y)
    y = plus(plus(state, k1, h * (35 / 384)), k3, h * (500 / 1113))
    y = plus(plus(plus(y, k4, h * (125 / 192)), k5, h * (-2187 / 6784)), k6, h * (11 / 84))
    k7 = rates(contact, mode, y)
    error = (0.0, 0.0, 0.0, 0.0, 0.0)
    error = plus(plus(error, k1, h * (71 / 57600)), k3, h * (-71 / 16695))
    error = plus(plus(error, k4, h * (71 / 1920)), k5, h * (-17253 / 339200))
    error = plus(plus(error, k6, h * (22 / 525)), k7, h * (-1 / 40))
    return y, k7, _largest(error) / STEP_TOLERANCE


@kernel
def _turning(contact, state):
    """How the rates change as each slip direction turns, and how the slips turn it.

    With both contacts slipping the Jacobian of the slip rates is of rank two:
    J = a ⊗ p + b ⊗ q, where p·δ and q·δ are the angles by which a change δ of the slips
    turns û and ŵ. Returns a, b (four numbers each), p (nose's two), q (cloth's two).
    """
    e1, e2, nose_slip = unit(state[0], state[1])
    d1, d2, cloth_slip = unit(state[2], state[3])
    nose, cloth = contact[NOSE_FRICTION], contact[CLOTH_FRICTION]
    load = contact[SINE] + contact[COSINE] * nose * e2
    # û turned by a small angle: f changes by −μ_w (−û₂, û₁), the load by c μ_w û₁
    f1, f2 = nose * e2, -nose * e1
    load_change = contact[COSINE] * nose * e1
    if load <= 0.0:
        load = 0.0
        load_change = 0.0
    g1, g2 = -cloth * load_change * d1, -cloth * load_change * d2
    a = (
        OWN_RESPONSE * f1 + contact[ALONG_COUPLING] * g1,
        contact[RISE_RESPONSE] * f2 + contact[INTO_COUPLING] * g2,
        contact[ALONG_COUPLING] * f1 + OWN_RESPONSE * g1,
        contact[INTO_COUPLING] * f2 + OWN_RESPONSE * g2,
    )
    g1, g2 = cloth * load * d2, -cloth * load * d1
    b = (
        contact[ALONG_COUPLING] * g1,
        contact[INTO_COUPLING] * g2,
        OWN_RESPONSE * g1,
        OWN_RESPONSE * g2,
    )
    nose_turn = 1.0 / nose_slip if nose_slip > 0.0 else 0.0
    cloth_turn = 1.0 / cloth_slip if cloth_slip > 0.0 else 0.0
    return (
        a,
        b,
        (-e2 * nose_turn, e1 * nose_turn),
        (-d2 * cloth_turn, d1 * cloth_turn),
    )


@kernel
def _implicit_solve(contact, turning, x, rhs):
    """Solve (I/x − J) U = rhs, x = γ h, by the Jacobian's rank of two."""
    a, b, p, q = turning
    pa = p[0] * a[0] + p[1] * a[1]
    pb = p[0] * b[0] + p[1] * b[1]
    qa = q[0] * a[2] + q[1] * a[3]
    qb = q[0] * b[2] + q[1] * b[3]
    pr = x * (p[0] * rhs[0] + p[1] * rhs[1])
    qr = x * (q[0] * rhs[2] + q[1] * rhs[3])
    m11, m12, m21, m22 = 1.0 - x * pa, -x * pb, -x * qa, 1.0 - x * qb
    inverse = 1.0 / (m11 * m22 - m12 * m21)
    alpha = (m22 * pr - m12 * qr) * inverse
    beta = (m11 * qr - m21 * pr) * inverse
    u1 = x * (rhs[0] + a[0] * alpha + b[0] * beta)
    u2 = x * (rhs[1] + a[1] * alpha + b[1] * beta)
    u3 = x * (rhs[2] + a[2] * alpha + b[2] * beta)
    u4 = x * (rhs[3] + a[3] * alpha + b[3] * beta)
    u5 = x * (rhs[4] + contact[COSINE] * contact[APPROACH_SCALE] * (u4 - u2))
    return u1, u2, u3, u4, u5


@kernel
def stiff_step(contact, state, k1, h):
    """A step of RODAS, order 4(3), with both contacts slipping."""
    turning = _turning(contact, state)
    x = RODAS_GAMMA * h
    r = 1.0 / h
    s1 = _implicit_solve(contact, turning, x, k1)
    y = plus(state, s1, 1.544)
    rhs = plus(rates(contact, SLIPPING, y), s1, -0.56688e1 * r)
    s2 = _implicit_solve(contact, turning, x, rhs)
    y = plus(plus(state, s1, 0.9466785280815826), s2, 0.2557011698983284)
    rhs = plus(rates(contact, SLIPPING, y), s1, -2.430093356833875 * r)
    rhs = plus(rhs, s2, -0.2063599157091915 * r)
    s3 = _implicit_solve(contact, turning, x, rhs)
    y = plus(plus(state, s1, 3.314825187068521), s2, 2.896124015972201)
    y = plus(y, s3, 0.9986419139977817)
    rhs = plus(rates(contact, SLIPPING, y), s1, -0.1073529058151375 * r)
    rhs = plus(plus(rhs, s2, -9.594562251023355 * r), s3, -20.47028614809616 * r)
    s4 = _implicit_solve(contact, turning, x, rhs)
    y = plus(plus(state, s1, 1.221224509226641), s2, 6.019134481288629)
    y = plus(plus(y, s3, 12.53708332932087), s4, -0.6878860361058950)
    rhs = plus(rates(contact, SLIPPING, y), s1, 7.496443313967647 * r)
    rhs = plus(plus(rhs, s2, -10.24680431464352 * r), s3, -33.99990352819905 * r)
    rhs = plus(rhs, s4, 11.70890893206160 * r)
    s5 = _implicit_solve(contact, turning, x, rhs)
    y = plus(y, s5, 1.0)
    rhs = plus(rates(contact, SLIPPING, y), s1, 8.083246795921522 * r)
    rhs = plus(plus(rhs, s2, -7.981132988064893 * r), s3, -31.52159432874371 * r)
    rhs = plus(plus(rhs, s4, 16.31930543123136 * r), s5, -6.058818238834054 * r)
    s6 = _implicit_solve(contact, turning, x, rhs)
    y = plus(y, s6, 1.0)
    return y, rates(contact, SLIPPING, y), _largest(s6) / STEP_TOLERANCE
