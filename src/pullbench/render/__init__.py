"""Values become text, JSON and pictures, returned as str or bytes; the only room that rounds."""

from pullbench.render.plan_json import plan_record
from pullbench.render.plan_text import plan_text
from pullbench.render.png import as_png
from pullbench.render.pull_json import pull_record
from pullbench.render.pull_text import explain, table
from pullbench.render.recording import recording_svg
from pullbench.render.rounding import plus_minus
from pullbench.render.sheet import pull_sheet_svg

__all__ = [
    "as_png",
    "explain",
    "plan_record",
    "plan_text",
    "plus_minus",
    "pull_record",
    "pull_sheet_svg",
    "recording_svg",
    "table",
]
