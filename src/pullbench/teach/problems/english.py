"""The words of every kind in English; a translation is a module like this one."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pullbench.teach.problems.kind import Texts
from pullbench.teach.problems.words_bodies import BODIES
from pullbench.teach.problems.words_choices import CHOICES
from pullbench.teach.problems.words_journeys import JOURNEYS
from pullbench.teach.problems.words_level import LEVEL
from pullbench.teach.problems.words_readings import READINGS
from pullbench.teach.problems.words_tilt import TILT

ENGLISH: Mapping[str, Texts] = MappingProxyType({
    **LEVEL, **TILT, **READINGS, **BODIES, **JOURNEYS, **CHOICES,
})  # fmt: skip
