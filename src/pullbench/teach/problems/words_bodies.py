"""English words for problems with more than one body, or more than one force along the board."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pullbench.model.problem import Step
from pullbench.teach.problems.kind import Texts

STRING_BETWEEN = Texts(
    title="Two sleds in a row",
    text="Two sleds with {sole} under them stand in a row on {floor}. A level string joins them. The rear sled has "
    "`m_1 = {m_1}`, the front one `m_2 = {m_2}`. The front sled is pulled level with `F = {F}`, and both slide. "
    "`mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "How fast do they speed up?",
        "b": "What force is in the string between them?",
    },
    hints={
        "a": (
            "Taut string: both have the same acceleration. Take them as one body first.",
            "They slide: which `mu`?",
        ),
        "b": ("Look at the rear sled alone. What pulls it, what holds it back?",),
    },
    solution={
        "a": (
            Step(
                "Both sliding: kinetic friction on both.",
                "f_k = mu_k (m_1 + m_2) g = {mu_k} ({m_1} + {m_2}) {g}",
            ),
            Step("One body along the floor.", "a = (F - f_k) / (m_1 + m_2) = {a}"),
        ),
        "b": (
            Step(
                "The rear sled alone: the string beats its friction and speeds it up.",
                "F_12 - mu_k m_1 g = m_1 a",
            ),
            Step("", "F_12 = m_1 a + mu_k m_1 g = {b}"),
        ),
    },
)

STACKED_BLOCKS = Texts(
    title="Friction above and below",
    text="Block 1 lies on block 2, and block 2 on the floor. A level string runs from block 2 to a pulley on the wall "
    "and back to block 1. Block 2 is pulled away from the wall at a steady speed, so block 1 slides towards the "
    "wall. `m_1 = {m_1}` (above), `m_2 = {m_2}` (below). At both faces {sole} slides on a surface like {floor}: "
    "`mu_k = {mu_k}`. Take `g = {g}`; the pulley turns freely.",
    ask={"a": "What force is in the string?", "b": "With what force is block 2 pulled?"},
    hints={
        "a": ("Look at block 1 alone: it slides steadily.", "Only its own weight presses on its face."),
        "b": ("Count everything that holds block 2 back. There are three forces.",),
    },
    solution={
        "a": (Step("Block 1 slides steadily: string against friction on its face.", "F_1 = mu_k m_1 g = {a}"),),
        "b": (
            Step("Both blocks press on the floor.", "f_floor = mu_k (m_1 + m_2) g"),
            Step("Friction from block 1, friction of the floor and the string all hold block 2 back.",
                 "F = F_1 + mu_k m_1 g + mu_k (m_1 + m_2) g = {b}"),
        ),
    },
)  # fmt: skip

RIDER = Texts(
    title="The rider",
    text="A tin rides on a sled; nothing ties it. Tin `m_1 = {m_1}`, sled `m_2 = {m_2}`. Between tin and sled "
    "`mu_r = {mu_r}` at rest. The sled slides with {sole} on {floor}: `mu_k = {mu_k}`. It is pulled level and speeds "
    "up. Take `g = {g}`.",
    ask={
        "a": "The tin speeds up with the sled. Which way does the sled's friction push the tin?",
        "b": "What is the largest acceleration at which the tin still rides along?",
        "c": "With what pull does the sled slide when the tin is just about to slip?",
    },
    hints={
        "a": ("What else touches the tin? Something must speed it up.",),
        "b": ("Only friction speeds the tin up, and it has a limit.", "`m_1 a = mu_r m_1 g`"),
        "c": ("Take tin and sled as one body.", "What presses on the floor? Both."),
    },
    options={
        "a": ("forwards, with the sled", "backwards, against the sled", "no friction: it does not slide")
    },
    solution={
        "a": (
            Step(
                "Friction is the only force along the sled on the tin, and the tin speeds up forwards: {a}."
            ),
        ),
        "b": (Step("Static friction at its limit speeds the tin up.", "a = mu_r g = {b}"),),
        "c": (
            Step("Tin and sled as one body on the floor.", "F - mu_k (m_1 + m_2) g = (m_1 + m_2) a"),
            Step("", "F = (m_1 + m_2) (a + mu_k g) = {c}"),
        ),
    },
)

HANGING_LOAD = Texts(
    title="Pulled by a hanging load",
    text="A sled of `m_1 = {m_1}` with {sole} under it stands on {floor}. Its level string runs over a light, free "
    "pulley to a hanging load of `m_2 = {m_2}`. Let go, they start. `mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={"a": "How fast does the sled speed up?", "b": "What force is in the string meanwhile?"},
    hints={
        "a": ("One string, one acceleration: what drives, what brakes, and what mass must be sped up?",),
        "b": ("The load goes down faster and faster: is the string's force as large as its weight?",),
    },
    solution={
        "a": (
            Step("The load's weight drives, the sled's friction brakes, both masses speed up.",
                 "m_2 g - mu_k m_1 g = (m_1 + m_2) a"),
            Step("", "a = (m_2 - mu_k m_1) g / (m_1 + m_2) = {a}"),
        ),
        "b": (Step("The load alone.", "F = m_2 (g - a) = {b}"),),
    },
)  # fmt: skip

TILT_PULLEY = Texts(
    title="A load at the top of the board",
    text="A board surfaced like {floor} is tilted by `theta = {theta}`. On it stands a sled with {sole} under it, "
    "`m_1 = {m_1}`. Its string runs along the board, over a light, free pulley at the top, to a hanging load. "
    "`mu_s = {mu_s}`, `mu_k = {mu_k}`. Take `g = {g}`.",
    ask={
        "a": "What is the heaviest load with which the sled still does not slide uphill?",
        "b": "With a load of `m_2 = {m_2}` it slides uphill. How fast does it speed up?",
    },
    hints={
        "a": ("About to go uphill: which way does friction act?", "`N = m_1 g cos theta`"),
        "b": ("Sled and load have one acceleration. Both masses are sped up.",),
    },
    solution={
        "a": (
            Step("The board carries only part of the weight.", "N = m_1 g cos theta"),
            Step("About to slide uphill, weight's share and friction both act downhill.",
                 "m g = m_1 g sin theta + mu_s m_1 g cos theta"),
            Step("", "m = m_1 (sin theta + mu_s cos theta) = {a}"),
        ),
        "b": (
            Step("Along the string, both bodies.",
                 "m_2 g - m_1 g sin theta - mu_k m_1 g cos theta = (m_1 + m_2) a"),
            Step("", "a = {b}"),
        ),
    },
)  # fmt: skip

SCENERY_PUSH = Texts(
    title="Pushing scenery",
    text="A piece of scenery of `m = {m}` stands with {sole} on {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`. Stage crew "
    "push it at `alpha = {alpha}` below the level, downwards. Take `g = {g}`.",
    ask={
        "a": "What push just starts it?",
        "b": "How hard does the scenery press on the floor at that moment?",
        "c": "They push with `F = {F}` instead, at the same angle, and it slides. How fast does it speed up?",
    },
    hints={
        "a": ("The push also presses the scenery to the floor.", "`N = m g + F sin alpha`"),
        "b": ("Weight and the push's downward part both press on the floor.",),
        "c": ("With another push the normal force is another one, too.", "It slides: which `mu`?"),
    },
    solution={
        "a": (
            Step("Across the floor.", "N = m g + F sin alpha"),
            Step("Along the floor, at the limit.", "F cos alpha = mu_s (m g + F sin alpha)"),
            Step("", "F = mu_s m g / (cos alpha - mu_s sin alpha) = {a}"),
        ),
        "b": (Step("Weight and the push's downward part.", "N = m g + F sin alpha = {b}"),),
        "c": (
            Step(
                "Now it slides, under the larger push.",
                "a = (F cos alpha - mu_k (m g + F sin alpha)) / m = {c}",
            ),
        ),
    },
)

SHOES_AND_BOX = Texts(
    title="Whose friction ends first?",
    text="A person of `m_1 = {m_1}` drags a box of `m_2 = {m_2}` by a level rope. The shoes grip the floor with "
    "`mu_1 = {mu_1}` at rest. The box stands with {sole} on {floor}: `mu_s = {mu_s}`, `mu_k = {mu_k}`. "
    "Take `g = {g}`.",
    ask={
        "a": "What is the largest pull the shoes can hold against?",
        "b": "What pull starts the box?",
        "c": "The person pulls harder and harder. What happens first?",
    },
    hints={
        "a": ("The rope pulls the person towards the box; only friction on the shoes holds against it.",),
        "b": ("`f_max = mu_s N`",),
        "c": ("The rope pulls equally hard at both ends. Which limit is lower?",),
    },
    options={
        "c": ("the box starts", "the shoes slip", "neither, ever: both ends of the rope pull equally hard")
    },
    solution={
        "a": (Step("The shoes hold up to their largest static friction.", "F_1 = mu_1 m_1 g = {a}"),),
        "b": (Step("The box holds up to its own.", "F_2 = mu_s m_2 g = {b}"),),
        "c": (Step("One rope, one force: the lower limit ends first: {c}."),),
    },
)

BODIES: Mapping[str, Texts] = MappingProxyType({
    "string-between": STRING_BETWEEN, "stacked-blocks": STACKED_BLOCKS, "rider": RIDER,
    "hanging-load": HANGING_LOAD, "tilt-pulley": TILT_PULLEY, "scenery-push": SCENERY_PUSH,
    "shoes-and-box": SHOES_AND_BOX,
})  # fmt: skip
