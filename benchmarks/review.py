"""How well typed answers are reviewed: `python -m benchmarks.review [--count 2000] [--seed 1]`.

Answers are invented: right ones and ones with a planted slip, typed as people type them (as many figures as asked for
or up to two more, half of them rounded on the way, point or comma, units in several ways or none), chains in which a
later part is reckoned rightly from an earlier slip, right ones with a figure too few, and numbers from nowhere.
"""

import argparse
import math
from collections import Counter
from dataclasses import dataclass

import numpy as np

from pullbench.errors import ConditionsError
from pullbench.model.problem import PairFriction
from pullbench.teach.problems import ENGLISH, KINDS, make
from pullbench.teach.review import review

ON_THE_WAY = 0.004  # half of the answers were rounded on the way: standard deviation, a share
SORTS = ("right", "slip", "chain", "short", "nowhere")
WAYS_TO_WRITE = {
    "N": (("N", 1), (" N", 1), (" newtons", 1), (" Newton", 1), (" mN", 1000), ("", 1)),
    "m/s²": ((" m/s²", 1), (" m/s^2", 1), (" m/s2", 1), (" m s^-2", 1), (" cm/s²", 100), ("", 1)),
    "m/s": ((" m/s", 1), ("m/s", 1), (" m s-1", 1), ("", 1)),
    "m": ((" m", 1), ("m", 1), (" cm", 100), (" metres", 1), ("", 1)),
    "kg": ((" kg", 1), ("kg", 1), (" g", 1000), ("", 1)),
    "s": ((" s", 1), (" sec", 1), ("", 1)),
    "J": ((" J", 1), (" Nm", 1), (" N m", 1), ("", 1)),
    "W": ((" W", 1), (" J/s", 1), ("", 1)),
    "°": (("°", 1), (" deg", 1), ("", 1)),
    "1": (("", 1),),
}


@dataclass(frozen=True)
class Planted:
    """One invented answer: its problem, what was typed, and what is true of the last of them."""

    kind: str
    problem: object
    typed: dict
    key: str
    truth: str  # "right", "follows", "short", "nowhere" or the idea


def typed_as(rng, value, part, short=0):
    """Return a number as somebody might type it."""
    ending, times = WAYS_TO_WRITE[part.unit][rng.integers(len(WAYS_TO_WRITE[part.unit]))]
    figures = short or int(rng.choice(part.digits + np.array([0, 1, 2]), p=[0.6, 0.25, 0.15]))
    number = value * times * (1 + rng.normal(0, ON_THE_WAY) * (rng.random() < 0.5))
    decimals = (
        figures - 1 - math.floor(math.log10(abs(float(f"{number:.{figures - 1}e}")))) if number else figures
    )
    text = f"{round(number, decimals):.{max(decimals, 0)}f}"
    return (text.replace(".", ",") if rng.random() < 0.3 else text) + ending


def planted(count, seed):
    """Return so many invented answers: slips and right ones above all, and some of every other sort."""
    rng, found, names = np.random.default_rng(seed), [], list(KINDS)
    while len(found) < count:
        pair = _pair(rng)
        name = names[rng.integers(len(names))]
        try:
            problem = make(KINDS[name], ENGLISH[name], pair, int(rng.integers(1_000_000)))
        except ConditionsError:
            continue  # these coefficients do not allow this kind
        part = problem.parts[rng.integers(len(problem.parts))]
        sort = rng.choice(SORTS, p=[0.42, 0.40, 0.10, 0.04, 0.04])
        found += {"right": _right, "slip": _slip, "chain": _chain, "short": _short, "nowhere": _nowhere}[
            sort
        ](rng, name, problem, part)
    return found[:count]


def _pair(rng):
    mu_k = round(rng.uniform(0.15, 0.6), 2)
    mu_s = round(mu_k * rng.uniform(1.1, 1.6), 2)
    return PairFriction(
        sole="felt", floor="the stage floor", mu_s=mu_s, mu_k=mu_k, u_mu_s=0.01, u_mu_k=0.01, source="handbook",
        told="invented numbers",
    )  # fmt: skip


def _right(rng, name, problem, part):
    text = "ABCDEFGH"[round(part.answer)] if part.options else typed_as(rng, part.answer, part)
    return [Planted(name, problem, {part.key: text}, part.key, "right")]


def _slip(rng, name, problem, part):
    if not part.wrong:
        return []
    wrong = part.wrong[rng.integers(len(part.wrong))]
    text = "ABCDEFGH"[wrong.option] if part.options else typed_as(rng, wrong.value, part)
    return [Planted(name, problem, {part.key: text}, part.key, wrong.idea)]


def _chain(rng, name, problem, part):
    earlier = [p for p in problem.parts if p.key in part.uses and p.form == "number" and p.wrong]
    if not earlier or part.form != "number":
        return []
    first = earlier[rng.integers(len(earlier))]
    wrong = first.wrong[rng.integers(len(first.wrong))]
    shown = f"{wrong.value:.{first.digits}e}"  # one figure more than asked for, and reckoned on with
    given = {one.symbol: one.value for one in problem.given}
    carried = KINDS[name].solve(given, {first.key: float(shown)})[part.key]
    if not math.isfinite(carried) or math.isclose(carried, part.answer, rel_tol=0.05):
        return []
    typed = {first.key: f"{shown} {first.unit}".removesuffix(" 1"), part.key: typed_as(rng, carried, part)}
    return [Planted(name, problem, typed, part.key, "follows")]


def _short(rng, name, problem, part):
    if part.options or part.digits < 2:
        return []
    text = typed_as(rng, part.answer, part, short=part.digits - 1)
    return [Planted(name, problem, {part.key: text}, part.key, "short")]


def _nowhere(rng, name, problem, part):
    if part.options:
        return []
    return [
        Planted(
            name,
            problem,
            {part.key: typed_as(rng, part.answer * rng.uniform(0.1, 10), part)},
            part.key,
            "nowhere",
        )
    ]


def tally(answers):
    """Return how many of each truth came to which end, as a counter of (truth's sort, end), and the misses."""
    counted, missed = Counter(), []
    for one in answers:
        done = review(one.problem, KINDS[one.kind], one.typed)
        last = next(part for part in done.parts if part.key == one.key)
        sort = one.truth if one.truth in ("right", "follows", "short", "nowhere") else "slip"
        end = {
            "right": last.counts, "follows": last.counts, "short": last.counts or last.outcome == "unclear",
            "nowhere": last.outcome in ("wrong", "unclear"),
        }  # fmt: skip
        good = end.get(sort, last.idea == one.truth)
        counted[sort, good] += 1
        if not good:
            missed.append((one, last))
    return counted, missed


def share(counted, sort):
    """Return the share of one sort that came to a good end, and how many there were."""
    good, bad = counted[sort, True], counted[sort, False]
    return good / max(good + bad, 1), good + bad


def main(argv=None) -> None:
    """Parse and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--misses", type=int, default=0, help="so many misses are listed")
    asked = parser.parse_args(argv)
    counted, missed = tally(planted(asked.count, asked.seed))
    told = {
        "right": "right answers accepted", "slip": "planted slips named rightly",
        "follows": "chains from an earlier slip followed",
        "short": "a figure too few, not marked wrong", "nowhere": "numbers from nowhere left unnamed",
    }  # fmt: skip
    print(f"{asked.count} invented answers, seed {asked.seed}, {len(KINDS)} kinds of problems")
    for sort, words in told.items():
        found, of = share(counted, sort)
        print(f"  {words:<38} {found:7.1%} of {of}")
    for one, last in missed[: asked.misses]:
        part = next(p for p in one.problem.parts if p.key == one.key)
        print(
            f"  {one.kind} {one.typed} truth {one.truth!r}: {last.outcome} {last.idea} (right {part.answer:.4g})"
        )


if __name__ == "__main__":
    main()
