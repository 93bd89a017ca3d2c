"""What the head of a table tells about its clock: usual step, gaps, coarseness, unit."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from pullbench.errors import RecordingError
from pullbench.model import FloatArray
from pullbench.sources.units import Unit, unit_of

# Below 2 Hz nobody records a pull, above 50 kHz no force sensor follows.
SLOWEST_Hz, FASTEST_Hz = 2.0, 50_000.0
_SLOW_BUT_POSSIBLE_Hz = 0.5


@dataclass(frozen=True, slots=True)
class Pace:
    """How times go on, in the unit of the times looked at.

    step: usual interval between samples.  gap: a longer step than this is a gap.
    coarse: a steady share of samples has the time of the sample before.
    """

    step: float
    gap: float
    coarse: bool


def survey_pace(time: FloatArray, force: FloatArray) -> Pace:
    """Return the pace of finite times, shape (n,), with the forces beside them.

    Raises RecordingError when the times do not advance: fewer than one step in 50 goes up, or more than
    one in five falls back.
    """
    steps = np.diff(time)
    rising = steps[steps > 0]
    if time.size > 1 and (rising.size * 50 < steps.size or np.mean(steps < 0) > 0.2):
        raise not_advancing(float(time[0]), float(time[-1]))
    if not rising.size:
        return Pace(1.0, np.inf, False)
    usual = float(np.median(rising))
    coarse = _is_coarse(steps) and not _are_doubled_rows(steps, force)
    if coarse:
        stamps = never_falling(time)
        first = np.flatnonzero(np.diff(stamps) > 0) + 1
        whole = float(stamps[-1] - stamps[0]) / steps.size
        usual = (steady_step(first, stamps[first]) if first.size > 1 else whole) or usual
    return Pace(usual, _gap_limit(time, steps, usual), coarse)


def assumed_time_unit(step: float) -> Unit:
    """Return the unit of times that do not name it, from the usual step: s, else ms, else µs.

    The first unit that makes the rate lie within 2 Hz and 50 kHz is taken.  Raises RecordingError when no
    unit does, or when a rate from 0.5 Hz to 2 Hz would leave two units to choose from (steps of 1).
    """
    for word in ("s", "ms", "µs"):
        unit = unit_of(word)
        assert unit is not None
        rate_Hz = unit.over / step
        if SLOWEST_Hz <= rate_Hz <= FASTEST_Hz:
            return unit
        if _SLOW_BUT_POSSIBLE_Hz <= rate_Hz < SLOWEST_Hz or rate_Hz > FASTEST_Hz:
            break
    raise RecordingError(
        "time-unit-ambiguous",
        f"The unit of time is not given, and steps of {step:g} do not tell it:"
        f" {1 / step:.3g} Hz in s, {1e3 / step:.3g} Hz in ms, {1e6 / step:.3g} Hz in µs.",
        "The unit must be known, since rates and slopes hang on it.",
        "Give --time-unit s, ms, µs or min.",
    )


def not_advancing(first: float, last: float) -> RecordingError:
    """Return the error for a time column that does not go up."""
    return RecordingError(
        "time-not-advancing",
        f"The times do not advance (from {first:g} to {last:g}).",
        "Times must go up from row to row, but for a few.",
        "Give --time-column another column, or --rate if the table holds no usable time.",
    )


def _is_coarse(steps: FloatArray) -> bool:
    """Say whether repeated times are the clock's habit: at least 2 % of the rows, throughout."""
    repeats = steps == 0
    if repeats.sum() < 5 or np.mean(repeats) < 0.02:
        return False
    parts = [part for part in np.array_split(repeats, min(8, max(1, int(repeats.sum()) // 3))) if part.size]
    return bool(np.mean([part.any() for part in parts]) >= 0.75)


def _are_doubled_rows(steps: FloatArray, force: FloatArray) -> bool:
    """Say whether rows were written twice: a repeated time repeats the force, which else moves."""
    repeats, same = steps == 0, np.diff(force) == 0
    return bool(np.mean(same[repeats]) > 0.99 and np.mean(same[~repeats]) < 0.5)


def never_falling(time: FloatArray) -> FloatArray:
    """Return times, shape (n,), n >= 1, that never fall: slips back are raised, or leaps ahead lowered.

    Of the two ways the one that leaves more stamps apart.
    """
    raised = np.maximum.accumulate(time)
    lowered = np.minimum.accumulate(time[::-1])[::-1]
    return max(raised, lowered, key=lambda stamps: int(np.count_nonzero(np.diff(stamps))))


def steady_step(place: npt.NDArray[np.int64], stamp: FloatArray) -> float:
    """Return the mean interval from places in line and stamps that both go up, shape (n,), n >= 2.

    The mean over stretches of 16 stamps that agree with their median, so gaps do not count; of a short
    recording the median slope between any two stamps (Theil and Sen).
    """
    if stamp.size < 64:
        early, late = np.triu_indices(stamp.size, k=1)
        return float(np.median((stamp[late] - stamp[early]) / (place[late] - place[early])))
    spans, places = np.diff(stamp[::16]), np.diff(place[::16])
    middle = float(np.median(spans / places))
    agree = np.abs(spans / places - middle) <= 0.2 * middle
    return float(spans[agree].sum() / places[agree].sum()) if agree.any() else middle


def _gap_limit(time: FloatArray, steps: FloatArray, usual: float) -> float:
    """Return the longest step that is no gap.

    1.5 usual steps, as a lost sample makes 2; but a steady clock printed coarsely also makes steps of 2,
    which shows in times that never leave a straight line by more than the printing.
    """
    if np.mean(steps > 1.5 * usual) < 0.01:
        return 1.5 * usual
    index = np.arange(time.size, dtype=np.float64)
    centred = index - index.mean()
    slope = float(centred @ (time - time.mean())) / float(centred @ centred)
    apart = time - slope * index
    if np.ptp(apart) <= 2.2 * usual:
        return 2.5 * usual
    return 1.5 * max(usual, float(np.quantile(steps, 0.9)))
