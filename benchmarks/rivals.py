"""What people do instead: by eye, by prominent peaks, by change points.  Each gets the whole recording.

Every rival returns (static_N, kinetic_N), or None where it finds no pull.  None of them states a doubt.
"""

import numpy as np
import ruptures
from scipy.signal import find_peaks

from pullbench.model import Trace

POINTS = 120  # the change-point search is quadratic: the recording is averaged down to this many


def by_eye(trace: Trace) -> tuple[float, float] | None:
    """Highest point of the graph, and the mean of the middle half of what looks like the slide."""
    pull = _tared(trace)
    above = np.flatnonzero(pull > 0.5 * pull.max())
    top, last = int(np.argmax(pull)), int(above[-1])
    first = min(top, int(above[0] + 0.3 * (last - above[0])))  # an eye skips the peak, not a later jerk
    start, end = first + (last - first) // 4, first + 3 * (last - first) // 4
    return (float(pull[top]), float(pull[start : end + 1].mean())) if end > start else None


def by_peaks(trace: Trace) -> tuple[float, float] | None:
    """First peak that stands out, and the mean from 0.3 s after it to 0.5 s before the end.

    Smoothed over 20 ms.  Of the prominences tried on seeds 100-129 (0.03, 0.05 and 0.1 of the range, 6 or
    8 times the noise at rest) the best for the rival is used.
    """
    pull, t = _tared(trace), trace.time_s
    width = max(1, int(0.02 / float(np.median(np.diff(t)))))
    smooth = np.convolve(pull, np.ones(width) / width, mode="same")
    noise = float(smooth[t < t[0] + 0.5].std())
    prominence = max(0.1 * float(np.ptp(smooth)), 8 * noise)
    peaks, _ = find_peaks(smooth, prominence=prominence, height=0.3 * smooth.max())
    if peaks.size == 0:
        return None
    let_go = t[np.flatnonzero(smooth > 0.5 * np.quantile(smooth, 0.9))[-1]]
    slide = (t > t[peaks[0]] + 0.3) & (t < let_go - 0.5)
    return float(smooth[peaks[0]]), float(pull[slide].mean()) if slide.any() else float("nan")


def by_change_points(trace: Trace) -> tuple[float, float] | None:
    """Four breaks between straight lines by dynamic programming: rest, loading, slide, letting go, rest.

    Of the models tried on seeds 100-129 (lines with and without jumps, four to six breaks) the best for the
    rival is used.  The break is refined to the highest sample within a cell on either side.
    """
    pull = _tared(trace)
    edges = np.linspace(0, pull.size, min(POINTS, pull.size // 2) + 1).astype(int)
    means = np.add.reduceat(pull, edges[:-1]) / np.diff(edges)
    lines = np.column_stack([means, np.arange(means.size), np.ones(means.size)])
    _, broke, ended, *_ = ruptures.Dynp(model="linear", min_size=3, jump=1).fit(lines).predict(n_bkps=4)
    near = slice(max(0, edges[broke - 1] - 1), edges[min(broke + 1, edges.size - 1)] + 1)
    margin = (edges[ended] - edges[broke]) // 10
    slide = pull[edges[broke] + margin : edges[ended] - margin]
    return (float(pull[near].max()), float(slide.mean())) if slide.size else None


RIVALS = {
    "highest point, mean by eye": by_eye,
    "first prominent peak, mean after": by_peaks,
    "change points between lines (ruptures)": by_change_points,
}


def _tared(trace: Trace) -> np.ndarray:
    """Return the pull above the mean of the first half second, positive."""
    rest = trace.force_N[trace.time_s < trace.time_s[0] + 0.5]
    pull = trace.force_N - (rest.mean() if rest.size else trace.force_N[0])
    return pull if abs(pull.max()) >= abs(pull.min()) else -pull
