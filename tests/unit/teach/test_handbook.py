"""The handbook: every row with its source, found by its pair, and honest about disagreement."""

import csv
from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pullbench.errors import ConditionsError
from pullbench.teach import handbook_from

TEXT = (files("pullbench.teach") / "coefficients.csv").read_text(encoding="utf-8")
BOOK = handbook_from(TEXT)
SHARED = Path(__file__).parents[4] / "shared" / "checks" / "coefficients.csv"


def test_every_row_names_its_source_and_licence():
    assert len(BOOK.rows) == 77
    assert all(row.source and row.licence for row in BOOK.rows)
    assert {row.name[0] for row in BOOK.rows if not row.seen} == {"M"}


def test_rows_are_the_transcribed_ones_but_for_the_misprint():
    if not SHARED.exists():
        pytest.skip("the shared table is not beside this repository")
    with SHARED.open(encoding="utf-8") as file:
        given_rows = {row["id"]: row for row in csv.DictReader(file)}
    assert [row.name for row in BOOK.rows] == list(given_rows)
    for row in BOOK.rows:
        told = given_rows[row.name]
        assert f"{row.first} / {row.second}" == told["pair"]
        assert (row.condition, row.source, row.licence) == (
            told["condition"],
            told["source"],
            told["licence"],
        )
        assert row.seen == (told["status"] == "V")
        for span, name in ((row.static, "mu_s"), (row.kinetic, "mu_k")):
            printed = [told[f"{name}_{end}"] for end in ("low", "high")]
            if row.name == "H039" and name == "mu_s":
                assert printed == ["0.4", "0.4"]
                assert span == (0.04, 0.04)
            else:
                assert span == (tuple(map(float, printed)) if printed[0] else None)


@pytest.mark.parametrize(
    ("surfaces", "static", "kinetic"),
    [
        ("oak on oak", (0.54, 0.62), (0.32, 0.48)),
        ("Wood on wood", (0.25, 0.5), (0.3, 0.3)),
        ("ice on steel", (0.04, 0.04), (0.02, 0.02)),
        ("steel/steel", (0.6, 0.6), (0.3, 0.3)),
        ("steel on steel, oiled", (0.05, 0.05), (0.03, 0.03)),
        ("PTFE on steel", (0.04, 0.04), (0.04, 0.04)),
        ("aluminum on aluminium", (1.05, 1.35), None),
        ("waxed wood on wet snow", (0.14, 0.14), (0.1, 0.1)),
    ],
)
def test_a_pair_spans_what_its_sources_say(surfaces, static, kinetic):
    entry = BOOK.find(surfaces)
    assert (entry.static, entry.kinetic) == (static, kinetic)


def test_disagreement_between_sources_is_said():
    said = " ".join(BOOK.find("wood on wood").remarks)
    assert "Static from 0.25 to 0.5" in said
    assert "Kinetic from" not in said


def test_a_known_misprint_is_said():
    assert any("misprint" in remark and "0.4" in remark for remark in BOOK.find("steel on ice").remarks)


def test_values_from_memory_are_said_to_be():
    assert any("from memory" in remark for remark in BOOK.find("oak on oak").remarks)
    assert not any("from memory" in remark for remark in BOOK.find("steel on ice").remarks)


def test_conditions_left_out_are_named():
    assert any("oiled" in remark for remark in BOOK.find("steel on steel").remarks)


def test_a_material_alone_finds_all_its_pairs():
    assert {row.pair for row in BOOK.find("oak").rows} >= {"oak on oak", "leather on oak", "cast iron on oak"}


@pytest.mark.parametrize("surfaces", ["cheese on oak", "", " on ", "a on b on c", "oak on", "xyzzy"])
def test_an_unknown_pair_offers_known_ones(surfaces):
    with pytest.raises(ConditionsError) as refused:
        BOOK.find(surfaces)
    assert refused.value.code == "surfaces-unknown"
    assert " on " in refused.value.allowed


def test_an_unknown_condition_offers_the_known_ones():
    with pytest.raises(ConditionsError, match="oiled") as refused:
        BOOK.find("steel on steel, sandy")
    assert refused.value.code == "surfaces-condition-unknown"


@settings(max_examples=100, deadline=None)
@given(surfaces=st.text(max_size=40))
def test_any_question_finds_rows_or_is_refused(surfaces):
    try:
        found = bool(BOOK.find(surfaces).rows)
    except ConditionsError:
        found = True
    assert found


@pytest.mark.parametrize(
    ("column", "value"), [("source", ""), ("licence", ""), ("static_low", "-1"), ("static_low", "much")]
)
def test_a_row_that_cannot_be_trusted_is_refused_with_its_line(column, value):
    rows = list(csv.reader(TEXT.splitlines()[:3]))
    rows[2][rows[0].index(column)] = value
    broken = "\n".join(",".join(f'"{cell}"' for cell in row) for row in rows)
    with pytest.raises(ConditionsError, match="Line 3") as refused:
        handbook_from(broken)
    assert refused.value.code == "handbook-unreadable"
