"""Bytes, files or keys to chunks of samples: nothing here knows what a pull is."""

from pullbench.sources.choices import TableChoices
from pullbench.sources.live import (
    FolderOfTables,
    Replay,
    SerialLines,
    Source,
    StandardInput,
    TcpLines,
    TypedReadings,
)
from pullbench.sources.result_table import ResultTable, read_result_table, result_headings
from pullbench.sources.tables import Table, open_table, read_table
from pullbench.sources.virtual import VirtualBench

__all__ = [
    "FolderOfTables",
    "Replay",
    "ResultTable",
    "SerialLines",
    "Source",
    "StandardInput",
    "Table",
    "TableChoices",
    "TcpLines",
    "TypedReadings",
    "VirtualBench",
    "open_table",
    "read_result_table",
    "read_table",
    "result_headings",
]
