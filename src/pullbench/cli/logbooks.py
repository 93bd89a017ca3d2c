"""Where a logbook is when nobody says."""

from pathlib import Path

USUAL_LOGBOOK = Path("pullbench-logbook.sqlite")
"""Where a watch keeps its samples when nothing is said; simulations and replays are only kept on request."""
