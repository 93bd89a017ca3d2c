"""The sentence behind each idea or slip, by its name, for keys, question packages and reviews."""

from __future__ import annotations

from collections.abc import Mapping

from pullbench.teach.ideas import IDEAS


def idea_sentences() -> Mapping[str, str]:
    """Return the sentence of each known idea or slip."""
    return {name: idea.sentence for name, idea in IDEAS.items()}
