"""Real measured traces against hand readings, where the folder of traces is at hand.

Hand readings: expected.json beside the traces (plotted, read by eye; ± is a judged half-width). The traces are
public and stay where they are: each has its own licence. What can be told honestly differs from trace to trace;
the verdict asked for is the index's.
"""

import json
from pathlib import Path

import numpy as np
import pytest

from pullbench.analysis import analyse
from pullbench.detect import Watch
from pullbench.model import Chunk
from pullbench.sources import TableChoices, open_table

TRACES = Path(__file__).parents[3] / "shared" / "traces"
pytestmark = pytest.mark.skipif(
    not TRACES.is_dir(), reason="the measured traces are not beside this checkout"
)
KIP_N = 4448.2216152605


def _pulls(chunks):
    watch = Watch()
    windows = [window for chunk in chunks for window in watch.advance(chunk)]
    return [analyse(window) for window in [*windows, *watch.finish()]]


def _table(name, **choices):
    return _pulls(open_table(TRACES / name, TableChoices(**choices)).chunks())


@pytest.fixture(scope="module")
def slow_slider():
    return _table("hx711_slider_stickslip/Force7_OG.txt", rate_Hz=4.0)


def test_the_slow_slider_is_one_pull_of_stick_slip_without_a_kinetic_level(slow_slider):
    (pull,) = slow_slider
    assert pull.stick_slip is not None
    assert pull.plateau.force.kind == "cannot tell"


def test_the_slow_sliders_first_breakaway_is_its_first_drop_and_not_its_largest_peak(slow_slider):
    (pull,) = slow_slider
    force = pull.breakaway.force
    assert pull.breakaway.time_s == pytest.approx(37.75, abs=0.5)  # hand reading: 9.65 ± 0.05 N at 37.75 s
    assert force.kind in ("value", "lower bound")
    assert force.limits[0] <= 9.70
    assert force.value == pytest.approx(9.65, abs=0.3)  # rest was never still: its doubt is in the limits
    assert force.value < 14.0


def test_the_slow_sliders_typical_highs_lows_mean_and_count(slow_slider):
    (pull,) = slow_slider
    saw = pull.stick_slip
    assert saw.high.value == pytest.approx(11.8, abs=0.3 + 0.15)  # reading half-width + our rest reading
    assert saw.low.value == pytest.approx(8.7, abs=0.3 + 0.15)
    assert saw.mean.value == pytest.approx(10.2, abs=0.3)
    assert 130 <= saw.count <= 170  # by hand: 130 over 2 N, 165 over 0.5 N


def _damper(band_lb):
    rows = json.loads((TRACES / f"band_damper_reversing/0.5Hz{band_lb}lbtension.json").read_text())["data"]
    table = np.array(rows)
    return _pulls([Chunk(time_s=table[:, 0], force_N=KIP_N * table[:, 2])])


@pytest.mark.parametrize(
    ("band_lb", "rest_kip", "forward_kip", "back_kip"),
    [(20, -0.07, (1.00, 1.17), (0.83, 0.97)), (70, -0.17, (2.29, 2.66), (2.39, 2.95))],
)
def test_the_reversing_damper_has_two_directions_with_levels_of_their_own(
    band_lb, rest_kip, forward_kip, back_kip
):
    pulls = _damper(band_lb)
    assert {pull.window.direction for pull in pulls} == {1, -1}
    assert 14 <= len(pulls) <= 17  # 7 to 8 strokes each way
    for direction, (low, high) in ((1, forward_kip), (-1, back_kip)):
        levels = [
            pull.plateau.force for pull in pulls
            if pull.window.direction == direction and pull.plateau.force.kind == "value"
        ]  # fmt: skip
        assert len(levels) >= 5
        middle = float(np.median([level.value for level in levels])) / KIP_N
        assert low - direction * rest_kip - 0.05 <= middle <= high - direction * rest_kip + 0.05


def test_a_level_held_without_motion_is_not_called_a_kinetic_plateau():
    pulls = _table("slider_constant_load/test_data_2.txt", column="Friction [uN]")
    assert {pull.window.direction for pull in pulls} == {1, -1}
    assert 95 <= len(pulls) <= 105  # fifty strokes each way, and the drift before the load comes on
    called = [pull for pull in pulls if pull.plateau.force.kind == "value"]
    assert len(called) <= 0.1 * len(pulls)


@pytest.mark.parametrize("name", ["O-ring257_1bar", "O-ring257_5bar", "2_O-ring257_7bar", "3_O-ring257_1bar"])
def test_the_piston_seals_pressure_load_is_not_taken_for_friction(name):
    """The force never returns to rest: no stroke may claim a friction near the pressure load itself."""
    for pull in _table(f"oring_piston_seal/{name}.csv", column="7"):
        for force in (pull.breakaway.force, pull.plateau.force):
            if force.value is not None:
                assert force.value < 40.0  # 50 to 380 N is pressure; out less back is 13 to 24 N
