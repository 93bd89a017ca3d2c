"""Recordings and tables of results to the surfaces and batches that are compared or pooled."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

from pullbench.analysis import Batch, Conditions
from pullbench.cli.quantities import gravity, load
from pullbench.cli.read import read_file
from pullbench.cli.recordings import recordings_of
from pullbench.errors import RecordingError
from pullbench.model import Measured, Pull, Surface, SurfacePull, Verdict
from pullbench.sources import ResultTable, TableChoices

NAMED = re.compile(r"([^=]+)=(.+)", re.DOTALL)


def conditions_of(options: dict[str, Any]) -> Conditions | None:
    """Return what --load, --u-load and --g say of the load, None without --load.  Raises ConditionsError."""
    g_m_s2 = gravity_of(options)
    if options["load_text"] is None:
        return None
    u_text = options["u_load_text"]
    return Conditions(
        weight_N=load(options["load_text"], g_m_s2), u_weight_N=load(u_text, g_m_s2) if u_text else 0.0
    )


def gravity_of(options: dict[str, Any]) -> float:
    """Return what --g says, or standard gravity.  Raises ConditionsError."""
    return gravity(options["g_m_s2"])


def share_of(conditions: Conditions | None) -> float:
    """Return the relative standard uncertainty of the load, which all pulls under it share."""
    return 0.0 if conditions is None else conditions.u_weight_N / conditions.weight_N


def surface_of(
    name: str, paths: Sequence[Path], conditions: Conditions | None, choices: TableChoices
) -> Surface:
    """Return the pulls of some recordings, or folders of them, as one surface, in order.

    With a load the values are coefficients, else newtons. The load's own doubt is shared by all pulls, so it
    is left out here and put in once.  Raises RecordingError.
    """
    exact = None if conditions is None else replace(conditions, u_weight_N=0.0)
    pulls = [
        pull for path in recordings_of(paths) for pull in _pulls(path.name, read_file(path, choices, exact).pulls)
    ]  # fmt: skip
    return Surface(name=name, pulls=tuple(pulls), unit="N" if conditions is None else "1")


def _pulls(file: str, pulls: Sequence[Pull]) -> list[SurfacePull]:
    waits = [None, *(pull.window.start_s - before.window.end_s for before, pull in pairwise(pulls))]
    return [
        _one(f"{file} pull {number}", pull, waited)
        for number, (pull, waited) in enumerate(zip(pulls, waits, strict=True), 1)
    ]


def _one(label: str, pull: Pull, rested_s: float | None) -> SurfacePull:
    static, u_static = _number(pull.static_coefficient or pull.breakaway.force)
    kinetic, u_kinetic = _number(pull.kinetic_coefficient or pull.plateau.force)
    again = pull.verdict is Verdict.PULL_AGAIN
    moment = pull.breakaway.time_s
    return SurfacePull(
        label=label, static=static, kinetic=kinetic, u_static=u_static, u_kinetic=u_kinetic,
        set_aside=(pull.findings[0].name if pull.findings else "pull again") if again else None,
        rested_s=rested_s, loading_s=None if moment is None else moment - pull.window.start_s,
    )  # fmt: skip


def _number(measured: Measured) -> tuple[float | None, float]:
    if measured.kind != "value":
        return None, 0.0
    return measured.value, measured.standard_uncertainty or 0.0


def surfaces_in(table: ResultTable, conditions: Conditions | None) -> list[Surface]:
    """Return the surfaces of a table with columns surface and static, kinetic (or static_N, kinetic_N).

    Optional: set_aside (why), rest_s, loading_s, u_static, u_kinetic.  Forces become coefficients with a load.
    """
    names = table.words("surface")
    forces = any(f"{quantity}_n" in table.columns for quantity in ("static", "kinetic"))
    end, size = ("_n", 1.0 if conditions is None else conditions.weight_N) if forces else ("", 1.0)
    if not any(f"{quantity}{end}" in table.columns for quantity in ("static", "kinetic")):
        table.words("static")  # says which columns there are
    columns = {key: _column(table, key, end) for key in ("static", "kinetic", "u_static", "u_kinetic")}
    rest, loading = _column(table, "rest_s"), _column(table, "loading_s")
    aside = table.columns.get("set_aside", ("",) * len(names))
    found: dict[str, list[SurfacePull]] = {}
    for row, name in enumerate(names):
        values = {
            key: (v / size if (v := column[row]) is not None else None) for key, column in columns.items()
        }
        found.setdefault(name, []).append(
            SurfacePull(
                label=f"line {table.lines[row]}", static=values["static"], kinetic=values["kinetic"],
                u_static=values["u_static"] or 0.0, u_kinetic=values["u_kinetic"] or 0.0,
                set_aside=aside[row] or None, rested_s=rest[row], loading_s=loading[row],
            )
        )  # fmt: skip
    unit = "N" if forces and conditions is None else "1"
    return [Surface(name=name, pulls=tuple(pulls), unit=unit) for name, pulls in found.items()]


def _column(table: ResultTable, heading: str, end: str = "") -> tuple[float | None, ...]:
    known = heading + end if heading + end in table.columns else None
    return (None,) * len(table.lines) if known is None else table.numbers(known)


def batches_in(table: ResultTable) -> list[Batch]:
    """Return the batches of a table with columns group, value and optionally u, set_aside.

    With u each row is a result of its own and needs a name of its own; without, rows of one group are its
    pulls.  Raises RecordingError.
    """
    names, values = table.words("group"), table.numbers("value_n" if "value_n" in table.columns else "value")
    known = table.numbers("u") if "u" in table.columns else (None,) * len(names)
    aside = table.columns.get("set_aside", ("",) * len(names))
    rows: dict[str, list[tuple[float | None, float, str]]] = {}
    for row, name in enumerate(names):
        key = name if "u" not in table.columns or name not in rows else f"{name}\0{row}"
        rows.setdefault(key, []).append((values[row], known[row] or 0.0, aside[row]))
    return [_batch(name.split("\0")[0], some) for name, some in rows.items()]


def _batch(name: str, rows: Sequence[tuple[float | None, float, str]]) -> Batch:
    kept = [(v, u) for v, u, why in rows if v is not None and not why]
    return Batch(
        name=name, values=tuple(v for v, _ in kept), own_u=tuple(u for _, u in kept),
        aside=tuple((v, u) for v, u, why in rows if v is not None and why),
        untold=sum(v is None for v, _, _ in rows),
    )  # fmt: skip


def named_paths(words: Sequence[str]) -> list[tuple[str, list[Path]]]:
    """Return names and recordings of arguments such as birch=a.csv,b.csv.  Raises RecordingError."""
    named = []
    for word in words:
        match = NAMED.fullmatch(word)
        if match is None:
            raise RecordingError(
                "surface-without-name", f"{word!r} names no surface.",
                "Each argument is NAME=RECORDING,RECORDING …, or there is one table alone.",
                "Write for example birch=a.csv,b.csv felt=c.csv.",
            )  # fmt: skip
        named.append((match[1].strip(), [Path(part) for part in match[2].split(",") if part.strip()]))
    return named
