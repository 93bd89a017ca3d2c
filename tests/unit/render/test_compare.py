"""Words, JSON and picture of surfaces side by side. Numbers are invented."""

import json
import re
from itertools import combinations

import pytest

from pullbench.analysis import compare, pool_batches, tilt_check
from pullbench.analysis.pooled import Batch
from pullbench.analysis.repeats import within
from pullbench.model import BudgetRow, Surface, SurfacePull
from pullbench.render import compare_record, compare_svg, compare_table, compare_text, pool_text, tilt_text
from pullbench.render.labels import Label
from pullbench.render.tokens import STRONG

STATIC = {"birch": (0.40, 0.42, 0.41), "felt": (0.31, 0.33, 0.30), "carpet": (0.43, 0.41)}
KINETIC = {"birch": (0.30, 0.31, 0.295), "felt": (0.24, 0.25, 0.235), "carpet": (0.33, 0.30)}


def surface(name, aside=None):
    pulls = [
        SurfacePull(label=f"pull {i}", static=s, kinetic=k)
        for i, (s, k) in enumerate(zip(STATIC[name], KINETIC[name], strict=True), 1)
    ]
    pulls += [SurfacePull(label="pull 9", static=0.55, kinetic=0.34, set_aside="jerked")] if aside else []
    return Surface(name=name, pulls=tuple(pulls))


def said(comparison, **options):
    return " ".join(compare_text(comparison, **options).split())


def test_the_room_hears_which_needs_more_and_what_it_holds_for():
    text = said(compare([surface("birch"), surface("felt")]))
    assert "To start, felt needs less than birch: its static coefficient is smaller by 0.10 ± 0.04." in text
    assert "for this sled, this string and this wait" in text


def test_what_cannot_be_told_says_how_many_more_would():
    assert re.search(
        r"cannot tell birch and carpet apart .* About \d+ more of each would",
        said(compare([surface("birch"), surface("carpet")])),
    )


@pytest.mark.parametrize(
    ("names", "margin", "sentence"),
    [
        (("birch", "felt"), 0.02, "birch and felt differ"),
        (("birch", "felt"), 0.2, "birch and felt are the same within the margin chosen beforehand, 0.2"),
        (
            ("birch", "carpet"),
            0.02,
            "birch and carpet: cannot tell yet whether they are the same within 0.02",
        ),
    ],
)
def test_each_of_three_answers_has_its_sentence(names, margin, sentence):
    assert sentence in said(compare([surface(name) for name in names], margin=margin))


RUBBER = Surface(
    name="rubber",
    pulls=tuple(SurfacePull(label=f"pull {k}", kinetic=0.60 + 0.01 * k) for k in range(3)),
)


def kinetic_alone(name):
    pulls = [SurfacePull(label=f"pull {k}", kinetic=value) for k, value in enumerate(KINETIC[name])]
    return Surface(name=name, pulls=tuple(pulls))


@pytest.mark.parametrize(
    ("surfaces", "margin", "sentence"),
    [
        ([kinetic_alone("birch"), RUBBER, kinetic_alone("felt")], None,
         "To keep going: felt needs least, then birch, rubber most."),
        ([kinetic_alone(name) for name in ("birch", "felt", "carpet")], None,
         "To keep going: felt needs less than birch. Cannot tell apart birch and carpet, felt and carpet."),
        ([kinetic_alone(name) for name in ("birch", "felt", "carpet")], 0.02,
         "To keep going: birch and felt differ; cannot tell yet of birch and carpet, felt and carpet."),
        ([kinetic_alone("birch"), kinetic_alone("felt"), RUBBER], 0.2,
         "To keep going: birch and felt are the same within 0.2; birch and rubber, felt and rubber differ."),
    ],
)  # fmt: skip
def test_three_surfaces_are_told_in_one_sentence_before_their_pairs(surfaces, margin, sentence):
    text = said(compare(surfaces, margin=margin))
    assert sentence in text
    assert text.index(sentence) < text.index("To keep going, ")


def test_two_surfaces_are_told_by_their_pair_alone():
    assert "To start: " not in said(compare([surface("birch"), surface("felt")]))


def test_no_sentence_claims_the_same_without_a_margin():
    assert "same within" not in said(compare([surface("birch"), surface("carpet")]))


def test_a_pull_set_aside_is_named_with_its_reason_and_what_it_would_change():
    text = said(compare([surface("birch", aside=True), surface("felt")]))
    assert "1 pull set aside: pull 9 of birch: jerked." in text
    assert "birch, static: 0.41 ± 0.03; with what was set aside 0.44 ± 0.11." in text


def test_every_number_in_the_table_wears_its_plus_or_minus():
    table = compare_table(compare([surface("birch"), surface("felt")]))
    assert table.count("±") == 4


def test_no_line_is_longer_than_a_hundred_columns():
    told = compare([surface("birch", aside=True), surface("felt"), surface("carpet")], margin=0.02)
    assert max(map(len, compare_text(told).splitlines())) <= 100


def test_a_decimal_comma_reaches_every_number():
    text = said(compare([surface("birch"), surface("felt")], margin=0.02), comma=True)
    assert not re.search(r"\d\.\d", text)


def test_json_keeps_every_digit_and_the_verdict():
    told = compare([surface("birch", aside=True), surface("felt"), surface("carpet")], margin=0.02)
    record = json.loads(compare_record(told))
    assert record["surfaces"][0]["mean"]["value"] == told.levels[0].mean.value
    assert {one["verdict"] for one in record["differences"]} == {"smaller", "cannot tell"}
    assert {one["answer"] for one in record["equivalences"]} <= {
        "same within the margin",
        "different",
        "cannot tell yet",
    }
    assert record["with_set_aside"][0]["pulls"] == 4
    assert set(record["one_way"]) == {"static", "kinetic"}


@pytest.mark.parametrize("room", ["light", "dark"])
def test_the_picture_shows_each_pull_and_crosses_out_those_set_aside(room):
    svg = compare_svg(compare([surface("birch", aside=True), surface("felt")]), room=room, label="simulated")
    marks = svg.split("</defs>")[1]
    assert marks.count("<circle") == 6 + 2  # static pulls, and the ring of each value set aside
    assert svg.count("0,-18") == 2
    assert "simulated" in svg
    assert svg.count("http") == svg.count("http://www.w3.org/")


def test_words_in_the_picture_do_not_cover_each_other():
    told = compare([surface("birch", aside=True), surface("felt"), surface("carpet")])
    found = re.findall(
        r'<text x="([\d.]+)" y="([\d.]+)" font-size="(\d+)"[^>]*paint-order[^>]*>([^<]+)<', compare_svg(told)
    )
    boxes = [
        Label(text=text, x=float(x), y=float(y), size=int(size), colour="", weight=STRONG).box
        for x, y, size, text in found
    ]
    assert len(boxes) >= 6
    assert not any(a.meets(b, -2.0) for a, b in combinations(boxes, 2))  # lines of one block touch


def test_a_long_name_does_not_break_the_picture():
    long = Surface(name="w" * 300, pulls=surface("felt").pulls)
    assert "…" in compare_svg(compare([surface("birch"), long]))


def test_the_same_comparison_gives_the_same_bytes():
    assert compare_svg(compare([surface("birch"), surface("felt")])) == compare_svg(
        compare([surface("birch"), surface("felt")])
    )


def test_tilt_against_pull_is_said_in_one_sentence():
    pull = within(0.39, (BudgetRow("scatter", 0.004, 4),), "1")
    text = " ".join(
        tilt_text(tilt_check([21.2, 21.8, 21.5, 21.0], pull={"static": pull}, u_angle_deg=0.1)).split()
    )
    assert "Two roads, one number: tilt and pull (static 0.390 ± 0.011) agree within 0.039" in text


def test_a_pool_says_where_the_next_pull_will_lie_and_what_was_set_aside():
    batches = [
        Batch(name="a", values=(0.30, 0.31, 0.29, 0.30), own_u=(0.0,) * 4, aside=((0.4, 0.0),)),
        Batch(name="b", values=(0.31, 0.32, 0.30, 0.33), own_u=(0.0,) * 4),
        Batch(name="c", values=(0.30, 0.32, 0.31, 0.30), own_u=(0.0,) * 4),
    ]
    text = " ".join(pool_text([pool_batches(batches, quantity="static coefficient")]).split())
    assert re.search(r"The next pull made alike will lie between 0\.2\d+ and 0\.3\d+, 19 times in 20", text)
    assert "1 set aside (a); with it it would be 0.3" in text


def test_a_pool_of_two_wild_groups_does_not_foretell_a_negative_friction():
    batches = [Batch(name=n, values=(v,), own_u=(0.01,)) for n, v in (("a", 0.2), ("b", 0.5))]
    assert "cannot be told yet" in pool_text([pool_batches(batches, quantity="static coefficient")])
