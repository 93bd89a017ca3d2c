"""Pulls made by hand for the pictures and the text: shapes like real ones, numbers invented."""

import numpy as np

from pullbench.model import (
    BreakawayForce,
    BudgetRow,
    Finding,
    Measured,
    Phase,
    PlateauForce,
    Pull,
    PullWindow,
    StickSlip,
    Trace,
    UncertaintyBudget,
    Verdict,
)

JERKED = Finding(
    "started too fast",
    "Loaded in 0.21 s: the highest point overshoots the static maximum by up to 13 %.",
    "Take a slow count of three to reach the break.",
)
HELD = Finding(
    "never slid",
    "The pull rose to 3.9 N and was let go without sliding.",
    "Pull on until it goes, or take a tin off.",
)


def measured(value, u, sources=(), unit="N"):
    rows = tuple(BudgetRow(name, u * share) for name, share in sources)
    return Measured(
        kind="value",
        value=value,
        standard_uncertainty=u,
        limits=(value - 1.96 * u, value + 1.96 * u),
        unit=unit,
        budget=UncertaintyBudget(rows),
    )


def at_least(bound, reason, u=None):
    return Measured(
        kind="lower bound", value=bound, standard_uncertainty=u, limits=(bound, None), unit="N", reason=reason
    )


STATIC = (("when it broke away", 0.8), ("force scale, by masses", 0.5), ("rest reading", 0.25))
STATIC = (*STATIC, ("scatter", 0.2))
KINETIC = (("speeding up while sliding", 0.77), ("force scale, by masses", 0.5), ("rest reading", 0.35))
KINETIC = (*KINETIC, ("scatter", 0.2))


def force_N(time_s, *, static_N, kinetic_N, start_s, break_s, end_s, noise_N, seed=7, saw=None):
    """A ramp to the break, a ringing fall, a level (or a sawtooth of period saw), and a let go."""
    rng = np.random.default_rng(seed)
    t = time_s
    ramp = static_N * np.clip((t - start_s) / (break_s - start_s), 0, 1) ** 1.1
    since = np.clip(t - break_s, 0, None)
    fall = static_N - kinetic_N
    level = kinetic_N + fall * np.exp(-since / 0.12) * np.cos(2 * np.pi * since / 0.16)
    if saw:
        level = kinetic_N - fall + 2 * fall * (since / saw % 1)
        level = np.where(since < 0.02, static_N, level)
    force = np.where(t < break_s, ramp, level)
    let_go = np.clip((t - end_s) / 0.15, 0, 1)
    tremor = 0.01 * static_N * np.sin(2 * np.pi * 8 * t) * (force > 0.02 * static_N)
    return (force + tremor) * (1 - let_go) ** 2 + noise_N * rng.standard_normal(t.size)


def pull(
    *,
    static_N=3.12,
    kinetic_N=2.24,
    rate_Hz=200.0,
    first_s=0.0,
    start_s=0.7,
    break_s=2.1,
    slide_s=2.65,
    end_s=5.0,
    last_s=6.0,
    noise=0.004,
    direction=1,
    rest_N=0.13,
    saw=None,
    breakaway=None,
    kinetic=None,
    findings=(),
    verdict=Verdict.USABLE,
    moment=True,
    slid=True,
    coefficients=False,
):
    time_s = np.arange(first_s, last_s, 1 / rate_Hz)
    force = force_N(
        time_s,
        static_N=static_N,
        kinetic_N=kinetic_N,
        start_s=start_s,
        break_s=break_s,
        end_s=end_s,
        noise_N=noise * static_N,
        saw=saw,
    )
    let_go = min(end_s + 0.15, last_s - 1 / rate_Hz)
    phases = [Phase("rest", first_s, start_s), Phase("loading", start_s, break_s)]
    if slid:
        phases += [Phase("transition", break_s, slide_s), Phase("kinetic", slide_s, end_s)]
    phases += [Phase("release", end_s if slid else break_s, let_go), Phase("rest", let_go, last_s)]
    u = 0.005 * static_N
    high, low = 2 * kinetic_N - (kinetic_N - (static_N - kinetic_N)), kinetic_N - (static_N - kinetic_N)
    return Pull(
        window=PullWindow(
            trace=Trace(time_s=time_s, force_N=direction * force + rest_N),
            start_s=start_s,
            end_s=let_go,
            direction=direction,
        ),
        rest_reading=measured(rest_N, u / 3),
        breakaway=BreakawayForce(
            force=breakaway or measured(static_N, u, STATIC), time_s=break_s if moment else None
        ),
        plateau=PlateauForce(
            force=kinetic or measured(kinetic_N, 0.7 * u, KINETIC),
            start_s=slide_s if slid else None,
            end_s=end_s if slid else None,
        ),
        stick_slip=StickSlip(
            high=measured(high, 2 * u),
            low=measured(low, 2 * u),
            mean=measured(kinetic_N, u),
            count=int((end_s - break_s) / saw),
            rhythm_Hz=1 / saw,
            mean_is_kinetic=True,
        )
        if saw
        else None,
        phases=tuple(phases),
        findings=tuple(findings),
        verdict=verdict,
        chosen=("The break is the last sample before the force fell by 28 %.",),
        static_coefficient=measured(0.318, 0.004, unit="1") if coefficients else None,
        kinetic_coefficient=measured(0.228, 0.0031, unit="1") if coefficients else None,
    )


def held(**changes):
    """A pull that was held at its height and let go: it never slid."""
    return pull(
        **{
            "static_N": 3.9,
            "kinetic_N": 3.85,
            "break_s": 2.4,
            "end_s": 3.6,
            "slid": False,
            "breakaway": at_least(3.85, "it never slid"),
            "kinetic": Measured.cannot_tell("it never slid", unit="N"),
            "findings": (HELD,),
            "verdict": Verdict.PULL_AGAIN,
            "moment": False,
            **changes,
        }
    )


def jerked(**changes):
    """A pull loaded in a fifth of a second: static cannot be told."""
    return pull(
        **{
            "static_N": 4.4,
            "break_s": 0.91,
            "slide_s": 1.5,
            "breakaway": Measured.cannot_tell("loaded in 0.2 s", unit="N"),
            "findings": (JERKED,),
            "verdict": Verdict.PULL_AGAIN,
            **changes,
        }
    )


SPARSE = at_least(2.95, "ten readings a second are too few to see the top", u=0.05)
NOTE = Verdict.USABLE_WITH_A_NOTE
LONG = Finding(
    "speeding up",
    "Over the slide the sled gained up to 0.12 m/s, so the mean pull is up to 0.08 N above the kinetic "
    "friction; this is in the plus or minus of the kinetic level, which is wider because of it.",
    "Slide at a crawl, a hand's breadth a second, and keep it sliding for two seconds longer.",
)

EVERY = {
    "clean": lambda: pull(coefficients=True),
    "jerked": jerked,
    "held": held,
    "held, with a moment": lambda: held(moment=True),
    "stick-slip": lambda: pull(saw=0.3, static_N=2.9, kinetic_N=2.4, rate_Hz=400),
    "backwards": lambda: pull(direction=-1, findings=(LONG,), verdict=NOTE),
    "kilonewtons": lambda: pull(static_N=4210.0, kinetic_N=3100.0, rest_N=12.0),
    "millinewtons": lambda: pull(static_N=0.051, kinetic_N=0.031, rest_N=-0.2, noise=0.03),
    "ten a second": lambda: pull(rate_Hz=10, breakaway=SPARSE, findings=(LONG,), verdict=NOTE),
    "very short": lambda: pull(rate_Hz=2000, start_s=0.05, break_s=0.11, slide_s=0.2, end_s=0.3, last_s=0.6),
    "very long": lambda: pull(rate_Hz=50, start_s=40, break_s=95, slide_s=97, end_s=580, last_s=700),
    "long hold before": lambda: pull(start_s=0.5, break_s=16, slide_s=16.5, end_s=17.4, last_s=30),
    "ten thousand a second": lambda: pull(rate_Hz=10_000),
    "cut at both ends": lambda: pull(first_s=1.2, last_s=4.5),
    "overshoot": lambda: pull(static_N=2.6, kinetic_N=2.45, slide_s=2.3),
    "wide limits": lambda: pull(breakaway=measured(3.12, 0.2, STATIC), kinetic=measured(2.24, 0.15, KINETIC)),
    "off centre": lambda: pull(
        breakaway=Measured(kind="value", value=3.12, standard_uncertainty=0.05, limits=(3.08, 3.27), unit="N")
    ),
}
