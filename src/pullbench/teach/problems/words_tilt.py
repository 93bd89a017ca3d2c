"""English words for problems on a tilted board."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pullbench.model.problem import Step
from pullbench.teach.problems.kind import Texts

TILT_STAYS = Texts(
    title="Does it stay?",
    text="A block of `m = {m}` with {sole} under it is laid at rest on a board like {floor}, tilted by `theta = "
    "{theta}`. "
    "`mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "How large is the weight's share along the board?",
        "b": "What is the largest friction at rest there?",
        "c": "What does it do?",
    },
    hints={
        "a": ("Let the board lie level in your mind: the share must vanish.",),
        "b": ("What presses on the board is the weight's share across it.", "`F_max = mu_s m g cos theta`"),
        "c": ("Hold the share along the board against the limit.",),
    },
    options={"c": ("it stays", "it slides down", "that depends on its mass")},
    solution={
        "a": (Step("Along the board.", "W_a = m g sin theta = {a}"),),
        "b": (
            Step("Across the board.", "N = m g cos theta"),
            Step("The limit.", "F_max = mu_s N = {b}"),
        ),
        "c": (
            Step("`{a}` along the board, `{b}` at most against it: {c}."),
            Step("The mass is in both and cancels.", "tan theta = sin theta / cos theta"),
        ),
    },
)

SLIP_HEIGHT = Texts(
    title="Coefficients from a raised board",
    text="A block with {sole} under it lies on a board of length `L = {L}`, surfaced like {floor}. One end is raised "
    "slowly. At a height of `h_1 = {h_1}` the block slips. Lowered to `h_2 = {h_2}` and nudged, it slides steadily.",
    ask={
        "a": "At which angle does it slip?",
        "b": "What is the static coefficient?",
        "c": "What is the kinetic coefficient?",
        "d": "With twice the mass, the angle at which it slips is:",
    },
    hints={
        "a": ("The board is the long side, the height stands opposite the angle.",),
        "b": ("Along the board `m g sin theta`, across it `m g cos theta`.", "`mu_s = tan theta`"),
        "c": ("Steady: the same balance with kinetic friction.",),
        "d": ("Where is the mass in `mu_s = tan theta`?",),
    },
    options={"d": ("smaller", "the same", "larger")},
    solution={
        "a": (Step("Height over length.", "sin theta = h_1 / L"), Step("", "theta = {a}")),
        "b": (
            Step("Just before it slips the limit is reached.", "m g sin theta = mu_s m g cos theta"),
            Step("", "mu_s = tan theta = {b}"),
        ),
        "c": (Step("The same with the lower height.", "mu_k = h_2 / sqrt(L^2 - h_2^2) = {c}"),),
        "d": (Step("The mass cancels: {d}."),),
    },
)

LEVEL_TO_TILT = Texts(
    title="From the floor to the board",
    text="A sled with {sole} under it has a mass of `M = {m_sled}` and carries `m = {m_load}`. On a level floor "
    "like {floor} "
    "it lets go at a level pull of `F_s = {F_s}`. Then it is laid, with its load, on a board with the same surface. "
    "Take `g = {g}`.",
    ask={"a": "What is the static coefficient?", "b": "At which tilt of the board does it slip?"},
    hints={
        "a": ("Sled and load press on the floor.",),
        "b": ("At the limit `m g sin theta = mu_s m g cos theta`.", "`tan theta = mu_s`"),
    },
    solution={
        "a": (Step("Pull at the break over normal force.", "mu_s = F_s / ((M + m) g) = {a}"),),
        "b": (
            Step("On the board the limit is reached when", "tan theta = mu_s"),
            Step("", "theta = arctan mu_s = {b}"),
        ),
    },
)  # fmt: skip

TILT_SLIDE = Texts(
    title="Down the board",
    text="A block with {sole} under it is let go at the top of a board of length `L = {L}`, surfaced like "
    "{floor} and tilted "
    "by `theta = {theta}`. `mu_s = {mu_s}`, `mu_k = {mu_k}`. It slides. Take `g = {g}`.",
    ask={"a": "How fast does it speed up?", "b": "How long does it take to the foot?"},
    hints={
        "a": ("Along the board: the weight's share down, friction up.", "`N = m g cos theta`"),
        "b": ("From rest `L = a t^2 / 2`.",),
    },
    solution={
        "a": (
            Step("Along the board; the mass cancels.", "m a = m g sin theta - mu_k m g cos theta"),
            Step("", "a = g (sin theta - mu_k cos theta) = {a}"),
        ),
        "b": (Step("From rest over L.", "t = sqrt(2 L / a) = {b}"),),
    },
)  # fmt: skip

UP_THE_BOARD = Texts(
    title="Up the board",
    text="A block with {sole} under it is pushed off up a board like {floor}, tilted by `theta = {theta}`, and "
    "leaves the "
    "hand with `v = {v}`. `mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "How much speed does it lose each second on the way up?",
        "b": "How far up the board does it get?",
        "c": "What does it do there?",
    },
    hints={
        "a": ("On the way up friction points down the board, like the weight's share.", "`N = m g cos theta`"),
        "b": ("`v^2 = 2 a d`",),
        "c": ("At rest static friction may hold it. Compare `tan theta` with `mu_s`.",),
    },
    options={"c": ("it stays", "it slides back", "that depends on the push")},
    solution={
        "a": (
            Step("Both slow it.", "m a = m g sin theta + mu_k m g cos theta"),
            Step("", "a = g (sin theta + mu_k cos theta) = {a}"),
        ),
        "b": (Step("From v to rest.", "d = v^2 / (2 a) = {b}"),),
        "c": (
            Step("It would stay while", "tan theta <= mu_s"),
            Step("With `theta = {theta}` and `mu_s = {mu_s}`: {c}."),
        ),
    },
)  # fmt: skip

TILT: Mapping[str, Texts] = MappingProxyType({
    "tilt-stays": TILT_STAYS, "slip-height": SLIP_HEIGHT, "level-to-tilt": LEVEL_TO_TILT, "tilt-slide": TILT_SLIDE,
    "up-the-board": UP_THE_BOARD,
})  # fmt: skip
