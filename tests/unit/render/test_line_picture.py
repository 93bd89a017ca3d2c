"""The Load ladder: well-formed, self-contained, words on the paper and apart, the same each time."""

import itertools
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from pullbench.analysis import ladder
from pullbench.model import LoadedPull
from pullbench.render import line_svg
from pullbench.render.lettering import advance
from pullbench.render.tokens import DESK, STRONG, TEXT

SVG = "{http://www.w3.org/2000/svg}"
WEIGHTS = {"500": TEXT, "700": STRONG}
WOBBLE = np.resize([0.02, -0.03, 0.012, -0.016, 0.024, -0.01, 0.005], 200)


def some(loads_kg, *, left_out_kg=0.0, offset_N=0.0, static=True, share=1.0, repeats=3, u_kg=0.0):
    loads = np.repeat(loads_kg, repeats)
    weight = (loads + left_out_kg) * 9.80665 * share * (1 + WOBBLE[: loads.size])
    return [
        LoadedPull(
            normal_N=kg * 9.80665, u_normal_N=u_kg * 9.80665, kinetic_N=0.28 * w + offset_N,
            static_N=0.42 * w + offset_N if static else None,
        )
        for kg, w in zip(loads, weight, strict=True)
    ]  # fmt: skip


FIVE = (0.5, 1.0, 1.5, 2.0, 2.5)
JERKED = LoadedPull(normal_N=15.0, static_N=9.0, name="pull 2", set_aside="jerked")
HIDDEN = [LoadedPull(normal_N=0.0, kinetic_N=3.4)]
EVERY = {
    "clean": lambda: ladder(some(FIVE)),
    "mass left out": lambda: ladder(some(FIVE, left_out_kg=0.35)),
    "offset below": lambda: ladder(some(FIVE, offset_N=-0.4)),
    "kinetic alone": lambda: ladder(some(FIVE, static=False, left_out_kg=0.35)),
    "eight loads near each other": lambda: ladder(some(np.linspace(0.5, 1.2, 8))),
    "load of nought": lambda: ladder(some((0.0, 1.0, 1.5), left_out_kg=0.2, repeats=1, static=False)),
    "two pulls": lambda: ladder(some((0.5, 1.0), repeats=1)),
    "bent": lambda: ladder(some(FIVE, share=np.repeat(np.array(FIVE) ** -0.4, 3))),
    "hidden load": lambda: ladder(some(FIVE, u_kg=0.03), mystery=HIDDEN),
    "set aside": lambda: ladder([*some(FIVE), JERKED]),
    "200 pulls": lambda: ladder(some(np.linspace(0.4, 3, 8), repeats=25)),
}  # fmt: skip


def labels(svg):
    """Yield (words, x0, y0, x1, y1) of every text that is not turned."""
    for element in ET.fromstring(svg).iter(f"{SVG}text"):
        if "transform" in element.attrib:
            continue
        size = float(element.get("font-size"))
        width = advance(element.text, size, WEIGHTS[element.get("font-weight")])
        left = {"middle": width / 2, "end": width}.get(element.get("text-anchor"), 0.0)
        x, y = float(element.get("x")) - left, float(element.get("y"))
        yield element.text, x, y - 0.7 * size, x + width, y


@pytest.mark.parametrize("room", ["light", "dark"])
@pytest.mark.parametrize("name", sorted(EVERY))
def test_no_words_touch_each_other_or_leave_the_picture(name, room):
    placed = list(labels(line_svg(EVERY[name](), title="bare birch", room=room, label="simulated")))
    for a, b in itertools.combinations(placed, 2):
        apart = a[1] >= b[3] or b[1] >= a[3] or a[2] >= b[4] or b[2] >= a[4]
        assert apart, f"{a} touches {b}"
    for words, x0, y0, x1, y1 in placed:
        assert (x0, y0) >= (0, 0), words
        assert x1 <= 1280, words
        assert y1 + 5 <= 720, words


@pytest.mark.parametrize("name", sorted(EVERY))
def test_it_needs_nothing_beside_it_and_nothing_is_smaller_than_the_desk_reads(name):
    svg = line_svg(EVERY[name]())
    assert not re.search(r'(?:href|src)="?(?:http|//)', svg)
    assert min(float(size) for size in re.findall(r'font-size="([\d.]+)"', svg)) >= DESK
    assert "nan" not in svg
    assert svg == line_svg(EVERY[name]())


def test_each_coefficient_stands_along_its_own_line_with_its_plus_or_minus():
    told = EVERY["mass left out"]()
    turned = [e for e in ET.fromstring(line_svg(told)).iter(f"{SVG}text") if "transform" in e.attrib]
    assert [re.match(r"(static|kinetic) 0\.\d+ ± 0\.\d+", e.text) is not None for e in turned] == [True, True]
    angles = [float(re.search(r"rotate\(([-\d.]+)", e.get("transform"))[1]) for e in turned]
    assert angles[0] < angles[1] < 0  # both rise, static more steeply


def test_static_points_are_round_and_kinetic_ones_are_diamonds_one_a_pull():
    root = ET.fromstring(line_svg(EVERY["clean"]()))
    assert sum(e.get("r") == "6.5" for e in root.iter(f"{SVG}circle")) == 15
    assert sum("rotate(45" in e.get("transform", "") for e in root.iter(f"{SVG}rect")) == 15


def test_what_is_wrong_its_fix_and_the_law_are_written_on_it():
    words = " ".join(e.text for e in ET.fromstring(line_svg(EVERY["mass left out"]())).iter(f"{SVG}text"))
    for said in ("missing from the load", "Weigh the empty sled", "Press 1 N harder", "meets the edge"):
        assert said in words


def test_a_pull_set_aside_is_crossed_and_named():
    svg = line_svg(EVERY["set aside"]())
    assert "pull 2 set aside: jerked" in svg
    assert "l28,28m0,-28l-28,28" in svg
