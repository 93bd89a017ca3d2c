"""Marks of a drawing that lead to their pull: for eyes a point, for a voice a sentence, for a hand a link."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from pullbench.render.lettering import clean


def linked(marks: str, number: int | None, series: str, told: str) -> str:
    """Return marks as a link to the sheet of a pull; as they are when its number is not known.

    told: what a voice says ("Pull 7: kinetic 3.91 N ± 0.05 at 1.35 kg").  The page gives one of the links a place in
    the order of Tab; from there arrow keys go on, so that two hundred points are one stop.
    """
    if number is None:
        return marks
    said = clean(told)
    place = f'href="#pull/{number}" tabindex="-1" data-pull="{number}" data-series={quoteattr(series)}'
    return f"<a {place} aria-label={quoteattr(said)}><title>{escape(said)}</title>{marks}</a>"
