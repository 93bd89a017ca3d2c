"""The bench's inner loop interpreted and compiled, side by side, on the same pull.

Prints the time of each, their ratio and the largest difference.  Needs the extra `fast` (numba).
"""

import platform
import sys
from time import perf_counter

import numpy as np

from pullbench.physics import Coulomb, RateState, Stribeck
from pullbench.physics.bench import Bench, Hand, hand, simulate
from pullbench.physics.bench.kernel import INTERPRETED, compiled
from pullbench.physics.bench.rig import law_numbers, sled_numbers

LAWS = {
    "Coulomb": Coulomb(0.35, 0.27),
    "Stribeck": Stribeck(0.35, 0.27, 0.02),
    "rate and state": RateState(0.3, a=0.02, b=0.005, Dc_m=2e-5, V0_m_s=1e-3, creep_m_s=1e-4),
}
STEPS, H_S = 20_000, 5e-4


def loop_time_s(kernel, law, repeats):
    """Return the least time of one slide of STEPS steps, and where it ended."""
    bench = Bench(mass_kg=1.35, stiffness_N_m=1500.0, damping_N_s_m=12.0, law=law)
    positions_m, speeds_m_s = Hand.at_constant_speed(0.05, STEPS * H_S).motion_on_grid(H_S / 2, 2 * STEPS + 1)
    given = [kernel.row(a) for a in (positions_m, speeds_m_s, np.ones(1))]
    best_s = float("inf")
    for _ in range(repeats):
        histories = [kernel.row(np.zeros(STEPS + 1)) for _ in range(3)]
        begin = perf_counter()
        last = kernel.slide(
            0, STEPS, -0.003, 0.05, law.fresh or 0.0, H_S, 1.0, *given, 1.0,
            sled_numbers(bench), law_numbers(law), *histories,
        )  # fmt: skip
        best_s = min(best_s, perf_counter() - begin)
        assert last == STEPS, "the sled stopped: the two would not do the same work"
    return best_s, np.array(histories[0])


def pull_time_s(kernel, repeats):
    """Return the least time of one whole smooth pull: hand, sticks, events and truth included."""
    bench = Bench(
        mass_kg=1.35, stiffness_N_m=1500.0, damping_N_s_m=12.0, law=LAWS["Coulomb"], patchiness=0.02
    )
    best_s = float("inf")
    for _ in range(repeats):
        rng = np.random.Generator(np.random.PCG64(3))
        movement = hand("smooth", rng, stretch_m=bench.stretch_m)
        begin = perf_counter()
        run = simulate(bench, movement, rng=rng, kernel=kernel)
        best_s = min(best_s, perf_counter() - begin)
    return best_s, run.pull_N


def main():
    fast = compiled()
    if fast is None:
        sys.exit("The extra `fast` (numba) is not installed: there is nothing to compare.")
    print(
        f"{platform.processor() or platform.machine()}, Python {platform.python_version()}; least of several"
    )
    print(f"{'':24}{'interpreted':>14}{'compiled':>14}{'ratio':>8}{'difference':>14}")
    for name, law in LAWS.items():
        loop_time_s(fast, law, 1)
        (slow_s, slow), (quick_s, quick) = loop_time_s(INTERPRETED, law, 3), loop_time_s(fast, law, 20)
        row(f"loop, {name}", slow_s, quick_s, np.abs(slow - quick).max(), "m")
    (slow_s, slow), (quick_s, quick) = pull_time_s(INTERPRETED, 3), pull_time_s(fast, 5)
    row("whole smooth pull", slow_s, quick_s, np.abs(slow - quick).max(), "N")


def row(name, slow_s, quick_s, difference, unit):
    times = f"{1e3 * slow_s:>11.2f} ms{1e3 * quick_s:>11.3f} ms{slow_s / quick_s:>8.0f}"
    print(f"{name:24}{times}{difference:>12.1e} {unit}")


if __name__ == "__main__":
    main()
