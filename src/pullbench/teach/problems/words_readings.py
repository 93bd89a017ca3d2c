"""English words for problems about readings: a trace, a load line, plus or minus."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pullbench.model.problem import Step
from pullbench.teach.problems.kind import Texts

READ_TRACE = Texts(
    title="Reading a pull",
    text="The figure shows a slow pull of a sled with {sole} under it on a floor like {floor}. Before the pull "
    "and after it "
    "the string hung loose, and the sensor did not read nought. The trace is made up.",
    ask={
        "a": "With what pull did the sled let go?",
        "b": "With what pull did it slide steadily?",
    },
    hints={
        "a": ("What did the sensor read with a loose string?", "The sled lets go at the peak."),
        "b": ("The level after the peak, through the middle of the ripple.", "Count from the rest reading."),
    },
    solution={
        "a": (
            Step("Loose string, before and after.", "r = {r}"),
            Step("From the rest reading up to the peak.", "F_s = {a}"),
        ),
        "b": (Step("From the rest reading up to the level of the slide.", "F_k = {b}"),),
    },
)  # fmt: skip

LOAD_LINE = Texts(
    title="A line that misses nought",
    text="A sled with {sole} under it was pulled steadily over a floor like {floor} with five loads. Only the load was "
    "weighed, not the sled. Weight of the load and pull: `{W_1}`, `{F_1}`; `{W_2}`, `{F_2}`; `{W_3}`, `{F_3}`; "
    "`{W_4}`, "
    "`{F_4}`; `{W_5}`, `{F_5}`. The readings are made up.",
    ask={"a": "What is the kinetic coefficient?", "b": "How much does the sled weigh?"},
    hints={
        "a": ("Draw the line through the points. Does it go through nought?", "How much more pull for how much "
        "more load?"),
        "b": ("Without a load the sled alone presses.", "The intercept is the friction of the sled."),
    },
    solution={
        "a": (
            Step("The sled presses with each load.", "F = mu_k (W_load + W_sled)"),
            Step("So the coefficient is the slope of the line.", "mu_k = Delta F / Delta W = {a}"),
        ),
        "b": (
            Step("The intercept is the sled's share.", "F_0 = mu_k W_sled"),
            Step("", "W_sled = F_0 / mu_k = {b}"),
        ),
    },
)  # fmt: skip

LIMITS_OF_MU = Texts(
    title="Plus or minus what?",
    text="A sled with {sole} under it slides steadily over a floor like {floor}. The level pull is "
    "`F_k = {F_k}`, plus or minus `U_F = {U_F}`, the normal force `N = {N}`, plus or minus `U_N = {U_N}` (95 % "
    "limits). "
    "Neither depends on the other. The readings are made up.",
    ask={
        "a": "What is the kinetic coefficient?",
        "b": "What are its limits, plus or minus?",
        "c": "How is the result written, the limits with one figure?",
    },
    hints={
        "a": ("`mu_k = F_k / N`",),
        "b": ("For a quotient take the limits as shares of their values.", "Shares that do not depend on each "
        "other add as squares."),
        "c": ("Value and limits end at the same place.",),
    },
    solution={
        "a": (Step("Steady and level.", "mu_k = F_k / N = {a}"),),
        "b": (
            Step("Shares add as squares.", "U / mu_k = sqrt((U_F / F_k)^2 + (U_N / N)^2)"),
            Step("Times the coefficient.", "U = {b}"),
        ),
        "c": (Step("One figure of the limits, and the value to the same place: {c}."),),
    },
)  # fmt: skip

READINGS: Mapping[str, Texts] = MappingProxyType({
    "read-trace": READ_TRACE, "load-line": LOAD_LINE, "limits-of-mu": LIMITS_OF_MU,
})  # fmt: skip
