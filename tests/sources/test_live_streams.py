"""Lines over TCP on loopback, and from standard input."""

import io
import os
import socket
import subprocess
import sys
import time

import numpy as np
import pytest

from pullbench.model import Ended
from pullbench.sources import StandardInput, TableChoices, TcpLines, read_table
from sources.invented import digits, table
from sources.live_bench import Listener, flaws, news, only_recording, recordings


class Server:
    """A program that sends lines to whoever connects."""

    def __init__(self, port=0):
        self._listening = socket.create_server(("127.0.0.1", port))
        self.port = self._listening.getsockname()[1]
        self._other = None

    def accept(self):
        self._listening.settimeout(5)
        self._other = self._listening.accept()[0]

    def say(self, octets):
        self._other.sendall(octets)

    def hang_up(self):
        for end in (self._other, self._listening):
            if end is not None:
                end.close()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.hang_up()


def stream(server, count, *, first=0, rate_Hz=1000):
    began_s, sent = time.monotonic(), 0
    while sent < count:
        due = min(count, int((time.monotonic() - began_s) * rate_Hz) + 1)
        server.say(b"".join(b"%d;%d,5\n" % (first + i, i % 7) for i in range(sent, due)))
        sent = due
        time.sleep(0.01)


def test_lines_over_tcp_arrive_whole():
    with Server() as server, Listener(TcpLines("127.0.0.1", server.port)) as listener:
        server.accept()
        stream(server, 2500)
        listener.until(lambda s: s.samples >= 2499)
    time_s, force_N = only_recording(listener.told)
    np.testing.assert_array_equal(time_s, np.arange(2500) / 1000)
    np.testing.assert_array_equal(force_N, np.arange(2500) % 7 + 0.5)


def test_a_broken_connection_is_made_again_and_the_gap_is_marked():
    with Server() as server, Listener(TcpLines("127.0.0.1", server.port)) as listener:
        server.accept()
        stream(server, 1500)
        server.hang_up()
        listener.until_news("lost")
        with Server(server.port) as again:
            again.accept()
            listener.until_news("back")
            stream(again, 500, first=4000)
            listener.until(lambda s: s.samples >= 1990)
    assert [flaw.kind for flaw in flaws(listener.told)] == ["gap"]
    assert only_recording(listener.told)[0][-1] == 4.499


def test_a_host_that_does_not_answer_is_refused_with_what_to_do():
    with Server() as server:
        port = server.port
    with Listener(TcpLines("127.0.0.1", port)) as listener:
        listener._thread.join(5)
    assert listener.error.code == "connection-refused"
    assert "Start the program that sends" in str(listener.error)


def test_an_impossible_port_number_is_refused():
    with Listener(TcpLines("127.0.0.1", 99_999)) as listener:
        listener._thread.join(5)
    assert listener.error.code == "connection-refused"


@pytest.mark.parametrize("head", ["Zeit [ms];Kraft [mN]", "", "time_ms;force_mN"])
def test_a_table_through_standard_input_reads_as_the_file_does_digit_for_digit(tmp_path, head):
    text = table(digits(), "{t};{f}" if not head else "{ms};{mN}", head)
    (tmp_path / "pull.csv").write_text(text)
    trace, _ = read_table(tmp_path / "pull.csv")
    with Listener(StandardInput(io.BytesIO(text.encode()))) as listener:
        listener._thread.join(8)
    time_s, force_N = only_recording(listener.told)
    np.testing.assert_array_equal(time_s, trace.time_s)
    np.testing.assert_array_equal(force_N, trace.force_N)


def test_the_end_of_standard_input_ends_the_watch():
    with Listener(StandardInput(io.StringIO("0.0,2\n0.1,2\n0.2,1\n"))) as listener:
        listener._thread.join(5)
    assert isinstance(listener.told[-1], Ended)
    assert "ended" in news(listener.told, "stopped")[0]


def test_no_input_at_all_ends_without_a_recording():
    with Listener(StandardInput(io.BytesIO(b""))) as listener:
        listener._thread.join(5)
    assert listener.error is None
    assert recordings(listener.told) == []


def test_input_that_is_no_numbers_is_told():
    with Listener(StandardInput(io.BytesIO(b"no driver found\nplease install one\n" * 9))) as listener:
        listener._thread.join(5)
    assert "no numbers" in news(listener.told, "not numbers")[0]


def test_lines_of_a_pipe_arrive_while_it_is_open():
    near, far = os.pipe()
    with os.fdopen(near, "rb") as stream_in, Listener(StandardInput(stream_in)) as listener:
        for i in range(150):
            os.write(far, b"%.2f,%d\n" % (i / 100, i % 3))
            time.sleep(0.01)
        listener.until(lambda s: s.samples > 100)
        os.close(far)
        listener._thread.join(5)
    assert only_recording(listener.told)[0].size == 150


def test_a_driver_piped_into_a_process_is_read_to_its_end():
    script = (
        "import time\n"
        "from pullbench.model import Chunk\n"
        "from pullbench.sources import StandardInput\n"
        "told = StandardInput().deliveries(clock=time.monotonic, sleep=time.sleep)\n"
        "print(sum(d.time_s.size for d in told if isinstance(d, Chunk)))\n"
    )
    text = "time_ms,force_N\n" + "".join(f"{i},{i % 5}\n" for i in range(5000))
    done = subprocess.run(
        [sys.executable, "-c", script], input=text.encode(), capture_output=True, timeout=60, check=True
    )
    assert (done.stdout, done.stderr) == (b"5000\n", b"")


def test_a_process_can_stand_down_while_the_pipe_is_still_open():
    script = (
        "import threading, time\n"
        "from pullbench.sources import StandardInput\n"
        "source = StandardInput()\n"
        "threading.Timer(0.3, source.close).start()\n"
        "print(len(list(source.deliveries(clock=time.monotonic, sleep=time.sleep))) > 2)\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", script], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        process.stdin.write(b"0.1,2\n")
        process.stdin.flush()
        assert process.wait(20) == 0
        assert (process.stdout.read(), process.stderr.read()) == (b"True\n", b"")


def test_the_choices_reach_the_lines():
    text = "".join(f"{i},{i % 5}\n" for i in range(1000))
    choices = TableChoices(time_unit="ms", force_unit="mN")
    with Listener(StandardInput(io.BytesIO(text.encode()), choices)) as listener:
        listener._thread.join(5)
    assert only_recording(listener.told)[1].max() == pytest.approx(0.004)
