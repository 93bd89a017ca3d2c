"""Problems with keys from today's coefficients: kinds, their words, and the maker."""

from pullbench.teach.problems.english import ENGLISH
from pullbench.teach.problems.kind import Asked, Kind, Texts
from pullbench.teach.problems.kinds import KINDS
from pullbench.teach.problems.make import make, versions

__all__ = ["ENGLISH", "KINDS", "Asked", "Kind", "Texts", "make", "versions"]
