"""English words for questions to choose from: which is larger, find the mistake, different or the same."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pullbench.model.problem import Step
from pullbench.teach.problems.kind import Texts

WHICH_AREA = Texts(
    title="Broad side, narrow side",
    text="A box has the same sole on all its sides. It slides steadily on its broad side. Then it is laid on a side "
    "with a quarter of the area and slides steadily again, with the same load.",
    ask={"a": "To a first approximation, what pull does it take now?"},
    hints={"a": ("What is in `f_k = mu_k N`, and what is not?",)},
    options={"a": ("about a quarter", "about half", "about the same", "about four times as much")},
    solution={
        "a": (
            Step("Neither the coefficient nor what presses on the floor has changed.", "f_k = mu_k N"),
            Step("So: {a}. A smaller area presses harder on each spot, and the two cancel."),
        )
    },
)

WHICH_SPEED = Texts(
    title="Twice as fast",
    text="A sled slides steadily over a hard, dry floor, then twice as fast, again steadily.",
    ask={"a": "To a first approximation, what pull does it take now?"},
    hints={"a": ("What is in `f_k = mu_k N`, and what is not?",)},
    options={"a": ("about half", "about the same", "about twice as much", "about four times as much")},
    solution={
        "a": (
            Step("Steady: pull equals kinetic friction, and speed is not in it.", "F = f_k = mu_k N"),
            Step("So: {a}. Some pairs change a little with speed; measure it."),
        )
    },
)

WHICH_LOAD = Texts(
    title="Twice the load",
    text="Sled and load are weighed and pulled over a level floor. Then so much is added that sled and load "
    "weigh twice "
    "as much.",
    ask={"a": "What happens to the steady pull and to the coefficient?"},
    hints={"a": ("The coefficient is friction over normal force. What happens to each?",)},
    options={
        "a": (
            "the pull doubles, the coefficient stays",
            "both double",
            "both stay",
            "the pull stays, the coefficient halves",
        )
    },
    solution={
        "a": (
            Step("Twice the normal force makes twice the friction; their ratio stays.", "mu_k = f_k / N"),
            Step("So: {a}."),
        )
    },
)

WHICH_SOLE_AT_REST = Texts(
    title="Held still on two soles",
    text="Two equal tins stand on a level floor, one on a rough sole, one on a smooth one. Each is pulled "
    "level, equally "
    "hard. Neither moves.",
    ask={"a": "On which tin is friction larger?"},
    hints={"a": ("Each tin stays at rest: what must the forces along the floor add up to?",)},
    options={
        "a": (
            "on the rough sole",
            "on the smooth sole",
            "the same on both: as large as the pull",
            "no friction on either: nothing slides",
        )
    },
    solution={
        "a": (
            Step(
                "At rest, friction is as large as the pull, whatever it could be at most.",
                "f_s = F <= mu_s N",
            ),
            Step("So: {a}."),
        )
    },
)

WHICH_WAY_ON_RIDER = Texts(
    title="What starts the rider?",
    text="A tin rides loose on a sled. The sled is started to the right, gently, and the tin comes along without "
    "slipping.",
    ask={"a": "Which way does friction act on the tin while it speeds up?"},
    hints={"a": ("The tin speeds up to the right. What could push it that way?",)},
    options={
        "a": (
            "to the right",
            "to the left",
            "there is none: nothing slides",
            "straight down, with the weight",
        )
    },
    solution={
        "a": (
            Step(
                "Only the sled's friction acts on the tin along the sled, and the tin speeds up.", "f_s = m a"
            ),
            Step("So: {a}. Friction is against slipping, not against moving."),
        )
    },
)

WHICH_SLIDES_FARTHER = Texts(
    title="Which slides farther?",
    text="Two equal sleds on the same level floor are let go with the same speed. One carries so much that it weighs "
    "twice as much as the other.",
    ask={"a": "Which slides farther?"},
    hints={"a": ("Twice the mass has twice the friction. What becomes of `a = f_k / m`?",)},
    options={"a": ("the lighter one", "the heavier one", "both slide equally far")},
    solution={
        "a": (
            Step("The mass cancels.", "a = mu_k m g / m = mu_k g"),
            Step("Same speed, same slowing: {a}.", "d = v^2 / (2 mu_k g)"),
        )
    },
)

MISTAKE_ON_TILT = Texts(
    title="Find the mistake: on the tilt",
    text="A sled of `m = {m}` with {sole} under it slides by itself down a board surfaced like {floor}, tilted by "
    "`theta = {theta}`: `mu_s = {mu_s}`, `mu_k = {mu_k}`, `g = {g}`. Somebody finds its acceleration so, and one line "
    "is wrong. Line 1: `N = m g`. Line 2: `f_k = mu_k N`. Line 3: along the board the weight pulls with "
    "`m g sin theta`. Line 4: `a = (m g sin theta - f_k) / m`.",
    ask={"a": "Which line is wrong?", "b": "What is the acceleration really?"},
    hints={
        "a": ("Draw the forces. Which one is straight off the board, and what does it balance?",),
        "b": ("`N = m g cos theta`",),
    },
    options={
        "a": (
            "line 1: `N = m g`",
            "line 2: `f_k = mu_k N`",
            "line 3: `m g sin theta`",
            "line 4: `a = (m g sin theta - f_k) / m`",
        )
    },
    solution={
        "a": (Step("The board carries only the weight's share across it.", "N = m g cos theta"),),
        "b": (Step("With the right normal force.", "a = g (sin theta - mu_k cos theta) = {b}"),),
    },
)

MISTAKE_AT_REST = Texts(
    title="Find the mistake: before it moves",
    text="A sled of `m = {m}` with {sole} under it rests on {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`, `g = "
    "{g}`. It is "
    "pulled level with `F = {F}`, and it stays. Somebody works so, and the first wrong line spoils what follows. "
    "Line 1: `N = m g`. Line 2: it rests, so friction is `f_s = mu_s N`. Line 3: left over is `F - f_s`. Line 4: "
    "`a = (F - f_s) / m`.",
    ask={"a": "Which is the first wrong line?", "b": "How large is friction really?"},
    hints={
        "a": (
            "Work it through: would the sled speed up against the pull?",
            "`mu_s N` is the most friction can be.",
        ),
        "b": ("It rests: what do the forces along the floor add up to?",),
    },
    options={
        "a": (
            "line 1: `N = m g`",
            "line 2: `f_s = mu_s N`",
            "line 3: `F - f_s` is left over",
            "line 4: `a = (F - f_s) / m`",
        )
    },
    solution={
        "a": (Step("Friction at rest is as large as it must be, up to its limit.", "f_s <= mu_s N"),),
        "b": (Step("It rests, so the forces along the floor balance.", "f_s = F = {b}"),),
    },
)

MISTAKE_IN_UNITS = Texts(
    title="Find the mistake: sliding to rest",
    text="A sled with {sole} under it is let go at `v = {v}`, level, on {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`, "
    "`g = {g}`. Somebody works out how many metres it slides, and one line is wrong. Line 1: it slides, so "
    "`f_k = mu_k m g`. Line 2: `a = f_k / m = mu_k g`. Line 3: the speed's number, as given in km/h, is put for `v`. "
    "Line 4: `d = v^2 / (2 a)`.",
    ask={"a": "Which line is wrong?", "b": "How far does it slide really?"},
    hints={
        "a": ("Follow the units: `a` is in metres and seconds.",),
        "b": ("Divide km/h by 3.6.",),
    },
    options={
        "a": (
            "line 1: `f_k = mu_k m g`",
            "line 2: `a = mu_k g`",
            "line 3: km/h put for `v`",
            "line 4: `d = v^2 / (2 a)`",
        )
    },
    solution={
        "a": (Step("Metres and seconds go with metres and seconds.", "v = {v} / 3.6"),),
        "b": (Step("With v in m/s.", "d = v^2 / (2 mu_k g) = {b}"),),
    },
)  # fmt: skip

COMPARE_PAIRS = Texts(
    title="Different, the same, or cannot tell?",
    text="Two soles were pulled over the same floor (numbers made up for this problem). Sole 1: "
    "`mu_1 = {mu_1} +- {U_1}`. Sole 2: `mu_2 = {mu_2} +- {U_2}`. Both limits are 95 % limits, and the "
    "errors of the two are "
    "independent. Before measuring, the class agreed: less than `D = {D}` apart counts as the same.",
    ask={
        "a": "What is the plus or minus of the difference?",
        "b": "What can be said of the two soles?",
    },
    hints={
        "a": ("Independent errors partly cancel: add squares.",),
        "b": ("Different: the difference is larger than its plus or minus. "
              "The same: even difference and plus or minus together stay within the margin.",),
    },
    options={"b": ("they are different", "they are the same within the margin", "cannot tell: more pulls are needed")},
    solution={
        "a": (Step("Squares add.", "U = sqrt(U_1^2 + U_2^2) = {a}"),),
        "b": (
            Step("Difference against its limits, and against the margin.",
                 "Delta = mu_2 - mu_1 = {mu_2} - {mu_1} +- {a}"),
            Step("So: {b}."),
        ),
    },
)  # fmt: skip

CHOICES: Mapping[str, Texts] = MappingProxyType({
    "which-area": WHICH_AREA, "which-speed": WHICH_SPEED, "which-load": WHICH_LOAD,
    "which-sole-at-rest": WHICH_SOLE_AT_REST, "which-way-on-rider": WHICH_WAY_ON_RIDER,
    "which-slides-farther": WHICH_SLIDES_FARTHER, "mistake-on-tilt": MISTAKE_ON_TILT,
    "mistake-at-rest": MISTAKE_AT_REST, "mistake-in-units": MISTAKE_IN_UNITS, "compare-pairs": COMPARE_PAIRS,
})  # fmt: skip
