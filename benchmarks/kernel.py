"""The bench's inner loop interpreted and compiled, side by side, on the same slide; then whole pulls.

    python -m benchmarks.kernel

Prints the least processor time of each, their ratio and the largest difference.  Beside the ratio stands the most
it could be: a friction that depends on speed asks for an exponential or a logarithm at each of the four
stages of a step, each of which waits for the one before, and those are machine code in either loop.
Needs the extra `fast` (numba).
"""

import math
from time import process_time

import numpy as np

from benchmarks.machine import machine
from pullbench.physics import Ageing, Coulomb, RateState, Stribeck
from pullbench.physics.bench import Bench, Hand, hand, simulate
from pullbench.physics.bench.kernel import INTERPRETED, compiled
from pullbench.physics.bench.rig import law_numbers, sled_numbers

_MEMORY = {"a": 0.02, "b": 0.005, "Dc_m": 2e-5, "V0_m_s": 1e-3, "creep_m_s": 1e-4}
LAWS = {
    "Coulomb": (Coulomb(0.35, 0.27), 0, 0),
    "static ageing": (Ageing(0.35, 0.27, per_decade=0.02), 0, 0),
    "velocity weakening": (Stribeck(0.35, 0.27, 0.02), 4, 0),
    "rate and state, ageing law": (RateState(0.3, **_MEMORY), 1, 4),
    "rate and state, slip law": (RateState(0.3, law="slip", **_MEMORY), 1, 4),
}
"""Laws, with the exponentials and logarithms of one step of which each waits for the one before."""

STEPS, H_S, TURNS = 10_000, 5e-4, 5


def loop_s(kernel, law):
    """Return the time of one slide of STEPS steps, and the places passed."""
    bench = Bench(mass_kg=1.35, stiffness_N_m=1500.0, damping_N_s_m=12.0, law=law)
    positions_m, speeds_m_s = Hand.at_constant_speed(0.05, STEPS * H_S).motion_on_grid(H_S / 2, 2 * STEPS + 1)
    given = [kernel.row(a) for a in (positions_m, speeds_m_s, np.ones(1))]
    histories = [kernel.row(np.zeros(STEPS + 1)) for _ in range(3)]
    numbers = sled_numbers(bench), law_numbers(law)
    begin = process_time()
    last = kernel.slide(0, STEPS, -0.003, 0.05, law.fresh, H_S, 1.0, *given, 1.0, *numbers, *histories)
    taken_s = process_time() - begin
    assert last == STEPS, "the sled stopped: the two would not do the same work"
    return taken_s, np.array(histories[0])


def pull_s(kernel, law):
    """Return the time of one whole smooth pull, hand, sticks, events and truth included, and its force."""
    bench = Bench(mass_kg=1.35, stiffness_N_m=1500.0, damping_N_s_m=12.0, law=law)
    movement = hand("smooth", np.random.Generator(np.random.PCG64(3)), stretch_m=bench.stretch_m)
    begin = process_time()
    run = simulate(bench, movement, kernel=kernel)
    return process_time() - begin, run.pull_N


def side_by_side(way, law, fast):
    """Return the least times of both kernels, run in turn, and the largest difference of what they give."""
    least, given = {}, {}
    way(fast, law)  # warm: the compiled code is made or fetched
    for _ in range(TURNS):
        for kernel in (INTERPRETED, *[fast] * 4):
            taken_s, given[kernel.name] = way(kernel, law)
            least[kernel.name] = min(taken_s, least.get(kernel.name, math.inf))
    slow, quick = given["interpreted"], given["compiled"]
    return least["interpreted"], least["compiled"], float(np.abs(slow - quick).max())


def in_a_row_s():
    """Return the time of one exponential and of one logarithm when each waits for the one before."""
    from numba import njit

    def exponentials(n, x):
        for _ in range(n):
            x = -0.5 * math.exp(x)
        return x

    def logarithms(n, x):
        for _ in range(n):
            x = 7.0 - math.log(x)
        return x

    return [_least_s(njit(function)) / 100_000 for function in (exponentials, logarithms)]


def _least_s(function):
    function(10, 0.3)
    taken = []
    for _ in range(TURNS):
        begin = process_time()
        function(100_000, 0.3)
        taken.append(process_time() - begin)
    return min(taken)


def main(arguments=None):
    """Print both tables; say so where there is no numba."""
    fast = compiled()
    print(machine())
    if fast is None:
        print(
            "\nThe extra `fast` (numba) is not installed: there is no compiled loop to set beside this one."
        )
        return
    exp_s, log_s = in_a_row_s()
    print(
        f"\nThe bench's inner loop, {STEPS} steps, interpreted and compiled in turn (least of {TURNS} or more).\n"
        f"In a row, an exponential takes {1e9 * exp_s:.1f} ns and a logarithm {1e9 * log_s:.1f} ns: with them alone "
        "a ratio could be at most:"
    )
    print(f"{'':36}{'interpreted':>14}{'compiled':>14}{'ratio':>8}{'at most':>9}{'difference':>14}")
    for name, (law, exps, logs) in LAWS.items():
        slow_s, quick_s, difference = side_by_side(loop_s, law, fast)
        floor_s = STEPS * (exps * exp_s + logs * log_s)
        most = f"{slow_s / floor_s:.0f}" if floor_s else "-"
        print(row(f"loop, {name}", slow_s, quick_s, most, difference, "m"))
    for name, (law, _, _) in LAWS.items():
        print(row(f"whole pull, {name}", *side_by_side(pull_s, law, fast)[:2], "", 0.0, ""))


def row(name, slow_s, quick_s, most, difference, unit):
    """Return one line of the table."""
    times = f"{1e3 * slow_s:>11.2f} ms{1e3 * quick_s:>11.3f} ms{slow_s / quick_s:>8.0f}"
    apart = f"{difference:>12.1e} {unit}" if unit else ""
    return f"  {name:34}{times}{most:>9}{apart}"


if __name__ == "__main__":
    main()
