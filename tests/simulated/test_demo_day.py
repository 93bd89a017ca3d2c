"""The demo day's laws: every planted fault is found, none is invented, on the demo's own day and on others."""

import importlib.util
import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from pullbench.analysis import analyse, compare, ladder, pool_batches, tilt_check
from pullbench.analysis.compare import mean_of
from pullbench.analysis.pooled import Batch
from pullbench.analysis.repeats import Repeats
from pullbench.cli import run
from pullbench.detect import windows
from pullbench.model import Chunk, LoadedPull, Surface, SurfacePull, Verdict
from pullbench.physics.bench import demo_laws as day
from pullbench.physics.bench.demo import SLED_KG, SOLES, TIN_KG, demo_pull, demo_rng, demo_sensor
from pullbench.physics.bench.sensor import record

ROOT = Path(__file__).parents[2]
G_M_S2 = 9.80665
SEEDS = range(20)
COMMON, APART = 0.035, 0.015  # of one pull's two forces together and of each alone: 3 to 5 % is usual


def example():
    """Return the example as a module; examples are scripts, not a package."""
    spec = importlib.util.spec_from_file_location("demo_laws_example", ROOT / "examples/demo_laws.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """The demo's own day, in full: its folder, its steps and what it showed."""
    folder, lines, module = tmp_path_factory.mktemp("laws"), [], example()
    status = module.main(folder, show=lines.append)
    return folder, module.steps(folder, module.SEED), lines, status


def told(capsys, words):
    assert run([*words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_every_fault_of_the_demos_day_is_found_and_none_invented(shown):
    _, steps, lines, status = shown
    assert status == 0
    planted = [line for line in lines[-2].splitlines()[1:] if not line.startswith("    ")]
    verdicts = [line.strip() for line in lines[-2].splitlines()[1:] if line.startswith("    ")]
    assert [line.strip() for line in planted] == [step.planted for step in steps]
    assert len(verdicts) == sum(max(1, len(step.said)) for step in steps)
    assert all(line.startswith("said: ") for line in verdicts)
    assert "simulated" in lines[-1]


def test_a_word_that_is_missing_or_invented_shows_in_the_demos_verdict():
    module = example()
    step = module.Step("", [], ("agree within",), ("disagree",))
    assert module.verdict(step, "They disagree.").split("\n    ") == [
        "NOT SAID: “agree within”",
        "INVENTED: “disagree”",
    ]
    assert module.verdict(step, "Look. They agree within 0.03. So.") == "said: They agree within 0.03."


def test_the_clean_ladder_holds_both_coefficients_and_the_unknown_tin(shown, capsys):
    _, steps, _, _ = shown
    words = [
        word
        for word in steps[0].words
        if word not in ("--picture", "--label", "simulated") and word[-4:] != ".svg"
    ]
    line, law = told(capsys, words), SOLES["bare birch"]
    assert line["diagnoses"] == []
    for series, mu in (("static", law.mu_s), ("kinetic", law.mu_k)):
        low, high = line[series]["slope"]["limits"]
        assert low < mu < high
        low, high = line["mystery"][series]["load_kg"]["limits"]
        assert low < day.HIDDEN_KG < high
        assert high - low < 0.2 * day.HIDDEN_KG


def test_the_forgotten_sled_is_weighed_by_its_line(shown, capsys):
    _, steps, _, _ = shown
    line = told(capsys, [word for word in steps[1].words if "=" in word or word == "line"])
    first = line["diagnoses"][0]
    assert first["name"] == "sled mass left out"
    assert first["size"]["limits"][0] < SLED_KG < first["size"]["limits"][1]
    assert line["set_aside"] == 1


def typed_ladder(rng, law, *, pulls=3, tins=day.TINS):
    """Return a ladder typed from results, drawn from truth: three pulls a load, in the order pulled."""
    made = []
    for load_kg in (SLED_KG + count * TIN_KG for count in tins for _ in range(pulls)):
        static, kinetic = drawn(rng, law)
        made.append(
            LoadedPull(
                normal_N=load_kg * G_M_S2, static_N=static * load_kg * G_M_S2,
                kinetic_N=kinetic * load_kg * G_M_S2,
            )
        )  # fmt: skip
    return made


def drawn(rng, law):
    """Return one pull's coefficients: they scatter together, and a little apart."""
    together = 1 + COMMON * rng.standard_normal()
    return tuple(mu * together * (1 + APART * rng.standard_normal()) for mu in (law.mu_s, law.mu_k))


def every(seeds=SEEDS):
    """Yield a seeded generator and a sole's law, for every seed and sole."""
    for seed in seeds:
        rng = np.random.default_rng(seed)
        yield from ((rng, law) for law in SOLES.values())


def test_clean_ladders_of_twenty_days_are_hardly_ever_called_faulty():
    wrong = [[one.name for one in ladder(typed_ladder(rng, law)).diagnoses] for rng, law in every()]
    assert len(wrong) == 60
    assert sum(map(bool, wrong)) <= 8  # 5 % of 60, and odds of 1 in 200 for more


def test_the_forgotten_sled_is_found_on_nine_days_of_ten_at_least():
    held = []
    for rng, law in every():
        forgotten = [
            replace(pull, normal_N=pull.normal_N - SLED_KG * G_M_S2) for pull in typed_ladder(rng, law)
        ]
        found = {one.name: one for one in ladder(forgotten).diagnoses}
        size = found["sled mass left out"].size.limits if "sled mass left out" in found else None
        held.append(None if size is None else size[0] <= SLED_KG <= size[1])
    assert sum(one is not None for one in held) >= 54
    assert sum(one is True for one in held) >= 0.85 * sum(one is not None for one in held)


def test_the_unknown_tin_lies_in_its_limits_on_twenty_days():
    held = []
    for rng, law in every():
        hidden = typed_ladder(rng, law, tins=(day.HIDDEN_KG / TIN_KG,))
        mystery = ladder(typed_ladder(rng, law), mystery=hidden).mystery
        low, high = mystery.kinetic.limits
        held.append(low <= (SLED_KG + day.HIDDEN_KG) * G_M_S2 <= high)
    assert sum(held) >= 52  # 95 % of 60; odds of 1 in 200 for fewer


def surface(name, rng, law, change=1.0):
    pulls = [drawn(rng, law) for _ in range(day.TURNED_PULLS)]
    made = (
        SurfacePull(label=str(n), static=s * change, kinetic=k * change) for n, (s, k) in enumerate(pulls)
    )
    return Surface(name=name, pulls=tuple(made))


def test_a_change_that_makes_no_difference_is_the_same_and_one_that_does_is_never():
    law = SOLES["bare birch"]
    same, false = 0, 0
    for seed in SEEDS:
        rng = np.random.default_rng(seed)
        broad, narrow, waxed = (
            surface(n, rng, law, c) for n, c in (("broad", 1), ("narrow", 1), ("waxed", 0.8))
        )
        both = compare([broad, narrow], margin=day.MARGIN).equivalences
        same += all(one.answer == "same within the margin" for one in both)
        false += any(one.answer == "different" for one in both)
        assert all(
            one.answer == "different" for one in compare([broad, waxed], margin=day.MARGIN).equivalences
        )
    assert same >= 14  # a fair chance, four in five, with six pulls of each
    assert false <= 3


def test_a_gauge_that_was_not_set_level_is_noticed_and_a_level_one_is_believed():
    level, off, wrong = 0, 0, 0
    for seed in SEEDS:
        rng = np.random.default_rng(seed)
        pulled = Repeats.of([drawn(rng, SOLES["bare birch"])[0] for _ in range(6)])
        angles = day.tilt_angles_deg(seed)
        for added in (0.0, day.GAUGE_OFF_DEG):
            read = [angle + added for angle in angles]
            (told,) = tilt_check(read, pull={"static": mean_of(pulled, "1")}).agreements
            level += added == 0 and told.same is True
            wrong += told.same is (added != 0)
            off += added != 0 and told.same is False
    assert off >= 18
    assert level >= 14
    assert wrong <= 3


def test_the_team_that_forgot_the_sled_shows_in_the_pool_and_the_honest_ones_hold_the_truth():
    held, mu_k = 0, SOLES["bare birch"].mu_k
    for seed in SEEDS:
        teams = day.team_coefficients(seed)
        batches = [Batch(name=str(n), values=team, own_u=(0.0,) * 3) for n, team in enumerate(teams, 1)]
        everyone = pool_batches(batches, quantity="kinetic")
        honest = [one for n, one in enumerate(batches, 1) if n != day.TEAM_WITHOUT_SLED]
        pooled = pool_batches(honest, quantity="kinetic")
        assert everyone.q_p < 0.001
        assert everyone.between_sd > 2 * pooled.between_sd  # honest teams differ too, by 2 %
        held += pooled.mean.limits[0] <= mu_k <= pooled.mean.limits[1]
    assert held >= 16  # 95 % of 20, and odds of 1 in 200 for fewer


@pytest.mark.parametrize("hand", ["jerked", "smooth"])
def test_a_quick_start_is_pulled_again_and_a_slow_one_is_not(hand):
    """In full: twenty days' pulls on felt with three tins."""
    again = []
    for seed in SEEDS:
        rng = demo_rng(seed)
        trace = record(demo_pull(hand, SOLES["felt"], SLED_KG + 3 * TIN_KG, rng), demo_sensor(rng), rng)
        (window,) = windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)])
        again.append(analyse(window).verdict is Verdict.PULL_AGAIN)
    assert sum(again) >= 18 if hand == "jerked" else sum(again) <= 2
