"""The next lesson's screens over HTTP: the forces of a held-up pull, and required against available."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import cast

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from pullbench.analysis import Conditions, with_coefficients
from pullbench.errors import PageError
from pullbench.live import Sheet
from pullbench.model.required import Grip, ScenarioName
from pullbench.physics import STANDARD_GRAVITY_M_S2, weight_N
from pullbench.render.free_body_json import free_body_record
from pullbench.render.required_svg import required_record
from pullbench.sources.handbook import handbook
from pullbench.teach.free_body import moments
from pullbench.teach.required import SCENARIOS, grip_from, grip_from_handbook, required
from pullbench.web import wire
from pullbench.web.typed import doubt_of, number

Held = Callable[[Request], Awaitable[Sheet]]
LONGEST = 80  # letters of a pair of surfaces


def next_lesson_routes(held: Held) -> list[Route]:
    """Return the routes.  held: the sheet that a request for /pull/{number}... is about, its role checked."""

    async def forces(request: Request) -> Response:
        sheet = await held(request)
        return await _answer(lambda: _forces(request, sheet))

    async def pull_required(request: Request) -> Response:
        sheet = await held(request)
        return await _answer(lambda: _required(request, lambda: _grip_of(request, sheet)))

    async def book_required(request: Request) -> Response:
        return await _answer(lambda: _required(request, lambda: _grip_of_book(request)))

    return [
        Route("/pull/{number:int}/forces", forces, methods=["GET"]),
        Route("/pull/{number:int}/required", pull_required, methods=["GET"]),
        Route("/required", book_required, methods=["GET"]),
    ]


async def _answer(work: Callable[[], dict[str, object]]) -> Response:
    return Response(wire.encoded(await run_in_threadpool(work)), media_type="application/json")


def _forces(request: Request, sheet: Sheet) -> dict[str, object]:
    conditions = _conditions(request, sheet)
    rider_kg = _number(request, "rider_kg")
    body = moments(sheet.pull, conditions=conditions, rider_kg=rider_kg).at(sheet.kept)
    return {
        **free_body_record(body, offset_s=sheet.offset_s), "number": sheet.card.number, "label": sheet.card.label,
        "load_kg": body.mass_kg, "said_kg": _said_kg(sheet),
    }  # fmt: skip


def _conditions(request: Request, sheet: Sheet) -> Conditions | None:
    """Return the load as the bench was told it for this pull, else as typed here; angles as typed."""
    said_kg, typed_kg = _said_kg(sheet), _number(request, "load_kg")
    load_kg = typed_kg if said_kg is None else said_kg
    angles = {name: _number(request, name) or 0.0 for name in ("string_deg", "tilt_deg")}
    if load_kg is None:
        if any(angles.values()):
            raise PageError(
                "load-not-said", "An angle was typed without a load.", "With an angle the weight must be known.",
                "Type the mass of sled and load in kilograms.",
            )  # fmt: skip
        return None
    for name, angle_deg in angles.items():
        if not abs(angle_deg) < 90:
            raise PageError(
                "angle-impossible", f"{name.split('_')[0].capitalize()} angle is {angle_deg:g}°.",
                "It must lie strictly between -90° and 90°.", "Measure it from the surface, in degrees.",
            )  # fmt: skip
    doubt_kg = None if said_kg is not None else _number(request, "u_load_kg")
    u_kg = doubt_of(request.query_params["load_kg"] if said_kg is None else f"{said_kg:.2f}", doubt_kg)
    return Conditions(
        weight_N=weight_N(load_kg), u_weight_N=u_kg * STANDARD_GRAVITY_M_S2,
        string_deg=angles["string_deg"], tilt_deg=angles["tilt_deg"],
    )  # fmt: skip


def _said_kg(sheet: Sheet) -> float | None:
    setting = sheet.card.setting
    if setting is None or setting.load_kg is None or setting.sled_kg is None:
        return None
    return setting.load_kg + setting.sled_kg


def _required(request: Request, grip: Callable[[], Grip]) -> dict[str, object]:
    scenario = request.query_params.get("scenario", "rider")
    if scenario not in SCENARIOS:
        raise PageError(
            "scenario-unknown", f"There is no scenario {scenario[:40]!r}.", f"There are {', '.join(SCENARIOS)}.",
            "Choose one of these.",
        )  # fmt: skip
    found = required(
        cast(ScenarioName, scenario),
        grip(),
        mass_kg=_number(request, "mass_kg"),
        most=_number(request, "most"),
    )
    return required_record(found)


def _grip_of(request: Request, sheet: Sheet) -> Grip:
    """Return the grip that a pull gives under the load that was typed."""
    conditions = _conditions(request, sheet)
    if conditions is None:
        raise PageError(
            "load-not-said", f"Pull {sheet.card.number} has no load.", "A coefficient needs the load that was pulled.",
            "Type the mass of sled and load in kilograms, or take a pair from the handbook.",
        )  # fmt: skip
    pull = with_coefficients(sheet.pull, conditions)
    assert pull.static_coefficient is not None  # with_coefficients gives both, told or not
    return grip_from(
        pull.static_coefficient,
        pull.kinetic_coefficient,
        told=f"pull {sheet.card.number}",
        label=sheet.card.label,
    )


def _grip_of_book(request: Request) -> Grip:
    surfaces = request.query_params.get("surfaces", "")[:LONGEST]
    return grip_from_handbook(handbook().find(surfaces))


def _number(request: Request, name: str) -> float | None:
    """Return a number of the query, None without one.  Raises PageError."""
    return number(request.query_params.get(name, ""), name, "1.35")
