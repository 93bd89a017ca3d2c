"""What it does not depend on: two one-sided tests against a margin the room chose beforehand.

Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657; Lakens, Soc. Psychol. Personal. Sci. 8 (2017) 355.
"Same" is said only when both one-sided tests are passed: a large p of a test for a difference never says it.
"""

from __future__ import annotations

from collections.abc import Sequence

from pullbench.analysis.repeats import Repeats, joint_scatter, more_pulls, pulls_to_see
from pullbench.analysis.student import coverage_factor
from pullbench.analysis.welch import ALPHA, Welch, holm_where_known
from pullbench.model import Equivalence, More, Quantity, Sameness

Named = tuple[str, str, Repeats, Repeats]


def two_one_sided(test: Welch, margin: float) -> tuple[float, float]:
    """Return the p values against a difference of −margin or less, and of +margin or more."""
    return test.p_above(-margin), test.p_below(margin)


def answer(p_same: float | None, p_different: float | None) -> Sameness:
    """Return one of the three answers, from the (corrected) p of both tests together and of the difference.

    A difference that is real but surely smaller than the margin is "same within the margin": that is what
    the margin was chosen for.
    """
    if p_same is not None and p_same < ALPHA:
        return "same within the margin"
    if p_different is not None and p_different < ALPHA:
        return "different"
    return "cannot tell yet"


def equivalences(
    pairs: Sequence[Named], tests: Sequence[Welch | None], quantity: Quantity, margin: float
) -> list[Equivalence]:
    """Return the answer for each pair; both families of tests get Holm's correction over the pairs."""
    both = [None if test is None else two_one_sided(test, margin) for test in tests]
    p_same = holm_where_known([None if ps is None else max(ps) for ps in both])
    p_different = holm_where_known([None if test is None else test.p for test in tests])
    told = []
    for pair, test, ps, same, different in zip(pairs, tests, both, p_same, p_different, strict=True):
        said = answer(same, different)
        told.append(
            Equivalence(
                first=pair[0], second=pair[1], quantity=quantity, margin=margin,
                p_lower=None if ps is None else ps[0], p_upper=None if ps is None else ps[1],
                p=None if ps is None else max(ps), adjusted_p=same, limits_90=_limits(test, 0.90),
                answer=said, beyond=_beyond(test, margin),
                more=_more(pair, margin, len(pairs)) if said == "cannot tell yet" else None,
            )
        )  # fmt: skip
    return told


def _limits(test: Welch | None, coverage: float) -> tuple[float, float] | None:
    if test is None:
        return None
    half = coverage_factor(test.dof, test.coverage(coverage)) * test.u
    return test.difference - half, test.difference + half


def _beyond(test: Welch | None, margin: float) -> bool:
    limits = _limits(test, 0.95)
    return limits is not None and (limits[0] > margin or limits[1] < -margin)


def _more(pair: Named, margin: float, family: int) -> More:
    """Return how many pulls would settle it either way: show the difference, or show that it is small."""
    _, _, first, second = pair
    scatter, seen, alpha = joint_scatter(first, second), abs(second.mean - first.mean), ALPHA / family
    show = pulls_to_see(seen, scatter, alpha=alpha)
    small = pulls_to_see(margin - seen, scatter, alpha=alpha, one_sided=True) if seen < margin else None
    ways = [n for n in (show, small) if n is not None]
    return more_pulls(min(ways, default=None), first, second)
