"""A watch that was killed kept samples whose pulls it had not read: the next start reads them."""

import json

from live.benches import DAY, NINE_O_CLOCK, demo_pulling, on_bench
from pullbench.analysis import analyse
from pullbench.archive import Logbook
from pullbench.detect import windows
from pullbench.render import pull_record

RECORD = "a scripted sensor"


def killed(path, deliveries):
    """Leave a logbook as a killed watch does: samples committed, no pull read."""
    with Logbook.open(path, now=lambda: NINE_O_CLOCK) as logbook:
        recording = logbook.begin_recording(source=RECORD, label=None, day=DAY)
        for chunk in deliveries:
            logbook.keep(recording, chunk)
        logbook.commit()
        logbook.end_recording(recording, "The watch ended without standing down.")


def test_pulls_that_were_kept_but_not_read_are_read_by_the_next_watch(tmp_path):
    path = tmp_path / "day.sqlite"
    deliveries = demo_pulling()
    killed(path, deliveries)
    with Logbook.open(path, now=lambda: NINE_O_CLOCK + 60) as logbook:
        with on_bench(logbook=logbook, day=DAY):
            pass
        kept = logbook.pulls(DAY)
    own = [analyse(window) for window in windows(deliveries)]
    assert [row.number for row in kept] == [1, 2] == list(range(1, len(own) + 1))
    for row, pull in zip(kept, own, strict=True):
        ours = json.loads(pull_record(RECORD, row.number, pull))
        assert json.loads(row.reading.record) == ours


def test_what_was_read_is_not_read_twice(tmp_path):
    path = tmp_path / "day.sqlite"
    with Logbook.open(path, now=lambda: NINE_O_CLOCK) as logbook:
        for _ in range(2):
            with on_bench(*demo_pulling(), logbook=logbook, day=DAY):
                pass
        assert [row.number for row in logbook.pulls(DAY)] == [1, 2, 3, 4]
