"""A bench and a pull as a small text (TOML) with units.

    [bench]                       [friction]                [hand]               [sensor]
    mass = "1.35 kg"              law = "Coulomb"           name = "smooth"      rate = "80 /s"
    stiffness = "1.5 kN/m"        static = 0.35             load = "2 s"         noise = "5 mN"
    damping = "12 N s/m"          kinetic = 0.27                                 range = "50 N"

A misspelt key, a missing unit or an impossible size is one BenchError that names its line.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from pullbench.errors import BenchError, PullbenchError
from pullbench.physics.bench.habits import HAND_NAMES, Sizes
from pullbench.physics.bench.rig import Bench, Rider, Shape
from pullbench.physics.bench.sensor import CONVERTER_80, Sensor
from pullbench.physics.bench.units import size
from pullbench.physics.bench.words import (
    BENCH,
    HAND,
    LAW_KEYS,
    LAWS,
    REQUIRED,
    RIDER,
    SENSOR,
    SHAPE,
    TABLES,
    Keys,
)
from pullbench.physics.friction import FrictionLaw


@dataclass(frozen=True, slots=True)
class Description:
    """What a text describes: the bench, the hand's name and the sizes that were set, and the sensor.

    hand: None when the text names none.  between_pulls: relative standard deviation of the friction from
    one pull to the next.
    """

    bench: Bench
    hand: str | None
    sizes: Mapping[str, float]
    sensor: Sensor
    between_pulls: float = 0.0

    def bench_for(self, rng: np.random.Generator) -> Bench:
        """Return the bench as one pull finds it: its coefficients scattered by between_pulls."""
        if not self.between_pulls:
            return self.bench
        factor = float(np.clip(rng.normal(1.0, self.between_pulls), 0.7, 1.3))
        law = self.bench.law
        names = [name for name in ("mu_s", "mu_k", "mu0") if hasattr(law, name)]
        scattered: Any = replace(law, **{name: getattr(law, name) * factor for name in names})  # type: ignore[type-var]
        return replace(self.bench, law=scattered)


def described(text: str) -> Description:
    """Return the bench, hand and sensor that a TOML text describes.

    [bench] and [friction] are needed; [hand], [sensor], [rider] and [shape] are not: the sensor is then a
    load cell at 80 samples per second.  Raises BenchError, with the line, for anything that cannot be used.
    """
    return _Reader(text).description()


class _Reader:
    """One text being read, and where in it each key stands."""

    def __init__(self, text: str) -> None:
        try:
            self.tables = tomllib.loads(text)
        except tomllib.TOMLDecodeError as fault:
            raise BenchError(
                "bench-text-unreadable",
                f"The description is not TOML: {fault}.",
                'A line must be a [table], or a key = value such as mass = "1.35 kg".',
                "Mend that line.",
            ) from fault
        self.lines = text.splitlines()
        for name, table in self.tables.items():
            if name not in TABLES or not isinstance(table, dict):
                raise self.fault(
                    "unknown", f"{name!r} is unknown", f"Known tables are {_brackets(TABLES)}", name, None
                )

    def description(self) -> Description:
        """Return everything that the text says."""
        for needed in ("bench", "friction"):
            if needed not in self.tables:
                raise BenchError(
                    "bench-text-incomplete",
                    f"The description has no [{needed}].",
                    f"It needs {_brackets(('bench', 'friction'))}.",
                    f"Add a table [{needed}].",
                )
        parts: dict[str, Any] = {}
        for name, keys, make in (("rider", RIDER, Rider), ("shape", SHAPE, Shape)):
            if name in self.tables:
                parts[name] = self.made(name, make, self.sizes(name, keys))
        law = self.law()
        of_bench = self.sizes("bench", BENCH)
        between_pulls = of_bench.pop("between_pulls", 0.0)
        if not 0 <= between_pulls < 0.3:
            what = f"between_pulls is {between_pulls:g}"
            raise self.fault("impossible", what, "It must be from 0 to below 0.3", "bench", "between_pulls")
        bench = self.made("bench", Bench, {**of_bench, **parts, "law": law})
        return Description(bench, self.hand_name(), self.hand_sizes(), self.sensor(), between_pulls)

    def law(self) -> FrictionLaw:
        """Return the friction law."""
        name = self.tables["friction"].get("law", "Coulomb")
        known = {law.casefold(): law for law in LAWS}
        law = known.get(name.casefold()) if isinstance(name, str) else None
        if law is None:
            allowed = f"It must be one of {', '.join(LAWS)}"
            raise self.fault("unknown", f"The law is {name!r}", allowed, "friction", "law")
        keys, make = LAWS[law]
        made: FrictionLaw = self.made(
            "friction", make, self.sizes("friction", keys, skip="law", required=REQUIRED[law])
        )
        return made

    def hand_name(self) -> str | None:
        """Return the hand's name, if one is given."""
        name: str | None = self.tables.get("hand", {}).get("name")
        if name is not None and name not in HAND_NAMES:
            allowed = f"It must be one of {', '.join(HAND_NAMES)}"
            raise self.fault("unknown", f"The hand is {name!r}", allowed, "hand", "name")
        return name

    def hand_sizes(self) -> dict[str, float]:
        """Return the sizes of the hand that are set."""
        sizes = self.sizes("hand", HAND, skip="name") if "hand" in self.tables else {}
        self.made("hand", Sizes, sizes)
        return sizes

    def sensor(self) -> Sensor:
        """Return the sensor."""
        if "sensor" not in self.tables:
            return CONVERTER_80
        sizes: dict[str, Any] = self.sizes("sensor", SENSOR)
        if sizes.get("sign") in (1.0, -1.0):
            sizes["sign"] = int(sizes["sign"])
        made: Sensor = self.made("sensor", Sensor, sizes)
        return made

    def sizes(
        self, name: str, keys: Keys, *, skip: str = "", required: tuple[str, ...] | None = None
    ) -> dict[str, float]:
        """Return the sizes of one table in SI units, under their names in the code."""
        found: dict[str, float] = {}
        table = {key: value for key, value in self.tables[name].items() if key != skip}
        for key, value in table.items():
            if key not in keys:
                allowed = f"Known there are {', '.join(filter(None, [skip, *keys]))}"
                raise self.fault("unknown", f"[{name}] has no {key!r}", allowed, name, key)
            field, dimension = keys[key]
            try:
                found[field] = size(value, dimension)
            except ValueError as fault:
                raise self.fault(
                    "size-unreadable", f"{key} is {value!r}", str(fault).rstrip("."), name, key
                ) from fault
        for key in required if required is not None else REQUIRED.get(name, ()):
            if key not in table:
                allowed = f"It needs {', '.join(required or REQUIRED[name])}"
                raise self.fault("incomplete", f"[{name}] has no {key}", allowed, name, None)
        return found

    def made(self, name: str, make: Callable[..., Any], sizes: Mapping[str, Any]) -> Any:
        """Return what the sizes make; an impossible one gets its table's line added."""
        try:
            return make(**sizes)
        except PullbenchError as fault:
            where = self.where(name, self._culprit(name, make, sizes, fault))
            raise BenchError(fault.code, f"{where}{fault.what}", fault.allowed, fault.next_step) from fault

    def _culprit(
        self, name: str, make: Callable[..., Any], sizes: Mapping[str, Any], fault: PullbenchError
    ) -> str | None:
        """Return the key without which, or with a middling value of which, the same fault is gone."""
        tables = {"bench": BENCH, "friction": LAW_KEYS, "rider": RIDER, "shape": SHAPE, "hand": HAND}
        for key, (field, _) in tables.get(name, SENSOR).items():
            if field not in sizes:
                continue
            try:
                make(**{**sizes, field: 1.0 if sizes[field] <= 0 else 0.1})
            except PullbenchError as other:
                if other.code == fault.code and other.what == fault.what:
                    continue
            return key
        return None

    def where(self, table: str, key: str | None) -> str:
        """Return "Line 7: " for a key of a table, or for the table itself; empty where it is not found."""
        inside = False
        table_line = ""
        for number, line in enumerate(self.lines, 1):
            header = re.match(r"\s*\[\s*([^\]]+?)\s*\]", line)
            if header:
                inside = header[1].strip("\"'") == table
                table_line = f"Line {number}: " if inside else table_line
            elif inside and key and re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=", line):
                return f"Line {number}: "
        return table_line or self._top_level(table)

    def _top_level(self, name: str) -> str:
        for number, line in enumerate(self.lines, 1):
            if re.match(rf"\s*[\"']?{re.escape(name)}[\"']?\s*[.=]", line):
                return f"Line {number}: "
        return ""

    def fault(self, code: str, what: str, allowed: str, table: str, key: str | None) -> BenchError:
        """Return the error about one line of the text."""
        return BenchError(
            f"bench-text-{code}", f"{self.where(table, key)}{what}.", f"{allowed}.", "Mend that line."
        )


def _brackets(names: tuple[str, ...]) -> str:
    return ", ".join(f"[{name}]" for name in names)
