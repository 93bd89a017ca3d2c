"""Bytes, files or keys to chunks of samples: nothing here knows what a pull is."""

from pullbench.sources.choices import TableChoices
from pullbench.sources.tables import Table, open_table, read_table
from pullbench.sources.virtual import VirtualBench

__all__ = ["Table", "TableChoices", "VirtualBench", "open_table", "read_table"]
