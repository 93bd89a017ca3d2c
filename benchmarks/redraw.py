"""How long the page waits for a ladder, 200 pulls, from question to last byte over the local page; and for a strip.

python -m benchmarks.redraw [--pulls 200] [--runs 21] [--hours 6]

Each run changes one pull before it asks, so that nothing remembered is served; drawing alone is timed beside it.  The
strip is of a session that has run for hours at 1 kHz, beside least and most of every column of 10 ms it stands on.
"""

import argparse
import http.client
import statistics
import threading
import time
from dataclasses import replace
from time import perf_counter

import numpy as np

from benchmarks.machine import machine
from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.live import InlineAnalyst, Session, SettingChange, Stage
from pullbench.live.day import Place
from pullbench.live.strip import COLUMN_S, Strip
from pullbench.model import Chunk, Measured
from pullbench.physics.bench import demo_day
from pullbench.web import Bench, Doors, Hub, Serving, bind, make_app

G_M_S2 = 9.80665
LIMIT_MS = 50.0


class NoSource:
    """A source that has nothing."""

    name, label = "nothing", "simulated"

    def deliveries(self, *, clock, sleep):
        return iter(())

    def close(self):
        """Nothing to close."""


def filled(pulls: int) -> Session:
    """Return a session that holds so many pulls of the demo day at eight loads, forces scaled to their load."""
    session = Session(
        NoSource(), clock=time.monotonic, sleep=time.sleep, now=time.time, reader=InlineAnalyst()
    )
    trace = demo_day(0)[0].trace
    (window, *_) = windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)])
    pull = analyse(window)
    for number in range(1, pulls + 1):
        load_kg = 0.5 + 0.25 * ((number - 1) % 8)
        share = (load_kg + 0.35) / 1.35 * (1 + 0.02 * ((7 * number) % 11 - 5) / 5)
        place = Place(recording=1, offset_s=30.0 * number, source="demo", label="simulated", u_gain=0.0)
        session._pulls.add(_scaled(pull, share), number, place)
        session.board.correct(number, SettingChange(load_kg=load_kg, sled_kg=0.35, surface="felt"))
    return session


def _scaled(pull, share):
    return replace(
        pull, breakaway=replace(pull.breakaway, force=_times(pull.breakaway.force, share)),
        plateau=replace(pull.plateau, force=_times(pull.plateau.force, share)),
    )  # fmt: skip


def _times(force: Measured, share: float) -> Measured:
    low, high = force.limits
    return Measured(
        kind="value", value=force.value * share, standard_uncertainty=force.standard_uncertainty * share,
        limits=(low * share, high * share), unit="N",
    )  # fmt: skip


def main(arguments: list[str] | None = None) -> None:
    """Parse, serve, ask, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--pulls", type=int, default=200)
    parser.add_argument("--runs", type=int, default=21)
    parser.add_argument("--hours", type=int, default=6)
    asked = parser.parse_args(arguments)
    print(machine())
    session = filled(asked.pulls)
    listening = bind("127.0.0.1", 0)
    host = f"127.0.0.1:{listening.getsockname()[1]}"
    stage = Stage()
    doors = Doors(key="benchmark", hosts=frozenset({host}), clock=time.monotonic)
    serving = Serving(make_app(Bench(session, doors, InlineAnalyst(), stage, Hub(session), None)), listening)
    serving.start()
    runner = threading.Thread(target=session.run)
    runner.start()
    runner.join()
    try:
        print(f"\nA ladder of {asked.pulls} pulls, {asked.runs} runs each, median (worst):")
        for path in ("/ladder?room=light", "/surfaces?quantity=kinetic"):
            drawn, again, size = _timed(session, host, path, asked.runs)
            print(
                f"  {path:28s} drawn anew {statistics.median(drawn):6.1f} ms ({max(drawn):.1f}), "
                f"remembered {statistics.median(again):5.1f} ms ({max(again):.1f}), {size / 1024:.0f} kB"
            )
            if path.startswith("/ladder") and statistics.median(drawn) > LIMIT_MS:
                print(f"  over the {LIMIT_MS:g} ms that a redraw may take")
    finally:
        serving.stop()
        session.close()
        stage.close()
    strip(asked.hours)


def strip(hours: int) -> None:
    """Fill a strip in memory and print how long its columns take, by levels of detail and without them."""
    rng, whole = np.random.default_rng(0), Strip()
    for minute in range(60 * hours):
        whole.append(60.0 * minute + np.arange(60_000) / 1000, rng.normal(size=60_000))
    end_s = 3600.0 * hours
    print(f"\nA strip of {hours} h at 1 kHz in memory, 4000 columns, worst of several windows:")
    fine = whole.columns(0.0, end_s, round(end_s / COLUMN_S)).pairs
    whole.columns(0.0, end_s, 1280)  # the levels are built while the day goes on
    levels, plain = [], []
    for from_s, to_s in ((0.0, end_s), (100.0, 3700.0), (5000.0, 5060.0), (0.123, end_s - 1600)):
        began = perf_counter()
        whole.columns(from_s, to_s, 4000)
        levels.append(1e3 * (perf_counter() - began))
        began = perf_counter()
        part = fine[int(from_s / COLUMN_S) : int(to_s / COLUMN_S)]
        cuts = np.linspace(0, part.shape[0] - 1, 4000).astype(int)
        np.fmin.reduceat(part[:, 0], cuts), np.fmax.reduceat(part[:, 1], cuts)
        plain.append(1e3 * (perf_counter() - began))
    print(f"  levels of detail {max(levels):.1f} ms, every column of 10 ms {max(plain):.1f} ms")


def _timed(session: Session, host: str, path: str, runs: int) -> tuple[list[float], list[float], int]:
    drawn, again, size = [], [], 0
    for run in range(runs + 1):
        session.board.correct(1, SettingChange(load_kg=0.5 + 1e-3 * run, sled_kg=0.35, surface="felt"))
        if path.startswith("/surfaces"):
            session.board.correct(2, SettingChange(load_kg=0.5, sled_kg=0.35, surface="birch"))
        for times in (drawn, again):
            began = perf_counter()
            connection = http.client.HTTPConnection(host)
            connection.request("GET", path)
            body = connection.getresponse().read()
            times.append(1e3 * (perf_counter() - began))
            connection.close()
            size = len(body)
    return drawn[1:], again[1:], size


if __name__ == "__main__":
    main()
