"""The JSON line is a promise: its keys, its nulls, its digits."""

import json
import math

import msgspec

from pullbench.model import Measured
from pullbench.render import pull_record
from pullbench.render.pull_json import PullRecord
from unit.render import fake_pulls

KEYS = [
    "file",
    "pull",
    "start_s",
    "end_s",
    "direction",
    "breakaway_time_s",
    "breakaway_force_N",
    "sliding_s",
    "kinetic_force_N",
    "rest_reading_N",
    "stick_slip",
    "static_coefficient",
    "kinetic_coefficient",
    "findings",
    "verdict",
]


def strict(line):
    def refuse(constant):
        raise AssertionError(f"{constant} is not JSON")

    return json.loads(line, parse_constant=refuse)


def test_every_pull_is_one_line_with_the_same_keys_in_the_same_order():
    for make in fake_pulls.EVERY.values():
        line = pull_record("a.csv", 1, make())
        assert b"\n" not in line
        assert list(strict(line)) == KEYS


def test_a_value_keeps_every_digit_and_a_null_reason():
    pull = fake_pulls.pull()
    force = strict(pull_record("a.csv", 1, pull))["breakaway_force_N"]
    assert list(force) == ["kind", "value", "standard_uncertainty", "limits", "reason"]
    assert force["kind"] == "value"
    assert force["value"] == pull.breakaway.force.value
    assert force["limits"] == list(pull.breakaway.force.limits)
    assert force["reason"] is None


def test_a_lower_bound_has_an_open_upper_limit_and_cannot_tell_has_no_numbers():
    record = strict(pull_record("a.csv", 3, fake_pulls.held()))
    assert record["breakaway_force_N"]["limits"] == [3.85, None]
    assert record["breakaway_force_N"]["kind"] == "lower bound"
    assert record["kinetic_force_N"] == {
        "kind": "cannot tell",
        "value": None,
        "standard_uncertainty": None,
        "limits": None,
        "reason": "it never slid",
    }
    assert record["sliding_s"] is None
    assert record["breakaway_time_s"] is None
    assert record["verdict"] == "pull again"


def test_a_file_without_a_pull_gives_one_object_with_its_findings_and_nulls():
    record = strict(pull_record("empty.csv", None, None, [fake_pulls.HELD]))
    seen = record.pop("findings")
    assert record == {key: "empty.csv" if key == "file" else None for key in KEYS if key != "findings"}
    assert seen == [{"name": "never slid", "sentence": fake_pulls.HELD.sentence, "fix": fake_pulls.HELD.fix}]


def test_stick_slip_is_written_with_its_high_low_and_mean():
    saw = strict(pull_record("a.csv", 1, fake_pulls.EVERY["stick-slip"]()))["stick_slip"]
    assert list(saw) == ["high_N", "low_N", "mean_N", "count", "rhythm_Hz", "mean_is_kinetic"]
    assert saw["mean_is_kinetic"] is True
    assert saw["low_N"]["value"] < saw["mean_N"]["value"] < saw["high_N"]["value"]


def test_a_line_reads_back_to_the_same_record():
    for make in fake_pulls.EVERY.values():
        line = pull_record("a.csv", 2, make(), [fake_pulls.LONG])
        assert msgspec.json.encode(msgspec.json.decode(line, type=PullRecord)) == line


def test_what_is_not_finite_and_a_negative_zero_never_reach_the_line():
    odd = Measured(
        kind="value", value=-0.0, standard_uncertainty=math.nan, limits=(-math.inf, math.inf), unit="N"
    )
    line = pull_record("a.csv", 1, fake_pulls.pull(kinetic=odd))
    force = strict(line)["kinetic_force_N"]
    assert b"-0.0," not in line
    assert force["standard_uncertainty"] is None
    assert force["limits"] == [None, None]


def test_a_file_name_that_is_no_text_still_gives_a_line():
    assert strict(pull_record("pull-\udcff.csv", None, None))["file"] == "pull-?.csv"
