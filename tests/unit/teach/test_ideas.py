import re
from pathlib import Path

import pytest

from pullbench.model.problem import PairFriction
from pullbench.teach.ideas import IDEAS
from pullbench.teach.problems import ENGLISH, KINDS, make

TRADE = Path(__file__).parents[4] / "shared" / "TRADE.md"

# The rows of the trade's two lists, in their order, by our names.
MISCONCEPTIONS = (
    "friction at rest is always at its limit", "friction only when it slides", "at rest friction beats the pull",
    "steady speed needs pull above friction", "more area more friction", "faster means more friction",
    "friction always against the motion", "friction only hinders", "normal force is the weight",
    "friction is the weight", "heavier sled larger coefficient", "heavier slides less far",
    "coefficient cannot exceed one", "one coefficient for both", "smoother is slipperier", "coefficient of one thing",
    "the table feels nothing", "a table cannot push", "friction off once it slides", "smaller coefficient on the Moon",
    "the peak is the hand's jerk", "one right reading", "different numbers, different surfaces",
    "heavier block slips at another angle",
)  # fmt: skip
SLIPS = (
    "mass for weight", "grams left in", "normal force is the weight", "sine and cosine swapped",
        "calculator in radians",
    "string's vertical part forgotten", "string's vertical part with the wrong sign", "angle ignored",
    "sine and cosine of the string swapped", "friction at rest is always at its limit",
    "static taken at its limit, then accelerated", "kinetic for static", "static for kinetic", "friction left out",
    "sled's mass left out", "upside down", "sine for tangent", "slope's sign", "floor load without rider",
    "friction on the rider backwards", "only the sled accelerates", "pull set equal to the rider's friction", "g lost",
    "mass left in", "string force taken as the load's weight", "peak read as kinetic", "rest reading not taken off",
    "one point for the slope", "grams-force read as newtons", "speed in km/h", "limits added straight",
    "too many figures", "unit on a coefficient", "rounded half-way",
)  # fmt: skip


@pytest.mark.parametrize(("names", "heading"), [(MISCONCEPTIONS, "## 3. "), (SLIPS, "## 4. ")])
def test_each_row_of_the_trades_lists_has_an_idea_of_its_own(names, heading):
    assert len(set(names)) == len(names)
    assert set(names) <= IDEAS.keys()
    if not TRADE.exists():
        pytest.skip("the trade's lists are not beside this repository")
    section = TRADE.read_text(encoding="utf-8").split(heading)[1].split("\n## ")[0]
    assert len(re.findall(r"^\| \d+ \|", section, re.M)) == len(names)


def test_ideas_that_many_bring_along_are_told_from_slips():
    assert {IDEAS[name].kind for name in MISCONCEPTIONS} == {"idea"}
    shared = set(MISCONCEPTIONS)
    assert {IDEAS[name].kind for name in SLIPS if name not in shared} == {"slip"}


@pytest.mark.parametrize("name", IDEAS)
def test_each_idea_has_a_plain_sentence_and_a_source(name):
    idea = IDEAS[name]
    assert idea.name == name
    assert 20 <= len(idea.sentence) <= 260
    assert idea.sentence[0].isupper()
    assert idea.sentence.endswith(".")
    assert idea.source
    assert not re.search(
        r"\b(wrong!|bad|stupid|careless|well done|good|great|sadly|unfortunately|simply|obvious\w*)\b",
        idea.sentence,
        re.I,
    )
    assert "`" not in idea.sentence  # it is shown in tables and terminals, too


def test_no_two_ideas_say_the_same():
    assert len({idea.sentence for idea in IDEAS.values()}) == len(IDEAS)


def test_what_was_written_down_from_memory_says_so():
    from_memory = [MISCONCEPTIONS[row - 1] for row in (6, 9, 11, 12, 13, 15, 16, 20, 21, 23, 24)]
    assert all("from memory" in IDEAS[name].source for name in from_memory)


def test_every_idea_of_our_own_is_met_in_some_problem():
    pair = PairFriction(
        sole="felt", floor="the painted stage floor", mu_s=0.40, mu_k=0.30, u_mu_s=0.01, u_mu_k=0.01, source="today",
        told="from today's pulls",
    )  # fmt: skip
    met = {
        wrong.idea for name, kind in KINDS.items() for seed in range(40)
        for part in make(kind, ENGLISH[name], pair, seed).parts for wrong in part.wrong
    }  # fmt: skip
    assert IDEAS.keys() - met - set(MISCONCEPTIONS) - set(SLIPS) == set()
