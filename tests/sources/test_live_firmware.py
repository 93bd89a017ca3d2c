"""Our own firmware: what it prints is read as it stands; the converter's two wires are imitated.

The imitation follows the usual timing of 24-bit load-cell converters with a two-wire port: data low means
ready; each clock pulse brings one bit, the highest first; 25 to 27 pulses choose the next input and gain.
"""

import re
import shutil
import subprocess
import sys
import types
from itertools import pairwise
from pathlib import Path

import pytest

from sources.live_bench import news, only_recording, read_lines

FIRMWARE = Path(__file__).parents[2] / "examples" / "firmware"
SCRIPT = FIRMWARE / "load_cell_micropython.py"
SKETCH = FIRMWARE / "load_cell_sketch" / "load_cell_sketch.ino"
COUNTS = [0, 1, -1, 84_210, -84_210, 0x7FFFFE, -0x7FFFFF, 0x7FFFFF, -0x800000]
PRINTED = [*map(str, COUNTS[:-2]), "ol", "ol"]


class OverError(Exception):
    """The converter has no more readings."""


class Converter:
    """A 24-bit converter behind two pins."""

    def __init__(self, counts):
        self.waiting, self.pulses, self.per_reading, self.bit = list(counts), 0, [], 0

    def clock(self, level):
        if level:
            if self.pulses < 24:
                self.bit = self.waiting[0] >> (23 - self.pulses) & 1
            self.pulses += 1

    def data(self):
        if 0 < self.pulses <= 24:
            return self.bit
        if self.pulses:  # the reading was taken
            self.per_reading.append(self.pulses)
            self.pulses = 0
            self.waiting.pop(0)
        if not self.waiting:
            raise OverError
        return 0


@pytest.fixture
def board(monkeypatch):
    """Run the MicroPython script's parts on a converter; returns (converter, the script's names)."""
    converter = Converter(COUNTS)
    ticks = iter(range(2**30 - 25_000, 2**31, 12_500))  # about to run over, as the board's counter does

    class Pin:
        OUT, IN = 1, 0

        def __init__(self, number, mode, value=None):
            self.mode = mode

        def value(self, level=None):
            return converter.data() if self.mode == Pin.IN else converter.clock(level)

    machine = types.SimpleNamespace(
        Pin=Pin, disable_irq=lambda: 7, enable_irq=lambda state: state == 7 or 1 / 0
    )
    clock = types.SimpleNamespace(
        ticks_us=lambda: next(ticks) % 2**30,
        ticks_diff=lambda a, b: (a - b + 2**29) % 2**30 - 2**29,
    )
    monkeypatch.setitem(sys.modules, "machine", machine)
    monkeypatch.setitem(sys.modules, "time", clock)
    names = {"__name__": "load_cell"}
    exec(compile(SCRIPT.read_text("utf-8"), str(SCRIPT), "exec"), names)
    return converter, names


def test_the_micropython_script_prints_a_heading_and_one_reading_a_line(board, capsys):
    converter, names = board
    with pytest.raises(OverError):
        names["main"]()
    head, *lines = capsys.readouterr().out.splitlines()
    assert head == "time_us,counts"
    assert [line.split(",")[1] for line in lines] == PRINTED
    assert [int(line.split(",")[0]) for line in lines] == [12_500 * (i + 1) for i in range(len(lines))]
    assert converter.per_reading == [25] * len(COUNTS)


def test_the_micropython_script_says_its_heading_again_as_a_remark(board, capsys):
    converter, names = board
    converter.waiting = [5] * 900
    with pytest.raises(OverError):
        names["main"]()
    lines = capsys.readouterr().out.splitlines()
    assert lines.count("# time_us,counts") == 2  # 900 readings at 80 a second: 11.25 s
    assert all(re.fullmatch(r"\d+,(-?\d+|ol)|#? ?time_us,counts", line) for line in lines)


def test_what_the_firmware_prints_is_read_with_a_scale_and_nothing_assumed():
    lines = [(100.0, b"time_us,counts\r\n")]
    lines += [
        (100 + i / 80, b"%d,%s\r\n" % (12_500 * i, b"ol" if i == 300 else b"%d" % (i % 9 - 4)))
        for i in range(800)
    ]
    lines.insert(400, (104.999, b"# time_us,counts\r\n"))
    told = read_lines(lines, scale_N=0.25)
    time_s, force_N = only_recording(told)
    assert time_s.size == 799
    assert force_N.min() == -1.0
    assert "assumed" not in news(told, "found out")[0]


STUB = r"""
#pragma once
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <vector>
#define HIGH 1
#define LOW 0
#define INPUT 0
#define OUTPUT 1
#define F(text) text
static std::vector<long> waiting = {WAITING};
static int pulses = 0, level = 0, interrupts_on = 1;
static uint32_t now_us = 4294967295u - 30000u;
inline void pinMode(int, int) {}
inline void noInterrupts() { interrupts_on = 0; }
inline void interrupts() { interrupts_on = 1; }
inline void delayMicroseconds(unsigned) {}
inline uint32_t micros() { return now_us += 12500; }
inline uint32_t millis() { return 1; }
inline void digitalWrite(int, int to) {
  if (to && !level) { if (interrupts_on) exit(3); pulses++; }
  level = to;
}
inline int digitalRead(int) {
  if (pulses > 0 && pulses <= 24) return (waiting[0] >> (24 - pulses)) & 1;
  if (pulses) { if (pulses != 25) exit(4); pulses = 0; waiting.erase(waiting.begin()); }
  if (waiting.empty()) exit(0);
  return LOW;
}
struct Port {
  void begin(long) {}
  void print(uint32_t n) { printf("%u", n); }
  void print(char c) { putchar(c); }
  void println(const char *text) { printf("%s\r\n", text); }
  void println(int32_t n) { printf("%d\r\n", n); }
};
static Port Serial;
"""


@pytest.mark.skipif(shutil.which("g++") is None, reason="needs a C++ compiler (g++)")
def test_the_sketch_compiles_without_a_warning_and_prints_the_same(tmp_path):
    waiting = ", ".join(map(str, COUNTS))
    (tmp_path / "Arduino.h").write_text(STUB.replace("{WAITING}", "{" + waiting + "}"))
    program = f'#include "Arduino.h"\n#include "{SKETCH}"\nint main() {{ setup(); for (;;) loop(); }}\n'
    (tmp_path / "main.cpp").write_text(program)
    command = [
        "g++",
        "-std=c++11",
        "-Wall",
        "-Wextra",
        "-Werror",
        "-I",
        str(tmp_path),
        "main.cpp",
        "-o",
        "board",
    ]
    built = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, timeout=120, check=False)
    assert built.returncode == 0, built.stderr
    ran = subprocess.run([str(tmp_path / "board")], capture_output=True, text=True, timeout=20, check=False)
    assert ran.returncode == 0
    head, *lines = ran.stdout.split()
    assert head == "time_us,counts"
    assert [line.split(",")[1] for line in lines] == PRINTED
    times_us = [int(line.split(",")[0]) for line in lines]
    assert [(b - a) % 2**32 for a, b in pairwise(times_us)] == [12_500] * (len(lines) - 1)


def test_the_wiring_table_names_the_pins_that_the_programs_use():
    readme = (FIRMWARE / "README.md").read_text("utf-8")
    for text in (SCRIPT.read_text("utf-8"), SKETCH.read_text("utf-8")):
        clock = re.search(r"CLOCK_PIN = (\d+)", text).group(1)
        data = re.search(r"DATA_PIN = (\d+)", text).group(1)
        assert f"| converter SCK (clock) | board pin {clock} |" in readme
        assert f"| converter DT (data) | board pin {data} |" in readme
    assert "--scale" in readme
