"""Lines from a serial port: any load cell on a microcontroller."""

from __future__ import annotations

import contextlib
import errno
import os
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from pullbench.errors import SourceError
from pullbench.model import News
from pullbench.sources.choices import TableChoices
from pullbench.sources.live.bauds import BAUDS, BaudFinder, TunablePort
from pullbench.sources.live.line_source import LineSource
from pullbench.sources.live.source import Clock, GoneError, Octets, WAIT_s

if TYPE_CHECKING:
    import serial

Opener = Callable[[str, int], TunablePort]
_NO_CHOICES = TableChoices()
_ALLOWED = "A sensor must be plugged in, free, and open to this user."


class SerialLines(LineSource):
    """Text lines from a serial port; the baud rate is found out unless given.

    When the plug is drawn the port is tried again twice a second.  opener: opens a port at a rate; for
    tests, since a pseudo-terminal knows no rates.
    """

    check_when_silent = (
        "Check the cable (some only charge), that the board runs, and that no other program reads the port."
    )
    joined_midway = True

    def __init__(
        self,
        port: str,
        baud: int | None = None,
        choices: TableChoices = _NO_CHOICES,
        *,
        opener: Opener | None = None,
    ) -> None:
        if baud is not None and not 50 <= baud <= 20_000_000:
            raise SourceError(
                "baud-impossible",
                f"The baud rate is {baud}.",
                "It must be between 50 and 20000000, usually 115200 or 9600.",
                "Give --baud the rate in the sensor's program, or leave it out.",
            )
        super().__init__(choices)
        self._port, self._baud, self._opener = port, baud, opener or open_serial
        self._finder: BaudFinder | None = None

    @property
    def name(self) -> str:
        """Return the port and its rate, once it is known."""
        baud = self._baud or (self._finder.found if self._finder is not None else None)
        return f"serial port {self._port}" + (f", {baud} baud" if baud else "")

    def _open(self, clock: Clock) -> Octets:
        if self._baud is not None:
            return _FixedBaud(self._opener(self._port, self._baud))
        before = self._finder.found if self._finder is not None else None
        port = self._opener(self._port, before or BAUDS[0])
        self._finder = BaudFinder(port, f"serial port {self._port}", clock, before)
        return self._finder


class _FixedBaud:
    """A port at the rate that the person gave."""

    def __init__(self, port: TunablePort) -> None:
        self._port = port

    def read(self, wait_s: float) -> bytes:
        """Return what came."""
        return self._port.read(wait_s)

    def news(self) -> list[News]:
        """Return nothing: all is given."""
        return []

    def close(self) -> None:
        """Let go of the port."""
        self._port.close()


def open_serial(port: str, baud: int) -> TunablePort:
    """Open a port of this machine, for us alone.  Raises SourceError with what to do."""
    import serial  # here, as only this source needs it

    try:
        return _SerialPort(serial.Serial(port, baud, timeout=WAIT_s, exclusive=True))
    except (OSError, ValueError) as error:  # serial.SerialException is an OSError
        raise _refused(port, error) from error


class _SerialPort:
    """A port of this machine."""

    def __init__(self, port: serial.Serial) -> None:
        self._port = port

    def read(self, wait_s: float) -> bytes:
        """Return what came, waiting at most wait_s for the first byte; raises GoneError."""
        try:
            # The time limit was set once: setting it anew makes pyserial configure the whole port again.
            first: bytes = self._port.read(1) if wait_s and not self._port.in_waiting else b""
            return first + bytes(self._port.read(self._port.in_waiting))
        except (OSError, TypeError) as error:  # TypeError: pyserial, when the port is closed meanwhile
            raise GoneError("unplugged or switched off") from error

    def tune(self, baud: int) -> None:
        """Listen at this rate from now on."""
        try:
            if self._port.baudrate != baud:
                self._port.baudrate = baud
                self._port.reset_input_buffer()
        except (OSError, ValueError) as error:
            raise GoneError(f"it refuses {baud} baud") from error

    def close(self) -> None:
        """Let go of the port."""
        with contextlib.suppress(OSError):  # it may be gone already
            self._port.close()


def _refused(port: str, error: Any) -> SourceError:
    """Return the error for a port that cannot be opened, with what to do about it on this machine."""
    text, code = str(error), getattr(error, "errno", None)
    if code in (errno.ENOENT, errno.ENODEV, errno.ENXIO) or "FileNotFoundError" in text:
        what = f"There is no serial port {port}. {_ports_seen()}"
        return SourceError("port-missing", what, _ALLOWED, "Plug the sensor in, or give --serial its port.")
    if code in (errno.EACCES, errno.EPERM):
        what = f"The serial port {port} is closed to this user."
        return SourceError("port-forbidden", what, _ALLOWED, _how_to_get_permission(port))
    if code in (errno.EBUSY, errno.EAGAIN) or "lock port" in text or "PermissionError" in text:
        what = f"The serial port {port} is in use by another program."
        return SourceError("port-busy", what, _ALLOWED, "Close the other program, such as a serial monitor.")
    what = f"The serial port {port} cannot be opened ({text})."
    return SourceError("port-unusable", what, _ALLOWED, "Check that it is a serial port, and its --baud.")


def _ports_seen() -> str:
    from serial.tools import list_ports

    seen = sorted(port.device for port in list_ports.comports())
    return f"Ports seen here: {', '.join(seen)}." if seen else "No serial port is seen here."


def _how_to_get_permission(port: str) -> str:
    if sys.platform == "win32":
        return "Close other programs that use it."
    import grp

    try:
        group = grp.getgrgid(os.stat(port).st_gid).gr_name
    except (OSError, KeyError):
        return "Ask for the right to read and write it."
    return f"It belongs to the group {group}: sudo usermod -aG {group} $USER, then log in again."
