"""How likely are the samples if the sled broke away at a given moment?

A hand pulls a sled through something springy. Seen through the sensor (all in newtons):

    stuck     the reading is H + T: the hand's smooth pull H (its slope does a random walk) and tremor T
    sliding   the reading is H + T − y, where y is what the sled's own motion takes out of the string:
              w' = ω² p,  y' = w + 2ζω p,  p = reading − friction,  friction = K + Z,
              τ Z' = Z₂ − Z,  τ Z₂' = −Z₂

with ω² = stiffness/mass, ζ the string's damping, K the kinetic friction and Z the static excess that is
still to fade after the break: gone at once for Coulomb friction (τ = 0), slowly at first and then faster for
friction that weakens with speed, because the sled has to gather speed first. At the break the static
maximum is S = H + T.

Every term is linear. So a Kalman filter runs forward through the samples for a sled that stays stuck, and
an information filter runs backward through them for a sled that slides; at each candidate moment the two
meet, and give the exact likelihood of all samples and the posterior of S. Kalman 1960; the meeting of two
filters after Fraser and Potter 1969; continuous noise is discretised after Van Loan 1978.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from pullbench.model import FloatArray

H, H_SLOPE, T, T_SLOPE, K, Y, W, Z, Z_AHEAD = range(9)
STUCK, BEFORE, SIZE = 4, 5, 9  # states of a stuck sled's reading; those with K; all of them
TREMOR_HZ = 9.0  # physiological tremor peaks at 6–12 Hz (Lakie 2015; Sutton and Sykes 1967)
TREMOR_WIDTH_HZ = 0.8
NOUGHT = 1e-9  # share of a noise below which it is rounding
READS = np.array([1.0, 0, 1.0, 0, 0, -1.0, 0, 0, 0])
STATIC, EXCESS = np.array([1.0, 0, 1.0, 0, 0]), np.array([1.0, 0, 1.0, 0, -1.0])


@dataclass(frozen=True, slots=True)
class Hand:
    """One hypothesis about the hand: variance rate of the pull's slope, and tremor (rms amplitude)."""

    slope_N2_s3: float
    tremor_N: float


@dataclass(frozen=True, slots=True)
class Slip:
    """One hypothesis about what follows the break.

    omega_rad_s, damping: of the sled on its string.  fade_s: in which the static excess fades.
    hand: whose pull goes on.
    """

    omega_rad_s: float
    damping: float
    fade_s: float
    hand: Hand


@dataclass(frozen=True, slots=True)
class Start:
    """What is known before the first sample: level and slope of the pull, kinetic level and its doubt."""

    level_N: float
    slope_N_s: float
    kinetic_N: float
    u_kinetic_N: float


@dataclass(frozen=True, slots=True)
class Piece:
    """Evenly spaced samples: force_N of shape (n,), the interval before each of them, noise_N of each (n,)."""

    force_N: FloatArray
    step_s: float
    noise_N: FloatArray


@dataclass(frozen=True, slots=True)
class Held:
    """A sled that never moved, seen through a coarse ramp and the close samples after it, by h hands.

    mean (h, n, 4), covariance (h, n, 4, 4): after each close sample.  log_likelihood (h, n): of everything
    up to it.  top_N (h, n): the highest pull up to it.  ramp_likelihood (h,): of the ramp alone, which is
    what it says of the hand.
    """

    hands: tuple[Hand, ...]
    start: Start
    mean: FloatArray
    covariance: FloatArray
    log_likelihood: FloatArray
    top_N: FloatArray
    ramp_likelihood: FloatArray


@dataclass(frozen=True, slots=True)
class Breaks:
    """For each hypothesis and candidate moment, shape (pairs, m): log likelihood, static maximum (mean and
    variance), its excess over kinetic, the highest pull before it.

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


def hold(ramp: Piece, close: Piece, hands: Sequence[Hand], start: Start, *, calm: Hand | None = None) -> Held:
    """Run the filter for a sled that never moved, for all hands at once; see Held.

    calm: the hand along the ramp, when `hands` only say how lively it became close to the break.
    """
    nu, scale, n = 2 * math.pi * TREMOR_HZ, abs(start.kinetic_N), close.force_N.size
    tremor_N, reads = np.array([hand.tremor_N for hand in hands]), READS[:STUCK]
    x, c = np.zeros((len(hands), STUCK)), np.zeros((len(hands), STUCK, STUCK))
    x[:, H], x[:, H_SLOPE] = start.level_N, start.slope_N_s
    c[:, H, H], c[:, H_SLOPE, H_SLOPE] = (0.3 * scale) ** 2, (3 * abs(start.slope_N_s) + scale) ** 2
    c[:, T, T], c[:, T_SLOPE, T_SLOPE] = tremor_N**2, (tremor_N * nu) ** 2
    held = Held(
        tuple(hands), start, np.empty((len(hands), n, STUCK)), np.empty((len(hands), n, STUCK, STUCK)),
        np.empty((len(hands), n)), np.empty((len(hands), n)), np.zeros(len(hands)),
    )  # fmt: skip
    total, top = np.zeros(len(hands)), np.full(len(hands), -math.inf)
    for piece, pulling in ((ramp, [calm] * len(hands) if calm else hands), (close, hands)):
        drift, diffusion = (part[:, :STUCK, :STUCK] for part in _motion(pulling))
        transition, grown = _step(drift, diffusion, piece.step_s)
        for k in range(piece.force_N.size):
            x = (transition @ x[:, :, None])[:, :, 0]
            c = transition @ c @ transition.swapaxes(1, 2) + grown
            ch = c @ reads
            variance = ch @ reads + piece.noise_N[k] ** 2
            miss = piece.force_N[k] - x @ reads
            x = x + ch * (miss / variance)[:, None]
            c = c - ch[:, :, None] * (ch / variance[:, None])[:, None, :]
            total = total - 0.5 * (miss * miss / variance + np.log(variance))
            top = np.maximum(top, x[:, H] + x[:, T])
            if piece is close:
                held.mean[:, k], held.covariance[:, k] = x, c
                held.log_likelihood[:, k], held.top_N[:, k] = total, top
        if piece is ramp:
            held = replace(held, ramp_likelihood=total)
    return held


def breaks(
    held: Held,
    close: Piece,
    moments_s: FloatArray,
    slips: Sequence[Slip],
    pairs: Sequence[tuple[int, int]],
) -> Breaks:
    """Weigh each candidate moment of breakaway under each pair of a hand before and a slip after.

    held: the same close samples, seen as a stuck sled.  close: fine samples, the first at time 0.
    moments_s: shape (m,), increasing, within close, resolved to a quarter of its step.  pairs: number of a
    hand of `held` (before) and of one of `slips` (after).
    """
    n, dt_s = close.force_N.size, close.step_s
    at = np.clip((moments_s / dt_s + 1e-6).astype(int), 0, n - 2)
    quarters = np.rint((moments_s / dt_s - at) * 4).astype(int)
    before, after = np.array(pairs).T
    mean, covariance = _until_break(held, at, quarters, dt_s)
    seen = _from_break(held, close, at, quarters, slips)
    return _meet(held, mean[before], covariance[before], seen.of(after), before, at, n)


@dataclass(frozen=True, slots=True)
class _Seen:
    """What samples say of a state x, as log likelihood −½ xᵀ information x + xᵀ vector + log terms.

    information (…, d, d), vector (…, d).  squares, widths (…): the two log terms, from the misses and from
    how wide the predictions were.
    """

    information: FloatArray
    vector: FloatArray
    squares: FloatArray
    widths: FloatArray

    @property
    def parts(self) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Return the four, in order."""
        return self.information, self.vector, self.squares, self.widths

    def of(self, which: npt.NDArray[np.int64]) -> _Seen:
        """Return those of some hypotheses."""
        return _Seen(*(part[which] for part in self.parts))

    def through(self, matrix: FloatArray) -> _Seen:
        """Return what is said of y, when x = matrix y; matrix (s, d, e)."""
        turned = matrix.swapaxes(1, 2)
        information = turned @ self.information @ matrix
        return _Seen(information, (turned @ self.vector[:, :, None])[:, :, 0], self.squares, self.widths)


def _until_break(
    held: Held, at: npt.NDArray[np.int64], quarters: npt.NDArray[np.int64], dt_s: float
) -> tuple[FloatArray, FloatArray]:
    """Return mean (h, m, 5) and covariance of the stuck states and K at each moment, from all before it."""
    hands, m = len(held.hands), at.size
    mean, covariance = np.zeros((hands, m, BEFORE)), np.zeros((hands, m, BEFORE, BEFORE))
    mean[:, :, K], covariance[:, :, K, K] = held.start.kinetic_N, held.start.u_kinetic_N**2
    drift, diffusion = _motion(held.hands)
    steps = _quarter_steps(drift[:, :STUCK, :STUCK], diffusion[:, :STUCK, :STUCK], dt_s)
    for quarter in np.unique(quarters):
        here = np.flatnonzero(quarters == quarter)
        transition, grown = (part[:, None] for part in steps[quarter])
        mean[:, here, :STUCK] = (transition @ held.mean[:, at[here], :, None])[..., 0]
        moved = transition @ held.covariance[:, at[here]] @ transition.swapaxes(-1, -2) + grown
        covariance[:, here, :STUCK, :STUCK] = moved
    return mean, covariance


def _from_break(
    held: Held,
    close: Piece,
    at: npt.NDArray[np.int64],
    quarters: npt.NDArray[np.int64],
    slips: Sequence[Slip],
) -> _Seen:
    """Return what all samples after each moment say of the five states at it, for each slip: (s, m, …)."""
    hands = [slip.hand for slip in slips]
    steps = [(f, _directions(grown)) for f, grown in _quarter_steps(*_motion(hands, slips), close.step_s)]
    last = _Seen(
        np.zeros((len(slips), SIZE, SIZE)), np.zeros((len(slips), SIZE)), np.zeros(len(slips)), np.zeros(len(slips))
    )  # fmt: skip
    each: dict[int, _Seen] = {}
    for k in range(close.force_N.size - 1, int(at[0]), -1):
        if k < close.force_N.size - 1:
            last = _back(last, *steps[4])
        # forces are counted from the kinetic level: squares of small numbers lose no digits
        last = _with_sample(last, float(close.force_N[k]) - held.start.kinetic_N, float(close.noise_N[k]))
        each[k] = last
    letting = _letting(slips)
    found = [
        (_back(each[k + 1], *steps[4 - quarter]) if quarter < 4 else each[k + 1]).through(letting)
        for k, quarter in zip(at.tolist(), quarters.tolist(), strict=True)
    ]
    return _Seen(*(np.stack(parts, axis=1) for parts in zip(*(one.parts for one in found), strict=True)))


def _with_sample(seen: _Seen, force_N: float, noise_N: float) -> _Seen:
    """Return what is said with one more sample, taken at the moment of the state."""
    weight = 1 / noise_N**2
    return _Seen(
        seen.information + weight * np.outer(READS, READS),
        seen.vector + (weight * force_N) * READS,
        seen.squares - 0.5 * weight * force_N**2,
        seen.widths - math.log(noise_N),
    )


def _back(seen: _Seen, transition: FloatArray, noise: FloatArray) -> _Seen:
    """Return what is said of the state one step earlier, over one transition and the noise grown in it.

    noise: (s, 9, r), its independent directions; each is taken out by an update of rank one.
    """
    information, vector = seen.information, seen.vector
    squares, widened = seen.squares, np.ones_like(seen.squares)
    for direction in np.moveaxis(noise, -1, 0):
        pressed = (information @ direction[:, :, None])[:, :, 0]
        wide = 1 + np.einsum("si,si->s", pressed, direction)
        shown = np.einsum("si,si->s", vector, direction)
        information = information - pressed[:, :, None] * (pressed / wide[:, None])[:, None, :]
        vector = vector - pressed * (shown / wide)[:, None]
        squares = squares + 0.5 * shown**2 / wide
        widened = widened * wide
    widths = seen.widths - 0.5 * np.log(widened)
    return _Seen(information, vector, squares, widths).through(transition)


def _directions(grown: FloatArray) -> FloatArray:
    """Return vectors (s, 9, r) whose outer products sum to a noise covariance; r leaves out what is nought."""
    own = np.sqrt(np.maximum(np.diagonal(grown, axis1=1, axis2=2), 1e-300))
    shares, ways = np.linalg.eigh(grown / (own[:, :, None] * own[:, None, :]))
    kept = shares.max(axis=0) > NOUGHT
    directions: FloatArray = (
        own[:, :, None] * ways[:, :, kept] * np.sqrt(np.maximum(shares[:, None, kept], 0.0))
    )
    return directions


def _meet(
    held: Held,
    mean: FloatArray,
    covariance: FloatArray,
    seen: _Seen,
    before: npt.NDArray[np.int64],
    at: npt.NDArray[np.int64],
    n: int,
) -> Breaks:
    """Bring together what was known before each moment, (p, m, 5), and what the samples after it say."""
    centred = mean.copy()
    centred[..., H] -= held.start.kinetic_N
    centred[..., K] -= held.start.kinetic_N
    miss = seen.vector - (seen.information @ centred[..., None])[..., 0]
    mixing = np.eye(BEFORE) + covariance @ seen.information
    after = np.linalg.solve(mixing, covariance)
    gain = (after @ miss[..., None])[..., 0]
    said = np.einsum("pmi,pmi->pm", seen.vector + miss, centred) / 2
    squares = seen.squares + said + 0.5 * np.einsum("pmi,pmi->pm", miss, gain)
    widths = seen.widths - 0.5 * np.linalg.slogdet(mixing)[1]
    x = mean + gain
    count = n - 1 - at
    return Breaks(
        log_likelihood=held.log_likelihood[before][:, at] + squares + widths,
        static_N=x @ STATIC,
        var_static=np.einsum("i,pmij,j->pm", STATIC, after, STATIC),
        excess_N=x @ EXCESS,
        var_excess=np.einsum("i,pmij,j->pm", EXCESS, after, EXCESS),
        highest_before_N=held.top_N[before][:, at],
        surprise=-2 * squares / np.maximum(count, 1),
    )


def _motion(hands: Sequence[Hand], slips: Sequence[Slip] | None = None) -> tuple[FloatArray, FloatArray]:
    """Return drift and diffusion (s, 9, 9) of the states, for a stuck sled or one that slips."""
    nu, gamma = 2 * math.pi * TREMOR_HZ, 2 * math.pi * TREMOR_WIDTH_HZ
    drift, diffusion = np.zeros((len(hands), SIZE, SIZE)), np.zeros((len(hands), SIZE, SIZE))
    drift[:, H, H_SLOPE] = drift[:, T, T_SLOPE] = 1.0
    drift[:, T_SLOPE, T], drift[:, T_SLOPE, T_SLOPE] = -nu * nu, -2 * gamma
    for i, hand in enumerate(hands):
        diffusion[i, H_SLOPE, H_SLOPE] = hand.slope_N2_s3
        diffusion[i, T_SLOPE, T_SLOPE] = 4 * gamma * nu * nu * hand.tremor_N**2
    net = READS.copy()
    net[K] = net[Z] = -1.0
    for i, slip in enumerate(slips or ()):
        drift[i, W] += slip.omega_rad_s**2 * net
        drift[i, Y] += 2 * slip.damping * slip.omega_rad_s * net
        drift[i, Y, W] += 1.0
        if slip.fade_s > 0:
            drift[i, Z_AHEAD, Z_AHEAD] = drift[i, Z, Z] = -1 / slip.fade_s
            drift[i, Z, Z_AHEAD] = 1 / slip.fade_s
    return drift, diffusion


def _letting(slips: Sequence[Slip]) -> FloatArray:
    """Return how the states of a sled that slips (s, 9, 5) start from the stuck ones and K, at the break."""
    letting = np.zeros((len(slips), SIZE, BEFORE))
    letting[:, range(BEFORE), range(BEFORE)] = 1.0
    for i, slip in enumerate(slips):
        if slip.fade_s > 0:  # otherwise Coulomb: the excess is gone at once
            letting[i, [Z, Z_AHEAD]] = EXCESS
    return letting


def _quarter_steps(
    drift: FloatArray, diffusion: FloatArray, dt_s: float
) -> tuple[tuple[FloatArray, FloatArray], ...]:
    """Return transition and noise over 0, 1, 2, 3 and 4 quarters of dt_s."""
    one = _step(drift, diffusion, dt_s / 4)
    steps = [(np.broadcast_to(np.eye(drift.shape[-1]), drift.shape), np.zeros_like(drift)), one]
    for _ in range(3):
        transition, grown = steps[-1]
        steps.append((one[0] @ transition, one[0] @ grown @ one[0].swapaxes(1, 2) + one[1]))
    return tuple(steps)


def _step(drift: FloatArray, diffusion: FloatArray, dt_s: float) -> tuple[FloatArray, FloatArray]:
    """Return transition matrix and noise covariance over dt_s, shapes (s, d, d) (Van Loan)."""
    n = drift.shape[-1]
    block = np.zeros((len(drift), 2 * n, 2 * n))
    block[:, :n, :n], block[:, :n, n:], block[:, n:, n:] = -drift, diffusion, drift.swapaxes(1, 2)
    grown = _exponential(block * dt_s)
    transition = grown[:, n:, n:].swapaxes(1, 2)
    noise = transition @ grown[:, :n, n:]
    return transition, (noise + noise.swapaxes(1, 2)) / 2


def _exponential(matrices: FloatArray) -> FloatArray:
    """Return the matrix exponentials by scaling, a Taylor series and squaring."""
    largest = max(float(np.abs(matrices).sum(-1).max()), 1e-30)
    halvings = max(0, math.ceil(math.log2(largest)) + 4)
    scaled = matrices / 2**halvings
    total = term = np.broadcast_to(np.eye(matrices.shape[-1]), matrices.shape)
    for k in range(1, 9):
        term = term @ scaled / k
        total = total + term
    for _ in range(halvings):
        total = total @ total
    return total
