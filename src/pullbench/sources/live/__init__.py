"""Live sources: each yields samples, news and ends of recordings, and survives what can be survived."""

from pullbench.sources.live.folder import FolderOfTables
from pullbench.sources.live.replay import Replay
from pullbench.sources.live.serial_lines import SerialLines
from pullbench.sources.live.source import Source
from pullbench.sources.live.standard_input import StandardInput
from pullbench.sources.live.tcp_lines import TcpLines
from pullbench.sources.live.typed import TypedReadings

__all__ = [
    "FolderOfTables",
    "Replay",
    "SerialLines",
    "Source",
    "StandardInput",
    "TcpLines",
    "TypedReadings",
]
