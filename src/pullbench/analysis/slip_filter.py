"""How likely are the samples if the sled broke away at a given moment?

A hand pulls a sled through something springy. Seen through the sensor (all in newtons):

    stuck     the reading is H + T: the hand's smooth pull H (its slope does a random walk) and tremor T
    sliding   the reading is H + T − y, where y is what the sled's own motion takes out of the string:
              w' = ω² p,  y' = w + 2ζω p,  p = reading − friction,  friction = K + Z,
              τ Z' = Z₂ − Z,  τ Z₂' = −Z₂

with ω² = stiffness/mass, ζ the string's damping, K the kinetic friction and Z the static excess that is
still to fade after the break: gone at once for Coulomb friction (τ = 0), slowly at first and then faster for
friction that weakens with speed, because the sled has to gather speed first. At the break
the static maximum S = H + T is kept as a state, so that the samples after the break sharpen it too. Every
term is linear, so a Kalman filter gives the exact likelihood and the posterior of S for each candidate
moment. Kalman 1960; continuous noise is discretised after Van Loan 1978.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from pullbench.model import FloatArray

H, H_SLOPE, T, T_SLOPE, Y, W, K, S, Z, Z_AHEAD = range(10)
SIZE = 10
TREMOR_HZ = 9.0  # physiological tremor peaks at 6–12 Hz (Lakie 2015; Sutton and Sykes 1967)
TREMOR_WIDTH_HZ = 0.8
READS = np.array([1.0, 0, 1.0, 0, -1.0, 0, 0, 0, 0, 0])


@dataclass(frozen=True, slots=True)
class Hand:
    """One hypothesis about the hand: variance rate of the pull's slope, and tremor (rms amplitude)."""

    slope_N2_s3: float
    tremor_N: float


@dataclass(frozen=True, slots=True)
class Slip:
    """One hypothesis about what follows the break.

    omega_rad_s, damping: of the sled on its string.  fade_s: in which the static excess fades.
    after_factor: how many times livelier the hand may be than before.
    """

    omega_rad_s: float
    damping: float
    fade_s: float
    after_factor: float


@dataclass(frozen=True, slots=True)
class Start:
    """What is known before the first sample: level and slope of the pull, kinetic level and its doubt."""

    level_N: float
    slope_N_s: float
    kinetic_N: float
    u_kinetic_N: float


def _exponential(matrix: FloatArray) -> FloatArray:
    """Return the matrix exponential by scaling, a Taylor series and squaring."""
    halvings = max(0, math.ceil(math.log2(max(float(np.abs(matrix).sum(1).max()), 1e-30))) + 4)
    scaled = matrix / 2**halvings
    total = term = np.eye(len(matrix))
    for k in range(1, 9):
        term = term @ scaled / k
        total = total + term
    for _ in range(halvings):
        total = total @ total
    return total


def _step(drift: FloatArray, diffusion: FloatArray, dt_s: float) -> tuple[FloatArray, FloatArray]:
    """Return transition matrix and noise covariance over dt_s (Van Loan)."""
    n = len(drift)
    block = np.zeros((2 * n, 2 * n))
    block[:n, :n], block[:n, n:], block[n:, n:] = -drift, diffusion, drift.T
    grown = _exponential(block * dt_s)
    transition = grown[n:, n:].T
    noise = transition @ grown[:n, n:]
    return transition, (noise + noise.T) / 2


def _motion(hand: Hand, slip: Slip | None = None) -> tuple[FloatArray, FloatArray]:
    """Return drift and diffusion of the states, for a stuck sled or one that slips."""
    nu, gamma = 2 * math.pi * TREMOR_HZ, 2 * math.pi * TREMOR_WIDTH_HZ
    drift, diffusion = np.zeros((SIZE, SIZE)), np.zeros((SIZE, SIZE))
    drift[H, H_SLOPE] = drift[T, T_SLOPE] = 1.0
    drift[T_SLOPE, T], drift[T_SLOPE, T_SLOPE] = -nu * nu, -2 * gamma
    diffusion[H_SLOPE, H_SLOPE] = hand.slope_N2_s3 * (1.0 if slip is None else slip.after_factor)
    diffusion[T_SLOPE, T_SLOPE] = 4 * gamma * nu * nu * hand.tremor_N**2
    if slip is not None:
        net = READS.copy()
        net[K] = net[Z] = -1.0
        drift[W] += slip.omega_rad_s**2 * net
        drift[Y] += 2 * slip.damping * slip.omega_rad_s * net
        drift[Y, W] += 1.0
        if slip.fade_s > 0:
            drift[Z_AHEAD, Z_AHEAD] = drift[Z, Z] = -1 / slip.fade_s
            drift[Z, Z_AHEAD] = 1 / slip.fade_s
    return drift, diffusion


@dataclass(frozen=True, slots=True)
class Breaks:
    """For each candidate moment: log likelihood, static maximum (mean, variance), excess over kinetic.

    surprise: mean squared innovation of the samples after the break, in units of what was expected (about
    1 when the model fits).
    """

    log_likelihood: FloatArray
    static_N: FloatArray
    var_static: FloatArray
    excess_N: FloatArray
    var_excess: FloatArray
    highest_before_N: FloatArray
    surprise: FloatArray


@dataclass(frozen=True, slots=True)
class Piece:
    """Evenly spaced samples: force_N of shape (n,), the interval before each of them, noise_N of each (n,)."""

    force_N: FloatArray
    step_s: float
    noise_N: FloatArray


@dataclass(frozen=True, slots=True)
class Held:
    """A sled that never moved, seen through a coarse ramp and the close samples after it.

    states, covariances: after each close sample.  log_likelihoods: of everything up to it.  tops: the
    highest pull up to it.  ramp_likelihood: of the ramp alone, which is what it says of the hand.
    """

    hand: Hand
    states: list[FloatArray]
    covariances: list[FloatArray]
    log_likelihoods: list[float]
    tops: list[float]
    ramp_likelihood: float


def hold(ramp: Piece, close: Piece, hand: Hand, start: Start) -> Held:
    """Run the filter for a sled that never moved; see Held."""
    nu, scale = 2 * math.pi * TREMOR_HZ, abs(start.kinetic_N)
    x, c = np.zeros(SIZE), np.zeros((SIZE, SIZE))
    x[H], x[H_SLOPE], x[K] = start.level_N, start.slope_N_s, start.kinetic_N
    c[H, H], c[H_SLOPE, H_SLOPE] = (0.3 * scale) ** 2, (3 * abs(start.slope_N_s) + scale) ** 2
    c[T, T], c[T_SLOPE, T_SLOPE] = hand.tremor_N**2, (hand.tremor_N * nu) ** 2
    c[K, K] = start.u_kinetic_N**2
    motion = _motion(hand)
    held = Held(hand, [], [], [], [], 0.0)
    total, top, ramp_likelihood = 0.0, -math.inf, 0.0
    for piece in (ramp, close):
        transition, grown = _step(*motion, piece.step_s)
        for sample, noise_N in zip(piece.force_N, piece.noise_N, strict=True):
            x = transition @ x
            c = transition @ c @ transition.T + grown
            ch = c @ READS
            variance = float(READS @ ch) + noise_N**2
            miss = sample - READS @ x
            x = x + ch / variance * miss
            c = c - np.outer(ch, ch) / variance
            total -= 0.5 * (miss * miss / variance + math.log(variance))
            top = max(top, float(x[H] + x[T]))
            if piece is close:
                held.states.append(x)
                held.covariances.append(c)
                held.log_likelihoods.append(total)
                held.tops.append(top)
        if piece is ramp:
            ramp_likelihood = total
    return replace(held, ramp_likelihood=ramp_likelihood)


def breaks(held: Held, close: Piece, moments_s: FloatArray, slip: Slip) -> Breaks:
    """Weigh each candidate moment of breakaway under one hypothesis of what follows.

    held: the same close samples, seen as a stuck sled.  close: fine samples, the first at time 0.
    moments_s: shape (m,), increasing, within close, resolved to a quarter of its step.
    """
    n, dt_s, force_N, noise_N = close.force_N.size, close.step_s, close.force_N, close.noise_N
    at = np.clip((moments_s / dt_s + 1e-6).astype(int), 0, n - 2)
    part = np.round((moments_s / dt_s - at) * 4) / 4
    stuck, slides = _motion(held.hand), _motion(held.hand, slip)
    letting = np.eye(SIZE)
    letting[S] = letting[Z] = letting[Z_AHEAD] = 0.0
    letting[S, [H, T]] = 1.0
    if slip.fade_s > 0:  # otherwise Coulomb: the excess is gone at once
        letting[Z, [H, T]] = letting[Z_AHEAD, [H, T]] = 1.0
        letting[Z, K] = letting[Z_AHEAD, K] = -1.0
    x, c = np.zeros((at.size, SIZE)), np.zeros((at.size, SIZE, SIZE))
    for share in np.unique(part):
        f0, v0 = _step(*stuck, max(share * dt_s, 1e-12))
        f1, v1 = _step(*slides, max((1 - share) * dt_s, 1e-12))
        here = np.flatnonzero(part == share)
        before = np.array([held.covariances[k] for k in at[here]])
        at_break = letting @ (f0 @ before @ f0.T + v0) @ letting.T
        x[here] = np.array([held.states[k] for k in at[here]]) @ (f1 @ letting @ f0).T
        c[here] = f1 @ at_break @ f1.T + v1
    total = np.array([held.log_likelihoods[k] for k in at])
    surprise, after = np.zeros(at.size), np.zeros(at.size)
    transition, grown = _step(*slides, dt_s)
    for k in range(int(at[0]) + 1, n):
        old, now = int(np.searchsorted(at, k - 1, "left")), int(np.searchsorted(at, k - 1, "right"))
        if old:
            x[:old] = x[:old] @ transition.T
            c[:old] = transition @ c[:old] @ transition.T + grown
        ch = c[:now] @ READS
        variance = ch @ READS + noise_N[k] ** 2
        miss = force_N[k] - x[:now] @ READS
        x[:now] += ch * (miss / variance)[:, None]
        c[:now] -= ch[:, :, None] * (ch / variance[:, None])[:, None, :]
        total[:now] -= 0.5 * (miss * miss / variance + np.log(variance))
        surprise[:now] += miss * miss / variance
        after[:now] += 1
    return Breaks(
        log_likelihood=total,
        static_N=x[:, S],
        var_static=c[:, S, S],
        excess_N=x[:, S] - x[:, K],
        var_excess=c[:, S, S] + c[:, K, K] - 2 * c[:, S, K],
        highest_before_N=np.array([held.tops[k] for k in at]),
        surprise=surprise / np.maximum(after, 1),
    )
