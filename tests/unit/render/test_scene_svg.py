"""Figures: well-formed, the same each time, forces to one scale and told without colour, words apart."""

import itertools
import math
import re
import xml.etree.ElementTree as ET

import pytest

from pullbench.model.scene import Body, ForceArrow, Scene, TraceFigure
from pullbench.render.lettering import advance
from pullbench.render.scene.trace import scale_over
from pullbench.render.scene_svg import scene_svg
from pullbench.render.tokens import STRONG, TEXT

SVG = "{http://www.w3.org/2000/svg}"
WEIGHTS = {"500": TEXT, "700": STRONG}


def force(kind, symbol, words, length_N, direction_deg, **more):
    return ForceArrow(
        kind=kind, symbol=symbol, words=words, length_N=length_N, direction_deg=direction_deg, **more
    )


def level(**more):
    forces = (
        force("pull", "F", "pull", 2.4, 0, value_N=2.4, plus_minus_N=0.02),
        force(
            "static", "f_s", "static friction", 2.4, 180, value_N=2.4, limit_N=3.12, limit_plus_minus_N=0.1
        ),
        force("weight", "W", "weight", 9.8, -90, value_N=9.8),
        force("normal", "N", "normal force", 9.8, 90, value_N=9.8),
    )
    return Scene(
        bodies=(Body(name="sled", mass_text="m", forces=forces),), string_deg=0.0, described="A sled.", **more
    )


SLIDING = Scene(
    bodies=(
        Body(
            name="sled",
            forces=(
                force("pull", "F", "pull", 6.0, 0),
                force("kinetic", "f_k", "kinetic friction", 4.5, 180),
                force("net", "F_net", "net force", 1.5, 0),
                force("weight", "W", "weight", 9.8, -90),
                force("normal", "N", "normal force", 9.8, 90),
            ),
        ),
    ),
    string_deg=0.0, moving="along", acceleration_m_s2=1.5, described="A sled that slides.",
)  # fmt: skip
TILTED = Scene(
    bodies=(
        Body(
            name="sled",
            mass_text="m_1",
            forces=(
                force("pull", "F", "pull", 6.0, 20),
                force("static", "f_s", "static friction", 2.0, 180),
                force("weight", "W", "weight", 9.8, -112),
                force("normal", "N", "normal force", 7.0, 90),
            ),
        ),
    ),
    tilt_deg=22.0, string_deg=20.0, labels=("`theta` = 22°",), described="A sled on a tilted board.",
)  # fmt: skip
RIDER = Scene(
    bodies=(
        Body(name="sled", mass_text="M"),
        Body(
            name="rider", mass_text="m", on="sled", apart=True,
            forces=(
                force("static", "f_r", "static friction", 1.0, 0),
                force("weight", "W_r", "weight", 4.0, -90),
                force("normal", "N_r", "normal force", 4.0, 90),
            ),
        ),
    ),
    string_deg=0.0, described="A rider on a sled.",
)  # fmt: skip
HANGING = Scene(
    bodies=(
        Body(name="sled", mass_text="m_1", forces=(force("pull", "T", "tension", 2.0, 0),)),
        Body(
            name="load", mass_text="m_2", on="hanging",
            forces=(force("pull", "T", "tension", 2.0, 90), force("weight", "W_2", "weight", 3.0, -90)),
        ),
    ),
    described="A sled pulled by a hanging load.",
)  # fmt: skip
TRACE = TraceFigure(
    x=tuple(k / 100 for k in range(400)), y=tuple(2 + math.sin(k / 30) for k in range(400)),
    x_words="time in s", y_words="pull `F` in N", described="A trace.",
)  # fmt: skip
POINTS = TraceFigure(
    x=(5.0, 10.0, 20.0), y=(1.5, 3.0, 6.0), plus_minus=(0.2, 0.3, 0.3), joined=False,
    x_words="normal force in N", y_words="friction in N", described="Three points.",
)  # fmt: skip
NOTHING = Scene(bodies=(Body(name="box"),), tilt_deg=-30.0, described="A box on a board.")
EVERY = {
    "level": level(), "sliding": SLIDING, "tilted": TILTED, "rider": RIDER, "hanging": HANGING,
    "trace": TRACE, "points": POINTS, "nothing": NOTHING,
}  # fmt: skip
ROOMS = ("light", "dark", "print")


def numbers(path):
    found = [float(n) for n in re.findall(r"-?\d+\.?\d*", path.get("d"))]
    return (
        list(itertools.batched(found, 2))
        if hasattr(itertools, "batched")
        else list(zip(found[::2], found[1::2], strict=True))
    )


def arrows(svg):
    """Return {kind: (foot, tip)} of the filled arrows."""
    found = {}
    for group in ET.fromstring(svg).iter(f"{SVG}g"):
        kind = group.get("data-force")
        if kind and kind != "net":
            shaft, head = group.findall(f"{SVG}path")[:2]
            found[kind] = numbers(shaft)[0], numbers(head)[0]
    return found


def length(arrow):
    (x0, y0), (x1, y1) = arrow
    return math.hypot(x1 - x0, y1 - y0)


def angle_deg(arrow):
    (x0, y0), (x1, y1) = arrow
    return math.degrees(math.atan2(y0 - y1, x1 - x0))


def labels(svg):
    for text in ET.fromstring(svg).iter(f"{SVG}text"):
        size, weight = float(text.get("font-size")), WEIGHTS[text.get("font-weight")]
        x, y = float(text.get("x")), float(text.get("y"))
        width = advance(text.text or "", size, weight) + sum(
            advance((span.text or ""), float(span.get("font-size", size)), weight)
            + advance(span.tail or "", size, weight)
            for span in text
        )
        yield "".join(text.itertext()), x, y - 0.7 * size, x + width, y


@pytest.mark.parametrize("room", ROOMS)
@pytest.mark.parametrize("figure", EVERY.values(), ids=EVERY)
def test_a_figure_is_one_picture_with_its_description_and_the_same_each_time(figure, room):
    svg = scene_svg(figure, room=room)
    root = ET.fromstring(svg)
    assert root.find(f"{SVG}desc").text == figure.described
    assert root.find(f"{SVG}title").text
    assert svg == scene_svg(figure, room=room)
    assert "http" not in svg.replace("http://www.w3.org/2000/svg", "")


@pytest.mark.parametrize("figure", EVERY.values(), ids=EVERY)
def test_no_words_lie_on_other_words_and_all_lie_on_the_sheet(figure):
    svg = scene_svg(figure)
    _, _, wide, high = map(float, ET.fromstring(svg).get("viewBox").split())
    placed = list(labels(svg))
    shift = re.search(r'<g transform="translate\((-?\d+) (-?\d+)\)"><rect', svg)
    for text, x0, y0, x1, y1 in (
        placed if figure is not RIDER else ()
    ):  # its second diagram is moved as a whole
        assert 0 <= x0 + float(shift[1]) <= x1 + float(shift[1]) <= wide, text
        assert 0 <= y0 + float(shift[2]) <= y1 + float(shift[2]) <= high, text
    for a, b in itertools.combinations(placed, 2):
        assert a[3] <= b[1] or b[3] <= a[1] or a[4] <= b[2] or b[4] <= a[2], (a[0], b[0])


@pytest.mark.parametrize("figure", [level(), SLIDING, TILTED], ids=["level", "sliding", "tilted"])
def test_all_forces_of_a_figure_are_drawn_to_one_scale(figure):
    drawn = arrows(scene_svg(figure))
    asked = {one.kind: one.length_N for one in figure.bodies[0].forces if one.kind != "net"}
    assert drawn.keys() == asked.keys()
    per_N = {kind: length(drawn[kind]) / asked[kind] for kind in asked}
    # Coordinates are written to a tenth of a unit, so each end is known to 0.07.
    assert max(per_N.values()) - min(per_N.values()) < 0.15 / min(asked.values())


def test_weight_points_straight_down_and_the_normal_force_straight_off_a_tilted_board():
    drawn = arrows(scene_svg(TILTED))
    assert angle_deg(drawn["weight"]) == pytest.approx(-90, abs=0.2)
    assert angle_deg(drawn["normal"]) == pytest.approx(90 + 22, abs=0.2)
    assert angle_deg(drawn["pull"]) == pytest.approx(22 + 20, abs=0.2)


def test_the_static_limit_stands_as_far_from_the_foot_as_its_newtons_say():
    svg = scene_svg(level())
    foot, tip = arrows(svg)["static"]
    groups = list(ET.fromstring(svg).iter())
    after = next(k for k, one in enumerate(groups) if one.get("data-force") == "static")
    wall = next(one for one in groups[after + 4 :] if one.tag == f"{SVG}path")
    middle = sum(x for x, _ in numbers(wall)) / 4
    per_N = length((foot, tip)) / 2.4
    assert foot[0] - middle == pytest.approx(3.12 * per_N, abs=0.3)


def test_kinds_of_friction_are_told_by_shape_and_texture_when_there_is_no_colour():
    standing, sliding = scene_svg(level(), room="print"), scene_svg(SLIDING, room="print")
    static = re.search(r'<g data-force="static">(.*?)</g>', standing)[1]
    kinetic = re.search(r'<g data-force="kinetic">(.*?)</g>', sliding)[1]
    assert "<circle" in static
    assert "dasharray" not in static
    assert "<circle" not in kinetic
    assert "dasharray" in kinetic
    assert "static friction" in standing
    assert "kinetic friction" in sliding


def test_print_is_black_and_grey_on_white_only():
    for figure in EVERY.values():
        colours = set(
            re.findall(
                r"#([0-9A-Fa-f]{6})", re.sub(r"<style>.*?</style>", "", scene_svg(figure, room="print"))
            )
        )
        assert all(c[0:2] == c[2:4] == c[4:6] for c in colours), colours


def test_a_force_without_a_value_gives_no_number_away():
    words = " ".join(text for text, *_ in labels(scene_svg(TILTED)) if "θ" not in text)
    assert "f" in words
    assert not re.search(r"\d", words.replace("m1", ""))


def test_a_value_is_written_with_its_plus_or_minus_and_a_decimal_comma_on_demand():
    texts = [text for text, *_ in labels(scene_svg(level(), comma=True))]
    assert "2,40 N ± 0,02" in texts
    assert "9,80 N" in texts


def test_a_subscript_stands_lower_and_smaller_than_its_symbol():
    svg = scene_svg(level(), carry_fonts=False)
    span = re.search(r'static friction f<tspan dy="([\d.]+)" font-size="([\d.]+)">s</tspan>', svg)
    assert float(span[1]) > 3
    assert float(span[2]) < 20


def test_a_body_apart_has_its_forces_in_a_diagram_of_its_own():
    svg = scene_svg(RIDER)
    apart = re.search(r'<g transform="translate\([^)]*\)"><path.*?</g></g>|<g transform="translate.*', svg)
    assert "on the rider" in svg
    assert svg.count('data-force="static"') == 1
    assert apart


def test_words_from_outside_cannot_become_markup():
    nasty = Scene(
        bodies=(Body(name="<b>", mass_text='"&<', forces=(force("pull", "<", "&", 1.0, 0),)),),
        described="<script>", labels=("`<` & >",),
    )  # fmt: skip
    root = ET.fromstring(scene_svg(nasty))
    assert root.find(f"{SVG}desc").text == "<script>"
    assert not list(root.iter(f"{SVG}script"))


def test_fonts_travel_with_the_file_unless_they_are_left_out():
    assert "@font-face" in scene_svg(level())
    assert "@font-face" not in scene_svg(level(), carry_fonts=False)


@pytest.mark.parametrize(
    ("low", "high"),
    [(0.0, 3.1), (0.2, 0.21), (-4.0, 9.0), (5.0, 5.0), (0.0, 0.0), (1e-4, 9e-4), (120.0, 980.0)],
)
def test_an_axis_holds_its_values_in_steps_of_one_two_or_five(low, high):
    scale = scale_over(low, high, 100.0)
    assert scale.first <= low + 1e-9
    assert scale.last >= high - 1e-9
    mantissa = scale.step / 10 ** math.floor(math.log10(scale.step) + 1e-9)
    assert min(abs(mantissa - m) for m in (1, 2, 5)) < 1e-6
    assert 2 <= len(scale.ticks()) <= 11


def test_points_lie_where_their_axes_say_with_bars_of_their_plus_or_minus():
    root = ET.fromstring(scene_svg(POINTS, carry_fonts=False))
    dots = [(float(c.get("cx")), float(c.get("cy"))) for c in root.iter(f"{SVG}circle")]
    (x0, y0), (x1, y1), (x2, y2) = dots
    assert (x2 - x1) / (x1 - x0) == pytest.approx(10 / 5, rel=0.01)
    assert (y2 - y1) / (y1 - y0) == pytest.approx(3 / 1.5, rel=0.01)
    upright = [numbers(p) for p in root.iter(f"{SVG}path") if len(numbers(p)) == 2]
    bars = [
        abs(a[1] - b[1])
        for a, b in upright
        if a[0] == b[0] and round(a[0], 1) in {round(x, 1) for x in (x0, x1)}
    ]
    per_N = (y0 - y1) / 1.5
    assert min(bars) == pytest.approx(2 * 0.2 * per_N, abs=0.3)


def test_a_long_trace_keeps_its_highest_sample_when_it_is_thinned():
    y = [1.0] * 20_000
    y[13_777] = 5.0
    figure = TraceFigure(
        x=tuple(k / 1000 for k in range(20_000)),
        y=tuple(y),
        x_words="time in s",
        y_words="pull in N",
        described="x",
    )
    svg = scene_svg(figure, carry_fonts=False)
    curve = max((numbers(p) for p in ET.fromstring(svg).iter(f"{SVG}path")), key=len)
    assert len(curve) < 4000
    heights = sorted({y for _, y in curve})
    assert heights[0] < heights[-1] - 100
