"""Lines over TCP: a sensor on the network, or another program that hands samples on."""

from __future__ import annotations

import select
import socket

from pullbench.errors import SourceError
from pullbench.model import News
from pullbench.sources.choices import TableChoices
from pullbench.sources.live.line_source import LineSource
from pullbench.sources.live.source import Clock, GoneError, Octets

_PATIENCE_s, _AGAIN_s = 3.0, 0.09
_BLOCK_BYTES = 1 << 16
_NO_CHOICES = TableChoices()


class TcpLines(LineSource):
    """Text lines from a host and port, as a client; when the connection breaks it is made again."""

    check_when_silent = "Check that the other program sends, and that both are on one network."

    def __init__(self, host: str, port: int, choices: TableChoices = _NO_CHOICES) -> None:
        super().__init__(choices)
        self._address = (host, port)

    @property
    def name(self) -> str:
        """Return the address in words."""
        return "connection to {}:{}".format(*self._address)

    def _open(self, clock: Clock) -> Octets:
        return self._connect(_PATIENCE_s)

    def _open_again(self, clock: Clock) -> Octets:
        return self._connect(_AGAIN_s)

    def _connect(self, patience_s: float) -> Octets:
        host, port = self._address
        try:
            return _SocketOctets(socket.create_connection(self._address, timeout=patience_s))
        except socket.gaierror as error:
            raise _refused("host-unknown", f"No host {host!r} is known.", "Check the name.") from error
        except (OSError, OverflowError) as error:
            why = (
                "no answer" if isinstance(error, TimeoutError) else getattr(error, "strerror", None) or error
            )
            what = f"{host}:{port} cannot be reached ({why})."
            raise _refused("connection-refused", what, "Start the program that sends, then this.") from error


def _refused(code: str, what: str, next_step: str) -> SourceError:
    allowed = "A program there must accept connections and send one reading a line."
    return SourceError(code, what, allowed, f"{next_step} --tcp takes HOST:PORT.")


class _SocketOctets:
    """A connected socket."""

    def __init__(self, connection: socket.socket) -> None:
        connection.setblocking(False)
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE, 1)
        self._connection = connection

    def read(self, wait_s: float) -> bytes:
        """Return what came; raises GoneError when the other side has hung up."""
        if not select.select([self._connection], [], [], wait_s)[0]:
            return b""
        try:
            data = self._connection.recv(_BLOCK_BYTES)
        except BlockingIOError:
            return b""
        except OSError as error:
            raise GoneError(error.strerror or "broken") from error
        if not data:
            raise GoneError("the other side hung up")
        return data

    def news(self) -> list[News]:
        """Return nothing: a socket is as it is."""
        return []

    def close(self) -> None:
        """Hang up."""
        self._connection.close()
