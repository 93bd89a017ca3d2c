"""Pooled results as text for people, and as one JSON object."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from pullbench.model import Pool
from pullbench.render.compare_text import aligned, wrapped
from pullbench.render.compare_words import HOLDS_FOR, p_words
from pullbench.render.pull_json import MeasuredRecord, measured_record
from pullbench.render.rounding import figures_of, fixed, plus_minus

MOST_ROWS = 40
DIFFER_P = 0.001  # rarer than one honest class in a thousand


class GroupRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One pooled result; pulls is 0 when it was given as value and u."""

    group: str
    value: float
    u: float
    pulls: int


class PoolRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A pool; with_set_aside: its mean with the values that were set aside, else null."""

    quantity: str
    groups: tuple[GroupRecord, ...]
    mean: MeasuredRecord
    between_sd: float | None
    q: float | None
    q_p: float | None
    next: MeasuredRecord
    next_is: str
    set_aside: int
    no_value: int
    with_set_aside: MeasuredRecord | None
    sentence: str
    colleague: str


def pool_text(pools: Sequence[Pool], *, comma: bool = False) -> str:
    """Return each pool: its groups, the room's sentences, the statistics.  No line is over 100 columns."""
    parts = []
    for one in pools:
        lines = [pool_table(one, comma=comma), ""]
        lines += [line for said in pool_sentences(one, comma=comma) for line in wrapped(said)]
        lines += [
            "",
            "For the colleague with the statistics:",
            *wrapped(pool_colleague(one, comma=comma), "  "),
        ]
        parts.append("\n".join(lines))
    return "\n\n".join(parts)


def pool_table(one: Pool, *, comma: bool = False) -> str:
    """Return the groups and the mean alone."""
    rows = [("group", one.quantity, "u", "pulls")]
    for group in one.groups[:MOST_ROWS]:
        decimals = 4 if group.u <= 0 else max(0, 1 - int(f"{group.u:e}".split("e")[1]))
        doubt = figures_of(group.u, comma=comma) if group.u > 0 else "not known"
        rows.append((group.name, fixed(group.value, decimals, comma=comma), doubt, str(group.pulls or "")))
    if len(one.groups) > MOST_ROWS:
        rows.append((f"and {len(one.groups) - MOST_ROWS} more", "", "", ""))
    rows.append(("together", plus_minus(one.mean, comma=comma), "", ""))
    return aligned(rows)


def pool_sentences(one: Pool, *, comma: bool = False) -> list[str]:
    """Return what the room hears."""
    if not one.groups:
        return [f"No pull told the {one.quantity}: cannot tell."]
    what = _pooled_what(one)
    mean = f"{plus_minus(one.mean, comma=comma)}{_why(one.mean.reason)}"
    told = [f"All {len(one.groups)} {what} together: {one.quantity} {mean}."]
    if what == "groups" and one.q_p is not None and one.q_p < DIFFER_P:
        told.append(_differ_words(one))
    if one.next_result.limits is not None and one.next_result.value is not None:
        told.append(_next_words(one, comma))
    if one.with_aside is not None:
        told.append(
            f"{len(one.aside)} set aside ({', '.join(dict.fromkeys(one.aside))}); with "
            f"{'it' if len(one.aside) == 1 else 'them'} it would be {plus_minus(one.with_aside.mean, comma=comma)}."
        )
    if one.untold:
        told.append(f"{one.untold} {'pull' if one.untold == 1 else 'pulls'} gave no value.")
    return [*told, HOLDS_FOR]


def pool_colleague(one: Pool, *, comma: bool = False) -> str:
    """Return the random-effects statistics in one sentence or two."""
    if one.between_sd is None:
        return "Nothing to pool."
    tau = figures_of(one.between_sd, comma=comma)
    if one.q is None:
        return f"No u is known, so scatter inside and between is one: standard deviation {tau}, Student's t."
    return (
        f"Random effects: between-group standard deviation {tau} (Paule–Mandel), Cochran's Q({len(one.groups) - 1}) = "
        f"{fixed(one.q, 1, comma=comma)}, {p_words(one.q_p, comma=comma)}; limits after Hartung and Knapp, 95 %."
    )


def pool_record(one: Pool) -> bytes:
    """Return a pool as one JSON object in UTF-8, without a line end."""
    return msgspec.json.encode(
        PoolRecord(
            quantity=one.quantity,
            groups=tuple(GroupRecord(group=g.name, value=g.value, u=g.u, pulls=g.pulls) for g in one.groups),
            mean=measured_record(one.mean),
            between_sd=one.between_sd,
            q=one.q,
            q_p=one.q_p,
            next=measured_record(one.next_result),
            next_is=one.next_is,
            set_aside=len(one.aside),
            no_value=one.untold,
            with_set_aside=None if one.with_aside is None else measured_record(one.with_aside.mean),
            sentence=" ".join(pool_sentences(one)),
            colleague=pool_colleague(one),
        )
    )


def _differ_words(one: Pool) -> str:
    """Return that groups differ, and which one stands farthest from the middle of the rest, in its own doubt."""
    alike = "Did all load, weigh and divide alike?"
    if len(one.groups) < 3:
        return f"The groups differ far more than their own pulls do. {alike}"
    values = sorted(group.value for group in one.groups)
    middle = values[len(values) // 2]
    farthest = max(one.groups, key=lambda group: abs(group.value - middle) / (group.u or 1.0))
    return f"The groups differ far more than their own pulls do, {farthest.name} most. {alike}"


def next_can_be_told(one: Pool) -> bool:
    """Return whether the limits of the next result say anything: not when they reach nought."""
    low, high = one.next_result.limits or (None, None)
    return one.next_result.value is not None and low is not None and high is not None and low > 0


def _pooled_what(one: Pool) -> str:
    single = all(group.pulls == 1 for group in one.groups)
    return "pulls" if single and one.next_is == "pull" else "groups"


def _next_words(one: Pool, comma: bool) -> str:
    """Return where the next one will lie, to two figures; limits below nought say that it is too early."""
    low, high = one.next_result.limits or (None, None)
    if low is None or high is None or not next_can_be_told(one):
        return (
            f"Where the next {one.next_is} will lie cannot be told yet: too few {_pooled_what(one)} so far."
        )
    decimals = max(0, 1 - int(f"{(high - low) / 2 or 1.0:e}".split("e")[1]))
    unit = "" if one.next_result.unit == "1" else f" {one.next_result.unit}"
    span = f"between {fixed(low, decimals, comma=comma)} and {fixed(high, decimals, comma=comma)}{unit}"
    return f"The next {one.next_is} made alike will lie {span}, 19 times in 20."


def _why(reason: str | None) -> str:
    return f" ({reason})" if reason else ""
