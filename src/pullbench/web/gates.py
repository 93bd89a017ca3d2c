"""Who may ask and order what, and the routes that questions and orders become."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from pathlib import Path

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from pullbench.archive import Logbook
from pullbench.errors import PageError
from pullbench.live import Session, Stage
from pullbench.live.analyst import Reader
from pullbench.web import faults, wire
from pullbench.web.doors import LOOPBACK, Doors, Role
from pullbench.web.hub import Hub
from pullbench.web.join import Join

STATIC = Path(__file__).parent / "static"
Answer = Callable[[Request], Awaitable[object]]


@dataclass(frozen=True)
class Bench:
    """What the page needs: the session, who may come in, the reader of old pulls, the stage for rehearsals."""

    session: Session
    doors: Doors
    reader: Reader
    stage: Stage
    hub: Hub
    join: Join | None = None
    static: Path = STATIC


def let_in(bench: Bench, answer: Answer) -> Answer:
    """Return an answer for the teacher, this machine and those who follow with the code."""

    async def checked(request: Request) -> object:
        role_of(bench, request)
        return await answer(request)

    return checked


def question(path: str, answer: Answer) -> Route:
    """Return a route that answers in JSON; the answer itself says who may ask."""

    async def endpoint(request: Request) -> Response:
        return Response(wire.encoded(await answer(request)), media_type="application/json")

    return Route(path, endpoint, methods=["GET"])


def order(path: str, answer: Answer, bench: Bench) -> Route:
    """Return a route for what changes the day: only with the teacher key."""

    async def endpoint(request: Request) -> Response:
        teacher_only(bench, request)
        return Response(wire.encoded(await answer(request)), media_type="application/json")

    return Route(path, endpoint, methods=["POST"])


def teacher_only(bench: Bench, request: Request) -> None:
    """Let only the teacher in.  Raises PageError."""
    key = request.headers.get("x-bench-key")
    role, wrong = bench.doors.role(address_of(request), key, request.headers.get("x-join-code"))
    if role != "teacher":
        raise faults.wrong_key() if wrong else faults.no_key()


def address_of(request: Request) -> str:
    """Return who asks."""
    return request.client.host if request.client else ""


def role_of(bench: Bench, request: Request) -> Role:
    """Return what somebody may do.  Raises PageError for nobody."""
    return bench.doors.role(
        address_of(request), request.headers.get("x-bench-key"), request.headers.get("x-join-code")
    )[0]


def at_home(bench: Bench, request: Request) -> None:
    """Let only the teacher and this machine at other days: who follows a lesson follows today's."""
    if role_of(bench, request) != "teacher" and address_of(request) not in LOOPBACK:
        raise PageError(
            "only-today",
            "Who follows sees today's pulls.",
            "The logbook is the teacher's.",
            "Ask the teacher.",
        )


def day_asked(bench: Bench, request: Request) -> str:
    """Return the day a question is about, who asks checked.  Raises PageError."""
    day = request.query_params.get("day") or bench.session.day
    if day == bench.session.day:
        role_of(bench, request)
    else:
        at_home(bench, request)
    return day


def logbook_of(bench: Bench) -> Logbook:
    """Return the session's logbook.  Raises PageError when it keeps none."""
    if bench.session.logbook is None:
        raise PageError(
            "no-logbook",
            "This session keeps no logbook.",
            "Other days are in a logbook.",
            "Go on watch with --logbook FILE.",
        )
    return bench.session.logbook
