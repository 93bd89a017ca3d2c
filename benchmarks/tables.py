"""Tables of shares beside what was asked of them: printed plain, written as Markdown, and read for what falls short."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from scipy import stats

Show = Callable[[str], object]


@dataclass(frozen=True, slots=True)
class Column:
    """A column.  asked: from and to, shares; None: nothing was.  form: of its figures when they are no shares."""

    name: str
    asked: tuple[float, float] | None = None
    form: str = ""

    @property
    def head(self) -> str:
        """Return its name and what is asked: "slope held, 93–97 %"."""
        if self.asked is None:
            return self.name
        low, high = (f"{100 * end:g}" for end in self.asked)
        if self.asked[0] <= 0:
            return f"{self.name}, ≤ {high} %"
        return f"{self.name}, ≥ {low} %" if self.asked[1] >= 1 else f"{self.name}, {low}–{high} %"

    def cell(self, figure: float) -> str:
        """Return a figure as it is printed."""
        if math.isnan(figure):
            return "–"
        return self.form.format(figure) if self.form else f"{100 * figure:.1f}"


@dataclass(frozen=True, slots=True)
class Row:
    """A row.  draws: how many each share is from.  asked: False where nothing can be asked."""

    name: str
    figures: tuple[float, ...]
    draws: int
    asked: bool = True


@dataclass(slots=True)
class Table:
    """A table with a title, what it tells, the head of its first column, its columns and rows."""

    title: str
    about: str
    first: str
    columns: tuple[Column, ...]
    rows: list[Row] = field(default_factory=list)

    def cells(self, row: Row) -> list[str]:
        """Return the figures of a row as printed; in brackets where nothing is asked of a share that others keep."""
        bare = zip(self.columns, row.figures, strict=True)
        return [
            f"({c.cell(f)})" if c.asked and not row.asked and not math.isnan(f) else c.cell(f)
            for c, f in bare
        ]

    def plain(self) -> str:
        """Return the table for a terminal, shares in per cent."""
        told = [[self.first, *(column.head for column in self.columns)]]
        told += [[row.name, *self.cells(row)] for row in self.rows]
        widths = [max(map(len, cells)) for cells in zip(*told, strict=True)]
        lines = [
            "  ".join([cells[0].ljust(widths[0]), *map(str.rjust, cells[1:], widths[1:])]) for cells in told
        ]
        return "\n".join([f"{self.title}: {self.about}", *lines])

    def markdown(self) -> str:
        """Return the table below a heading of its own."""
        lines = [
            f"### {self.title}", "", self.about, "",
            "| " + " | ".join([self.first, *(column.head for column in self.columns)]) + " |",
            "| --- |" + " --: |" * len(self.columns),
            *("| " + " | ".join([row.name, *self.cells(row)]) + " |" for row in self.rows),
        ]  # fmt: skip
        return "\n".join(lines)

    def short(self) -> Iterator[str]:
        """Yield a line for every share outside what is asked: surely, if its own 95 % limits lie outside too."""
        for row in self.rows:
            for column, share in zip(self.columns, row.figures, strict=True):
                if not row.asked or column.asked is None or math.isnan(share):
                    continue
                low, high = column.asked
                if low <= share <= high:
                    continue
                least, most = limits_of(share, row.draws)
                sure = "surely" if most < low or least > high else "perhaps by chance"
                yield f"- {self.title}, **{row.name}**, {column.head}: {column.cell(share)} %, {sure}."


def limits_of(share: float, draws: int) -> tuple[float, float]:
    """Return the 95 % limits of a share counted in so many draws (Clopper and Pearson)."""
    told = stats.binomtest(round(share * draws), draws).proportion_ci(0.95, method="exact")
    return float(told.low), float(told.high)
