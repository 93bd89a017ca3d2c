"""What people do instead: by eye, by prominent peaks, by change points.  Each gets the whole recording.

Every rival returns (static_N, kinetic_N), or None where it finds no pull.  None of them states a doubt.
"""

import numpy as np
import ruptures
from scipy.signal import find_peaks

from pullbench.model import Trace

POINTS = 150  # the change-point search is quadratic: the recording is averaged down to this many


def by_eye(trace: Trace) -> tuple[float, float] | None:
    """Highest point of the graph, and the mean of the middle half of what looks like the slide."""
    pull = _tared(trace)
    above = np.flatnonzero(pull > 0.5 * pull.max())
    top, last = int(np.argmax(pull)), int(above[-1])
    first = min(top, int(above[0] + 0.3 * (last - above[0])))  # an eye skips the peak, not a later jerk
    start, end = first + (last - first) // 4, first + 3 * (last - first) // 4
    return (float(pull[top]), float(pull[start : end + 1].mean())) if end > start else None


def by_peaks(trace: Trace) -> tuple[float, float] | None:
    """First peak that stands out by a tenth of the range, and the mean from 0.3 s after it to 0.5 s before the end."""
    pull, t = _tared(trace), trace.time_s
    peaks, _ = find_peaks(pull, prominence=0.1 * np.ptp(pull))
    if peaks.size == 0:
        return None
    let_go = t[np.flatnonzero(pull > 0.5 * np.quantile(pull, 0.9))[-1]]
    slide = (t > t[peaks[0]] + 0.3) & (t < let_go - 0.5)
    return float(pull[peaks[0]]), float(pull[slide].mean()) if slide.any() else float("nan")


def by_change_points(trace: Trace) -> tuple[float, float] | None:
    """Four breaks of a piecewise line by dynamic programming: rest, loading, slide, letting go, rest."""
    pull, t = _tared(trace), trace.time_s
    edges = np.linspace(0, pull.size, min(POINTS, pull.size // 2) + 1).astype(int)
    means = np.add.reduceat(pull, edges[:-1]) / np.diff(edges)
    found = ruptures.Dynp(model="clinear", min_size=3, jump=1).fit(means).predict(n_bkps=4)
    broke, ended = edges[found[1]], edges[min(found[2], len(edges) - 1)]
    near = slice(
        max(0, edges[found[1] - 1] - 1), min(edges[min(found[1] + 1, len(edges) - 1)] + 1, pull.size)
    )
    if ended - broke < 4:
        return None
    slide = pull[broke + (ended - broke) // 10 : ended - (ended - broke) // 10]
    return float(pull[near].max()), float(slide.mean())


def by_pelt(trace: Trace) -> tuple[float, float] | None:
    """Levels by penalised least squares: the longest level up high is the slide, the highest sample before it the break."""
    pull = _tared(trace)
    edges = np.linspace(0, pull.size, min(2 * POINTS, pull.size // 2) + 1).astype(int)
    means = np.add.reduceat(pull, edges[:-1]) / np.diff(edges)
    noise = np.median(np.abs(np.diff(means))) + 1e-12
    found = [0, *ruptures.Pelt(model="l2", min_size=3, jump=1).fit(means).predict(pen=20 * noise**2 + 1e-9)]
    levels = [(b - a, a, b) for a, b in zip(found, found[1:], strict=False)
              if means[a:b].mean() > 0.4 * means.max()]  # fmt: skip
    if not levels:
        return None
    _, a, b = max(levels)
    before = pull[: edges[a] + 1]
    return float(before.max()), float(pull[edges[a] : edges[b]].mean())


RIVALS = {
    "highest point, mean by eye": by_eye,
    "first prominent peak, mean after": by_peaks,
    "change points, continuous lines (Dynp)": by_change_points,
    "change points, levels (Pelt, l2)": by_pelt,
}


def _tared(trace: Trace) -> np.ndarray:
    """Return the pull above the mean of the first half second, positive."""
    rest = trace.force_N[trace.time_s < trace.time_s[0] + 0.5]
    pull = trace.force_N - (rest.mean() if rest.size else trace.force_N[0])
    return pull if abs(pull.max()) >= abs(pull.min()) else -pull
