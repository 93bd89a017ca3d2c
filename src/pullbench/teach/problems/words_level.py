"""English words for problems with one sled on a level floor."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pullbench.model.problem import Step
from pullbench.teach.problems.kind import Texts

LEVEL_PULL = Texts(
    title="Start it, keep it going",
    text="A sled with {sole} under it has a mass of `{m_sled}` and carries `{m_load}`. It stands on {floor}: "
    "`mu_s = {mu_s}` and `mu_k = {mu_k}`. The string is level. Take `g = {g}`.",
    ask={
        "a": "What is the largest pull with which it still stands?",
        "b": "What pull keeps it sliding at a steady speed?",
    },
    hints={
        "a": ("What presses on the floor? Everything that rides on it does.", "`F_max = mu_s N`"),
        "b": ("At a steady speed the forces along the floor are in balance.",),
    },
    solution={
        "a": (
            Step("Level floor, level string: the normal force is the whole weight.", "N = (M + m) g = ({m_sled} "
                                                                                     "+ {m_load}) {g}"),
            Step("It stands up to the largest static friction.", "F_max = mu_s N = {a}"),
        ),
        "b": (Step("Sliding steadily, the pull equals the kinetic friction.", "F = mu_k N = {b}"),),
    },
)  # fmt: skip

MU_FROM_PULL = Texts(
    title="Coefficients from one pull",
    text="A sled with {sole} under it has a mass of `M = {m_sled}` and carries `m = {m_load}`. It is pulled "
    "slowly over a "
    "floor like {floor}, with a level string. It lets go at `F_s = {F_s}` and then slides steadily at `F_k = {F_k}`; "
    "the rest reading is taken off. Take `g = {g}`.",
    ask={
        "a": "What presses sled and floor together?",
        "b": "What is the static coefficient?",
        "c": "What is the kinetic coefficient?",
    },
    hints={
        "a": ("Weigh all that rides on the floor, and turn kilograms into newtons.",),
        "b": ("Just before it lets go, the pull equals the largest static friction.", "`mu_s = F_s / N`"),
        "c": ("At a steady speed the pull equals the kinetic friction.",),
    },
    solution={
        "a": (Step("Level floor, level string: the whole weight.", "N = (M + m) g = ({m_sled} + {m_load}) {g} = {a}"),),
        "b": (Step("Friction at the break over normal force; newtons cancel.", "mu_s = F_s / N = {b}"),),
        "c": (Step("The same with the level.", "mu_k = F_k / N = {c}"),),
    },
)  # fmt: skip

HEAVIEST_LOAD = Texts(
    title="What the winch can move",
    text="A small winch pulls level with at most `F = {F}`. Its sled has a mass of `M = {m_sled}` and {sole} "
    "under it; the "
    "floor is {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "What is the heaviest load on the sled that the winch can start?",
        "b": "Once it slides, what is the heaviest load that the winch keeps going?",
    },
    hints={
        "a": ("Turn `F = mu_s N` round for `N`. What makes up `N`?", "The sled is part of what presses."),
        "b": ("Sliding goes by the other coefficient.",),
    },
    solution={
        "a": (
            Step("It just starts when the pull equals the largest static friction.", "F = mu_s (M + m) g"),
            Step("Solved for the load.", "m = F / (mu_s g) - M = {a}"),
        ),
        "b": (
            Step("Sliding steadily, the kinetic coefficient takes its place.", "m = F / (mu_k g) - M = {b}"),
        ),
    },
)

HELD_STILL = Texts(
    title="Pulled, but it stays",
    text="Two equal tins of `m = {m}` stand on {floor}. The first has {sole} under it: `mu_s = {mu_s}`, `mu_k = "
    "{mu_k}`. "
    "The second has a rougher sole: `mu_1 = {mu_1}` at rest. Each is pulled level with `F = {F}`. Neither "
    "moves. Take `g = {g}`.",
    ask={
        "a": "What is the largest friction at rest under the first tin?",
        "b": "How large is the friction under the first tin now?",
        "c": "How large is the friction under the second tin now?",
    },
    hints={
        "a": ("`F_max = mu_s N`",),
        "b": ("It does not move: what balances the pull?", "The limit says how large friction may get, not how "
        "large it is."),
        "c": ("The same question again: what balances the pull?",),
    },
    solution={
        "a": (Step("The limit of friction at rest.", "F_max = mu_s m g = {a}"),),
        "b": (
            Step("The pull is below the limit, so it stays, and the forces along the floor balance.", "f_s = F = {b}"),
        ),
        "c": (
            Step("Its limit is higher still. It stays as well, under the same pull.", "f_s = F = {c}"),
        ),
    },
)  # fmt: skip

SPEED_UP = Texts(
    title="Pulled harder than it needs",
    text="A sled with {sole} under it has a mass of `M = {m_sled}` and carries `m = {m_load}`. On {floor} "
    "`mu_s = {mu_s}` and `mu_k = {mu_k}`. From rest it is pulled level with `F = {F}`, which is more than it takes to "
    "start it. Take `g = {g}`.",
    ask={
        "a": "How large is the friction while it slides?",
        "b": "How fast does it speed up?",
        "c": "How fast is it after `t = {t}`?",
    },
    hints={
        "a": ("It slides: which `mu`?",),
        "b": (
            "What is left of the pull when friction has had its share?",
            "Sled and load speed up together.",
        ),
        "c": ("From rest, evenly faster.",),
    },
    solution={
        "a": (Step("Kinetic friction under sled and load.", "f_k = mu_k (M + m) g = {a}"),),
        "b": (Step("What the pull has left speeds up both.", "a = (F - f_k) / (M + m) = {b}"),),
        "c": (Step("From rest.", "v = a t = {c}"),),
    },
)

PUSH_OFF = Texts(
    title="Pushed off",
    text="A sled of `m = {m}` with {sole} under it is pushed off over {floor} and leaves the hand with `v = {v}`. "
    "`mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "How far does it slide?",
        "b": "How long does it slide?",
        "c": "With twice the mass and the same speed, how far?",
    },
    hints={
        "a": ("Only friction acts along the floor: `a = mu_k g`.", "`v^2 = 2 a d`"),
        "b": ("How much speed does it lose each second?",),
        "c": ("Where does the mass stand in friction, and where in mass times acceleration?",),
    },
    options={"c": ("less far", "just as far", "farther")},
    solution={
        "a": (
            Step("Friction alone slows it, and the mass cancels.", "m a = mu_k m g"),
            Step("From v to rest.", "d = v^2 / (2 mu_k g) = {a}"),
        ),
        "b": (Step("Each second it loses the same.", "t = v / (mu_k g) = {b}"),),
        "c": (Step("The mass is not in the way: {c}."),),
    },
)

ANGLED_PULL = Texts(
    title="A string that lifts",
    text="A sled of `m = {m}` with {sole} under it stands on {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`. Its "
    "string runs "
    "upwards at `alpha = {alpha}` to the level. Take `g = {g}`.",
    ask={
        "a": "What pull starts it?",
        "b": "What presses sled and floor together at that moment?",
        "c": "What pull keeps it sliding steadily?",
    },
    hints={
        "a": ("Take the pull apart: `F cos alpha` along, `F sin alpha` up.", "What the string lifts does not press."),
        "b": ("Weight down, normal force and part of the pull up.",),
        "c": ("The same balance with the other coefficient.",),
    },
    solution={
        "a": (
            Step("Up and down.", "N + F sin alpha = m g"),
            Step("Along, at the limit.", "F cos alpha = mu_s N = mu_s (m g - F sin alpha)"),
            Step("Solved for the pull.", "F = mu_s m g / (cos alpha + mu_s sin alpha) = {a}"),
        ),
        "b": (Step("The string takes its part off.", "N = m g - F sin alpha = {b}"),),
        "c": (
            Step("Sliding goes by the kinetic one.", "F = mu_k m g / (cos alpha + mu_k sin alpha) = {c}"),
        ),
    },
)  # fmt: skip

BEST_ANGLE = Texts(
    title="The easiest angle",
    text="A sled of `m = {m}` with {sole} under it slides steadily over a floor like {floor}, pulled level with "
    "`F_k = {F_k}`. Then the string is raised. Take `g = {g}`.",
    ask={
        "a": "What is the kinetic coefficient?",
        "b": "At which angle above the level does the least pull keep it going?",
        "c": "What is that pull?",
    },
    hints={
        "a": ("Level string: the whole weight presses.",),
        "b": (
            "`F = mu_k m g / (cos alpha + mu_k sin alpha)`: when is the bottom largest?",
            "`tan alpha = mu_k`",
        ),
        "c": ("Put the angle in. It comes to `m g sin alpha`.",),
    },
    solution={
        "a": (Step("Steady and level.", "mu_k = F_k / (m g) = {a}"),),
        "b": (
            Step("The pull is least where the bottom is largest.", "cos alpha + mu_k sin alpha"),
            Step("Its slope is nought there.", "tan alpha = mu_k"),
            Step("", "alpha = arctan mu_k = {b}"),
        ),
        "c": (
            Step("With the tangent put in for the coefficient.", "F = m g sin alpha = {c}"),
            Step("It saves little: the string lifts, but pulls along less."),
        ),
    },
)

LEVEL: Mapping[str, Texts] = MappingProxyType({
    "level-pull": LEVEL_PULL, "mu-from-pull": MU_FROM_PULL, "heaviest-load": HEAVIEST_LOAD, "held-still": HELD_STILL,
    "speed-up": SPEED_UP, "push-off": PUSH_OFF, "angled-pull": ANGLED_PULL, "best-angle": BEST_ANGLE,
})  # fmt: skip
