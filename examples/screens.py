"""Take pictures of every screen of the page, for a person to look at: `make screens`.

Usage: python examples/screens.py FOLDER.  Projector, a large projector and a phone, light and dark; the bench is
the virtual one, on loopback, so everything in them is simulated.  Needs the system's Chromium.
"""

import re
import shutil
import subprocess
import sys
from pathlib import Path

SIZES = {"1280x720": (1280, 720), "1920x1080": (1920, 1080), "390x844": (390, 844)}
SCREENS = {
    "bench": "#bench", "check": "#check", "pull": "#pull/1", "compared": "#pull/1+2", "rehearsal": "#rehearsal",
    "logbook": "#logbook", "help": "#help", "follow": "#follow",
}  # fmt: skip
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync")


def main(folder: Path) -> None:
    """Go on watch at the virtual bench, wait for two pulls, picture every screen."""
    from playwright.sync_api import sync_playwright

    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        sys.exit("There is no Chromium here. Install the system's package chromium.")
    folder.mkdir(parents=True, exist_ok=True)
    command = [sys.executable, "-m", "pullbench", "watch", "--virtual", "--speed", "4", "--port", "0"]
    bench = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, stdin=subprocess.DEVNULL)
    try:
        address = next(found[1] for line in bench.stdout if (found := re.search(r"page: (\S+)", line)))
        with sync_playwright() as driver:
            browser = driver.chromium.launch(executable_path=chromium, args=list(FLAGS))
            for size, (width, height) in SIZES.items():
                for room in ("light", "dark"):
                    context = browser.new_context(
                        viewport={"width": width, "height": height}, color_scheme=room
                    )
                    page = context.new_page()
                    page.goto(address)
                    page.wait_for_function("async () => (await fetch('/pull/2')).ok", timeout=60_000)
                    for name, screen in SCREENS.items():
                        page.evaluate("hash => { location.hash = hash }", screen)
                        page.wait_for_timeout(900)
                        page.screenshot(path=str(folder / f"{name}-{size}-{room}.png"))
                    context.close()
            browser.close()
    finally:
        bench.kill()
        bench.wait()
    print(f"Pictures of {len(SCREENS)} screens are in {folder}/.")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "screens"))
