"""One sentence that says how a table is read, and what of that nobody said."""

from __future__ import annotations

from pullbench.sources.layout import Layout
from pullbench.sources.plan import ForcePlan, Plan, TimePlan

_ENCODING_NAMES = {"latin-1": "Latin-1", "utf-16-le": "UTF-16", "utf-16-be": "UTF-16"}


def assumed_sentence(layout: Layout, plan: Plan, encoding: str) -> str:
    """Return for example: semicolon table, decimal comma, time in ms (column 1, "Zeit"), force in N (...)."""
    parts = [layout.dialect.name]
    if encoding != "utf-8":
        parts.append(_ENCODING_NAMES.get(encoding, encoding))
    parts += [_time_words(plan), _force_words(plan.force, plan.picked.force.title)]
    return ", ".join(parts)


def _time_words(plan: Plan) -> str:
    if plan.time is None or plan.picked.time is None:
        return f"times from the given rate of {plan.rate_Hz:g} Hz"
    title = plan.picked.time.title
    from_first = ", counted from the first row" if plan.time.origin or plan.time.clock_of_day else ""
    if plan.time.clock_of_day:
        return f"clock time ({title}){from_first}"
    return f"time in {plan.time.unit.symbol} ({title}{_unit_guess(plan.time)}){from_first}"


def _unit_guess(time: TimePlan) -> str:
    return f"; unit assumed, it makes {1 / time.pace.step:.3g} Hz" if time.assumed else ""


def _force_words(force: ForcePlan, title: str) -> str:
    if force.scale_N is not None:
        per = force.unit.symbol if force.unit.quantity == "raw" else "unit"
        return f"force at {force.scale_N:g} N per {per} ({title})"
    if force.unit.quantity == "mass":
        return f"force from {force.unit.symbol} on a scale with g = {force.g_m_s2:g} m/s² ({title})"
    return f"force in {force.unit.symbol} ({title}{'; unit assumed' if force.assumed else ''})"
