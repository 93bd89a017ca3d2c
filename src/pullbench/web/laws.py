"""The addresses of settings, laws, the tilted board and predictions, and what lies behind each."""

from __future__ import annotations

import math
from collections.abc import Awaitable, Callable
from typing import Any, cast

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from pullbench.errors import PageError
from pullbench.live import Board, SettingChange, SlipDesk
from pullbench.model import Prediction, Quantity, Slip, TiltReading
from pullbench.render.tokens import RoomName
from pullbench.web import faults, wire
from pullbench.web.bodies import (
    PullSettingBody,
    QuestionBody,
    RevealBody,
    SettingBody,
    SlipBody,
    TiltAsideBody,
    TiltBody,
    body_of,
)
from pullbench.web.doors import Doors

Answer = Callable[[Request], Awaitable[object]]
WIDEST_MARGIN = 1000.0


def law_routes(
    board: Board,
    slips: SlipDesk,
    doors: Doors,
    question: Callable[[str, Answer], Route],
    order: Callable[[str, Answer], Route],
) -> list[Route]:
    """Return the routes.  question: makes one that those who follow may ask; order: one that needs the key."""
    return [
        *_questions(board, question),
        *_settings(board, order),
        *_predictions(slips, order),
        Route("/prediction/slip", _slip(slips, doors), methods=["POST"]),
    ]


def _questions(board: Board, question: Callable[[str, Answer], Route]) -> list[Route]:
    async def ladder(request: Request) -> object:
        return await run_in_threadpool(board.ladder, _surface(request), _room(request))

    async def surfaces(request: Request) -> object:
        return await run_in_threadpool(board.surfaces, _quantity(request), _margin(request), _room(request))

    async def tilt(request: Request) -> object:
        narrow = request.query_params.get("narrow") == "1"
        return await run_in_threadpool(board.tilt, _surface(request), _room(request), narrow)

    return [question("/ladder", ladder), question("/surfaces", surfaces), question("/tilt", tilt)]


def _settings(board: Board, order: Callable[[str, Answer], Route]) -> list[Route]:
    async def setting(request: Request) -> object:
        told = await body_of(request, SettingBody)
        asked = msgspec.structs.asdict(told)
        change = SettingChange(step=asked.pop("next"), **asked)
        return {"setting": await run_in_threadpool(board.set, change)}

    async def pull_setting(request: Request) -> object:
        change = SettingChange(**msgspec.structs.asdict(await body_of(request, PullSettingBody)))
        return await run_in_threadpool(board.correct, int(request.path_params["number"]), change)

    async def tilt(request: Request) -> object:
        told = await body_of(request, TiltBody)
        reading = TiltReading(
            kind=told.kind, angle_deg=told.angle_deg, acceleration_m_s2=told.acceleration_m_s2,
            surface=" ".join(told.surface.split()),
        )  # fmt: skip
        await run_in_threadpool(board.add_tilt, reading)
        return await run_in_threadpool(board.tilt, None, _room(request))

    async def tilt_aside(request: Request) -> object:
        why = (await body_of(request, TiltAsideBody)).why
        await run_in_threadpool(board.set_tilt_aside, int(request.path_params["place"]), why)
        return await run_in_threadpool(board.tilt, None, _room(request))

    return [
        order("/setting", setting),
        order("/pull/{number:int}/setting", pull_setting),
        order("/tilt", tilt),
        order("/tilt/{place:int}/aside", tilt_aside),
    ]


def _predictions(slips: SlipDesk, order: Callable[[str, Answer], Route]) -> list[Route]:
    async def opened(request: Request) -> object:
        told = await body_of(request, QuestionBody)
        asked = Prediction(
            kind=told.kind, question=" ".join(told.question.split()), quantity=told.quantity or "kinetic_N",
            options=tuple(" ".join(option.split()) for option in told.options) if told.kind == "which" else (),
        )  # fmt: skip
        return {"prediction": await run_in_threadpool(slips.open, asked)}

    async def hands(request: Request) -> object:
        told = await body_of(request, dict[str, int | tuple[float, ...]])
        values = told.get("values")
        if isinstance(values, tuple) and len(told) == 1:
            return {"prediction": await run_in_threadpool(slips.call_out, values)}
        counts = {option: count for option, count in told.items() if isinstance(count, int)}
        if not counts or len(counts) < len(told):
            raise PageError(
                "body-unreadable", "The show of hands says neither counts nor values.",
                'It is {"answer": count, …} or {"values": [newtons, …]}.', "Count again.",
            )  # fmt: skip
        return {"prediction": await run_in_threadpool(slips.count_hands, counts)}

    async def commit(request: Request) -> object:
        return {"prediction": await run_in_threadpool(slips.commit)}

    async def reveal(request: Request) -> object:
        option = (await body_of(request, RevealBody)).option
        return {"prediction": await run_in_threadpool(slips.reveal, option)}

    async def clear(request: Request) -> object:
        await run_in_threadpool(slips.clear)
        return {"prediction": None}

    return [
        order("/prediction/open", opened),
        order("/prediction/hands", hands),
        order("/prediction/commit", commit),
        order("/prediction/reveal", reveal),
        order("/prediction/clear", clear),
    ]


def _slip(slips: SlipDesk, doors: Doors) -> Callable[[Request], Awaitable[Response]]:
    """Return what takes a slip: from the teacher, this machine and all who follow, so many and no more."""

    async def endpoint(request: Request) -> Response:
        address = request.client.host if request.client else ""
        doors.role(address, request.headers.get("x-bench-key"), request.headers.get("x-join-code"))
        if not doors.admits_slip(address):
            raise faults.too_many("slips")
        told = await body_of(request, SlipBody)
        slip = Slip(value_N=told.value_N, plus_minus_N=told.plus_minus_N, option=told.option)
        await run_in_threadpool(slips.hand_in, told.token, slip)
        return Response(wire.encoded({"handed_in": True}), media_type="application/json")

    return endpoint


def _surface(request: Request) -> str | None:
    return request.query_params.get("surface", "").strip()[:200] or None


def _room(request: Request) -> RoomName:
    return "dark" if request.query_params.get("room") == "dark" else "light"


def _quantity(request: Request) -> Quantity | None:
    told = request.query_params.get("quantity", "").strip()
    if told not in ("", "kinetic", "static"):
        raise PageError(
            "quantity-unknown",
            f"The quantity is {told[:40]!r}.",
            "It can be kinetic or static.",
            "Ask for one of them.",
        )
    return cast(Any, told) or None


def _margin(request: Request) -> float | None:
    told = request.query_params.get("margin", "").strip()
    if not told:
        return None
    try:
        margin = float(told)
    except ValueError:
        margin = math.nan
    if not 0 < margin <= WIDEST_MARGIN:  # written so that NaN is refused too
        raise PageError(
            "margin-not-positive", f"The margin is {told[:40]!r}.",
            f"It must be a number above 0, up to {WIDEST_MARGIN:g}.",
            "Choose which difference would not matter, such as 0.05.",
        )  # fmt: skip
    return margin
