"""How long the page waits for a ladder: 200 pulls, from the question to the last byte, over the local page.

python -m benchmarks.redraw [--pulls 200] [--runs 21]

Each run changes one pull before it asks, so that nothing remembered is served; drawing alone is timed beside it.
"""

import argparse
import http.client
import statistics
import threading
import time
from dataclasses import replace
from time import perf_counter

from benchmarks.machine import machine
from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.live import InlineAnalyst, Session, SettingChange, Stage
from pullbench.live.day import Place
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
