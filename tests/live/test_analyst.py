"""The process that reads pulls: it dies, the reading does not."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from live.benches import pulls
from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.live import Analyst
from pullbench.model import Chunk
from pullbench.render import pull_record


def test_a_killed_process_is_replaced_and_its_window_read():
    time_s, force_N = pulls(1)
    (window,) = windows([Chunk(time_s=time_s, force_N=force_N)])
    analyst = Analyst()
    try:
        analyst.read(window).result(60)
        (pid,) = analyst._pool._processes
        os.kill(pid, signal.SIGKILL)
        pull = analyst.read(window).result(60)
    finally:
        analyst.close()
    assert pull_record("x", 1, pull) == pull_record("x", 1, analyse(window))


def test_a_window_without_a_sample_that_makes_sense_raises_in_the_asker_only():
    time_s, force_N = pulls(1)
    (window,) = windows([Chunk(time_s=time_s, force_N=force_N)])
    analyst = Analyst()
    try:
        assert analyst.read(None).exception(60) is not None
        assert np.isfinite(analyst.read(window).result(60).breakaway.force.value)
    finally:
        analyst.close()


@pytest.mark.skipif(sys.platform == "win32", reason="kill -9 is of POSIX systems")
def test_the_reading_process_ends_with_a_parent_that_was_killed():
    script = (
        "from pullbench.live import Analyst; analyst = Analyst();"
        " print(next(iter(analyst._pool._processes)), flush=True); input()"
    )
    parent = subprocess.Popen(
        [sys.executable, "-c", script], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    worker = int(parent.stdout.readline())
    parent.kill()
    parent.wait()
    for _ in range(200):
        try:
            os.kill(worker, 0)
        except ProcessLookupError:
            break
        if (
            Path(f"/proc/{worker}/stat").exists()
            and Path(f"/proc/{worker}/stat").read_text().split()[2] == "Z"
        ):
            break  # ended; whoever has adopted it has not asked yet
        time.sleep(0.1)
    else:
        os.kill(worker, signal.SIGKILL)
        pytest.fail("the reading process lives on")
    parent.stdin.close()
    parent.stdout.close()
