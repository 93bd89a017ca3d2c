"""A real Chromium, headless, and a bench for it on loopback.  (Not a test module.)"""

import os
import re
import shutil
import subprocess
import sys
from contextlib import contextmanager
from importlib.resources import files

import pytest

# Its assertions wait: what is drawn a moment later on a busy machine is no fault of the page.
expect = pytest.importorskip(
    "playwright.sync_api", reason="the dependency group `test` is not installed"
).expect
expect.set_options(timeout=20_000)

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
PROJECTOR, PHONE = {"width": 1280, "height": 720}, {"width": 390, "height": 844}


def chromium() -> str:
    """Return the path of the system's Chromium; without one the test is skipped, on CI it fails."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found:
        return found
    if os.environ.get("CI"):
        pytest.fail("no Chromium: install the system's package chromium")
    pytest.skip("no Chromium on this machine: install the system's package chromium")


@contextmanager
def browser():
    """Give a running browser."""
    path = chromium()
    playwright = pytest.importorskip(
        "playwright.sync_api", reason="the dependency group `test` is not installed"
    )
    with playwright.sync_playwright() as driver:
        running = driver.chromium.launch(executable_path=path, args=list(FLAGS))
        try:
            yield running
        finally:
            running.close()


def opened(running, url, *, viewport=PROJECTOR, **context):
    """Return a page of its own at this address, and the list that its faults go to."""
    page = running.new_context(viewport=viewport, **context).new_page()
    page.set_default_timeout(20_000)
    faults = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on(
        "console",
        lambda said: faults.append(f"{said.text} {said.location}") if said.type == "error" else None,
    )
    page.goto(url)
    return page, faults


def axe() -> str:
    """Return axe-core as the PyPI package carries it."""
    package = pytest.importorskip(
        "axe_playwright_python", reason="the dependency group `test` is not installed"
    )
    return files(package).joinpath("axe.min.js").read_text("utf-8")


def go(page, screen):
    """Go to a screen by its hash, and wait until it is drawn."""
    page.evaluate("hash => { location.hash = hash }", screen)
    page.wait_for_function("hash => location.hash === hash && document.querySelector('main h1')", arg=screen)


@contextmanager
def watching(folder, *options, port=0):
    """Run `pullbench watch --virtual` in a process of its own; give (process, address with its key)."""
    process = subprocess.Popen(
        [sys.executable, "-m", "pullbench", "watch", "--virtual", "--port", str(port),
         "--logbook", str(folder / "day.sqlite"), *options],
        cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        for line in process.stdout:
            if found := re.search(r"page: (http://127\.0\.0\.1:(\d+)/#key=\S+)", line):
                yield process, found[1]
                return
        pytest.fail("the watch printed no address")
    finally:
        process.kill()
        process.wait()
        process.stdout.close()
