"""Accuracy, coverage and width of limits on simulated pulls with known truth, ours and the rivals'.

    python -m benchmarks.accuracy [--count 400] [--first-seed 0] [--kinds plain,jerky] [--alone] [--laws]

Every number is from a simulation on the project's own bench (tests/simulated/pulls.py), never a measurement.
"""

import argparse
from collections import defaultdict
from collections.abc import Callable

import numpy as np

from benchmarks.machine import machine
from simulated.figures import Figures, Told
from simulated.pulls import HABITS, KINDS, Simulated, simulated

Rival = Callable[..., tuple[float, float] | None]


def table(kinds: list[str], count: int, first_seed: int, *, rivals: bool, by_law: bool) -> None:
    """Print one row a kind, then the rivals' rows, then (asked for) one row a law."""
    print(f"Simulated pulls, seeds {first_seed} to {first_seed + count - 1} of each kind.  Errors: median / 95th "
          "percentile of |value/truth − 1| in %.  Widths: median full width of the 95 % limits.\n")  # fmt: skip
    print(HEAD)
    theirs: dict[str, dict[str, list[tuple[float, float]]]] = {}
    for kind in kinds:
        batch, laws = Figures(kind), {}
        theirs[kind] = defaultdict(list)
        for seed in range(first_seed, first_seed + count):
            case = simulated(kind, seed)
            pulls = case.pulls()
            batch.add(case, pulls)
            laws.setdefault(case.law, Figures(kind)).add(case, pulls)
            if rivals:
                _ask(case, theirs[kind])
        print(row(kind, batch), flush=True)
        if by_law:
            for law in sorted(laws):
                print(row(f"  {law}", laws[law]), flush=True)
    if rivals:
        _print_rivals(theirs)


HEAD = (
    f"{'kind':18s}{'pulls':>6s}{'miss':>5s}{'inv.':>5s}{'again':>7s} | {'breakaway %':>13s}{'hold':>6s}{'width':>7s}"
    f"{'untold':>7s}{'bounds true':>12s} | {'kinetic %':>13s}{'hold':>6s}{'width':>7s}{'untold':>7s}"
)


def row(name: str, batch: Figures) -> str:
    """Return one line of the table."""
    return (
        f"{name:18s}{batch.pulls:6d}{len(batch.missed):5d}{len(batch.invented):5d}"
        f"{100 * len(batch.again) / batch.pulls:6.1f}% | {_told(batch.breakaway)}{_bounds(batch.breakaway):>12s}"
        f" | {_told(batch.kinetic)}"
    )


def _told(told: Told) -> str:
    if not told.errors:
        return f"{'-':>13s}{'-':>6s}{'-':>7s}{_share(told):>7s}"
    errors = f"{100 * told.error(0.5):.2f} / {100 * told.error(0.95):.2f}"
    return f"{errors:>13s}{100 * told.coverage:5.1f}%{100 * told.width:6.2f}%{_share(told):>7s}"


def _share(told: Told) -> str:
    return f"{100 * told.untold_share:.1f}%" if told.count else "-"


def _bounds(told: Told) -> str:
    return f"{sum(told.bounds_true)}/{len(told.bounds_true)}" if told.bounds_true else "-"


def _ask(case: Simulated, answers: dict[str, list[tuple[float, float]]]) -> None:
    from benchmarks.rivals import RIVALS

    if case.static_N is None or case.kinetic_N is None:
        return
    for name, rival in RIVALS.items():
        told = rival(case.trace)
        static_N, kinetic_N = (np.nan, np.nan) if told is None else told
        answers[name].append((static_N / case.static_N - 1, kinetic_N / case.kinetic_N - 1))


def _print_rivals(theirs: dict[str, dict[str, list[tuple[float, float]]]]) -> None:
    print("\nThe same pulls by other means (no limits are stated by any of them; nothing is ever untold):")
    print(f"{'':40s}" + "".join(f"{kind:>32s}" for kind in theirs))
    names = next(iter(theirs.values())).keys() if theirs else ()
    for name in names:
        cells = []
        for kind in theirs:
            errors = np.abs(np.array(theirs[kind].get(name) or [(np.nan, np.nan)]))
            median, high = 100 * np.nanmedian(errors, axis=0), 100 * np.nanquantile(errors, 0.95, axis=0)
            cells.append(f"{median[0]:.2f} / {high[0]:.1f}   {median[1]:.2f} / {high[1]:.1f}")
        print(f"{name:40s}" + "".join(f"{cell:>32s}" for cell in cells))
    print(f"{'':40s}" + "".join(f"{'breakaway %   kinetic %':>32s}" for _ in theirs))


def main(arguments: list[str] | None = None) -> None:
    """Parse, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=400)
    parser.add_argument("--first-seed", type=int, default=0)
    parser.add_argument("--kinds", default=",".join(KINDS), help=f"of {', '.join((*KINDS, *HABITS))}")
    parser.add_argument("--alone", action="store_true", help="leave the rivals out")
    parser.add_argument("--laws", action="store_true", help="one more row a law of friction")
    asked = parser.parse_args(arguments)
    print(machine())
    table(asked.kinds.split(","), asked.count, asked.first_seed, rivals=not asked.alone, by_law=asked.laws)


if __name__ == "__main__":
    main()
