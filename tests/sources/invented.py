"""One invented recording, and the ways in which sensors and programs might write it down."""

from __future__ import annotations

import itertools

import numpy as np

STEP_ms = 10


def digits(count: int = 240) -> list[tuple[int, int]]:
    """Return (time in ms, force in mN) of an invented pull: a rest, a ramp to 2.6 N, a slide at 2.0 N."""
    ramp = [0] * 60 + list(range(0, 2600, 65)) + [2000] * (count - 100)
    ripple = itertools.cycle([3, -7, 12, 0, -4, 9, -11])
    return [(STEP_ms * i, force + next(ripple)) for i, force in enumerate(ramp[:count])]


def seconds_and_newtons(rows: list[tuple[int, int]]) -> tuple[np.ndarray, np.ndarray]:
    """Return what the digits mean: the floats nearest to the printed decimals."""
    return (
        np.array([float(f"{ms / 1000:.3f}") for ms, _ in rows]),
        np.array([float(f"{mN / 1000:.3f}") for _, mN in rows]),
    )


def decimal(thousandths: int, mark: str = ".") -> str:
    """Return thousandths as a decimal number with three digits behind the mark."""
    return f"{thousandths / 1000:.3f}".replace(".", mark)


def table(rows: list[tuple[int, int]], line: str, head: str = "", *, mark: str = ".", end: str = "\n") -> str:
    """Return a table: `line` is a format with t, f (decimals of s and N), ms, us, mN, uN, i and clock."""
    lines = [
        line.format(
            t=decimal(ms, mark),
            f=decimal(mN, mark),
            ms=ms,
            us=1000 * ms,
            mN=mN,
            uN=1000 * mN,
            i=i,
            kN=f"{mN / 1e6:.6f}".replace(".", mark),
            tmin=f"{ms / 60000:.9f}",
            clock=_before_and_after_midnight(ms),
            mmss=f"07:{ms // 1000:02d}{mark}{ms % 1000:03d}",
        )
        for i, (ms, mN) in enumerate(rows)
    ]
    return end.join([*head.splitlines(), *lines, ""])


def _before_and_after_midnight(ms: int) -> str:
    seconds = ms // 1000
    hours = f"23:59:{58 + seconds:02d}" if seconds < 2 else f"00:00:{seconds - 2:02d}"
    return f"{hours}.{ms % 1000:03d}"
