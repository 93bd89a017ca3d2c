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
    "logbook": "#logbook", "help": "#help", "follow": "#follow", "ladder": "#ladder", "surfaces": "#surfaces",
    "tilt": "#tilt", "prediction": "#prediction", "slip": "#slip", "forces": "#forces/1", "required": "#required",
    "sheets": "#sheets", "items": "#items", "review": "#review",
}  # fmt: skip
TYPED = [
    *(
        ("tilt", {"kind": "slid", "angle_deg": angle, "surface": "bare birch"})
        for angle in (20.4, 21.2, 20.8)
    ),
    ("tilt", {"kind": "held", "angle_deg": 19.9, "surface": "bare birch"}),
    (
        "prediction/open",
        {"kind": "number", "quantity": "kinetic_N", "question": "How hard must we pull to keep it sliding?"},
    ),
    ("prediction/hands", {"values": [2.1, 2.8, 3.4, 2.5]}),
]
ASK = """async ([path, body]) => (await fetch(path, {method: "POST", body: JSON.stringify(body), headers: {
    "Content-Type": "application/json", "X-Bench-Key": sessionStorage.getItem("pullbench.key")}})).ok"""
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync")


def main(folder: Path) -> None:
    """Go on watch at the virtual bench, wait for two pulls, picture every screen."""
    from playwright.sync_api import sync_playwright

    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        sys.exit("There is no Chromium here. Install the system's package chromium.")
    folder.mkdir(parents=True, exist_ok=True)
    command = [sys.executable, "-m", "pullbench", "watch", "--virtual", "--speed", "6", "--port", "0"]
    bench = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, stdin=subprocess.DEVNULL)
    try:
        address = next(found[1] for line in bench.stdout if (found := re.search(r"page: (\S+)", line)))
        with sync_playwright() as driver:
            browser = driver.chromium.launch(executable_path=chromium, args=list(FLAGS))
            typed = []
            for size, (width, height) in SIZES.items():
                for room in ("light", "dark"):
                    context = browser.new_context(
                        viewport={"width": width, "height": height}, color_scheme=room
                    )
                    page = context.new_page()
                    page.goto(address)
                    page.wait_for_function("() => document.querySelector('.slip-earlier')", timeout=90_000)
                    if not typed:  # once for the day: what a teacher would type
                        typed = [page.evaluate(ASK, [path, body]) for path, body in TYPED]
                        if not all(typed):
                            sys.exit("The bench took not all that was typed.")
                    for name, screen in SCREENS.items():
                        page.evaluate("hash => { location.hash = hash }", screen)
                        page.wait_for_function(
                            "() => !/Fetching/.test(document.body.innerText)", timeout=20_000
                        )
                        if name == "ladder":  # the one surface with several loads
                            page.get_by_role("button", name="bare birch", exact=True).click()
                        page.wait_for_timeout(1500)
                        page.screenshot(path=str(folder / f"{name}-{size}-{room}.png"))
                    context.close()
            browser.close()
    finally:
        bench.kill()
        bench.wait()
    print(f"Pictures of {len(SCREENS)} screens are in {folder}/.")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "screens"))
