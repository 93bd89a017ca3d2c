"""Cards of pulls: the rounding of the whole tool, cut into pieces, and back from a stored line."""

import math

import msgspec
import pytest

from pullbench.analysis import analyse
from pullbench.detect import windows
from pullbench.model import Chunk, Measured
from pullbench.physics.bench import demo_day
from pullbench.render import budgets, card, plus_minus, pull_of_record, pull_record, told


@pytest.fixture(scope="module")
def pulls():
    return [
        analyse(window)
        for recording in demo_day(0)
        for window in windows([Chunk(time_s=recording.trace.time_s, force_N=recording.trace.force_N)])
    ]


def value(value, half, unit="N"):
    return Measured(
        kind="value",
        value=value,
        standard_uncertainty=half / 2,
        limits=(value - half, value + half),
        unit=unit,
    )


@pytest.mark.parametrize(
    "measured",
    [
        value(2.8712, 0.0231),
        value(-2.8712, 0.0231),
        value(0.0123, 0.0004),
        value(0.311, 0.02, "1"),
        value(2500.0, 40.0),
    ],
)
def test_pieces_laid_end_to_end_are_the_words_of_the_terminal(measured):
    pieces = told(measured)
    unit = f" {pieces.unit}" if pieces.unit else ""
    assert f"{pieces.text}{unit} ± {pieces.plus_minus}" == plus_minus(measured, short=True) == pieces.whole


def test_a_bound_says_which_side_and_has_no_plus_or_minus():
    bound = Measured(
        kind="lower bound",
        value=3.3,
        standard_uncertainty=0.05,
        limits=(3.219, None),
        unit="N",
        reason="held",
    )
    pieces = told(bound)
    assert (pieces.whole, pieces.text, pieces.plus_minus, pieces.reason) == (
        "at least 3.21 N",
        "3.21",
        None,
        "held",
    )


def test_what_cannot_be_told_has_a_reason_and_no_number():
    pieces = told(Measured.cannot_tell("no rest", unit="N"))
    assert (pieces.text, pieces.value, pieces.low, pieces.reason, pieces.whole) == (
        None,
        None,
        None,
        "no rest",
        "cannot tell",
    )


def test_limits_off_centre_are_both_written():
    pieces = told(
        Measured(kind="value", value=2.87, standard_uncertainty=0.05, limits=(2.80, 2.99), unit="N")
    )
    assert (pieces.text, pieces.plus_minus, pieces.whole) == ("2.87", None, "2.87 N, between 2.80 and 2.99")


def test_a_stored_line_gives_the_card_it_was_told_with(pulls):
    for number, pull in enumerate(pulls, 1):
        first = card(pull, number=number, offset_s=5.0, label="simulated")
        again = card(
            pull_of_record(pull_record("x", number, pull)), number=number, offset_s=5.0, label="simulated"
        )
        assert msgspec.structs.replace(again, phases=()) == msgspec.structs.replace(first, phases=())
        if first.breakaway.at_s is not None and first.kinetic.from_s is not None:
            moving = [phase for phase in first.phases if phase.name != "rest"]
            assert list(again.phases) == moving


def test_a_line_that_tells_of_no_pull_is_refused():
    with pytest.raises(ValueError, match="no pull"):
        pull_of_record(pull_record("x", None, None))


def test_times_of_a_card_are_bench_seconds_and_its_sentence_says_both_forces(pulls):
    plain, later = card(pulls[0], number=1), card(pulls[0], number=1, offset_s=1000.0)
    assert later.breakaway.at_s - plain.breakaway.at_s == pytest.approx(1000.0)
    assert later.kinetic.to_s - plain.kinetic.to_s == pytest.approx(1000.0)
    assert [phase.from_s - 1000.0 for phase in later.phases] == pytest.approx(
        [phase.from_s for phase in plain.phases]
    )
    assert later.sentence == plain.sentence
    assert plain.sentence == f"Broke away at {plain.breakaway.whole}, slid at {plain.kinetic.whole}."


def test_shares_of_a_budget_are_of_the_variance(pulls):
    for row in (budgets(pulls[0]).breakaway, budgets(pulls[0]).kinetic):
        assert math.fsum(one.share for one in row) == pytest.approx(1.0)


def test_what_is_spoken_begins_with_the_verdict_and_ends_with_the_label(pulls):
    for number, pull in enumerate(pulls, 1):
        said = card(pull, number=number, label="simulated").spoken
        assert said.startswith(f"Pull {number}: {pull.verdict}.")
        assert said.endswith("Simulated.")
        assert "−" not in said
