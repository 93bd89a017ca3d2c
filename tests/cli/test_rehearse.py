"""`pullbench rehearse`: virtual pulls from a chosen hand or from keys in a terminal."""

import contextlib
import json
import math
import os
import select
import subprocess
import sys
import time

import numpy as np
import pytest

from pullbench.cli import run
from pullbench.cli.rehearsal import USUAL_BENCH
from pullbench.cli.steering import KEYS, REST_S, SLACK_M, steer
from pullbench.physics import Coulomb
from pullbench.physics.bench import HAND_NAMES, Bench, LiveSled, simulate

pty = pytest.importorskip("pty", reason="no pseudo-terminals on this system")
termios = pytest.importorskip("termios", reason="no terminal settings on this system")


def told(capsys, *arguments):
    assert run(["rehearse", *arguments]) == 0
    return capsys.readouterr().out


def test_without_a_terminal_it_makes_one_smooth_pull_and_ends(capsys):
    text = told(capsys)
    assert text.startswith("simulated pull 1, smooth hand: 1 pull")
    assert "Truth (simulated): broke away" in text
    assert text.count("Pull 1:") == 1


def test_json_is_that_of_read_with_the_truth_added(capsys, tmp_path):
    first, second = map(
        json.loads,
        told(capsys, "--hand", "smooth", "--count", "2", "--json", "--save", str(tmp_path)).splitlines(),
    )
    files = sorted(tmp_path.iterdir())
    assert len(files) == 2
    assert run(["read", "--json", "--load", "1.35kg", *map(str, files)]) == 0
    for rehearsed, line in zip((first, second), capsys.readouterr().out.splitlines(), strict=True):
        read = json.loads(line)
        truth = rehearsed.pop("truth")
        assert set(truth) == {"breakaway_N", "kinetic_N", "breakaway_time_s"}
        assert rehearsed.pop("simulated") is True
        assert rehearsed.keys() == read.keys()
        assert "simulated" in rehearsed["file"]
        for key in ("breakaway_force_N", "kinetic_force_N", "kinetic_coefficient"):
            assert rehearsed[key]["value"] == pytest.approx(read[key]["value"], rel=1e-4)
        low, high = rehearsed["kinetic_force_N"]["limits"]
        assert low - 0.05 < truth["kinetic_N"] < high + 0.05
        assert rehearsed["breakaway_time_s"] == pytest.approx(truth["breakaway_time_s"], abs=0.05)
    assert files[0].read_text().startswith("# simulated")


def test_the_same_seed_gives_the_same_pulls_and_each_of_them_differs(capsys):
    one, same, other = (told(capsys, "--count", "2", "--seed", seed, "--json") for seed in ("5", "5", "6"))
    assert one == same != other
    first, second = map(json.loads, one.splitlines())
    assert first["truth"]["breakaway_N"] != second["truth"]["breakaway_N"]


def test_a_held_pull_has_an_empty_truth(capsys):
    record = json.loads(told(capsys, "--hand", "held", "--json"))
    assert record["truth"] == {"breakaway_N": None, "kinetic_N": None, "breakaway_time_s": None}
    assert "the sled never moved" in told(capsys, "--hand", "held")


@pytest.mark.parametrize("name", HAND_NAMES)
def test_every_hand_can_be_rehearsed_and_hears_one_verdict(capsys, name):
    text = told(capsys, "--hand", name)
    assert f"{name} hand" in text
    assert any(verdict in text for verdict in ("usable", "pull again", "no pull"))


def test_a_bench_from_a_file_is_used(capsys, tmp_path):
    path = tmp_path / "bench.toml"
    path.write_text(
        USUAL_BENCH.replace("1.35 kg", "2 kg").replace('between_pulls = "3 %"', "")
        + '[hand]\nname = "motor"\n'
    )
    record = json.loads(told(capsys, "--bench", str(path), "--json"))
    assert "motor hand" in record["file"]
    assert record["truth"]["breakaway_N"] == pytest.approx(0.38 * 2 * 9.80665, rel=0.07)  # patchy by 2 %


def _bench_with(tmp_path, right, wrong):
    path = tmp_path / "bench.toml"
    path.write_text(USUAL_BENCH.replace(right, wrong))
    assert wrong in path.read_text()
    return ["--bench", str(path)]


@pytest.mark.parametrize(
    ("right", "wrong", "said"),
    [
        ('mass = "1.35 kg"', 'mass = "-1 kg"', "Line 3: Mass is -1 kg"),
        ('"1 kN/m"', '"0 kN/m"', "Stiffness is 0 N/m"),
        ('"1 kN/m"', '"1e9 kN/m"', "steps"),
        ("[friction]", "[friction", "TOML"),
        ("static = 0.38", "static = 0.1", "Static coefficient 0.1"),
        ('averaging = "0.05 s"', "averaging = 0.05", "averaging"),
    ],
)
def test_a_mistaken_bench_is_one_line_with_value_and_place(capsys, tmp_path, right, wrong, said):
    assert run(["rehearse", *_bench_with(tmp_path, right, wrong)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert said in err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--hand", "wild"], "wild"),
        (["--count", "0"], "count"),
        (["--seed", "x"], "seed"),
        (["--bench", "nowhere.toml"], "nowhere.toml"),
        (["--save", "/dev/null/folder"], "/dev/null"),
        (["extra"], "extra"),
    ],
)
def test_a_mistake_is_one_line_on_stderr_and_status_2(capsys, arguments, said):
    assert run(["rehearse", *arguments]) == 2
    err = capsys.readouterr().err
    assert err.startswith("pullbench: ")
    assert err.count("\n") == 1
    assert said in err


def test_binary_rubbish_is_no_bench(capsys, tmp_path):
    path = tmp_path / "bench.toml"
    path.write_bytes(b"\xff\xfe\x00\x01")
    assert run(["rehearse", "--bench", str(path)]) == 2
    assert "not UTF-8" in capsys.readouterr().err


def test_a_recording_is_never_written_over(capsys, tmp_path):
    told(capsys, "--save", str(tmp_path))
    (path,) = tmp_path.iterdir()
    before = path.read_bytes()
    assert run(["rehearse", "--save", str(tmp_path)]) == 2
    assert "never written over" in capsys.readouterr().err
    assert path.read_bytes() == before


class Script:
    """A terminal in which keys are pressed at set times; its clock runs by the ticks that are waited for."""

    def __init__(self, *presses):
        self.presses, self.now_s, self.lines = list(presses), 0.0, []

    def key(self, wait_s):
        if self.presses and self.presses[0][0] <= self.now_s + wait_s:
            at_s, key = self.presses.pop(0)
            self.now_s = max(self.now_s, at_s)
            return key
        self.now_s += wait_s
        return None

    def show(self, line):
        self.lines.append(line)


BENCH = Bench(mass_kg=1.35, stiffness_N_m=1000.0, damping_N_s_m=12.0, law=Coulomb(0.38, 0.29))


def steered(*presses):
    script = Script(*presses)
    return steer(
        BENCH, script, clock=lambda: script.now_s, rng=lambda use: np.random.default_rng(use)
    ), script


def test_keys_become_a_pull_that_begins_and_ends_with_a_loose_string():
    movement, script = steered(*((0.1 * n, "harder") for n in range(1, 6)), (5.0, "let go"))
    run_ = simulate(BENCH, movement)
    assert run_.pull_N[0] == run_.pull_N[-1] == 0
    assert run_.breakaway_force_N == pytest.approx(0.38 * BENCH.weight_N, rel=1e-6)
    assert REST_S < run_.breakaway_time_s < REST_S + 5.0
    assert run_.time_s[-1] - run_.truths[0].end_s > 1.0
    assert all("simulated" in line for line in script.lines)
    assert any("slides" in line for line in script.lines)


def test_each_press_doubles_the_speed_and_softer_takes_it_back():
    movement, _ = steered((0.5, "harder"), (1.0, "harder"), (1.5, "harder"), (2.0, "softer"), (4.0, "let go"))
    slowest = BENCH.stretch_m / 4
    middles_s = (REST_S + seconds for seconds in (0.3, 0.8, 1.3, 1.8, 3.0))
    speeds = [(movement.at(t + 0.15)[0] - movement.at(t - 0.15)[0]) / 0.3 for t in middles_s]
    # A person's hand trembles and wanders: by a fraction of the slowest speed over a third of a second.
    expected = [0, slowest, 2 * slowest, 4 * slowest, 2 * slowest]
    assert speeds == pytest.approx(expected, abs=0.3 * slowest)


def test_the_string_is_loose_before_the_first_key():
    movement, _ = steered((1.0, "harder"), (2.0, "let go"))
    assert movement.at(1.0)[0] == pytest.approx(-SLACK_M, abs=1e-4)


def test_ending_makes_no_pull():
    assert steered((0.5, "harder"), (1.0, "end"))[0] is None


def test_letting_go_before_any_pull_is_not_a_pull():
    movement, script = steered((0.5, "let go"), (1.0, "harder"), (3.0, "let go"))
    assert movement is not None
    assert script.now_s >= 3.0


def test_a_pull_that_is_never_let_go_ends_after_a_minute():
    movement, script = steered((0.5, "harder"))
    assert 58 < script.now_s < 61
    assert math.isfinite(movement.duration_s)


def test_what_is_shown_follows_what_is_read():
    movement, _ = steered(*((0.1 * n, "harder") for n in range(1, 6)), (5.0, "let go"))
    exact, shown = simulate(BENCH, movement), LiveSled(BENCH)
    for until_s in np.arange(0.1, 6.0, 0.1):
        shown.advance(movement, until_s)
        at_N = np.interp(shown.time_s, exact.time_s, exact.pull_N)
        assert shown.pull_N == pytest.approx(at_N, abs=0.15)
    assert shown.position_m > 0.05


def test_every_key_that_is_told_to_a_person_exists():
    assert {"harder", "softer", "let go", "end"} == set(KEYS.values())


class Terminal:
    """The program in a real pseudo-terminal."""

    def __init__(self, *arguments):
        self.master, child = pty.openpty()
        self.before = termios.tcgetattr(child)
        self.program = subprocess.Popen(
            [sys.executable, "-m", "pullbench", "rehearse", *arguments],
            stdin=child,
            stdout=child,
            stderr=child,
        )
        self.child, self.seen = child, ""

    def wait_for(self, text, limit_s=30.0):
        end_s = time.monotonic() + limit_s
        while text not in self.seen and time.monotonic() < end_s:
            if select.select([self.master], [], [], 0.1)[0]:
                self.seen += os.read(self.master, 65_536).decode()
        assert text in self.seen, self.seen[-800:]
        self.seen = self.seen.partition(text)[2]

    def press(self, keys):
        os.write(self.master, keys)

    def close(self):
        self.program.kill()
        self.program.wait()
        for descriptor in (self.master, self.child):
            with contextlib.suppress(OSError):
                os.close(descriptor)


@pytest.fixture
def terminal():
    opened = []

    def open_one(*arguments):
        opened.append(Terminal(*arguments))
        return opened[-1]

    yield open_one
    for one in opened:
        one.close()


def test_a_person_can_pull_with_keys_and_the_terminal_is_put_back(terminal):
    screen = terminal("--seed", "1")
    screen.wait_for("everything here is simulated")
    screen.wait_for("string loose")
    for key in (b"+", b"\x1b[A", b"+", b"+", b"+"):
        screen.press(key)
        time.sleep(0.05)
    screen.wait_for("slides")
    time.sleep(1.0)
    screen.press(b" ")
    screen.wait_for("simulated pull 1, own hand: 1 pull")
    screen.wait_for("Truth (simulated): broke away")
    screen.wait_for("q ends")
    screen.press(b"q")
    assert screen.program.wait(10) == 0
    assert termios.tcgetattr(screen.child) == screen.before


def test_control_c_ends_with_130_and_the_terminal_is_put_back(terminal):
    screen = terminal()
    screen.wait_for("string loose")
    screen.press(b"\x03")
    # A pseudo-terminal that controls nobody turns no key into a signal: send what a shell's terminal would.
    screen.program.send_signal(2)
    assert screen.program.wait(10) == 130
    assert termios.tcgetattr(screen.child) == screen.before


def test_in_a_terminal_a_chosen_hand_needs_no_keys(terminal):
    screen = terminal("--hand", "smooth")
    screen.wait_for("simulated pull 1, smooth hand")
    assert screen.program.wait(20) == 0
