"""The two filters that meet at the break, against one big Gaussian written out in full.

The dense joint density needs no filter at all: it stacks every sample's dependence on the start and on the
noise of every step, discretised with scipy's matrix exponential.
"""

import math

import numpy as np
import pytest
from scipy import linalg, stats

from pullbench.analysis.slip_filter import Hand, Piece, Slip, Start, breaks, hold

NU, GAMMA = 2 * math.pi * 9.0, 2 * math.pi * 0.8  # the tremor of the model
READS = np.array([1.0, 0, 1.0, 0, 0, -1.0, 0, 0, 0])  # H H' T T' K y w Z Z2


def motion(hand, slip):
    drift, diffusion = np.zeros((9, 9)), np.zeros((9, 9))
    drift[0, 1] = drift[2, 3] = 1.0
    drift[3, 2], drift[3, 3] = -(NU**2), -2 * GAMMA
    diffusion[1, 1], diffusion[3, 3] = hand.slope_N2_s3, 4 * GAMMA * NU**2 * hand.tremor_N**2
    if slip is not None:
        net = READS.copy()
        net[4] = net[7] = -1.0
        drift[6] += slip.omega_rad_s**2 * net
        drift[5] += 2 * slip.damping * slip.omega_rad_s * net
        drift[5, 6] += 1.0
        if slip.fade_s:
            drift[7, 7] = drift[8, 8] = -1 / slip.fade_s
            drift[7, 8] = 1 / slip.fade_s
    return drift, diffusion


def stepped(hand, slip, dt):
    """Return transition and noise over dt, the noise by quadrature."""
    drift, diffusion = motion(hand, slip)
    nodes, weights = np.polynomial.legendre.leggauss(12)
    noise = np.zeros((9, 9))
    for node, weight in zip(nodes, weights, strict=True):
        grown = linalg.expm(drift * dt * (node + 1) / 2)
        noise += weight * dt / 2 * grown @ diffusion @ grown.T
    return linalg.expm(drift * dt), noise


def dense(close, moment_s, slip, before, start):
    """Return log likelihood, mean and variance of the static maximum from the joint Gaussian of everything."""
    n, dt = close.force_N.size, close.step_s
    at = int(moment_s / dt + 1e-6)
    part = round((moment_s / dt - at) * 4) / 4
    letting = np.eye(9)
    letting[5:] = 0.0
    if slip.fade_s:
        letting[7, [0, 2, 4]] = letting[8, [0, 2, 4]] = 1.0, 1.0, -1.0
    mean = np.array([start.level_N, start.slope_N_s, 0, 0, start.kinetic_N, 0, 0, 0, 0])
    spread = np.diag(
        [(0.3 * start.kinetic_N) ** 2, (3 * start.slope_N_s + start.kinetic_N) ** 2, before.tremor_N**2,
         (before.tremor_N * NU) ** 2, start.u_kinetic_N**2, 0, 0, 0, 0]
    )  # fmt: skip
    means, blocks, ways = [], [spread], [np.eye(9)]  # x = sum of ways @ independent blocks
    rows, static = [], None

    def go(transition, noise):
        nonlocal mean, ways
        mean = transition @ mean
        ways = [transition @ way for way in ways]
        if noise is not None:
            blocks.append(noise)
            ways.append(np.eye(9))

    for k in range(n):
        if k == at + 1:
            go(*stepped(before, None, part * dt)) if part else None
            static = (mean[0] + mean[2], [way[0] + way[2] for way in ways])
            go(letting, None)
            go(*stepped(slip.hand, slip, (1 - part) * dt))
        else:
            go(*stepped(before, None, dt) if k <= at else stepped(slip.hand, slip, dt))
        means.append(READS @ mean)
        rows.append([READS @ way for way in ways])
    width = len(blocks)
    stacked = np.array(
        [np.concatenate(row + [np.zeros(9)] * (width - len(row))) for row in (*rows, static[1])]
    )
    joint = stacked @ linalg.block_diag(*blocks) @ stacked.T
    seen = joint[:n, :n] + np.diag(close.noise_N**2)
    misses = close.force_N - np.array(means)
    gain = linalg.solve(seen, joint[:n, n])
    likelihood = stats.multivariate_normal.logpdf(misses, cov=seen) + 0.5 * n * math.log(2 * math.pi)
    return likelihood, static[0] + gain @ misses, joint[n, n] - gain @ joint[:n, n]


@pytest.mark.parametrize("fade_s", [0.0, 0.02])
@pytest.mark.parametrize("moment_s", [0.055, 0.0625, 0.09])
def test_the_two_filters_meet_as_one_big_gaussian(fade_s, moment_s):
    rng = np.random.default_rng(11)
    usual, lively = Hand(4.0, 0.02), Hand(400.0, 0.02)
    start, dt = Start(1.5, 2.0, 2.0, 0.1), 0.01
    force = 1.5 + 2.0 * dt * np.arange(1, 19) + 0.01 * rng.standard_normal(18)
    force[8:] -= 0.3 * (1 - np.cos(30.0 * dt * np.arange(10)))
    close = Piece(force, dt, np.full(18, 0.012))
    slip = Slip(30.0, 0.1, fade_s, lively)

    empty = Piece(np.empty(0), dt, np.empty(0))
    held = hold(empty, close, [usual], start)
    found = breaks(held, close, np.array([moment_s]), [slip], [(0, 0)])

    likelihood, static_N, variance = dense(close, moment_s, slip, usual, start)
    assert found.log_likelihood[0, 0] == pytest.approx(likelihood, abs=1e-6)
    assert found.static_N[0, 0] == pytest.approx(static_N, rel=1e-9)
    assert found.var_static[0, 0] == pytest.approx(variance, rel=1e-6)
