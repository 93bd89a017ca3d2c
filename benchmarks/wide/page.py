"""The document: what was drawn, the tables, and where the reader still fails, from the same figures."""

import math

from benchmarks.wide import causes
from benchmarks.wide.cells import AIMED_RATIO, PROMISED, Counted, Force
from benchmarks.wide.draw import EVEN, HANDS, LAWS, LOG, OFTEN, RANGES_N, RESOLUTIONS_N

FEWEST = 20  # limits in a cell that are worth a judgement


def page(cells: Counted, pulls: int, first_seed: int) -> str:
    """Return docs/accuracy.md."""
    parts = [
        _head(pulls, first_seed),
        _catching(cells),
        _force("Breakaway", cells, "breakaway"),
        _force("Kinetic level", cells, "kinetic"),
        _failing(cells),
        _ranges(),
    ]
    return "\n\n".join(parts) + "\n"


def _head(pulls: int, first_seed: int) -> str:
    return f"""# How true the reader is, far outside its own tests

Written by `make accuracy`; do not edit by hand. These figures are from:

```console
$ python -m benchmarks.wide --pulls {pulls} --first-seed {first_seed}
```

**Simulated**, every one of them: {pulls} pulls on the project's own virtual bench, seeds {first_seed} to \
{first_seed + pulls - 1}, whose
truth is known. Detection and analysis never see the bench. All parameters range more widely than in the tests
(last section). The same seeds give the same figures, whatever the number of processes; another machine may
differ in a last digit.

- **error**: size of value ÷ truth − 1, median and 95th percentile, of the pulls for which a value was told.
- **limits hold**: share of the 95 % limits that hold the truth; in brackets the 95 % interval of that share, given
  how many there were (Clopper and Pearson). **width**: median full width of the limits, as a share of the truth.
- **bounds true**: where only a lower bound was told, how many lie at or below the truth. **cannot tell**: share of
  the pulls caught for which neither was told; the user is given the reason.
- **oracle**: the median error, on the same pulls as the values, of an estimator that is told when the string
  tightened, when the contact gave way and when the sled slid, and reads the forces from the recording
  (`benchmarks/wide/oracle.py`). **ratio**: our median error on those pulls ÷ the oracle's; {AIMED_RATIO:g} or less is
  aimed at."""


def _catching(cells: Counted) -> str:
    lines = [
        "## Catching", "",
        "**invented**: windows beyond the one pull that was made, and breakaways told of a sled that never moved.", "",
        "| by | cell | pulls | missed | invented | pull again |",
        "| --- | --- | --: | --: | --: | --: |",
    ]  # fmt: skip
    for (group, name), cell in cells.items():
        again = _percent(cell.again / cell.pulls)
        lines.append(f"| {group} | {name} | {cell.pulls} | {cell.missed} | {cell.invented} | {again} |")
    return "\n".join(lines)


def _force(title: str, cells: Counted, which: str) -> str:
    lines = [
        f"## {title}", "",
        "| by | cell | values | error, median | 95th | limits hold | width | bounds true | cannot tell "
        "| oracle | ratio |",
        "| --- | --- | --: | --: | --: | --: | --: | --: | --: | --: | --: |",
    ]  # fmt: skip
    lines += [_row(group, name, getattr(cell, which)) for (group, name), cell in cells.items()]
    return "\n".join(lines)


def _row(group: str, name: str, force: Force) -> str:
    told = force.told
    bounds = f"{sum(told.bounds_true)} of {len(told.bounds_true)}" if told.bounds_true else "–"
    figures = (
        str(len(told.errors)), _percent(told.error(0.5), 2), _percent(told.error(0.95), 1), _hold(force),
        _percent(told.width, 1), bounds, _percent(told.untold_share), _percent(force.oracle_error, 2),
        _number(force.ratio),
    )  # fmt: skip
    return f"| {group} | {name} | " + " | ".join(figures) + " |"


def _hold(force: Force) -> str:
    if not force.told.held:
        return "–"
    low, high = force.coverage_limits
    return f"{_percent(force.told.coverage, 1)} ({100 * low:.0f}–{100 * high:.0f})"


def _percent(share: float, digits: int = 0) -> str:
    return f"{100 * share:.{digits}f} %" if math.isfinite(share) else "–"


def _number(value: float) -> str:
    return f"{value:.1f}" if math.isfinite(value) else "–"


def _failing(cells: Counted) -> str:
    low, high = (100 * share for share in PROMISED)
    lines = [
        "## Where it still fails", "",
        f"Generated from the tables: every cell of at least {FEWEST} limits whose share of limits that hold the "
        f"truth leaves {low:.0f}–{high:.0f} %. *Surely*: its 95 % interval lies outside altogether; else it may be "
        "the chance of the draw. Causes are written by hand (`benchmarks/wide/causes.py`).",
    ]  # fmt: skip
    for title, which in (("Breakaway", "breakaway"), ("Kinetic level", "kinetic")):
        lines += ["", f"### {title}", ""]
        lines += [_fault(which, *key, getattr(cell, which)) for key, cell in cells.items()]
        lines = [line for line in lines if line is not None]
        lines += ["", _dearer(cells, which)]
    lines += ["", "### Causes found so far", ""]
    return "\n".join(lines + [f"- **{name}**: {why}" for name, why in causes.WHY.items()])


def _fault(which: str, group: str, name: str, force: Force) -> str | None:
    """Return the line of one cell whose limits hold too seldom or too often; None for one that is as promised."""
    coverage, count = force.told.coverage, len(force.told.held)
    if count < FEWEST or PROMISED[0] <= coverage <= PROMISED[1]:
        return None
    low, high = force.coverage_limits
    line = f"- {group}, **{name}**: {_hold(force)} of {count}"
    if high < PROMISED[0]:
        return f"{line}, surely too few. {causes.why(which, group, name)}"
    if low > PROMISED[1]:
        return f"{line}, surely too many: the limits are wider than need be."
    return f"{line}, {'few' if coverage < PROMISED[0] else 'many'}, perhaps by chance."


def _dearer(cells: Counted, which: str) -> str:
    """Return the sentence about the cells whose median error is further from the oracle's than aimed at."""
    dear = [
        f"{name} ({_number(force.ratio)})"
        for (_, name), cell in cells.items()
        if len((force := getattr(cell, which)).beside) >= FEWEST and force.ratio > AIMED_RATIO
    ]
    if not dear:
        return f"In no cell is the median error more than {AIMED_RATIO:g} times the oracle's."
    return f"Median error more than {AIMED_RATIO:g} times the oracle's: {'; '.join(dear)}."


def _ranges() -> str:
    lines = [
        "## What was drawn", "",
        f"Hands, alike often: {', '.join(HANDS)}.", "", f"Laws, alike often: {', '.join(LAWS)}.", "",
        "| parameter | from | to | drawn evenly in | in |",
        "| --- | --: | --: | --- | --: |",
    ]  # fmt: skip
    for evenly, table in (("logarithm", LOG), ("value", EVEN)):
        for name, (least, most) in table.items():
            lines.append(f"| {name} | {least:g} | {most:g} | {evenly} | {_percent(OFTEN.get(name, 1.0))} |")
    counts = ", ".join(f"{count:g}" for count in RESOLUTIONS_N)
    ends = ", ".join(f"{end:g}" for end in dict.fromkeys(RANGES_N))
    lines += [
        "",
        f"Resolution one of {counts} N (at most a twentieth of the level), range ± one of {ends} N. The last column is "
        "the share of pulls in which a parameter is drawn at all. A draw that cannot be simulated (a string that lifts "
        "the sled off) or slides by itself is drawn anew. Left out: a loose rider and a wrong force scale, which "
        "change the truth itself, so that no reader of the force could know.",
    ]  # fmt: skip
    return "\n".join(lines)
