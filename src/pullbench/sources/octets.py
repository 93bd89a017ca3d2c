"""From a file's bytes to blocks of whole lines: encodings undone, line ends made one, never unbounded."""

from __future__ import annotations

import codecs
import pathlib
import stat
from collections.abc import Iterator

from pullbench.errors import RecordingError
from pullbench.sources.choices import is_plain_ascii_superset
from pullbench.sources.foreign import refuse_binary, refuse_foreign_files

BLOCK_BYTES = 1 << 19  # about 35 000 rows of two columns
LONGEST_LINE_BYTES = 1 << 20
_HEAD_BYTES = 1 << 16
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),  # before UTF-16: its mark begins with the same two bytes
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)


def file_encoding(path: pathlib.Path, chosen: str | None) -> str:
    """Return the encoding of a text file, after refusing what cannot be opened or is no text.

    chosen: the person's choice or None.  The answer is "utf-8" or "latin-1" (told apart by whether the
    first 64 KiB are valid UTF-8), "utf-16-le", "utf-16-be" or "utf-32-…" (by mark or pattern of zeros).
    Raises RecordingError for a missing, forbidden, empty, binary or otherwise foreign file.
    """
    head = _head(path)
    refuse_foreign_files(head, path.name)
    encoding = chosen or _guessed(head)
    text = head if is_plain_ascii_superset(encoding) else _undone(head, encoding)
    refuse_foreign_files(text, path.name)
    refuse_binary(text, path.name)
    return encoding


def blocks(path: pathlib.Path, encoding: str, *, block_bytes: int = BLOCK_BYTES) -> Iterator[bytes]:
    r"""Yield the file's text as bytes in blocks of whole lines, each line ended by one \n.

    Text is handed on in the file's own encoding if that writes ASCII as single bytes, else as UTF-8;
    a byte order mark is dropped.  Raises RecordingError when a line is longer than LONGEST_LINE_BYTES.
    """
    rest = b""
    for piece in _plain_lines(_undone_pieces(path, encoding, block_bytes)):
        rest += piece
        end = rest.rfind(b"\n") + 1
        if end:
            yield rest[:end]
            rest = rest[end:]
        if len(rest) > LONGEST_LINE_BYTES:
            raise _line_too_long(path.name)
    if rest:
        yield rest + b"\n"


def as_text(line: bytes, encoding: str) -> str:
    """Return one line of a block as text; bytes that do not fit become Latin-1 or replacement signs."""
    if not is_plain_ascii_superset(encoding):
        encoding = "utf-8"
    try:
        return line.decode(encoding)
    except UnicodeDecodeError:
        return line.decode("latin-1")


def _head(path: pathlib.Path) -> bytes:
    try:
        mode = path.stat().st_mode
        head = b""
        if stat.S_ISREG(mode):
            with path.open("rb") as file:
                head = file.read(_HEAD_BYTES)
    except FileNotFoundError as error:
        raise _cannot_open("recording-missing", path, "does not exist.") from error
    except PermissionError as error:
        raise _cannot_open("recording-forbidden", path, "may not be read by this user.") from error
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        raise _cannot_open("recording-unreadable", path, f"cannot be read ({error}).") from error
    if stat.S_ISDIR(mode):
        raise _cannot_open("recording-is-folder", path, "is a folder.")
    if not stat.S_ISREG(mode):
        raise _cannot_open("recording-not-a-file", path, "is no ordinary file.")
    if not head:
        raise _cannot_open("recording-empty", path, "is empty.")
    return head


def _guessed(head: bytes) -> str:
    for mark, name in _BOMS:
        if head.startswith(mark):
            return name
    zeros_even, zeros_odd = head[0::2].count(0), head[1::2].count(0)
    # A table is digits and separators: in UTF-16 nearly every second byte is zero.
    if zeros_odd * 10 > len(head) * 4 and zeros_even * 20 < len(head):
        return "utf-16-le"
    if zeros_even * 10 > len(head) * 4 and zeros_odd * 20 < len(head):
        return "utf-16-be"
    try:
        codecs.getincrementaldecoder("utf-8")().decode(head)  # incremental: the cut may split a character
    except UnicodeDecodeError:
        return "latin-1"
    return "utf-8"


def _undone(head: bytes, encoding: str) -> bytes:
    decoder = codecs.getincrementaldecoder(encoding)(errors="replace")
    try:
        return decoder.decode(head).encode("utf-8", errors="replace")
    except UnicodeError as error:  # some codecs refuse in spite of errors="replace"
        raise _wrong_encoding(encoding) from error


def _undone_pieces(path: pathlib.Path, encoding: str, block_bytes: int) -> Iterator[bytes]:
    plain = is_plain_ascii_superset(encoding)
    decoder = codecs.getincrementaldecoder("utf-8" if plain else encoding)(errors="replace")
    try:
        with path.open("rb") as file:
            first = True
            while raw := file.read(block_bytes):
                piece = raw if plain else decoder.decode(raw).encode("utf-8", errors="replace")
                yield piece.removeprefix(codecs.BOM_UTF8) if first else piece
                first = False
            if not plain:
                yield decoder.decode(b"", final=True).encode("utf-8", errors="replace")
    except UnicodeError as error:
        raise _wrong_encoding(encoding) from error
    except OSError as error:
        raise _cannot_open("recording-unreadable", path, f"cannot be read ({error}).") from error


def _plain_lines(pieces: Iterator[bytes]) -> Iterator[bytes]:
    r"""Turn \r\n and \r into \n; a \r at the end of a piece waits, its \n may come with the next."""
    waiting = b""
    for raw in pieces:
        piece = waiting + raw
        waiting = b"\r" if piece.endswith(b"\r") else b""
        if waiting:
            piece = piece[:-1]
        if b"\r" in piece:
            piece = piece.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
        yield piece
    if waiting:
        yield b"\n"


def _cannot_open(code: str, path: pathlib.Path, fault: str) -> RecordingError:
    return RecordingError(
        code,
        f"{str(path)!r} {fault}",
        "A recording is a text file that may be read and holds at least two readings.",
        "Check the name and the place of the file.",
    )


def _line_too_long(name: str) -> RecordingError:
    return RecordingError(
        "line-too-long",
        f"{name} has a line of more than {LONGEST_LINE_BYTES} bytes.",
        "Readings come one line per sample.",
        "Export the readings as a text table with a line end after each sample.",
    )


def _wrong_encoding(encoding: str) -> RecordingError:
    return RecordingError(
        "encoding-wrong",
        f"The text cannot be read as {encoding}.",
        "The encoding must be the one the file was written in.",
        "Give --encoding another name, or leave it out.",
    )
