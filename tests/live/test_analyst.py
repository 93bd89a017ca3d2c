"""The process that reads pulls: it dies, the reading does not."""

import os
import signal

import numpy as np

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
