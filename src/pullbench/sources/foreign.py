"""Files that are no text table: say what they are and how to get a text table out of them."""

from __future__ import annotations

import re

from pullbench.errors import RecordingError

_MAGIC: tuple[tuple[bytes, str, str], ...] = (
    (b"MATLAB ", "recording-matlab", "a MATLAB data file (.mat)"),
    (b"\x89HDF\r\n\x1a\n", "recording-binary", "an HDF5 file (newer MATLAB files are such)"),
    (b"PK\x03\x04", "recording-spreadsheet", "a zip archive, as spreadsheet programs save it"),
    (b"\xd0\xcf\x11\xe0", "recording-spreadsheet", "a spreadsheet or document in the old office format"),
    (b"\x1f\x8b", "recording-binary", "a gzip archive"),
    (b"BZh", "recording-binary", "a bzip2 archive"),
    (b"\xfd7zXZ\x00", "recording-binary", "an xz archive"),
    (b"7z\xbc\xaf\x27\x1c", "recording-binary", "a 7z archive"),
    (b"SQLite format 3\x00", "recording-binary", "an SQLite database"),
    (b"PAR1", "recording-binary", "a Parquet file"),
    (b"\x93NUMPY", "recording-binary", "a NumPy array file"),
    (b"%PDF-", "recording-binary", "a PDF"),
    (b"\x89PNG", "recording-binary", "a picture"),
    (b"\xff\xd8\xff", "recording-binary", "a picture"),
    (b"RIFF", "recording-binary", "a sound or film file"),
)
_EXPORTS = {
    "recording-matlab": "In MATLAB, writematrix([t(:) F(:)], 'pull.csv') writes such a table.",
    "recording-json": "Write one line per sample, such as 0.010,1.25, with a line of names above.",
    "recording-spreadsheet": "Open it in the spreadsheet program and save the sheet as CSV.",
    "recording-markup": "Export the readings as CSV from the program that wrote it.",
    "recording-binary": "Unpack it, or export the readings as CSV from the program that wrote it.",
}
_JSON = re.compile(rb'\s*(\{\s*("|\}|$)|\[\s*(\[|\{|\]|"[^"\n]*"\s*,|-?\d+(\.\d+)?([eE][+-]?\d+)?\s*,))')
_MARKUP = re.compile(rb"\s*(<\?xml|<!doctype|<html|<svg|<[a-z][\w:-]*[\s>]|\{\\rtf)", re.IGNORECASE)
_CONTROL = bytes(set(range(32)) - set(b"\t\n\r\x0b\x0c\x1a\x1b"))


def refuse_foreign_files(head: bytes, name: str) -> None:
    """Raise a RecordingError if the first bytes of a file show a known kind that is no text table."""
    for magic, code, kind in _MAGIC:
        if head.startswith(magic):
            raise _no_table(code, name, kind)
    bare = head.removeprefix(b"\xef\xbb\xbf")
    if _JSON.match(bare):
        raise _no_table("recording-json", name, "a JSON file")
    if _MARKUP.match(bare):
        raise _no_table("recording-markup", name, "a marked-up document (XML, HTML or RTF)")


def refuse_binary(text: bytes, name: str) -> None:
    """Raise a RecordingError if more than one byte in a hundred is a control character.

    text: the head of the file, UTF-16 already undone.  A few stray ones are damage, not another kind of file.
    """
    controls = len(text) - len(text.translate(None, _CONTROL))
    if controls * 100 > len(text):
        raise _no_table("recording-binary", name, "a binary file")


def _no_table(code: str, name: str, kind: str) -> RecordingError:
    return RecordingError(
        code,
        f"{name} is {kind}, not a text table.",
        "Readings come as text, one line per sample, with columns for time and force.",
        _EXPORTS[code],
    )
