"""The page in a real Chromium: how soon it can be used, how heavy it is, whether its strip scrolls smoothly.

    python -m benchmarks.page [--hours 1] [--seconds 10]

An hour of samples at 100 Hz lies behind the pen.  Cold start: a new browser context, nothing in its cache, from asking
for the address until the state word stands and the strip is drawn.  Weight: what went over the wire, beside the same
files as they lie on the disk.  Frames: gaps between animation frames, and the script time in them, beside a page that
only counts frames (the browser's own best on this machine).  Scrub: the same while every frame moves the flag of the
free-body view of the last pull, there and back, so that all its forces are drawn anew.  Verdict: from handing the
pull to the reading process, the moment let go is certain, until the page has the first reading written.
"""

from __future__ import annotations

import argparse
import queue
import threading
import time
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.machine import chromium
from pullbench.analysis import ByHand
from pullbench.live import Analyst, Session, Stage
from pullbench.model import Chunk, News, Pull, PullWindow
from pullbench.web import Bench, Doors, Hub, Serving, bind, make_app

RATE_Hz, CYCLE_S = 100.0, 12.0
KEY = "a-key-for-this-benchmark"
READY = "() => document.querySelector('main.bench .state-word, main.bench [data-state], main.bench h1')"
FRAMES = """(seconds) => new Promise((done) => {
  const gaps = []; let before = performance.now(); const end = before + 1000 * seconds;
  const step = (now) => { gaps.push(now - before); before = now;
    now < end ? requestAnimationFrame(step) : done(gaps); };
  requestAnimationFrame(step);
})"""
SCRUB = """(seconds) => new Promise((done) => {
  const flag = document.querySelector(".fb-flag"), gaps = [];
  let n = 0, before = performance.now(); const end = before + 1000 * seconds;
  const step = (now) => { gaps.push(now - before); before = now;
    const key = n++ % 90 < 45 ? "ArrowRight" : "ArrowLeft";
    flag.dispatchEvent(new KeyboardEvent("keydown", { key, shiftKey: true, bubbles: true }));
    now < end ? requestAnimationFrame(step) : done(gaps); };
  requestAnimationFrame(step);
})"""
VERDICTS = """() => { window.__told = [];
  new MutationObserver(() => { const text = document.querySelector('.verdict-pull')?.innerText ?? '';
    if (text !== window.__last) { window.__last = text; window.__told.push([Date.now() / 1000, text]); } })
    .observe(document.body, { childList: true, subtree: true, characterData: true }); }"""


def force_N(time_s: np.ndarray) -> np.ndarray:
    """Return a plain pull every CYCLE_S with a little noise."""
    at = time_s % CYCLE_S
    pull = np.interp(at, [4.0, 6.0, 6.05, 8.9, 9.0], [0.0, 3.0, 2.2, 2.2, 0.0])
    return 0.1 + pull + 0.003 * np.random.default_rng(1).standard_normal(time_s.size)


class Feed:
    """An hour at once, then samples as they are due."""

    name, label = "a fed bench", "simulated"

    def __init__(self, hours: float) -> None:
        self._hours_s, self._closing, self.caught_up = 3600 * hours, threading.Event(), threading.Event()

    def deliveries(self, *, clock: Any, sleep: Any) -> Any:
        """Yield the past in chunks of ten seconds, then the present."""
        yield News("connected", "Feeding.")
        edges = np.arange(0.0, self._hours_s + 1e-9, 10.0)
        for start_s in edges[:-1]:
            time_s = start_s + np.arange(0, 10.0, 1 / RATE_Hz)
            yield Chunk(time_s=time_s, force_N=force_N(time_s))
        self.caught_up.set()
        began, at = clock(), int(self._hours_s * RATE_Hz)
        while not self._closing.is_set():
            due = int((self._hours_s + clock() - began) * RATE_Hz)
            time_s = np.arange(at, due) / RATE_Hz
            at = max(at, due)
            yield Chunk(time_s=time_s, force_N=force_N(time_s))
            sleep(0.01)

    def close(self) -> None:
        """End soon."""
        self._closing.set()


class Timed:
    """A reader that notes when each window was handed in."""

    def __init__(self, inner: Analyst) -> None:
        self._inner, self.handed_in = inner, queue.SimpleQueue()  # type: ignore[var-annotated]

    def read(self, window: PullWindow, *, u_gain: float = 0.0, by_hand: ByHand | None = None) -> Future[Pull]:
        """Hand on."""
        self.handed_in.put(time.time())
        return self._inner.read(window, u_gain=u_gain, by_hand=by_hand)

    def close(self) -> None:
        """Hand on."""
        self._inner.close()


def on_disk_kB(static: Path) -> float:
    """Return the size of all files of the page that a browser may ask for."""
    return sum(path.stat().st_size for path in static.rglob("*") if path.suffix != ".txt") / 1000


def main(arguments: list[str] | None = None) -> None:
    """Feed, serve, look, print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--hours", type=float, default=1.0)
    parser.add_argument("--seconds", type=float, default=10.0)
    asked = parser.parse_args(arguments)
    found = chromium()
    if found is None:
        print("The page: no Chromium on this machine, not measured.")
        return
    analyst, source = Timed(Analyst()), Feed(asked.hours)
    session = Session(
        source, None, clock=time.monotonic, sleep=time.sleep, now=time.time, reader=analyst, first_looks=True
    )  # type: ignore[arg-type]
    listening = bind("127.0.0.1", 0)
    port = listening.getsockname()[1]
    doors = Doors(key=KEY, hosts=frozenset({f"127.0.0.1:{port}"}), clock=time.monotonic)
    stage = Stage()
    bench = Bench(session, doors, analyst, stage, Hub(session))
    serving = Serving(make_app(bench), listening)
    serving.start()
    thread = threading.Thread(target=session.run, daemon=True)
    thread.start()
    source.caught_up.wait(120)
    try:
        report(found, f"http://127.0.0.1:{port}/#key={KEY}", asked.seconds, analyst, bench.static)
    finally:
        session.end()
        thread.join()
        session.close()
        serving.stop()
        stage.close()
        analyst.close()


def report(browser_path: str, url: str, seconds: float, reader: Timed, static: Path) -> None:
    """Open the page and print every figure."""
    from playwright.sync_api import sync_playwright

    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking"]
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=browser_path, args=flags)
        starts = []
        for _ in range(5):
            page = browser.new_context(viewport={"width": 1280, "height": 720}).new_page()
            sizes: list[int] = []
            page.on("requestfinished", lambda one, sizes=sizes: sizes.append(one.sizes()["responseBodySize"]))
            began = time.perf_counter()
            page.goto(url, wait_until="commit")
            page.wait_for_function(READY, polling="raf")
            starts.append(time.perf_counter() - began)
            page.wait_for_timeout(800)
            weight = sum(sizes)
        middle, worst = (1000 * one for one in (sorted(starts)[2], max(starts)))
        print(f"Cold start to the bench in use: median {middle:.0f} ms, worst {worst:.0f} ms")
        wire = f"Over the wire: {weight / 1000:.0f} kB in {len(sizes)} files"
        print(f"{wire}; as they lie on the disk: {on_disk_kB(static):.0f} kB")
        page.evaluate(VERDICTS)
        while not reader.handed_in.empty():
            reader.handed_in.get()
        _frames(browser, page, seconds)
        page.wait_for_timeout(int(1000 * max(2 * CYCLE_S + 2 - seconds, 0)))
        told = page.evaluate("() => window.__told")
        handed = []
        while not reader.handed_in.empty():
            handed.append(reader.handed_in.get())
        waits = []
        for at, text in told:
            before = [one for one in handed if one <= at]
            if "first reading" in text.lower() and before:
                waits.append(at - max(before))
        shown = ", ".join(f"{1000 * wait:.0f} ms" for wait in waits) or "none seen"
        print(f"Let go certain to first reading written: {shown}")
        _scrub(page, seconds)
        browser.close()


def _frames(browser: Any, page: Any, seconds: float) -> None:
    bare = browser.new_page()
    bare.set_content("<p>frames</p>")
    bare.bring_to_front()
    best = np.array(bare.evaluate(FRAMES, seconds / 2)[5:])
    bare.close()
    page.bring_to_front()
    gaps, work_ms = _worked(page, FRAMES, seconds)
    _tell("the strip", gaps)
    _tell("a page that only counts", best)
    print(f"Work a frame (script, style, drawing): {work_ms:.1f} ms of 16.7")


def _scrub(page: Any, seconds: float) -> None:
    last = page.evaluate("() => document.querySelector('.slip.last a').hash.split('/').pop()")
    page.evaluate("() => localStorage.setItem('pullbench.forces-load', JSON.stringify({ load_kg: '0.85' }))")
    page.evaluate("hash => { location.hash = hash }", f"#forces/{last}")
    page.wait_for_selector(".fb-flag")
    page.wait_for_selector(".fb-pair")
    gaps, work_ms = _worked(page, SCRUB, seconds)
    _tell("the scrubbed free-body view", gaps)
    print(f"Work a frame while scrubbing: {work_ms:.1f} ms of 16.7")


def _worked(page: Any, frames: str, seconds: float) -> tuple[np.ndarray, float]:
    """Return the gaps between frames, ms, and the page's work in each, ms."""
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable")

    def busy_s() -> float:
        told = {one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]}
        return float(told["TaskDuration"])

    before_s = busy_s()
    gaps = np.array(page.evaluate(frames, seconds)[5:])
    return gaps, 1000 * (busy_s() - before_s) / gaps.size


def _tell(name: str, gaps: np.ndarray) -> None:
    print(
        f"Frames of {name}: {1000 / np.mean(gaps):.1f} a second, gaps p99 {np.percentile(gaps, 99):.1f} ms, "
        f"worst {np.max(gaps):.1f} ms"
    )


if __name__ == "__main__":
    main()
