"""The Pull sheet: well-formed, self-contained, nothing over anything else, and the same each time."""

import io
import itertools
import re
import sys
import xml.etree.ElementTree as ET
from importlib.resources import files

import numpy as np
import pytest

from pullbench.errors import PullbenchError
from pullbench.model import Finding, Trace
from pullbench.render import as_png, pull_sheet_svg, recording_svg
from pullbench.render.ink import Drawn, runs
from pullbench.render.lettering import advance
from pullbench.render.paper import strip_axes
from pullbench.render.tokens import DARK, DESK, LIGHT, STRONG, TEXT
from unit.render import fake_pulls

SVG = "{http://www.w3.org/2000/svg}"
WEIGHTS = {"500": TEXT, "700": STRONG}
WORDY = Finding(
    "wordy",
    "A sentence that goes on and on, " * 9 + "and then ends.",
    "Do a first thing, " * 8 + "and a last thing.",
)
HARD = {
    **fake_pulls.EVERY,
    "wordy": lambda: fake_pulls.pull(findings=(WORDY,), coefficients=True),
    "long reason": lambda: fake_pulls.held(
        breakaway=fake_pulls.at_least(3.85, "the reason is told at length, " * 5 + "and then ends")
    ),
    "nothing recorded but a spike": lambda: fake_pulls.pull(rate_Hz=2.0),
    "long way below rest": lambda: fake_pulls.pull(rest_N=0.0, noise=0.2),
    "slides for a blink": lambda: fake_pulls.pull(slide_s=2.2, end_s=2.23, last_s=20.0, start_s=0.2),
}


def texts(element, dx=0.0, dy=0.0):
    """Yield (text element, dx, dy); small turns of a stamp are ignored."""
    moved = re.match(r"translate\(([\d.-]+) ([\d.-]+)\)", element.get("transform", ""))
    if moved:
        dx, dy = dx + float(moved[1]), dy + float(moved[2])
    for child in element:
        if child.tag == f"{SVG}text":
            yield child, dx, dy
        else:
            yield from texts(child, dx, dy)


def boxes(svg):
    """Return (words, x0, y0, x1, y1) of every text, capitals' height to baseline."""
    found = []
    for element, dx, dy in texts(ET.fromstring(svg)):
        size = float(element.get("font-size"))
        width = advance(element.text, size, WEIGHTS[element.get("font-weight")])
        left = {"middle": width / 2, "end": width}.get(element.get("text-anchor"), 0.0)
        x, y = float(element.get("x")) + dx - left, float(element.get("y")) + dy
        found.append((element.text, x, y - 0.7 * size, x + width, y))
    return found


@pytest.mark.parametrize("room", ["light", "dark"])
@pytest.mark.parametrize("name", sorted(HARD))
def test_no_words_touch_each_other_or_leave_the_picture(name, room):
    svg = pull_sheet_svg(HARD[name](), title=f"Pull 7, {name}", room=room, label="simulated")
    placed = boxes(svg)
    for a, b in itertools.combinations(placed, 2):
        apart = a[1] >= b[3] or b[1] >= a[3] or a[2] >= b[4] or b[2] >= a[4]
        assert apart, f"{a} touches {b}"
    for words, x0, y0, x1, y1 in placed:
        assert (x0, y0) >= (0, 0), words
        assert x1 <= 1280, words
        assert y1 + 5 <= 720, words  # letters that reach below their line included


@pytest.mark.parametrize("name", sorted(HARD))
def test_both_results_stand_on_the_strip_in_every_picture(name):
    placed = boxes(pull_sheet_svg(HARD[name](), title="Pull 7"))
    on_strip = [words for words, _, y0, _, y1 in placed if y0 >= 66 and y1 <= 356]
    assert any(words.startswith("static") for words in on_strip)
    assert any(words.startswith("kinetic") for words in on_strip)


def test_words_on_the_strip_keep_off_the_inked_line():
    for name, make in fake_pulls.EVERY.items():
        svg = pull_sheet_svg(make(), title="Pull 7")
        line = next(p for p in ET.fromstring(svg).iter(f"{SVG}path") if p.get("stroke-linecap") == "round")
        points = np.array([[float(n) for n in pair.split(",")] for pair in line.get("d")[1:].split()])
        for words, x0, y0, x1, y1 in boxes(svg):
            if y0 >= 66 and y1 <= 330:
                x = np.arange(x0, x1)
                y = np.interp(x, points[:, 0], points[:, 1])
                assert not ((y > y0) & (y < y1)).any(), (name, words)


def test_titles_and_labels_of_any_length_and_script_fit_and_stay_text():
    title = "<Zug & Ziehen> \x00 \ud800 " + "очень длинное имя файла " * 8
    svg = pull_sheet_svg(fake_pulls.pull(), title=title, label="replayed from the logbook " * 5)
    assert all(x1 <= 1280 for _, _, _, x1, _ in boxes(svg))
    assert any(box[0].startswith("<Zug & Ziehen>") for box in boxes(svg))


@pytest.mark.parametrize("room", ["light", "dark"])
def test_a_picture_refers_to_nothing_outside_itself(room):
    svg = pull_sheet_svg(fake_pulls.pull(), title="Pull 7", room=room)
    assert re.findall(r"https?:", svg.replace('xmlns="http://www.w3.org/2000/svg"', "")) == []
    ids = set(re.findall(r'id="([^"]+)"', svg))
    assert set(re.findall(r"url\(#([^)]+)\)", svg)) <= ids
    assert set(re.findall(r"url\((?!#)([^,]+),", svg)) == {"data:font/woff2;base64"}


def test_the_same_pull_gives_the_same_bytes():
    pictures = {pull_sheet_svg(fake_pulls.pull(saw=0.3), title="Pull 7") for _ in range(3)}
    assert len(pictures) == 1


@pytest.mark.parametrize(("room", "colours"), [("light", LIGHT), ("dark", DARK)])
def test_only_the_tokens_of_the_room_are_used_and_nothing_is_small(room, colours):
    svg = pull_sheet_svg(fake_pulls.pull(), title="Pull 7", room=room)
    allowed = {getattr(colours, name) for name in colours.__slots__} - {colours.name}
    assert set(re.findall(r"#[0-9A-Fa-f]{6}\b", svg)) <= allowed
    assert min(int(size) for size in re.findall(r'font-size="(\d+)"', svg)) >= DESK


def test_static_is_a_filled_point_when_told_and_an_open_ring_with_its_reason_when_not():
    told = pull_sheet_svg(fake_pulls.pull(), title="Pull 7")
    untold = pull_sheet_svg(fake_pulls.jerked(), title="Pull 7")
    filled, ring = f'<circle fill="{LIGHT.static}"', f'<circle fill="{LIGHT.paper}" stroke="{LIGHT.static}"'
    assert filled in told
    assert ring not in told
    assert ring in untold
    assert filled not in untold
    assert "static: cannot tell, loaded in 0.2 s" in untold


def test_where_a_trace_comes_from_is_said_plainly():
    words = [box[0] for box in boxes(pull_sheet_svg(fake_pulls.pull(), title="Pull 7", label="simulated"))]
    assert "simulated" in words


def test_every_verdict_has_a_stamp_of_its_own():
    usable, note, again = (
        pull_sheet_svg(fake_pulls.EVERY[name](), title="Pull 7") for name in ("clean", "backwards", "jerked")
    )
    dashed, hatched = 'stroke-dasharray="12 7"', 'fill="url(#light-aside)"'
    assert [dashed in svg for svg in (usable, note, again)] == [False, True, False]
    assert [hatched in svg for svg in (usable, note, again)] == [False, False, True]


def test_a_pull_of_any_rate_stays_small_and_loses_no_extreme():
    time_s = np.linspace(0, 10, 100_000)
    force_N = np.sin(time_s) + 0.01 * np.random.default_rng(3).standard_normal(time_s.size)
    force_N[[31_415, 62_831]] = [9.0, -4.0]
    axes = strip_axes(Drawn(time_s, force_N), 0, 10, top_N=9.0, headroom=40)
    (run,) = runs(Drawn(time_s, force_N), axes)
    assert run.x.size <= 4 * 1282
    assert run.y.min() == pytest.approx(axes.y(9.0))
    assert run.y.max() == pytest.approx(axes.y(-4.0))
    assert len(pull_sheet_svg(fake_pulls.EVERY["ten thousand a second"](), title="Pull 7")) < 200_000


def test_a_backward_pull_is_drawn_like_its_mirror():
    forward = fake_pulls.pull(rest_N=0.0)
    backward = fake_pulls.pull(rest_N=0.0, direction=-1)
    assert pull_sheet_svg(forward, title="Pull 7") == pull_sheet_svg(backward, title="Pull 7")


def several():
    return [
        fake_pulls.pull(
            first_s=d, start_s=d + 0.7, break_s=d + 2.1, slide_s=d + 2.65, end_s=d + 5, last_s=d + 6
        )
        for d in (0.0, 8.0, 16.0)
    ]


def test_a_recording_of_several_pulls_is_one_strip_and_one_sheet_each():
    svg = recording_svg(several(), title="tins.csv", label="simulated")
    placed = boxes(svg)
    height = float(ET.fromstring(svg).get("height"))
    assert [words for words, *_ in placed if words.startswith("Pull ")] == ["Pull 1", "Pull 2", "Pull 3"]
    assert max(y1 for *_, y1 in placed) <= height
    for a, b in itertools.combinations(placed, 2):
        assert a[1] >= b[3] or b[1] >= a[3] or a[2] >= b[4] or b[2] >= a[4], f"{a} touches {b}"


def test_a_recording_of_one_pull_is_its_sheet_and_of_none_says_so():
    pull = fake_pulls.pull()
    assert recording_svg([pull], title="tins.csv") == pull_sheet_svg(pull, title="tins.csv")
    quiet = Trace(time_s=np.arange(100) / 10, force_N=np.zeros(100))
    for recording in (quiet, None):
        words = [box[0] for box in boxes(recording_svg([], title="quiet.csv", recording=recording))]
        assert "No pull in this recording." in words


def test_many_pulls_still_have_their_numbers_apart():
    crowd = [
        fake_pulls.pull(rate_Hz=50, first_s=d, start_s=d + 0.7, break_s=d + 2.1, end_s=d + 5, last_s=d + 6)
        for d in np.arange(30) * 6.0
    ]
    placed = [box for box in boxes(recording_svg(crowd, title="day.csv")) if box[4] < 360]
    for a, b in itertools.combinations(placed, 2):
        assert a[1] >= b[3] or b[1] >= a[3] or a[2] >= b[4] or b[2] >= a[4], f"{a} touches {b}"


def test_the_table_of_widths_is_that_of_the_fonts():
    ttlib = pytest.importorskip("fontTools.ttLib", reason="fontTools reads the fonts independently")
    for weight in (TEXT, STRONG):
        data = files("pullbench.render").joinpath("fonts", f"commissioner-{weight}.ttf").read_bytes()
        font = ttlib.TTFont(io.BytesIO(data))
        for letter in "Static maximum 3.12 N ± 0.03 − μ ²·…":
            glyph = font.getBestCmap()[ord(letter)]
            assert advance(letter, 2000, weight) == font["hmtx"][glyph][0]


def test_a_png_has_the_asked_width_and_the_same_bytes_each_time():
    pytest.importorskip("resvg_py", reason="needs the extra plots")
    svg = pull_sheet_svg(fake_pulls.pull(), title="Pull 7")
    png = as_png(svg, 640)
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    assert (int.from_bytes(png[16:20]), int.from_bytes(png[20:24])) == (640, 360)
    assert as_png(svg, 640) == png


def test_a_png_without_its_part_says_which_extra_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "resvg_py", None)
    with pytest.raises(PullbenchError, match=r"pullbench\[plots\]") as refused:
        as_png("<svg/>")
    assert refused.value.code == "picture-part-missing"


def test_a_png_too_large_to_draw_is_refused():
    pytest.importorskip("resvg_py", reason="needs the extra plots")
    svg = pull_sheet_svg(fake_pulls.pull(), title="Pull 7")
    with pytest.raises(PullbenchError) as refused:
        as_png(svg, 100_000)
    assert refused.value.code == "picture-too-large"
