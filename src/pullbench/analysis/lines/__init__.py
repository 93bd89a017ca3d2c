"""Load ladders: friction against normal force, the law in it, and what keeps it from being one."""

from pullbench.analysis.lines.fit import Scales, line_at
from pullbench.analysis.lines.ladder import ladder

__all__ = ["Scales", "ladder", "line_at"]
