"""Bytes to lines, however the bytes are cut."""

from __future__ import annotations

LONGEST_LINE_BYTES = 4096
_KEPT_OF_A_LONG_LINE = 60
_LINE_ENDS = bytes.maketrans(b"\r", b"\n")
# Zero bytes come from a line that breaks (and from UTF-16, which reads as text without them); XON and
# XOFF from flow control.  None of them is part of a number.
_DROPPED = b"\x00\x11\x13"
_BYTE_ORDER_MARKS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")


class LineCutter:
    r"""Cuts a stream of bytes at \n, \r or both; blank lines vanish, half a line waits for its end.

    A line of more than LONGEST_LINE_BYTES is handed on as its beginning and a remark, which no table
    takes for a row.
    """

    def __init__(self) -> None:
        self._rest = b""
        self._mid_line = False

    def feed(self, octets: bytes) -> list[bytes]:
        """Return the lines that these bytes complete, without their ends."""
        pieces = octets.translate(_LINE_ENDS, _DROPPED).split(b"\n")
        pieces[0] = self._rest + pieces[0]
        self._rest = pieces.pop()[: LONGEST_LINE_BYTES + 1]
        if self._mid_line and pieces:
            self._mid_line = False
            del pieces[0]
        return [line for piece in pieces if (line := _tidy(piece))]

    def finish(self) -> list[bytes]:
        """Return the last line of a stream that has ended, if it lacks its end."""
        return self.feed(b"\n") if self._rest else []

    def broken_off(self) -> None:
        """Forget half a line: the connection broke, and the next bytes may begin midway."""
        self._rest, self._mid_line = b"", True


def _tidy(line: bytes) -> bytes:
    for mark in _BYTE_ORDER_MARKS:
        line = line.removeprefix(mark)
    if len(line) > LONGEST_LINE_BYTES:
        return line[:_KEPT_OF_A_LONG_LINE] + b" ... a line without end"
    return line.strip()
