"""Any bytes at all: a recording with rising times, or one clear error."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.errors import RecordingError
from pullbench.sources import TableChoices, open_table, read_table
from pullbench.sources.rows import RowReader

FRAGMENTS = [
    "0.01",
    "1.5",
    "-3",
    "1,5",
    "0,25",
    "1e3",
    "1e999",
    "-1e308",
    "12:00:01.5",
    "2031-01-01",
    "nan",
    "ERR",
    "---",
    "",
    " ",
    ",",
    ";",
    "\t",
    "|",
    "\n",
    "\r\n",
    "\r",
    "N",
    "s",
    "ms",
    "Time (s)",
    "Force [N]",
    "mV/V",
    "#",
    '"',
    "'",
    "\0",
    "µ",
    "\ufeff",
    "\n0.0,1.0\n0.1,1.1\n0.2,1.2\n",
    "\n5;1,0\n6;1,1\n7;1,2\n",
    "\n0 1\n0 2\n0 3\n0.01 4\n0.01 5\n",
]
CHOICES = st.builds(
    TableChoices,
    rate_Hz=st.sampled_from([None, None, 100.0, 1e-300]),
    column=st.sampled_from([None, None, "1", "2", "Force"]),
    time_column=st.sampled_from([None, None, None, "1"]),
    time_unit=st.sampled_from([None, "ms", "min"]),
    force_unit=st.sampled_from([None, None, "kip", "mV"]),
    scale_N=st.sampled_from([None, None, 1e300]),
    decimal=st.sampled_from([None, ".", ","]),
    separator=st.sampled_from([None, None, ",", "blank", ";"]),
    encoding=st.sampled_from([None, None, "utf-16", "utf-7", "latin-1"]),
)


def reads_or_refuses(path: Path, choices: TableChoices) -> None:
    try:
        trace, assumed = read_table(path, choices)
    except RecordingError:
        return
    assert assumed
    assert trace.time_s.size >= 2
    assert np.isfinite(trace.time_s).all()
    assert np.isfinite(trace.force_N).all()
    assert np.all(np.diff(trace.time_s) > 0)


@settings(max_examples=300, deadline=None)
@given(content=st.binary(max_size=400), choices=CHOICES)
def test_any_bytes_are_read_or_refused(tmp_path_factory, content, choices):
    path = tmp_path_factory.mktemp("fuzz") / "any.csv"
    path.write_bytes(content)

    reads_or_refuses(path, choices)


@settings(max_examples=500, deadline=None)
@given(
    parts=st.lists(st.sampled_from(FRAGMENTS), min_size=1, max_size=60),
    encoding=st.sampled_from(["utf-8", "utf-8", "utf-16", "utf-16-le"]),
    choices=CHOICES,
)
def test_any_pieces_of_tables_are_read_or_refused(tmp_path_factory, parts, encoding, choices):
    path = tmp_path_factory.mktemp("fuzz") / "any.csv"
    path.write_bytes("".join(parts).encode(encoding))

    reads_or_refuses(path, choices)


@settings(max_examples=100, deadline=None)
@given(
    force_N=st.lists(st.floats(-1e6, 1e6), min_size=3, max_size=80),
    step_s=st.floats(1e-4, 0.4),
    separator=st.sampled_from([",", ";", "\t", " "]),
)
def test_floats_written_out_come_back_bit_by_bit(tmp_path_factory, force_N, step_s, separator):
    time_s = [i * step_s for i in range(len(force_N))]
    path = tmp_path_factory.mktemp("trip") / "pull.csv"
    rows = [f"{t!r}{separator}{f!r}" for t, f in zip(time_s, force_N, strict=True)]
    path.write_text(f"time [s]{separator}force [N]\n" + "\n".join(rows))

    trace, _ = read_table(path)

    assert trace.time_s.tolist() == time_s
    assert trace.force_N.tolist() == force_N


LINES = [
    "0.1,1.5",
    "0.2,2",
    " 0.3 , 3 ",
    "0.4,4,",
    "0.5,5, ",
    "0.6,",
    ",7",
    "0.8,+.8e1",
    "0.9,9.",
    "1.0,1_0",
    "1.1,1e999",
    "nan,1",
    "#1.3,1",
    "",
    "1.4,1.4.1",
    "1.5,1 5",
    "1.6;1.6",
    "1.7,1,7",
    "-1.8,-18",
    "e,e",
    "1.9,1.9 N",
    "2.0,--",
    "\t2.1,2\t",
]


@settings(max_examples=200, deadline=None)
@given(
    lines=st.lists(st.sampled_from(LINES), max_size=12),
    dress=st.sampled_from([(",", "."), (";", "."), (";", ","), ("\t", ","), (" ", ".")]),
)
def test_the_fast_road_and_the_careful_road_agree(tmp_path_factory, lines, dress):
    separator, mark = dress
    path = tmp_path_factory.mktemp("roads") / "pull.csv"
    clean = "".join(f"{i / 10:.1f}{separator}{i % 7}.25\n".replace(".", mark) for i in range(20))
    path.write_text(clean)
    reader = open_table(path, TableChoices(decimal=mark)).reader
    dressed = [line.replace(".", "\0").replace(",", separator).replace("\0", mark) for line in lines]
    block = "".join(line + "\n" for line in dressed).encode()

    fast = reader.read(block)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(RowReader, "_clean_block", lambda *_: None)
        patch.setattr(RowReader, "_clean_line", lambda *_: None)
        careful = reader.read(block)

    np.testing.assert_array_equal(fast.time, careful.time)
    np.testing.assert_array_equal(fast.force, careful.force)
    np.testing.assert_array_equal(fast.state, careful.state)
