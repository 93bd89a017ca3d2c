"""How many pulls the watch misses, invents, splits or joins, counted on simulated recordings.

The pulls come from the project's own bench, which the watch never sees.  Benches, hands, rests and
sensors are drawn from the ranges written here, fixed before the counts were taken.
"""

from collections import Counter

import numpy as np
import pytest

from pullbench.detect import windows
from pullbench.model import Chunk
from pullbench.physics import Ageing, Coulomb, Stribeck
from pullbench.physics.bench import HAND_NAMES, Bench, Sensor, hand, in_a_row, record, simulate

LAWS = (
    Coulomb(0.35, 0.28),
    Coulomb(0.30, 0.29),
    Stribeck(0.4, 0.3, 0.02),
    Ageing(0.35, 0.28, per_decade=0.02),
)


def a_recording(seed, *, pulls=6):
    """Return a recording of pulls in a row, rests of 0.3-1.8 s between, and their truths."""
    rng = np.random.default_rng(seed)
    bench = Bench(
        mass_kg=float(np.exp(rng.uniform(np.log(0.2), np.log(3.0)))),
        stiffness_N_m=float(np.exp(rng.uniform(np.log(200.0), np.log(3000.0)))),
        damping_N_s_m=float(rng.uniform(0.0, 10.0)),
        law=LAWS[rng.integers(len(LAWS))],
        patchiness=float(rng.choice([0.0, 0.03])),
    )
    rest_s = float(rng.choice([0.25, 0.5, 0.9]))
    hands = [
        hand(str(rng.choice(HAND_NAMES)), rng, stretch_m=bench.stretch_m, rest_s=rest_s, rest_after_s=rest_s)
        for _ in range(pulls)
    ]
    run = in_a_row([simulate(bench, one, rng=rng, step_s=1e-3) for one in hands])
    return record(run, a_sensor(rng, 0.3 * bench.weight_N), rng), run.truths


def a_sensor(rng, pull_N):
    rate_Hz = float(np.exp(rng.uniform(np.log(10.0), np.log(1000.0))))
    return Sensor(
        rate_Hz=rate_Hz,
        sign=int(rng.choice([1, -1])),
        noise_N=pull_N * float(rng.choice([0.001, 0.01, 0.04])),
        resolution_N=pull_N * float(rng.choice([0.0, 0.01])),
        hum_N=pull_N * float(rng.choice([0.0, 0.01])),
        offset_N=pull_N * float(rng.uniform(-2.0, 2.0)),
        drift_N_s=pull_N * float(rng.uniform(-0.002, 0.002)),
        wander_N=pull_N * float(rng.choice([0.0, 0.01])),
        dropped=float(rng.choice([0.0, 0.02])),
        jitter_s=float(rng.choice([0.0, 0.1 / rate_Hz])),
    )


def counted(found, truths):
    """Return how many pulls were missed, split or joined, and how many windows hold no pull."""
    held = [
        [
            i
            for i, truth in enumerate(truths)
            if min(truth.end_s, w.end_s) - max(truth.start_s, w.start_s) > 0.1
        ]
        for w in found
    ]
    hits = Counter(i for inside in held for i in inside)
    return Counter(
        pulls=len(truths),
        missed=sum(hits[i] == 0 for i in range(len(truths))),
        split=sum(max(hits[i] - 1, 0) for i in range(len(truths))),
        joined=sum(max(len(inside) - 1, 0) for inside in held),
        invented=sum(not inside for inside in held),
    )


def watched(time_s, force_N):
    return list(windows([Chunk(time_s=time_s, force_N=force_N)]))


def test_of_a_hundred_pulls_in_a_row_hardly_one_is_missed_and_none_is_invented():
    counts, early_s, late_s = Counter(), [], []
    for seed in range(20):
        trace, truths = a_recording(seed)
        found = watched(trace.time_s, trace.force_N)
        counts += counted(found, truths)
        if len(found) == len(truths):
            early_s += [w.start_s - truth.start_s for w, truth in zip(found, truths, strict=True)]
            late_s += [w.end_s - truth.end_s for w, truth in zip(found, truths, strict=True)]
    print(dict(counts))
    assert counts["pulls"] == 120
    assert counts["invented"] == 0
    assert counts["missed"] + counts["split"] + counts["joined"] <= 1
    # The edges: to about a beat, and rather outside the pull than inside.
    assert abs(np.median(early_s)) < 0.1
    assert abs(np.median(late_s)) < 0.1


def drifting(rng, time_s):
    return rng.uniform(-20.0, 20.0) * time_s + rng.uniform(1.0, 100.0) * np.sin(
        2 * np.pi * time_s / rng.uniform(10.0, 60.0)
    )


def wandering(rng, time_s):
    return np.cumsum(rng.normal(size=time_s.size)) * np.sqrt(time_s[1]) * 0.3


def humming(rng, time_s):
    return 10.0 * np.sin(2 * np.pi * rng.choice([50.0, 60.0]) * time_s)


def knocked(rng, time_s):
    force_N = np.zeros(time_s.size)
    for _ in range(20):
        since_s = np.maximum(time_s - rng.uniform(0.0, time_s[-1]), 0.0)
        ring = np.cos(2 * np.pi * rng.uniform(12.0, 60.0) * since_s)
        force_N += (
            (since_s > 0) * np.exp(rng.uniform(1.0, 6.0)) * ring * np.exp(-since_s / rng.uniform(0.01, 0.05))
        )
        force_N[rng.integers(time_s.size)] += rng.choice([-1, 1]) * np.exp(rng.uniform(1.0, 8.0))
    return force_N


def swelling(rng, time_s):
    return rng.normal(size=time_s.size) * np.where((time_s // 10.0) % 2, 5.0, 0.0)


def still(rng, time_s):
    return np.zeros(time_s.size)


@pytest.mark.parametrize("habit", [still, drifting, wandering, humming, knocked, swelling])
@pytest.mark.parametrize("count_noises", [0.0, 0.3, 3.0], ids=["fine", "coarse", "flickering"])
def test_a_sensor_that_nobody_pulls_gives_no_window(habit, count_noises):
    for seed in range(6):
        rng = np.random.default_rng(seed)
        rate_Hz = float(np.exp(rng.uniform(np.log(8.0), np.log(1000.0))))
        time_s = np.arange(int(60.0 * rate_Hz)) / rate_Hz
        force_N = rng.normal(size=time_s.size) + habit(rng, time_s) + rng.uniform(-1000.0, 1000.0)
        if count_noises:
            force_N = count_noises * np.round(force_N / count_noises)
        found = watched(time_s, force_N * 10 ** rng.uniform(-3, 3))
        assert not found, (seed, rate_Hz, [(w.start_s, w.end_s) for w in found])


def test_a_drift_that_comes_back_as_the_recording_ends_is_no_pull():
    # Two rests are open when it ends, and closing the lower takes the upper with it.
    rng = np.random.default_rng(9001)
    rate_Hz = float(np.exp(rng.uniform(np.log(8.0), np.log(1000.0))))
    time_s = np.arange(int(60.0 * rate_Hz)) / rate_Hz
    force_N = rng.normal(size=time_s.size) + drifting(rng, time_s)
    assert not watched(time_s, force_N)
