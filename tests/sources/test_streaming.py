"""Large files: read a block at a time, and the fuzz script as it is run by hand."""

from __future__ import annotations

import subprocess
import sys
import tracemalloc
from pathlib import Path

import numpy as np

from pullbench.sources import open_table

FUZZ = Path(__file__).parents[2] / "fuzz" / "fuzz_tables.py"


def write(path: Path, rows: int, line: str) -> Path:
    block = "".join(line.format(i=i) for i in range(1000))
    with path.open("w") as file:
        file.write("time [ms],force [N]\n")
        for thousand in range(rows // 1000):
            file.write(block.replace("@", str(thousand)))
    return path


def peak_bytes(path: Path) -> int:
    tracemalloc.start()
    try:
        for chunk in open_table(path).chunks():
            assert chunk.time_s.size < 100_000
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


def test_memory_does_not_grow_with_the_file(tmp_path):
    small, large = (peak_bytes(write(tmp_path / f"{n}.csv", n, "@{i:03d},0.5\n")) for n in (150_000, 450_000))

    assert large < 1.2 * small
    assert large < 60e6  # tens of megabytes for the head and the blocks


def test_chunks_of_a_long_file_join_without_seam(tmp_path):
    path = write(tmp_path / "long.csv", 300_000, "@{i:03d},{i}\n")

    chunks = list(open_table(path).chunks())

    assert len(chunks) > 3
    np.testing.assert_array_equal(np.concatenate([c.time_s for c in chunks]), np.arange(300_000) / 1000)
    assert [flaw for chunk in chunks for flaw in chunk.flaws] == []


def test_the_fuzz_script_ends_by_itself_and_says_what_it_did():
    run = subprocess.run(
        [sys.executable, str(FUZZ), "2", "1"], capture_output=True, text=True, timeout=120, check=False
    )

    assert (run.returncode, run.stderr) == (0, "")


def test_the_fuzz_script_fails_on_a_crash(tmp_path):
    broken = "import runpy, sys, pullbench.sources as s\ndef crash(*a): raise KeyError('x')\n"
    broken += "s.read_table = crash\n"
    broken += f"sys.argv = ['fuzz', '5', '1']\nrunpy.run_path({str(FUZZ)!r}, run_name='__main__')\n"

    run = subprocess.run(
        [sys.executable, "-c", broken],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        env={"TMPDIR": str(tmp_path)},
    )

    assert run.returncode == 1
    assert "KeyError" in run.stderr
