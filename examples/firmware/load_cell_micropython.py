"""A load cell on a 24-bit converter, read as fast as the converter measures; one line a reading.

For MicroPython: copy it to the board as main.py. Prints "time_us,counts", then lines such as
"1234567,-84210", and the heading again as a remark every five seconds, for a listener who came late.
A reading at the converter's end ("ol") is left out by the listener. The wiring is in the README.
"""

import time

import machine

CLOCK_PIN = 2  # to the converter's clock input
DATA_PIN = 3  # to the converter's data output

BITS = 24
EXTRA_PULSES = 1  # 1: input A, gain 128. 2: input B, gain 32. 3: input A, gain 64.
HIGHEST, LOWEST = 0x7FFFFF, -0x800000
HEADING_EVERY_US = 5_000_000


class LoadCell:
    """The two wires of the converter."""

    def __init__(self, clock_pin, data_pin):
        self._clock = machine.Pin(clock_pin, machine.Pin.OUT, value=0)
        self._data = machine.Pin(data_pin, machine.Pin.IN)

    def is_ready(self):
        """Say whether a reading waits: the data line is low then."""
        return self._data.value() == 0

    def counts(self):
        """Return the waiting reading, from -0x800000 to 0x7FFFFF."""
        clock, data, bits = self._clock, self._data, 0
        # Interrupts off: a clock line that is high for 60 µs sends the converter to sleep.
        before = machine.disable_irq()
        for _ in range(BITS):
            clock.value(1)
            clock.value(0)
            bits = bits << 1 | data.value()  # the highest bit comes first
        for _ in range(EXTRA_PULSES):  # chooses input and gain of the next reading
            clock.value(1)
            clock.value(0)
        machine.enable_irq(before)
        return bits - 0x1000000 if bits & 0x800000 else bits


class Stopwatch:
    """Microseconds since the start; the board's own counter starts again every few minutes."""

    def __init__(self):
        self._newest, self._elapsed_us = time.ticks_us(), 0

    def elapsed_us(self):
        """Return the microseconds since the start."""
        now = time.ticks_us()
        self._elapsed_us += time.ticks_diff(now, self._newest)
        self._newest = now
        return self._elapsed_us


def line(time_us, counts):
    """Return one reading as it is printed."""
    return "{},{}".format(time_us, "ol" if counts in (HIGHEST, LOWEST) else counts)


def main():
    """Print readings without end."""
    cell, watch, heading_at_us = LoadCell(CLOCK_PIN, DATA_PIN), Stopwatch(), 0
    print("time_us,counts")
    while True:
        if not cell.is_ready():
            continue
        time_us = watch.elapsed_us()
        print(line(time_us, cell.counts()))
        if time_us - heading_at_us >= HEADING_EVERY_US:
            print("# time_us,counts")
            heading_at_us = time_us


if __name__ == "__main__":
    main()
