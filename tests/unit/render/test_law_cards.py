"""Laws as the page takes them: points are links, drawings are well-formed, slips are told as they were handed in."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from pullbench.analysis import compare, ladder, pool_batches, tilt_check
from pullbench.analysis.pooled import Batch
from pullbench.model import (
    DayPull,
    LoadedPull,
    Measured,
    Prediction,
    Setting,
    Slip,
    Surface,
    SurfacePull,
    Verdict,
)
from pullbench.render import (
    compare_svg,
    line_svg,
    mass_words,
    pool_svg,
    prediction_card,
    setting_card,
    tilt_svg,
)
from pullbench.render.lettering import advance
from pullbench.render.tokens import STRONG, TEXT

SVG = "{http://www.w3.org/2000/svg}"
WEIGHTS = {"500": TEXT, "700": STRONG}
WOBBLE = (0.02, -0.03, 0.012, -0.016, 0.024, -0.01, 0.005)


def ladder_of(count, *, aside=None):
    pulls = [
        LoadedPull(
            normal_N=(0.5 + 0.25 * (k % 4)) * 9.80665, number=k + 1, name=f"pull {k + 1}",
            kinetic_N=0.28 * (0.5 + 0.25 * (k % 4)) * 9.80665 * (1 + WOBBLE[k % 7]),
            static_N=0.42 * (0.5 + 0.25 * (k % 4)) * 9.80665 * (1 + WOBBLE[(k + 3) % 7]),
            set_aside="a knock" if k + 1 == aside else None,
        )
        for k in range(count)
    ]  # fmt: skip
    return ladder(pulls)


def surfaces():
    def pulls(mu, first):
        return tuple(
            SurfacePull(
                label=f"pull {first + k}", number=first + k, static=mu * (1 + w), kinetic=0.7 * mu * (1 + w)
            )
            for k, w in enumerate(WOBBLE)
        )

    return compare([Surface(name="felt", pulls=pulls(0.3, 1)), Surface(name="birch", pulls=pulls(0.4, 8))])


def links(svg):
    return list(ET.fromstring(svg).iter(f"{SVG}a"))


def test_each_point_of_a_ladder_is_a_link_to_its_pull_that_says_what_it_is():
    found = links(line_svg(ladder_of(12, aside=5), in_page=True))
    assert sorted({int(a.get("data-pull")) for a in found}) == list(range(1, 13))
    assert all(a.get("href") == f"#pull/{a.get('data-pull')}" for a in found)
    assert all(a.find(f"{SVG}title").text == a.get("aria-label") for a in found)
    said = {(a.get("data-pull"), a.get("data-series")): a.get("aria-label") for a in found}
    assert re.fullmatch(r"Pull 7: kinetic [\d.]+ N ± [\d.]+ at 1 kg", said["7", "kinetic"])
    assert said["5", "left out"] == "Pull 5, left out: a knock"
    assert {a.get("tabindex") for a in found} == {"-1"}  # the page makes one of them a stop for Tab


def test_each_mark_of_the_surfaces_is_a_link():
    found = links(compare_svg(surfaces(), in_page=True))
    assert len(found) == 2 * 14
    assert re.fullmatch(r"Pull 1, felt: (static|kinetic) [\d.]+ ± [\d.]+", found[0].get("aria-label"))


def test_a_picture_for_paper_has_fonts_and_no_links_and_one_for_the_page_the_other_way_round():
    for draw in (
        lambda **more: line_svg(ladder_of(8), **more),
        lambda **more: compare_svg(surfaces(), **more),
    ):
        paper, page = draw(), draw(in_page=True)
        assert ("<style>" in paper, "<a " in paper, 'role="img"' in paper) == (True, False, True)
        assert ("<style>" in page, "<a " in page, 'role="group"' in page) == (False, True, True)


def test_two_pulls_show_no_scatter_and_their_points_say_so():
    (first, *_) = links(line_svg(ladder_of(2), in_page=True))
    assert first.get("aria-label").endswith("scatter not known yet")


def rulers():
    tilt = tilt_check(
        [17.2, 16.8, 17.5], [16.0, 16.5, 16.2], accelerations_m_s2=[0.5, 0.6], accelerated_at_deg=22.0
    )
    holds = tilt_check([], [16.0, 17.0])
    groups = [
        Batch(name=f"team {k}", values=(0.3 + 0.01 * k, 0.31, 0.29), own_u=(0.0,) * 3) for k in range(30)
    ]
    single = [Batch(name=f"team {k}", values=(0.3 + 0.01 * k,), own_u=(0.0,)) for k in range(4)]
    return {
        "tilt": tilt_svg(tilt), "tilt, on a phone": tilt_svg(tilt, narrow=True),
        "tilt, holds alone": tilt_svg(holds, room="dark", comma=True),
        "thirty groups": pool_svg([pool_batches(groups, quantity="static coefficient")]),
        "doubt not known": pool_svg([pool_batches(single, quantity="kinetic coefficient")], label="simulated"),
    }  # fmt: skip


@pytest.mark.parametrize("name", list(rulers()))
def test_a_ruler_is_well_formed_its_words_on_the_paper_and_apart(name):
    root = ET.fromstring(rulers()[name])
    paper, height = (float(side) for side in root.get("viewBox").split()[2:])
    boxes = []
    for text in root.iter(f"{SVG}text"):
        size = float(text.get("font-size"))
        width = advance(text.text, size, WEIGHTS[text.get("font-weight")])
        left = float(text.get("x")) - {"middle": width / 2, "end": width}.get(text.get("text-anchor"), 0.0)
        y = float(text.get("y"))
        assert left >= 0
        assert left + width <= paper
        assert 0 < y <= height
        boxes.append((left, y - 0.7 * size, left + width, y))
    for k, a in enumerate(boxes):
        for b in boxes[k + 1 :]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_a_group_whose_doubt_is_not_known_says_so_and_groups_beyond_the_picture_are_counted():
    words = {name: "".join(ET.fromstring(svg).itertext()) for name, svg in rulers().items()}
    assert "u not known" in words["doubt not known"]
    assert "± 0" not in words["doubt not known"].replace("± 0.", "")
    assert "and 6 more" in words["thirty groups"]


def test_where_the_next_pull_lies_is_drawn_only_when_it_is_told():
    def drawn_and_told(values):
        groups = [Batch(name=f"{v}", values=(v, v + 0.01, v - 0.01), own_u=(0.0,) * 3) for v in values]
        words = list(
            ET.fromstring(pool_svg([pool_batches(groups, quantity="static coefficient")])).itertext()
        )
        return "the next pull" in words, any("cannot be told yet: too few groups" in one for one in words)

    assert drawn_and_told((0.30, 0.31, 0.32, 0.305)) == (True, False)
    assert drawn_and_told((0.25, 0.38, 0.73)) == (False, True)  # three soles in one pool


@pytest.mark.parametrize(
    ("kg", "words"), [(0.5, "0.50 kg"), (1.0, "1.00 kg"), (0.125, "0.125 kg"), (12.0, "12.00 kg")]
)
def test_a_mass_is_told_to_ten_grams_or_to_the_gram(kg, words):
    assert mass_words(kg) == words


def test_a_setting_of_which_nothing_was_said_is_no_card():
    assert setting_card(None) is None
    assert setting_card(Setting()) is None
    card = setting_card(Setting(surface="felt"))
    assert (card.load, card.surface, card.sled_kg) == (None, "felt", None)


def force(value, half):
    return Measured(
        kind="value",
        value=value,
        standard_uncertainty=half / 2,
        limits=(value - half, value + half),
        unit="N",
    )


PULL = DayPull(
    number=7, start_s=1.0, end_s=4.0, static=force(4.0, 0.1), kinetic=force(2.9, 0.05), verdict=Verdict.USABLE,
    label="simulated",
)  # fmt: skip
SLIPS = tuple(Slip(value_N=value, plus_minus_N=0.2) for value in (2.0, 2.5, 2.8, 3.0, 5.0))
ASKED = Prediction(
    kind="number",
    question="How hard?",
    state="revealed",
    slips=SLIPS,
    count=5,
    committed_before_pull=7,
    pull=7,
)


def test_a_revealed_prediction_tells_slips_outcome_and_how_many_reach_it():
    card = prediction_card(ASKED, pull=PULL, found=None, decided=True)
    assert card.sentence == (
        "5 slips, the middle half from 2.5 N to 3.0 N. Pull 7: 2.90 N ± 0.05 (simulated). "
        "2 of 5 slips with a plus or minus reach it."
    )
    assert (card.outcome.low_N, card.outcome.high_N) == PULL.kinetic.limits
    assert card.outcome.label == "simulated"


def test_before_it_is_revealed_a_prediction_tells_its_count_alone():
    for state, says in (("open", "5 slips handed in."), ("committed", "5 slips committed before pull 7.")):
        card = prediction_card(replace(ASKED, state=state), pull=PULL, found=None, decided=True)
        assert (card.slips, card.counts, card.outcome, card.sentence) == (None, None, None, says)


def test_a_pull_that_no_longer_counts_settles_nothing():
    card = prediction_card(ASKED, pull=None, found=None, decided=False)
    assert card.outcome.value_N is None
    assert "no longer counts" in card.sentence
