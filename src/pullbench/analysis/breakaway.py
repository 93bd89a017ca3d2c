"""When it broke away, and the pull then."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from pullbench.analysis.shape import Shape, Swing
from pullbench.analysis.slip_filter import Hand, Piece, Slip, Start, breaks, hold
from pullbench.model import FloatArray

POINTS_PER_FALL = 48  # a break in a damped string is a cusp: coarser means would blunt it
MODEL_ERROR = 0.05  # of the depth fallen: friction and string are never exactly as supposed
MOMENT_OF_FALL, MOMENT_OF_STEP, LEVEL_OF_MODEL = 0.03, 0.3, 7e-4  # how well the model places the moment
DEEP = 0.1  # of the level: a fall so deep is no ripple of a hand
FROM_REST = 0.15  # a rise from under this share within two falls: there was no ramp at all
JERK_COSTS = 1.5  # log prior of a hand that jerks just then (judgement)
JERKS = (1.0, 100.0, 1e4)  # how many times livelier than usual the hand may have been
BURST = 8.0  # times the usual loading rate (judgement, checked on the virtual bench)
CONVINCING, CLEAR = 4.0, 10.0  # log odds: 50 to 1; and so much that no later top can argue
# Static over kinetic, less one: median and spread of the logarithm in the open textbook tables with both
# coefficients (OpenStax College Physics 2e and University Physics 1, coefficient tables; 0.5, factor 2).
USUAL_EXCESS, EXCESS_SPREAD = 0.45, 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """The moment motion starts, as weighed over all hypotheses.

    time_s, u_time_s; static_N, u_static_N; excess_N, u_excess_N: posterior mean and standard deviation of
    the moment, of the static maximum and of its excess over the kinetic level.  top: sample number of the
    top after the break; fall_s: from it to the trough.  slope_N_s: loading rate.  swing: β, the loading rate
    over ω times the excess (under 0.2 a clean break, over 1 a swing).  samples_in_fall: how finely the fall
    was seen.  log_odds: of a break here against a sled that stayed put.  before_burst_N: the force before a
    burst of the hand that led to the break (0 straight from rest), None for an ordinary ramp.  surprise: of
    the samples after the break, 1 when the model fits.
    """

    time_s: float
    u_time_s: float
    static_N: float
    u_static_N: float
    excess_N: float
    u_excess_N: float
    top: int
    fall_s: float
    slope_N_s: float
    swing: float
    samples_in_fall: float
    log_odds: float
    before_burst_N: float | None
    surprise: float


def find_break(shape: Shape, *, kinetic_N: float, u_kinetic_N: float) -> Break | None:
    """Return the first top at which the samples say "it broke" rather than "the hand rippled", or None.

    Tops below the kinetic level cannot be breaks. The highest top is taken
    when none before it convinces; the fall of letting go is no break.
    """
    smooth, t = shape.smooth_N, shape.time_s
    lowest = kinetic_N - max(3 * shape.u_smooth_N, 2 * u_kinetic_N)
    reached_s = float(
        t[shape.onset + int(np.argmax(smooth[shape.onset : shape.release + 1] > 0.97 * kinetic_N))]
    )
    ripple_N, weak = 0.0, None
    for i, swing in enumerate(shape.swings):
        fall_N, top_N = float(smooth[swing.top] - smooth[swing.trough]), float(smooth[swing.top])
        left_s = float(t[shape.release] - t[swing.top])
        if t[swing.trough] >= t[shape.release] or t[swing.top] - reached_s > max(1.0, 3 * left_s):
            break  # the fall of letting go, or of a hand that stopped after a long slide
        if top_N > lowest:
            found = weigh(shape, swing, kinetic_N=kinetic_N, u_kinetic_N=u_kinetic_N)
            later = max((smooth[other.top] for other in shape.swings[i + 1 :]), default=-math.inf)
            held_on = _ramp_went_on(shape, shape.swings[i:], kinetic_N, like_others=fall_N < 2 * ripple_N)
            highest = later < top_N and (found.log_odds > 0 or fall_N > 3 * ripple_N)
            some_odds = found.log_odds > (
                0.0 if found.samples_in_fall > 3 else -4.0
            )  # coarse samples say little
            plain_fall = some_odds and fall_N > max(3 * ripple_N, DEEP * kinetic_N)
            if weak is not None and top_N > weak[1] and found.log_odds > weak[0].log_odds + 6:
                weak = None  # what came before was the hand: the later, higher break is far clearer
            if plain_fall or found.log_odds > CLEAR or highest:
                if (not held_on or highest) and _stands_out(shape, i, found, kinetic_N):
                    return found if weak is None else weak[0]
            elif found.log_odds > CONVINCING and not held_on and weak is None:
                weak = (found, top_N + fall_N)
        ripple_N = max(ripple_N, fall_N)
    return None if weak is None else weak[0]


def _stands_out(shape: Shape, i: int, found: Break, kinetic_N: float) -> bool:
    """Tell a break from the crest of a hold: its excess is clear, or its fall is larger than what follows.

    A sled that is merely held shows the same tremor to the end; after a break the first fall, twice the
    static excess, is larger than the ripple of the slide, unless the odds say enough by themselves.
    """
    falls = [float(shape.smooth_N[s.top] - shape.smooth_N[s.trough]) for s in shape.swings[i:-1]]
    deep = bool(falls) and falls[0] > DEEP * kinetic_N
    if not deep and found.excess_N < max(0.02 * kinetic_N, 1.5 * found.u_excess_N):
        return False
    return deep or found.log_odds > CLEAR or len(falls) < 3 or falls[0] > 1.5 * float(np.median(falls[1:]))


def _ramp_went_on(shape: Shape, swings: tuple[Swing, ...], kinetic_N: float, *, like_others: bool) -> bool:
    """Tell whether the force, after the fall of the first swing, climbed on as a ramp does.

    A sled that has broken away is driven above its breakaway force only by a burst of the hand, within a
    few of its own swings, and only after the force has been under the kinetic level (else the sled would
    have been speeding up all along, and the hand with it). like_others: the fall is no larger than the
    ripples before it; then any slow climb to above shows that it was one of them.
    """
    t, smooth = shape.time_s, shape.smooth_N
    first = swings[0]
    top_N, fall_N = smooth[first.top], smooth[first.top] - smooth[first.trough]
    fall_s = t[first.trough] - t[first.top]
    for later in swings[1:]:
        if smooth[later.top] - top_N > 0.5 * fall_N:
            climb_s = t[later.top] - t[first.trough]
            if like_others and climb_s > 4 * fall_s:
                return True
            still_above = smooth[first.trough] > kinetic_N + 0.25 * (top_N - kinetic_N) + 3 * shape.u_smooth_N
            if still_above and climb_s > 1.5 * fall_s:
                return True
            break
    higher = next((later for later in swings[1:] if smooth[later.top] > top_N + fall_N), None)
    if higher is None or fall_N > DEEP * kinetic_N:
        return False  # so deep a fall is no ripple; a later, higher top is another spot of the surface
    climb = (smooth[higher.top] - smooth[first.trough]) / (t[higher.top] - t[first.trough])
    if climb < 3 * _steepest_ramp(shape, first.top):
        return True
    reached = first.trough + int(np.argmax(smooth[first.trough : higher.top + 1] > top_N + fall_N))
    return bool(t[higher.top] - t[reached] > 3 * fall_s)


def _steepest_ramp(shape: Shape, top: int) -> float:
    """Return the steepest loading rate over any fifth of a second before a top, in N/s."""
    t = shape.time_s
    times = t[top] - 0.2 * np.arange(int((t[top] - t[0]) / 0.2 + 1e-6) + 1)
    if times.size < 2:
        return 0.0
    return float(np.max(-np.diff(np.interp(times, t, shape.smooth_N)))) / 0.2


def weigh(shape: Shape, swing: Swing, *, kinetic_N: float, u_kinetic_N: float) -> Break:
    """Weigh every moment around one top by the slip filter, over all settings of sled, string and hand.

    kinetic_N, u_kinetic_N: the kinetic level and how far the friction just after the break may be from it.
    """
    t, dt = shape.time_s, shape.step_s
    top_s = float(t[swing.top])
    fall_s = max(_fall_time(shape, swing), dt)
    seen = fall_s / dt
    before_s = min(max(2 * fall_s, 0.25, 6 * dt), 0.6 if seen > 3 else 12 * dt)
    until_s = top_s + (0.8 * fall_s if seen > 3 else fall_s + dt)
    coarse_s, fine_s = max(dt, fall_s / 12), max(dt, fall_s / POINTS_PER_FALL)
    from_s = top_s - 0.65 * fall_s - 2 * fine_s
    close, start_s = _even(shape, from_s, until_s, fine_s, kinetic_N)
    depth_N = np.maximum(float(shape.smooth_N[swing.top]) - close.force_N, 0.0)
    falling = start_s + fine_s * np.arange(close.force_N.size) > top_s
    close = replace(close, noise_N=np.hypot(close.noise_N, np.where(falling, MODEL_ERROR * depth_N, 0.0)))
    ramp, _ = _even(shape, top_s - before_s - 0.4 * fall_s, start_s - fine_s, coarse_s, kinetic_N)
    moments = np.arange(0.0, top_s + 0.15 * fall_s + fine_s - start_s, max(fall_s / 28, fine_s / 4))
    moments = moments[moments < (close.force_N.size - 1 - 1e-6) * fine_s]
    slope = _slope_before(shape, top_s - 0.3 * fall_s, 0.7 * before_s, kinetic_N)
    start = Start(float(ramp.force_N[0]), slope, kinetic_N, u_kinetic_N)
    hand = _usual_hand(ramp, close, slope, start)
    hands = [replace(hand, slope_N2_s3=jerk * hand.slope_N2_s3) for jerk in JERKS]
    held = hold(ramp, close, hands, start, calm=hand)
    slips, pairs, log_prior = _hypotheses(fall_s, hands)
    b = breaks(held, close, moments, slips, pairs)
    fits = (
        b.log_likelihood
        + log_prior[:, None]
        + _excess_prior(b.excess_N, np.sqrt(b.var_excess), kinetic_N)
        + _log_normal_cdf((b.static_N - b.highest_before_N) / np.sqrt(b.var_static + close.noise_N[0] ** 2))
    )
    prior_mass = moments.size * float(np.exp(log_prior).sum())
    jerks = np.array([0.0] + [-JERK_COSTS] * (len(hands) - 1))
    stuck = _log_sum_exp(held.log_likelihood[:, -1] + jerks) - _log_sum_exp(jerks)
    moment = np.broadcast_to(moments, fits.shape).ravel()
    fits, static, var_static, excess, var_excess, surprise = (
        values.ravel() for values in (fits, b.static_N, b.var_static, b.excess_N, b.var_excess, b.surprise)
    )
    weight = np.exp(fits - fits.max())
    log_odds = fits.max() + math.log(weight.sum() / prior_mass) - stuck
    weight /= weight.sum()
    static_N = float(weight @ static)
    time_s = float(weight @ moment)
    excess_N = float(weight @ excess)
    omega = math.pi / fall_s
    u_moment_s = math.hypot(MOMENT_OF_FALL * fall_s, MOMENT_OF_STEP * dt)
    surprised = float(weight @ surprise)
    highest_N = (
        float(np.max(shape.smooth_N[: int(np.searchsorted(t, start_s + time_s)) + 1])) - 2 * shape.u_smooth_N
    )
    short_N = max(highest_N - static_N, 0.0)  # a stuck sled has held every force before the break
    static_N += short_N
    u_model_N = math.hypot(slope * u_moment_s, LEVEL_OF_MODEL * static_N, short_N)
    return Break(
        time_s=start_s + time_s,
        u_time_s=math.sqrt(float(weight @ (moment - time_s) ** 2) + fine_s**2 / 192),
        static_N=static_N,
        u_static_N=math.sqrt(max(1.0, surprised))
        * math.sqrt(float(weight @ (var_static + (static - static_N) ** 2)) + u_model_N**2),
        excess_N=excess_N,
        u_excess_N=math.sqrt(float(weight @ (var_excess + (excess - excess_N) ** 2))),
        top=swing.top,
        fall_s=fall_s,
        slope_N_s=slope,
        swing=slope / (omega * max(excess_N, 1e-3 * kinetic_N)),
        samples_in_fall=seen,
        log_odds=float(log_odds),
        surprise=surprised,
        before_burst_N=_before_burst(shape, swing.top, fall_s),
    )


def _fall_time(shape: Shape, swing: Swing) -> float:
    """Return half a swing of the sled on its string, from how quickly the force fell after the top.

    The trough itself is no mark: a sled that sticks again leaves it flat. A free swing has done 0.92 of its
    depth after 0.82 of its half period.
    """
    smooth = shape.smooth_N[swing.top : swing.trough + 1]
    deep = smooth[0] - 0.92 * (smooth[0] - smooth[-1])
    reached = swing.top + int(np.argmax(smooth <= deep))
    before = max(reached - 1, swing.top)
    share = (shape.smooth_N[before] - deep) / max(shape.smooth_N[before] - shape.smooth_N[reached], 1e-300)
    at_s = shape.time_s[before] + min(max(float(share), 0.0), 1.0) * (
        shape.time_s[reached] - shape.time_s[before]
    )
    return float(at_s - shape.time_s[swing.top]) / 0.82


def _even(shape: Shape, from_s: float, to_s: float, grid_s: float, kinetic_N: float) -> tuple[Piece, float]:
    """Return the pull as means over even cells of grid_s that end at to_s, and the time of the first."""
    t, pull = shape.time_s, shape.pull_N
    count = max(int((to_s - max(from_s, float(t[0]))) / grid_s + 1e-6), 3)
    middles = to_s - grid_s * np.arange(count - 1, -1, -1)
    if grid_s < 1.5 * shape.step_s:
        means = np.interp(middles, t, pull)
    else:
        total = np.concatenate([[0.0], np.cumsum((pull[1:] + pull[:-1]) / 2 * np.diff(t))])
        edges = np.clip(to_s - grid_s * (np.arange(count, -1, -1) - 0.5), t[0], t[-1])
        means = np.diff(np.interp(edges, t, total)) / np.maximum(np.diff(edges), 1e-12)
    noise_N = math.hypot(shape.noise_N / math.sqrt(max(1.0, grid_s / shape.step_s)), 5e-4 * kinetic_N)
    return Piece(means, grid_s, np.full(count, noise_N)), float(middles[0])


def _slope_before(shape: Shape, until_s: float, over_s: float, kinetic_N: float) -> float:
    """Return the loading rate over a stretch before the break, never under a twentieth of the level a second."""
    ends = np.interp([until_s - over_s, until_s], shape.time_s, shape.smooth_N)
    return max(float(ends[1] - ends[0]) / over_s, 0.05 * kinetic_N)


def _before_burst(shape: Shape, top: int, fall_s: float) -> float | None:
    """Return the force from which a burst of the hand led to the break, or None when the ramp was even.

    A burst: the last rise to the top is far steeper than the second before it, and covers a good part of
    the force. Where in it the sled let go cannot be placed by any sampling.
    """
    t, smooth = shape.time_s, shape.smooth_N
    top_N = float(smooth[top])
    low = np.flatnonzero(smooth[:top] < FROM_REST * top_N)
    if low.size == 0 or t[top] - t[low[-1]] < max(1.2 * fall_s, 3 * shape.step_s):
        return 0.0
    last_s = max(min(fall_s, 0.1, 0.2 * float(t[top] - t[low[-1]])), 2 * shape.step_s)
    rise = np.interp(t[top] - np.array([0.0, 0.5, 1.0, 1.5]) * last_s, t, smooth)
    steepest = float(np.max(-np.diff(rise))) / (0.5 * last_s)
    earlier_s = max(float(t[low[-1]]), float(t[top]) - 2 * last_s - 0.7)
    earlier = np.interp([float(t[top]) - 2 * last_s, earlier_s], t, smooth)
    usual = max(
        float(earlier[0] - earlier[1]) / max(float(t[top]) - 2 * last_s - earlier_s, 1e-9), 0.05 * top_N
    )
    before_N = float(np.min(rise))
    return before_N if steepest > BURST * usual and before_N < 0.75 * top_N else None


def _usual_hand(ramp: Piece, close: Piece, slope: float, start: Start) -> Hand:
    """Return the hand's habits as the ramp shows them best."""
    hands = [
        Hand(liveliness * slope**2, tremor * start.kinetic_N)
        for liveliness, tremor in product((0.1, 1.0, 10.0), (0.002, 0.015))
    ]
    none = replace(close, force_N=close.force_N[:0], noise_N=close.noise_N[:0])
    return hands[int(np.argmax(hold(ramp, none, hands, start).ramp_likelihood))]


def _hypotheses(fall_s: float, hands: list[Hand]) -> tuple[list[Slip], list[tuple[int, int]], FloatArray]:
    """Return slips, pairs of a hand before and a slip after, and the log prior of each pair.

    Any sled and string near the fall seen, any hand, any fading.  A jerk, before the break or after it,
    makes the hand livelier (hands, the usual one first) and costs some prior.
    """
    usual = math.pi / fall_s
    slips: list[Slip] = []
    pairs: list[tuple[int, int]] = []
    log_prior: list[float] = []
    for faster, damping, fade in product((0.7, 1.05, 1.6), (0.03, 0.2), (0.0, 0.12, 0.35)):
        known = -0.5 * (math.log(faster) / 0.4) ** 2 - (1.0 if fade else 0.0)
        first = len(slips)
        slips += [Slip(usual * faster, damping, fade * fall_s, hand) for hand in hands]
        for before, after in ((0, 0), (0, 1), (0, 2), (1, 1), (2, 2)):
            pairs.append((before, first + after))
            log_prior.append(known - (JERK_COSTS if after else 0.0))
    return slips, pairs, np.array(log_prior)


def _excess_prior(excess_N: FloatArray, u_excess_N: FloatArray, kinetic_N: float) -> FloatArray:
    """Return the log prior of the static excess: positive, and usually a tenth to the whole of the level."""
    ratio = np.maximum(excess_N, 0.3 * u_excess_N + 1e-3 * kinetic_N) / kinetic_N
    usual = -0.5 * (np.log(ratio / USUAL_EXCESS) / EXCESS_SPREAD) ** 2
    return np.where(ratio > USUAL_EXCESS, 0.5 * usual, usual) + _log_normal_cdf(
        excess_N / (u_excess_N + 1e-300)
    )


def _log_sum_exp(values: FloatArray) -> float:
    top = float(values.max())
    return top + math.log(float(np.exp(values - top).sum()))


def _log_normal_cdf(z: FloatArray) -> FloatArray:
    """Return log Φ(z), with the first term of Mills' expansion far below nought."""
    far = -np.minimum(z, -5.0)
    mills = -0.5 * far * far - np.log(far * math.sqrt(2 * math.pi))
    near = np.array([math.log(0.5 * math.erfc(-v / math.sqrt(2))) for v in np.maximum(z, -5.0).ravel()])
    return np.where(z > -5, near.reshape(z.shape), mills)
