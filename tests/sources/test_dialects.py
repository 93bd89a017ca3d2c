"""The same invented recording in many dialects gives the same digits."""

from __future__ import annotations

import codecs
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import pytest

from pullbench.sources import TableChoices, open_table, read_table
from sources.invented import digits, seconds_and_newtons, table

ROWS = digits()
TIME_s, FORCE_N = seconds_and_newtons(ROWS)


@dataclass(frozen=True)
class Dialect:
    """line and head as for `table`; says: words that the sentence must hold."""

    line: str
    head: str = ""
    mark: str = "."
    end: str = "\n"
    encoding: str = "utf-8"
    bom: bytes = b""
    tail: str = ""
    says: tuple[str, ...] = ()
    choices: TableChoices = field(default_factory=TableChoices)

    def write(self, path: Path) -> Path:
        text = table(ROWS, self.line, self.head, mark=self.mark, end=self.end) + self.tail
        path.write_bytes(self.bom + text.encode(self.encoding))
        return path


def given(**choices: object) -> TableChoices:
    return TableChoices(**choices)  # type: ignore[arg-type]


DIALECTS = {
    "comma, names with units": Dialect(
        "{t},{f}", "Time (s),Force (N)", says=("comma table", "decimal point")
    ),
    "comma and blank": Dialect("{t}, {f}", "time [s], force [N]"),
    "semicolon, decimal comma": Dialect(
        "{t};{f}", "Zeit in s;Kraft in N", ",", says=("semicolon table", "decimal comma", '"Kraft in N"')
    ),
    "tab": Dialect("{t}\t{f}", "t/s\tF/N", says=("tab table",)),
    "tab, decimal comma, CRLF": Dialect("{t}\t{f}", "temps (s)\tforce (N)", ",", "\r\n"),
    "blanks in front and between": Dialect("   {t}    {f}", "  time_s   force_N", says=("blank table",)),
    "blanks, decimal comma, trailing blanks": Dialect("{t} {f}  ", "czas siła", ","),
    "bars": Dialect("{t}|{f}", "tempo [s]|forza [N]"),
    "carriage returns alone": Dialect("{t},{f}", "t (s),F (N)", end="\r"),
    "UTF-8 mark": Dialect("{t};{f}", "Zeit [s];Kraft [N]", ",", bom=codecs.BOM_UTF8),
    "UTF-16 LE with mark": Dialect("{t}\t{f}", "t [s]\tF [N]", encoding="utf-16-le", bom=codecs.BOM_UTF16_LE),
    "UTF-16 BE with mark": Dialect("{t},{f}", "t [s],F [N]", encoding="utf-16-be", bom=codecs.BOM_UTF16_BE),
    "UTF-16 LE, no mark": Dialect("{t},{f}", "t [s],F [N]", encoding="utf-16-le", says=("UTF-16",)),
    "UTF-16 BE, no mark, CRLF": Dialect("{t},{f}", "t [s],F [N]", end="\r\n", encoding="utf-16-be"),
    "Latin-1 micro signs": Dialect("{us};{uN}", "Zeit [µs];Kraft [µN]", encoding="latin-1", says=("in µN",)),
    "quoted names": Dialect("{t},{f}", '"Time, s","Force, N"'),
    "quoted cells": Dialect('"{t}","{f}"', '"Time (s)","Force (N)"'),
    "quoted cells with decimal comma": Dialect(
        '"{t}","{f}"', '"Zeit (s)","Kraft (N)"', ",", says=("decimal comma",)
    ),
    "comma parts cells and decimals": Dialect("{t},{f}", mark=",", says=("comma table, decimal comma",)),
    "names over comma pairs": Dialect(
        "{t},{f}", "Zeit (s),Kraft (N)", ",", says=("decimal comma", '"Kraft (N)"')
    ),
    "a row of units": Dialect("{ms};{mN}", "Zeit;Kraft\nms;mN", says=("time in ms", "force in mN")),
    "a row of units in brackets": Dialect("{ms},{mN}", "time,force\n[ms],[mN]"),
    "a rule under the names": Dialect("{t}  {f}", "time (s)  force (N)\n--------  ---------"),
    "comment lines before": Dialect("{t},{f}", "# a sled\n# floor: birch\n# time (s), force (N)"),
    "metadata before": Dialect("{t},{f}", "Rate,100\nNote,run 3 of 7\n\nTime (s),Force (N)"),
    "chatter with digits before": Dialect("{t} {f}", "cell 1 ready\n   gain 128 set\nGo!\n"),
    "a footer": Dialect("{t},{f}", "t (s),f (N)", tail="\nend of run 3\n240 samples, 2 errors\n"),
    "trailing separators": Dialect("{t};{f};", "t [s];F [N];"),
    "microseconds": Dialect("{us},{f}", "micros,force"),
    "microseconds, u": Dialect("{us},{uN}", "t_us,F_uN"),
    "milliseconds without a name": Dialect("{ms}\t{f}", says=("time in ms", "unit assumed", "100 Hz")),
    "no names": Dialect("{t} {f}", says=("unit assumed",)),
    "force first": Dialect("{f},{t}", "pull (N),elapsed (s)", says=("column 1", "column 2")),
    "force first, no names": Dialect("{f} {t}", says=("column 1", "column 2")),
    "kilonewtons": Dialect("{t},{kN}", "t [s],F [kN]"),
    "units in each cell": Dialect("{t} s;{f} N", says=("time in s", "force in N")),
    "units in each blank-parted cell": Dialect("{ms} ms {mN} mN", says=("time in ms", "force in mN")),
    "unit and cell tag": Dialect("{f} N1 ", "chatter 12 of 13\nReady to run", choices=given(rate_Hz=100)),
    "no time": Dialect("{f}", "Force (N)", choices=given(rate_Hz=100), says=("rate of 100 Hz",)),
    "no time, decimal comma": Dialect("{f}", mark=",", choices=given(rate_Hz=100)),
    "clock time past midnight": Dialect("{clock},{f}", "Time,Force (N)", says=("clock time", "counted from")),
    "date and clock time": Dialect("2031-05-04 {clock};{f}", "Zeit;Kraft (N)"),
    "date and clock, blanks": Dialect("04.05.2031 {clock} {f}"),
    "minutes and seconds": Dialect("{mmss};{f}", "Zeit;Kraft (N)", ","),
    "other columns": Dialect(
        "{i},{t},{f},-3.5,9.81,ok", "No,t (s),F (N),x (mm),a (m/s²),state", says=("column 3",)
    ),
    "chosen by name": Dialect(
        "{t};5.0;{f}", "Zeit [s];Normal [N];Reibung [N]", choices=given(column="reibung"), says=("column 3",)
    ),
    "chosen by number": Dialect("{t}\t5.1\t{f}", choices=given(column="3")),
    "time chosen": Dialect("{t},{us},{f}", "a,b,Force (N)", choices=given(time_column="b", time_unit="us")),
    "unit chosen": Dialect("{t},{mN}", "time,force", choices=given(force_unit="mN")),
    "raw signal with a scale": Dialect(
        "{t},{mN}", "t (s),cell (mV/V)", choices=given(scale_N=0.001), says=("0.001 N per",)
    ),
    "separator and decimal chosen": Dialect(
        "{t};{f}", mark=",", choices=given(separator="semicolon", decimal=",")
    ),
    "encoding chosen": Dialect(
        "{t},{f}", "t (s),F (N)", encoding="utf-32-be", choices=given(encoding="utf-32-be")
    ),
}


@pytest.mark.parametrize("name", DIALECTS)
def test_one_recording_gives_the_same_digits_in_every_dialect(name: str, tmp_path: Path) -> None:
    dialect = DIALECTS[name]

    trace, assumed = read_table(dialect.write(tmp_path / "pull.txt"), dialect.choices)

    if name in ("raw signal with a scale", "kilonewtons"):  # products of decimals without exact floats
        np.testing.assert_array_max_ulp(trace.force_N, FORCE_N, maxulp=2)
    else:
        np.testing.assert_array_equal(trace.force_N, FORCE_N)
    if "clock" in name or name == "minutes and seconds":  # differences of seconds of the day
        np.testing.assert_allclose(trace.time_s, TIME_s, rtol=0, atol=1e-10)
    else:
        np.testing.assert_array_equal(trace.time_s, TIME_s)
    assert trace.flaws == ()
    assert [words for words in dialect.says if words not in assumed] == []


def test_minutes_come_back_to_the_printed_digits(tmp_path: Path) -> None:
    path = Dialect("{tmin},{f}", "t [min],F [N]").write(tmp_path / "pull.csv")

    trace, _ = read_table(path)

    assert np.abs(trace.time_s - TIME_s).max() <= 60 * 0.5e-9 + 1e-12  # nine digits of a minute


@pytest.mark.parametrize("block_bytes", [1, 7, 64, 1000])
@pytest.mark.parametrize(
    "name", ["tab, decimal comma, CRLF", "unit and cell tag", "UTF-16 LE, no mark", "quoted cells"]
)
def test_digits_do_not_depend_on_how_the_file_is_cut(name: str, block_bytes: int, tmp_path: Path) -> None:
    dialect = DIALECTS[name]

    chunks = list(open_table(dialect.write(tmp_path / "p"), dialect.choices).chunks(block_bytes=block_bytes))

    np.testing.assert_array_equal(np.concatenate([chunk.force_N for chunk in chunks]), FORCE_N)
    np.testing.assert_array_equal(np.concatenate([chunk.time_s for chunk in chunks]), TIME_s)


@pytest.mark.parametrize(
    ("unit", "newtons"),
    [
        # NIST SP 811 (2008), appendix B.8, gives each to the digits here.
        pytest.param("lbf", 4.4482216152605, id="pound-force"),
        pytest.param("lb", 4.4482216152605, id="pound, as scales say it"),
        pytest.param("kip", 4448.2216152605, id="kip"),
        pytest.param("kgf", 9.80665, id="kilogram-force"),
        pytest.param("gf", 9.80665e-3, id="gram-force"),
        pytest.param("kN", 1000.0, id="kilonewton"),
        pytest.param("g", 9.81e-3, id="grams on a scale, local g"),
        pytest.param("kg", 9.81, id="kilograms on a scale, local g"),
    ],
)
def test_every_unit_of_force_becomes_newtons(unit: str, newtons: float, tmp_path: Path) -> None:
    path = tmp_path / "pull.csv"
    path.write_text(f"time [s],pull [{unit}]\n0.00,1\n0.01,2\n0.02,-3\n")

    trace, _ = read_table(path, TableChoices(g_m_s2=9.81))

    np.testing.assert_allclose(trace.force_N, newtons * np.array([1.0, 2.0, -3.0]), rtol=1e-15)
