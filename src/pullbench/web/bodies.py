"""What comes in, decoded strictly: unknown shapes, sizes and slowness are refused before anything uses them."""

from __future__ import annotations

import asyncio
from typing import Literal, TypeVar

import msgspec
from starlette.requests import Request

from pullbench.errors import PageError
from pullbench.web.guard import MOST_BYTES

SLOWEST_S = 10.0
T = TypeVar("T")


class MarksBody(msgspec.Struct, forbid_unknown_fields=True):
    """Moments moved by hand, in bench seconds."""

    breakaway_s: float | None = None
    sliding_s: tuple[float, float] | None = None


class AsideBody(msgspec.Struct, forbid_unknown_fields=True):
    """Why a pull is set aside."""

    why: str


class HungMass(msgspec.Struct, forbid_unknown_fields=True):
    """One mass and a moment at which it hung still."""

    kg: float
    at_s: float


class MassesBody(msgspec.Struct, forbid_unknown_fields=True):
    """All masses hung."""

    hung: tuple[HungMass, ...]


class SettingBody(msgspec.Struct, forbid_unknown_fields=True):
    """What changes of the setting; next: one step more on the sled."""

    load_kg: float | None = None
    sled_kg: float | None = None
    surface: str | None = None
    u_load_kg: float | None = None
    step_kg: float | None = None
    pulls_per_step: int | None = None
    next: bool = False


class PullSettingBody(msgspec.Struct, forbid_unknown_fields=True):
    """What one pull's setting was in truth."""

    load_kg: float | None = None
    sled_kg: float | None = None
    surface: str | None = None


class TiltBody(msgspec.Struct, forbid_unknown_fields=True):
    """One trial on the tilted board."""

    kind: Literal["slid", "held", "slide"]
    angle_deg: float
    acceleration_m_s2: float | None = None
    surface: str = ""


class TiltAsideBody(msgspec.Struct, forbid_unknown_fields=True):
    """Why a trial is left out; null brings it back."""

    why: str | None


class QuestionBody(msgspec.Struct, forbid_unknown_fields=True):
    """A question to the class."""

    kind: Literal["number", "which"]
    question: str
    quantity: Literal["kinetic_N", "static_N"] | None = None
    options: tuple[str, ...] = ()


class SlipBody(msgspec.Struct, forbid_unknown_fields=True):
    """A slip.  token: random, of the page, so that it can change its own slip; it is kept nowhere."""

    token: str
    value_N: float | None = None
    plus_minus_N: float | None = None
    option: str | None = None


class RevealBody(msgspec.Struct, forbid_unknown_fields=True):
    """Which answer came out, when the pulls do not tell."""

    option: str | None = None


class WatchHello(msgspec.Struct):
    """The first message of a page: the last number it has, and its keys."""

    after: int = 0
    key: str | None = None
    code: str | None = None


class Go(msgspec.Struct):
    """Which bench to rehearse on."""

    bench: str = "default"


class RehearseMessage(msgspec.Struct):
    """Begin anew, where the hand is, or that it lets go; keys in the first one from the room."""

    go: Go | None = None
    x: tuple[tuple[float, float], ...] | None = None
    let_go: float | None = None
    key: str | None = None
    code: str | None = None


async def body_of(request: Request, shape: type[T]) -> T:
    """Return a request's body.  Raises PageError when it is too large, too slow or not as asked."""
    try:
        async with asyncio.timeout(SLOWEST_S):
            octets = bytearray()
            async for part in request.stream():
                octets += part
                if len(octets) > MOST_BYTES:
                    raise PageError(
                        "body-too-large",
                        "What was sent is too large.",
                        f"Up to {MOST_BYTES // 1024} kB.",
                        "Send less.",
                    )
    except TimeoutError:
        raise PageError(
            "body-too-slow",
            "What was sent did not come in time.",
            f"Within {SLOWEST_S:g} s.",
            "Send it again.",
        ) from None
    return decoded(bytes(octets) or b"{}", shape)


def decoded(octets: bytes | str, shape: type[T]) -> T:
    """Return JSON as a value of this shape.  Raises PageError."""
    try:
        return msgspec.json.decode(octets, type=shape)
    except (msgspec.DecodeError, UnicodeError, RecursionError) as fault:
        raise PageError(
            "body-unreadable", f"What was sent cannot be used: {str(fault)[:120]}.",
            "It must be as docs/watch.md says.",
            "Load the page again.",
        ) from fault  # fmt: skip
