"""Which kinds a class set or a question package has, and their versions; asked alike by shell and page.

A fault names an input as the one who asked knows it: `named` turns "seats" into "--seats" or into what a page calls it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

from pullbench.errors import ConditionsError
from pullbench.model.problem import PairFriction, Problem
from pullbench.teach.problems import ENGLISH, KINDS, versions

MOST_SEATS = 60
MOST_VARIANTS = 100
MOST_SEED = 10**9 - 1
LEVELS = (1, 2, 3, 4)
USUAL_LEVEL = 2
MOST_CHOSEN = (
    8  # problems and parts together, so that a sheet keeps to two pages; kinds that were named may be more
)

Named = Callable[[str], str]


def check_seats(seats: int, named: Named) -> None:
    """Refuse a number of seats that no set has.  Raises ConditionsError."""
    _check_range("seats", seats, 1, MOST_SEATS, named)


def check_variants(variants: int, named: Named) -> None:
    """Refuse a number of variants that no package has.  Raises ConditionsError."""
    _check_range("variants", variants, 1, MOST_VARIANTS, named)


def check_seed(seed: int, named: Named) -> None:
    """Refuse a seed out of range.  Raises ConditionsError."""
    _check_range("seed", seed, 0, MOST_SEED, named)


def check_levels(levels: Collection[int], named: Named) -> None:
    """Refuse levels that there are not.  Raises ConditionsError."""
    for level in levels:
        if level not in LEVELS:
            name = named("level")
            raise ConditionsError(
                "level-out-of-range", f"{name} is {level}.", "It must be 1, 2, 3 or 4.", f"Mend {name}."
            )


def _check_range(what: str, value: int, low: int, high: int, named: Named) -> None:
    if not low <= value <= high:
        raise ConditionsError(
            f"{what}-out-of-range", f"{named(what)} is {value}.", f"It must be from {low} to {high}.",
            f"Mend {named(what)}.",
        )  # fmt: skip


def set_kinds(kinds: Sequence[str] | None, levels: Collection[int], seed: int, named: Named) -> list[str]:
    """Return the kinds of a class set in their order; without named kinds those of the levels (level 2 for none).

    kinds: names in the order asked for, None for none named.  Raises ConditionsError for an unknown kind, a kind of
    another level, and levels without kinds.
    """
    if kinds is None:
        wanted = set(levels) or {USUAL_LEVEL}
        found = [name for name, kind in KINDS.items() if kind.level in wanted]
        if not found:
            raise ConditionsError(
                "level-empty", f"There is no kind of level {_told(wanted)}.",
                f"There are kinds of level {_told({kind.level for kind in KINDS.values()})}.",
                f"Choose one of these, or name {named('kinds')}.",
            )  # fmt: skip
        turn = seed % len(found)  # another seed begins with another kind, so that all get their turn
        return [*found[turn:], *found[:turn]]
    names = _known(kinds, named)
    other = [name for name in names if levels and KINDS[name].level not in levels]
    if other:
        raise ConditionsError(
            "kind-of-other-level",
            f"{other[0]} is of level {KINDS[other[0]].level}, and {named('level')} is {_told(levels)}.",
            "Both must agree.", f"Leave out {named('level')}, or the kind.",
        )  # fmt: skip
    return names


def item_kinds(kinds: Sequence[str] | None, levels: Collection[int], named: Named) -> list[str]:
    """Return the kinds of a question package: those named (else all) that are of the levels (else of any).

    Raises ConditionsError for an unknown kind, and when none is left.
    """
    names = list(KINDS) if kinds is None else _known(kinds, named)
    chosen = [name for name in names if not levels or KINDS[name].level in levels]
    if not chosen:
        raise ConditionsError(
            "level-empty", f"No kind asked for is of level {_told(levels)}.",
            f"They are of level {_told({KINDS[name].level for name in names})}.",
            f"Choose one of these levels, or other {named('kinds')}.",
        )  # fmt: skip
    return chosen


def set_versions(
    names: Sequence[str], pair: PairFriction, seed: int, seats: int, *, chosen: bool
) -> tuple[tuple[tuple[Problem, ...], ...], list[str]]:
    """Return one set of problems a seat, and a note for each kind that had to be left out.

    chosen: the kinds were named, so that none may be left out.  Raises ConditionsError.
    """
    columns: list[tuple[Problem, ...]] = []
    notes: list[str] = []
    refused: ConditionsError | None = None
    taken = 0
    for name in names:
        try:
            made = versions([(KINDS[name], ENGLISH[name])], pair, seed, seats)
        except ConditionsError as mistake:
            if chosen:
                raise
            refused = mistake
            notes.append(f"{name} is left out: {mistake.what}")
            continue
        column = tuple(version[0] for version in made)
        size = 1 + len(column[0].parts)
        if chosen or not columns or taken + size <= MOST_CHOSEN:
            taken += size
            columns.append(column)
        if taken > MOST_CHOSEN - 2 and not chosen:
            break  # not even a problem of one part fits
    if not columns and refused is not None:
        raise refused
    return tuple(zip(*columns, strict=True)), notes


def item_columns(
    names: Sequence[str], pair: PairFriction, seed: int, variants: int, *, chosen: bool
) -> tuple[tuple[tuple[Problem, ...], ...], list[str]]:
    """Return the variants of each kind, and a note for each kind that had to be left out.

    chosen: the kinds were named, so that none may be left out.  Raises ConditionsError.
    """
    columns: list[tuple[Problem, ...]] = []
    notes: list[str] = []
    refused: ConditionsError | None = None
    for name in names:
        try:
            columns.append(_column(name, pair, seed, variants))
        except ConditionsError as mistake:
            if chosen:
                raise
            refused = mistake
            notes.append(f"{name} is left out: {mistake.what}")
    if not columns and refused is not None:
        raise ConditionsError(
            "kinds-impossible", f"No kind is possible with these coefficients: {notes[0]}",
            "At least one must be.", "Choose another level, another day or other surfaces.",
        )  # fmt: skip
    return tuple(columns), notes


def _column(name: str, pair: PairFriction, seed: int, variants: int) -> tuple[Problem, ...]:
    """Return variants of one kind; a kind without numbers is the same question each time and comes once."""
    asked = [(KINDS[name], ENGLISH[name])]
    ((first,),) = versions(asked, pair, seed, 1)
    if not first.given or variants == 1:
        return (first,)
    return tuple(version[0] for version in versions(asked, pair, seed, variants))


def _known(kinds: Sequence[str], named: Named) -> list[str]:
    names = list(dict.fromkeys(name.strip() for name in kinds if name.strip()))
    unknown = next((name for name in names if name not in KINDS), None)
    if unknown is not None or not names:
        raise ConditionsError(
            "kind-unknown",
            f"{named('kinds')} names no kind." if unknown is None else f"There is no kind {unknown[:40]!r}.",
            f"Known are {', '.join(KINDS)}.", f"Mend {named('kinds')}.",
        )  # fmt: skip
    return names


def _told(levels: Collection[int]) -> str:
    return ", ".join(str(level) for level in sorted(levels))
