"""The live reading of a recording is `pullbench read` on it, digit for digit."""

import json
import math
import time
from pathlib import Path

import pytest

from live.benches import Script, chunks_of, finals, on_bench, session_on
from pullbench.archive import Logbook
from pullbench.cli.read import read_file
from pullbench.live import Analyst, Session
from pullbench.physics.bench import demo_day
from pullbench.render import pull_record
from pullbench.sources import Replay, TableChoices

TRACES = Path(__file__).parents[3] / "shared" / "traces"
SEAL = {"time_unit": "ms", "column": "7", "time_column": "1", "force_unit": "N"}
MEASURED = [
    pytest.param("hx711_slider_stickslip/Force7_OG.txt", {"rate_Hz": 4.0}, id="slow slider"),
    pytest.param("oring_piston_seal/2_O-ring257_5bar.csv", SEAL, id="piston seal at 5 bar"),
    pytest.param("oring_piston_seal/O-ring257_7bar.csv", SEAL, id="piston seal at 7 bar"),
    pytest.param("slider_constant_load/test_data_2.txt", {"column": "4"}, id="slider under constant load"),
]


def lines(records):
    """Return records without what a file and a day name differently."""
    told = [json.loads(record) for record in records]
    return [{key: value for key, value in line.items() if key not in ("file", "pull")} for line in told]


def live(source):
    session = session_on(source)
    listener = session.listen(1_000_000)
    session.run()
    session.close()
    return lines(one.record for one in finals(message for _, message in listener.take_all()))


def from_file(path, choices):
    pulls = read_file(path, choices, None).pulls
    return lines(pull_record(str(path), number, pull) for number, pull in enumerate(pulls, 1))


@pytest.mark.parametrize("number", range(6))
def test_a_replayed_recording_of_the_demo_day_reads_as_the_file_does(number, tmp_path):
    trace = demo_day(3)[number].trace
    path = tmp_path / "recording.csv"
    rows = (f"{t!r},{f!r}" for t, f in zip(trace.time_s.tolist(), trace.force_N.tolist(), strict=True))
    path.write_text("\n".join(["time (s),force (N)", *rows, ""]))
    expected = from_file(path, TableChoices())
    assert expected
    assert live(Replay(path, math.inf)) == expected


@pytest.mark.skipif(not TRACES.is_dir(), reason="the measured traces are not beside this checkout")
@pytest.mark.parametrize(("name", "choices"), MEASURED)
def test_a_replayed_measured_trace_reads_as_the_file_does(name, choices):
    choices = TableChoices(**choices)
    expected = from_file(TRACES / name, choices)
    assert expected
    assert live(Replay(TRACES / name, math.inf, choices)) == expected


@pytest.mark.parametrize("size", [1, 7, 5000])
def test_chunks_of_any_size_give_the_same_digits(size):
    trace = demo_day(0)[1].trace
    whole = live(Script(*chunks_of(trace.time_s, trace.force_N, trace.time_s.size)))
    assert len(whole) == 3
    assert live(Script(*chunks_of(trace.time_s, trace.force_N, size))) == whole


def test_the_process_that_reads_pulls_gives_the_digits_of_this_one(tmp_path):
    trace = demo_day(0)[0].trace
    deliveries = chunks_of(trace.time_s, trace.force_N)
    reader = Analyst()
    try:
        session = Session(
            Script(*deliveries), clock=time.monotonic, sleep=time.sleep, now=time.time, reader=reader
        )
        listener = session.listen(1_000_000)
        session.run()
        session.close()
        apart = lines(one.record for one in finals(message for _, message in listener.take_all()))
    finally:
        reader.close()
    assert apart == live(Script(*deliveries))


def test_a_pull_read_again_from_the_logbook_has_the_digits_it_was_told_with(tmp_path):
    trace = demo_day(0)[1].trace
    with Logbook.open(tmp_path / "book.sqlite", now=time.time) as logbook:
        with on_bench(*chunks_of(trace.time_s, trace.force_N), logbook=logbook) as (session, told):
            sheets = [session.pulls.sheet(one.card.number).card for one in finals(told)]
        again = session_on(Script(), logbook, day=session.day)
        assert [again.pulls.sheet(card.number).card for card in sheets] == sheets
        fresh = [again.pulls.sheet(card.number) for card in sheets]
        again.close()
    assert [sheet.card.breakaway.value for sheet in fresh] == [
        one.card.breakaway.value for one in finals(told)
    ]
