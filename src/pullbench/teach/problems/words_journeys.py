"""English words for problems about distance, time, work and energy."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pullbench.model.problem import Step
from pullbench.teach.problems.kind import Texts

FLATBED = Texts(
    title="A crate on a flatbed",
    text="A thought for the page, not to be tried: on the road a load is held by straps, as the law asks, not by "
    "friction alone. "
    "A crate of `m = {m}` stands on a flatbed, gripping as {sole} grips {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`. "
    "The flatbed drives at `v = {v}` on a closed track. Take `g = {g}`.",
    ask={
        "a": "What is the largest friction that can act on the crate before it slips?",
        "b": "On what shortest distance may the flatbed stop if the crate is not to slip?",
    },
    hints={
        "a": ("About to slip, friction is at its limit.",),
        "b": ("Only friction slows the crate.", "Put the speed in m/s first: divide km/h by 3.6."),
    },
    solution={
        "a": (Step("Level bed: the normal force is the weight.", "f_max = mu_s m g = {a}"),),
        "b": (
            Step("Friction alone slows the crate.", "a = f_max / m"),
            Step("From v to rest, with v in m/s.", "d = v^2 / (2 a) = {b}"),
        ),
    },
)

WORK_AND_HEAT = Texts(
    title="Where the work goes",
    text="A sled of `m = {m}` with {sole} under it is pulled level over `d = {d}` of {floor} at a steady `v = {v}`. "
    "`mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "What pull does it take?",
        "b": "How much work does the pull do?",
        "c": "Where has this work gone at the end of the way, the sled still sliding steadily?",
        "d": "What power does the pull have?",
    },
    hints={
        "a": ("Steady speed: the forces along the floor are in balance.",),
        "b": ("Force along the way, times the way.",),
        "c": ("Is the sled faster than before? Is it higher?",),
        "d": ("Work each second: force times speed.",),
    },
    options={
        "c": (
            "all of it into heat, in sole and floor",
            "half into heat, half stays with the sled",
            "it stays with the sled as energy of motion",
            "nowhere: steady motion needs no work",
        )
    },
    solution={
        "a": (Step("Sliding steadily, pull equals kinetic friction.", "F = mu_k m g = {a}"),),
        "b": (Step("Pull and way in one direction.", "W = F d = {b}"),),
        "c": (Step("The sled is no faster and no higher than before: {c}."),),
        "d": (Step("Work each second.", "P = F v = {d}"),),
    },
)

SLIDE_OUT = Texts(
    title="Down the board and out",
    text="A block with {sole} under it slides from rest `L = {L}` down a board tilted by `theta = {theta}` and on over "
    "the level. Both are surfaced like {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`. At the foot of the board it "
    "loses no speed. Take `g = {g}`.",
    ask={
        "a": "How fast does it speed up on the board?",
        "b": "How fast is it at the foot?",
        "c": "How far does it slide on the level?",
    },
    hints={
        "a": ("The board carries only part of the weight.", "`N = m g cos theta`"),
        "b": ("`v^2 = 2 a L`",),
        "c": ("On the level only friction acts along the way. The mass does not matter.",),
    },
    solution={
        "a": (
            Step("Along the board.", "m a = m g sin theta - mu_k m g cos theta"),
            Step("", "a = g (sin theta - mu_k cos theta) = {a}"),
        ),
        "b": (Step("From rest over L.", "v = sqrt(2 a L) = {b}"),),
        "c": (
            Step("On the level friction alone slows it.", "a = mu_k g"),
            Step("", "d = v^2 / (2 mu_k g) = {c}"),
        ),
    },
)

BRAKING_TRACK = Texts(
    title="Braking on a closed track",
    text="A thought for the page, not to be tried. A car on a closed, level track locks its wheels at `v = {v}`. "
    "Suppose its tyres slid on the track as {sole} slides on {floor}: `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "How fast is it in m/s?",
        "b": "How far does it slide?",
        "c": "From twice the speed, how far would it slide?",
    },
    hints={
        "a": ("One hour has 3600 s, one kilometre 1000 m.",),
        "b": ("Friction slows it: `a = mu_k g`. The mass does not matter.",),
        "c": ("The speed stands in the distance as a square.",),
    },
    options={"c": ("as far", "twice as far", "four times as far", "eight times as far")},
    solution={
        "a": (Step("Divide km/h by 3.6.", "v = {v} / 3.6 = {a}"),),
        "b": (Step("From v to rest, with v in m/s.", "d = v^2 / (2 mu_k g) = {b}"),),
        "c": (Step("Twice the speed, four times the square: {c}."),),
    },
)

CONVEYOR = Texts(
    title="Set down on a belt",
    text="A box of `m = {m}` is set down without speed on a level belt that runs at `v = {v}`. It slips at first; box "
    "and belt rub like {sole} on {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "How long does it slip?",
        "b": "How long is the mark it rubs on the belt?",
        "c": "How much heat does the rubbing make?",
    },
    hints={
        "a": ("Friction speeds the box up, forwards, until it is as fast as the belt.", "It slips: which `mu`?"),
        "b": ("How far does the belt run meanwhile, and how far the box?",),
        "c": ("Friction times the way the two faces rub along each other.",),
    },
    solution={
        "a": (
            Step("Kinetic friction alone speeds the box up.", "a = mu_k g"),
            Step("", "t = v / a = {a}"),
        ),
        "b": (
            Step("The belt runs v t, the box only half of it.", "d = v t - v t / 2 = v t / 2 = {b}"),
        ),
        "c": (Step("Friction along the mark.", "Q = mu_k m g d = {c}"),),
    },
)  # fmt: skip

JOURNEYS: Mapping[str, Texts] = MappingProxyType({
    "flatbed": FLATBED, "work-and-heat": WORK_AND_HEAT, "slide-out": SLIDE_OUT, "braking-track": BRAKING_TRACK,
    "conveyor": CONVEYOR,
})  # fmt: skip
