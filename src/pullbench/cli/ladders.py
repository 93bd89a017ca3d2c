"""Tables and recordings to the pulls of a load ladder, in the order pulled."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from pullbench.cli.quantities import load
from pullbench.cli.read import read_file
from pullbench.cli.recordings import recordings_of
from pullbench.errors import ConditionsError, RecordingError
from pullbench.model import LoadedPull, Measured, Pull, Verdict
from pullbench.sources import ResultTable, TableChoices, read_result_table

HEAVIEST_N = 5000.0  # half a tonne: nobody drags more in front of a class
WIDEST = 200.0  # between the lightest and the heaviest load, more is a mixture of units
LARGEST_TABLE_BYTES = 1 << 20  # a table of results is smaller; a recording may be far larger
FORCES = ("static_n", "kinetic_n")


def ladder_in(table: ResultTable, g_m_s2: float, u_load_N: float = 0.0) -> list[LoadedPull]:
    """Return the pulls of a table with load_kg or normal_N, and static_N and/or kinetic_N.

    Optional: u_static_N, u_kinetic_N, name, set_aside (why).  Without a column of doubt, half the last digit
    written stands for it.  Raises RecordingError or ConditionsError, each kind with its own code.
    """
    loads = _loads_N(table, g_m_s2)
    forces = _forces(table)
    aside = table.columns.get("set_aside", ("",) * len(loads))
    names = table.columns.get("name", tuple(f"line {line}" for line in table.lines))
    static, kinetic = forces.get("static_n"), forces.get("kinetic_n")
    u_static, u_kinetic = (_doubts(table, force) for force in FORCES)
    return [
        LoadedPull(
            normal_N=loads[row], u_normal_N=u_load_N, name=names[row], set_aside=aside[row] or None,
            static_N=static[row] if static else None, u_static_N=u_static[row],
            kinetic_N=kinetic[row] if kinetic else None, u_kinetic_N=u_kinetic[row],
        )
        for row in range(len(loads))
    ]  # fmt: skip


def ladder_of(
    named: Sequence[tuple[str, Path]], sled: str | None, g_m_s2: float, u_load_N: float, choices: TableChoices
) -> list[LoadedPull]:
    """Return the pulls of recordings, each with its load; the sled's mass is added to every load."""
    sled_N = 0.0 if sled is None else _weight_N(sled, "--sled", g_m_s2)
    pulls: list[LoadedPull] = []
    for text, path in named:
        normal_N = sled_N + _weight_N(text, f"the load of {path.name}", g_m_s2, nought=sled is not None)
        pulls += [
            _loaded(pull, normal_N, u_load_N, f"{one.name} pull {number}")
            for one in recordings_of([path])
            for number, pull in enumerate(read_file(one, choices, None).pulls, 1)
        ]
    return pulls


def hidden_in(path: Path, choices: TableChoices) -> list[LoadedPull]:
    """Return the pulls of a hidden load: a table with static_N and/or kinetic_N, or a recording.

    Raises RecordingError; ConditionsError when no pull in it tells a force.
    """
    table = _as_results(path)
    if table is not None:
        forces = _forces(table)
        static, kinetic = forces.get("static_n"), forces.get("kinetic_n")
        u_static, u_kinetic = (_doubts(table, force) for force in FORCES)
        pulls = [
            LoadedPull(
                normal_N=0.0, static_N=static[row] if static else None, u_static_N=u_static[row],
                kinetic_N=kinetic[row] if kinetic else None, u_kinetic_N=u_kinetic[row],
            )
            for row in range(len(table.lines))
        ]  # fmt: skip
    else:
        pulls = [_loaded(pull, 0.0, 0.0, path.name) for pull in read_file(path, choices, None).pulls]
    if not any(pull.static_N is not None or pull.kinetic_N is not None for pull in pulls):
        raise ConditionsError(
            "mystery-not-told", f"No pull in {path.name} tells a force.",
            "A hidden load is read from at least one pull.", "Pull it again, slowly, with rest before and after.",
        )  # fmt: skip
    return pulls


def named_recordings(texts: Sequence[str]) -> list[tuple[str, Path]]:
    """Return (load, recording) of arguments such as 0.5kg=a.csv.  Raises ConditionsError."""
    named = []
    for text in texts:
        load_text, mark, name = text.partition("=")
        if not mark or not load_text or not name:
            raise ConditionsError(
                "load-missing", f"{text!r} does not say its load.",
                "Several recordings are given as LOAD=FILE, such as 0.5kg=a.csv; a table of results stands alone.",
                "Write its load before it.",
            )  # fmt: skip
        named.append((load_text, Path(name)))
    return named


def _weight_N(text: str, what: str, g_m_s2: float, *, nought: bool = False) -> float:
    """Return the weight a text says.  nought: 0 kg is a load too (the empty sled)."""
    if nought and text.strip().rstrip("kgN ").replace(",", ".") in ("0", "0.0"):
        return 0.0
    try:
        weight_N = load(text, g_m_s2)
    except ConditionsError as mistake:
        fault = mistake.what.replace("The load is", f"{what} is").replace("--load", what)
        fault = fault[0].upper() + fault[1:]
        raise ConditionsError(
            mistake.code, fault, mistake.allowed, "Write it with its unit, such as 0.5kg."
        ) from None
    if weight_N > HEAVIEST_N:
        raise _too_heavy(f"{what} is {text}")
    return weight_N


def _loaded(pull: Pull, normal_N: float, u_load_N: float, name: str) -> LoadedPull:
    static_N, u_static_N = _number(pull.breakaway.force)
    kinetic_N, u_kinetic_N = _number(pull.plateau.force)
    again = pull.verdict is Verdict.PULL_AGAIN
    return LoadedPull(
        normal_N=normal_N, u_normal_N=u_load_N, static_N=static_N, u_static_N=u_static_N, kinetic_N=kinetic_N,
        u_kinetic_N=u_kinetic_N, name=name,
        set_aside=(pull.findings[0].name if pull.findings else "pull again") if again else None,
    )  # fmt: skip


def _number(force: Measured) -> tuple[float | None, float]:
    """Return value and doubt; a lower bound is not a value to fill a line with."""
    if force.kind != "value":
        return None, 0.0
    return force.value, force.standard_uncertainty or 0.0


def _as_results(path: Path) -> ResultTable | None:
    try:
        if path.stat().st_size > LARGEST_TABLE_BYTES:
            return None
        table = read_result_table(path)
    except (OSError, RecordingError):
        return None  # reading it as a recording tells what is wrong
    return table if any(force in table.columns for force in FORCES) else None


def _loads_N(table: ResultTable, g_m_s2: float) -> list[float]:
    both = [heading for heading in ("load_kg", "normal_n") if heading in table.columns]
    if len(both) == 2:
        raise RecordingError(
            "load-twice", f"{table.name} has both load_kg and normal_N.", "The load comes from one of the two.",
            "Leave one column out.",
        )  # fmt: skip
    heading = both[0] if both else "load_kg"
    unit, times = ("kg", g_m_s2) if heading == "load_kg" else ("N", 1.0)
    loads = []
    for cell, line in zip(table.numbers(heading), table.lines, strict=True):
        if cell is None or cell < 0:
            told = "blank" if cell is None else f"{cell:g} {unit}"
            raise ConditionsError(
                "load-blank" if cell is None else "load-negative",
                f"{table.name}, line {line}: the load is {told}.",
                "It must be everything that presses, sled and tins together.", "Mend that cell.",
            )  # fmt: skip
        if cell * times > HEAVIEST_N:
            raise _too_heavy(f"{table.name}, line {line}: the load is {cell:g} {unit}")
        loads.append(cell * times)
    _refuse_mixed(table, loads, heading)
    return loads


def _refuse_mixed(table: ResultTable, loads_N: Sequence[float], heading: str) -> None:
    pressing = [load_N for load_N in loads_N if load_N > 0]
    if pressing and max(pressing) > WIDEST * min(pressing):
        cells = table.words(heading)
        least, most = cells[loads_N.index(min(pressing))], cells[loads_N.index(max(pressing))]
        raise ConditionsError(
            "loads-mixed", f"{table.name} has loads from {least} to {most} in one column.",
            f"All must be in {'kg' if heading == 'load_kg' else 'N'}; a ladder spans a factor of {WIDEST:g} at most.",
            "Were some written in grams? Write all in one unit.",
        )  # fmt: skip


def _too_heavy(what: str) -> ConditionsError:
    return ConditionsError(
        "load-absurd", f"{what}.", f"A load may press with up to {HEAVIEST_N:g} N, about 510 kg.",
        "Was it written in grams? Write it in kilograms.",
    )  # fmt: skip


def _forces(table: ResultTable) -> dict[str, tuple[float | None, ...]]:
    """Return the columns of forces there are.  Raises RecordingError when there is none or one is not above 0."""
    told = {heading: table.numbers(heading) for heading in FORCES if heading in table.columns}
    if not told:
        raise RecordingError(
            "force-column-missing", f"{table.name} has neither kinetic_N nor static_N.",
            f"Its columns are {', '.join(table.columns)}.", "Name the column of forces kinetic_N or static_N.",
        )  # fmt: skip
    for heading, column in told.items():
        for cell, line in zip(column, table.lines, strict=True):
            if cell is not None and cell <= 0:
                raise ConditionsError(
                    "force-not-positive", f"{table.name}, line {line}: {heading[:-1]}N is {cell:g} N.",
                    "The pull that friction takes is above 0 N.", "Turn the sign, or leave the cell blank.",
                )  # fmt: skip
    return told


def _doubts(table: ResultTable, heading: str) -> list[float]:
    """Return the doubt of each force: as written in its column, else half its last digit, spread evenly."""
    rows = len(table.lines)
    if f"u_{heading}" in table.columns:
        told = table.numbers(f"u_{heading}")
        for cell, line in zip(told, table.lines, strict=True):
            if cell is not None and cell < 0:
                raise ConditionsError(
                    "doubt-negative", f"{table.name}, line {line}: u_{heading[:-1]}N is {cell:g} N.",
                    "A standard uncertainty is 0 N or more.", "Mend that cell.",
                )  # fmt: skip
        return [cell or 0.0 for cell in told]
    if heading not in table.columns:
        return [0.0] * rows
    decimals = max((_decimals(cell) for cell in table.words(heading) if cell), default=0)
    return [10.0**-decimals / math.sqrt(12)] * rows


def _decimals(cell: str) -> int:
    """Return the decimals a number is written with (3.90: 2; 1.2e-3: 4)."""
    digits, _, exponent = cell.lower().replace(",", ".").partition("e")
    return len(digits.partition(".")[2]) - int(exponent or 0)
