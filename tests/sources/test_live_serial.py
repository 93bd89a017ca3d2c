"""A serial port, over a real pseudo-terminal pair; baud rates with a port that garbles at wrong ones."""

import os
import threading
import time

import numpy as np
import pytest

from pullbench.errors import SourceError
from pullbench.sources import SerialLines, TableChoices
from pullbench.sources.live.bauds import BAUDS, BaudFinder, judge
from pullbench.sources.live.source import GoneError
from sources.live_bench import FakeClock, Listener, flaws, news, only_recording, recordings

pty = pytest.importorskip("pty", reason="pseudo-terminals are a Unix thing")
tty = pytest.importorskip("tty", reason="pseudo-terminals are a Unix thing")


class Board:
    """A microcontroller at the far end of a pseudo-terminal, plugged in behind a steady path."""

    def __init__(self, path):
        self.path, self.far = path, None

    def plug(self):
        self.far, near = os.openpty()
        tty.setraw(near)
        self.path.unlink(missing_ok=True)
        self.path.symlink_to(os.ttyname(near))
        self._near = near
        return self

    def unplug(self):
        self.path.unlink()
        os.close(self._near)
        os.close(self.far)
        self.far = None

    def say(self, octets):
        os.write(self.far, octets)

    def stream(self, count, line, *, rate_Hz=1000, first=0, every_s=0.01):
        """Write lines at a steady rate, a few at a time as a USB converter does."""
        began_s, sent = time.monotonic(), 0
        while sent < count:
            due = min(count, int((time.monotonic() - began_s) * rate_Hz) + 1)
            if due > sent:
                self.say(b"".join(line(first + i) for i in range(sent, due)))
                sent = due
            time.sleep(every_s)


def ms_and_force(i):
    return b"%d,%d.5\r\n" % (i, i % 7)


@pytest.fixture
def board(tmp_path):
    board = Board(tmp_path / "sensor").plug()
    yield board
    if board.far is not None:
        board.unplug()


def test_a_steady_kilohertz_arrives_whole(board):
    with Listener(SerialLines(str(board.path))) as listener:
        listener.until_news("connected")
        board.stream(2500, ms_and_force)
        listener.until(lambda s: s.samples >= 2499)  # the newest waits for the next
    time_s, force_N = only_recording(listener.told)
    np.testing.assert_array_equal(time_s, np.arange(2500) / 1000)
    np.testing.assert_array_equal(force_N, np.arange(2500) % 7 + 0.5)
    assert flaws(listener.told) == []
    assert listener.source.name == f"serial port {board.path}, 115200 baud"
    assert listener.longest_silence_s < 0.5  # 0.1 s on an idle machine


def test_lines_in_pieces_with_garbage_between_cost_only_the_garbage(board):
    with Listener(SerialLines(str(board.path), 115200)) as listener:
        listener.until_news("connected")
        for i in range(300):
            text = ms_and_force(10 * i)
            board.say(text[:3])
            time.sleep(0.002)
            board.say(text[3:] + (b"\xfe\x01#\n" if i == 200 else b""))
            time.sleep(0.006)
        listener.until(lambda s: s.samples >= 299)
    assert only_recording(listener.told)[0].size == 300
    assert [flaw.kind for flaw in flaws(listener.told)] == ["unreadable lines"]


def test_a_drawn_plug_is_told_and_a_new_device_clock_is_a_new_recording(board):
    with Listener(SerialLines(str(board.path))) as listener:
        listener.until_news("connected")
        board.stream(1500, ms_and_force, first=60_000)
        board.unplug()
        listener.until_news("lost")
        board.plug()
        listener.until_news("back")
        board.stream(1500, ms_and_force)
        listener.until(lambda s: s.samples >= 2990)
    first, second = recordings(listener.told)
    assert first[0].size == 1500
    assert first[0][-1] == 61.499
    assert second[0].size >= 1499  # the first line may be half a line
    assert second[0][-1] == 1.499


def test_a_device_clock_that_went_on_leaves_a_gap_in_one_recording(board):
    with Listener(SerialLines(str(board.path))) as listener:
        listener.until_news("connected")
        board.stream(1500, ms_and_force)
        board.unplug()
        listener.until_news("lost")
        board.plug()
        listener.until_news("back")
        board.stream(500, ms_and_force, first=3000)
        listener.until(lambda s: s.samples >= 1990)
    time_s, _ = only_recording(listener.told)
    (flaw,) = flaws(listener.told)
    assert (flaw.kind, flaw.start_s) == ("gap", 1.499)
    assert flaw.end_s == time_s[1500]


def test_bare_numbers_survive_a_drawn_plug_with_a_gap(board):
    with Listener(SerialLines(str(board.path))) as listener:
        listener.until_news("connected")
        board.stream(300, lambda i: b"%d.5\n" % i, rate_Hz=100)
        listener.until(lambda s: s.samples >= 290)
        board.unplug()
        listener.until_news("lost")
        away_s = time.monotonic()
        board.plug()
        listener.until_news("back")
        away_s = time.monotonic() - away_s
        board.stream(200, lambda i: b"%d.5\n" % i, rate_Hz=100)
        listener.until(lambda s: s.samples >= 490)
    time_s, _ = only_recording(listener.told)
    (flaw,) = flaws(listener.told)
    assert flaw.kind == "gap"
    assert away_s < flaw.end_s - flaw.start_s < away_s + 1.0
    assert np.diff(time_s).max() == pytest.approx(flaw.end_s - flaw.start_s, abs=0.02)


def test_a_silent_port_is_told_with_what_to_check_and_so_is_its_return(board):
    with Listener(SerialLines(str(board.path))) as listener:
        listener.until_news("silent")
        board.stream(300, ms_and_force)
        listener.until_news("back")
    assert "Check the cable" in news(listener.told, "silent")[0]


def test_a_missing_port_is_refused_with_what_to_do(tmp_path):
    with Listener(SerialLines(str(tmp_path / "none"))) as listener:
        listener._thread.join(5)
    assert listener.error.code == "port-missing"
    assert "Plug the sensor in" in str(listener.error)


def test_a_port_in_use_is_refused_with_what_to_do(board):
    with Listener(SerialLines(str(board.path))) as first:
        first.until_news("connected")
        with Listener(SerialLines(str(board.path))) as second:
            second._thread.join(5)
    assert second.error.code == "port-busy"
    assert "Close the other program" in str(second.error)


def test_a_port_without_permission_names_the_group_to_join(tmp_path, monkeypatch):
    serial = pytest.importorskip("serial", reason="needs pyserial")
    grp = pytest.importorskip("grp", reason="groups are a Unix thing")
    port = tmp_path / "closed"
    port.touch()

    def refuse(*_, **__):
        raise serial.SerialException(13, "could not open port: Permission denied")

    monkeypatch.setattr(serial, "Serial", refuse)
    with Listener(SerialLines(str(port))) as listener:
        listener._thread.join(5)
    assert listener.error.code == "port-forbidden"
    assert f"group {grp.getgrgid(port.stat().st_gid).gr_name}:" in str(listener.error)


def test_a_file_that_is_no_port_is_refused(tmp_path):
    (tmp_path / "notes.txt").write_text("no port\n")
    with Listener(SerialLines(str(tmp_path / "notes.txt"))) as listener:
        listener._thread.join(5)
    assert listener.error.code == "port-unusable"


@pytest.mark.parametrize("baud", [0, -9600, 10**9])
def test_an_impossible_baud_rate_is_refused(baud):
    with pytest.raises(SourceError, match="baud"):
        SerialLines("/dev/null", baud)


class Garbling:
    """A port whose bytes make sense at one rate only; at others bits fall into the wrong places."""

    def __init__(self, clock, true_baud, line=ms_and_force, rate_Hz=100):
        self.clock, self.true_baud, self.baud, self.line, self.rate_Hz = clock, true_baud, None, line, rate_Hz
        self.sent, self.gone = 0, False
        self._rng = np.random.default_rng(5)

    def read(self, wait_s):
        if self.gone:
            raise GoneError("unplugged")
        self.clock.now_s += wait_s
        due = int((self.clock.now_s - 100.0) * self.rate_Hz)
        octets = b"".join(self.line(10 * i) for i in range(self.sent, due))
        self.sent = max(self.sent, due)
        if self.baud == self.true_baud:
            return octets
        return self._rng.integers(0, 256, len(octets) * self.baud // self.true_baud + 1, np.uint8).tobytes()

    def tune(self, baud):
        self.baud = baud

    def close(self):
        pass


def deliveries_of(source, clock, until_s):
    told = []
    for delivery in source.deliveries(clock=clock, sleep=clock.sleep):
        told.append(delivery)
        if clock.now_s >= until_s:
            source.close()
    return told


@pytest.mark.parametrize("true_baud", BAUDS)
@pytest.mark.parametrize("rate_Hz", [10, 100])
def test_the_baud_rate_is_found_out_and_said(true_baud, rate_Hz):
    clock = FakeClock()
    port = Garbling(clock, true_baud, rate_Hz=rate_Hz)
    source = SerialLines("X1", opener=lambda *_: port)
    told = deliveries_of(source, clock, 125.0)
    assert f"The serial port X1 speaks at {true_baud} baud." in news(told, "found out")
    assert source.name == f"serial port X1, {true_baud} baud"
    time_s, _ = only_recording(told)
    assert np.diff(time_s) == pytest.approx(0.01)


def test_a_baud_rate_that_changes_is_found_again():
    clock = FakeClock()
    port = Garbling(clock, 115200)
    source = SerialLines("X1", opener=lambda *_: port)
    told = []
    for delivery in source.deliveries(clock=clock, sleep=clock.sleep):
        told.append(delivery)
        if clock.now_s > 105:
            port.true_baud = 9600
        if clock.now_s > 120:
            source.close()
    assert [s.split()[-2] for s in news(told, "found out") if "speaks" in s] == ["115200", "9600"]
    assert any("turned to noise" in sentence for sentence in news(told, "not numbers"))
    assert recordings(told)[-1][0][-1] > 15


def test_no_usual_baud_rate_is_told_with_what_to_do():
    clock = FakeClock()
    source = SerialLines("X1", opener=lambda *_: Garbling(clock, 31250))
    told = deliveries_of(source, clock, 120.0)
    assert "--baud" in news(told, "not numbers")[0]


def test_a_given_baud_rate_is_not_doubted():
    clock = FakeClock()
    opened = []
    port = Garbling(clock, 9600)

    def opener(name, baud):
        opened.append((name, baud))
        port.tune(baud)
        return port

    told = deliveries_of(SerialLines("X1", 115200, opener=opener), clock, 112.0)
    assert opened == [("X1", 115200)]
    assert recordings(told) == []
    assert "Check the baud rate" in news(told, "not numbers")[0]


@pytest.mark.parametrize(
    ("octets", "judgement"),
    [
        (b"0.5\n0.6\n0.7\n0.6\n0.5\n", "numbers"),
        (b"12,0.5 N\r\n13,0.6 N\r\n14,0.7 N\r\n15,0.6 N\r\n", "numbers"),
        (b"board ready\r\nwaiting\r\n", "words"),
        (bytes(range(120, 250)), "noise"),
        (b"0.5\n", "little"),
    ],
)
def test_bytes_are_judged_by_what_they_look_like(octets, judgement):
    assert judge(octets) == judgement


def test_nothing_that_came_at_the_right_rate_is_lost_by_looking():
    clock = FakeClock()
    port = Garbling(clock, 115200)
    finder = BaudFinder(port, "serial port X1", clock)
    heard = b"".join(finder.read(0.05) for _ in range(60))
    assert heard == b"".join(ms_and_force(10 * i) for i in range(port.sent))


def test_closing_from_another_thread_ends_the_deliveries_soon(board):
    source = SerialLines(str(board.path), choices=TableChoices())
    threading.Timer(0.3, source.close).start()
    began_s = time.monotonic()
    list(source.deliveries(clock=time.monotonic, sleep=time.sleep))
    assert time.monotonic() - began_s < 1.5
