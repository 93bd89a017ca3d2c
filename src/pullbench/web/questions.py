"""What can be asked: the strip, a pull held up, pulls compared, days, and pulls found by word."""

from __future__ import annotations

import re

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from pullbench.errors import PageError
from pullbench.live import Session, Sheet, card_of_row, cards_of, sheet_from_logbook
from pullbench.live.settings import Settings
from pullbench.render.differences import THESE_TWO, differences
from pullbench.web import wire
from pullbench.web.gates import Bench, at_home, day_asked, logbook_of, question, role_of
from pullbench.web.next_lesson import next_lesson_routes

SEARCH_MOST = 200
MOST_COMPARED = 12


def question_routes(bench: Bench) -> list[Route]:
    """Return what can be asked of the day and of other days."""
    session = bench.session

    async def strip(request: Request) -> Response:
        role_of(bench, request)
        numbers = [_number(request, name) for name in ("from", "to", "columns")]
        columns = int(numbers[2]) if abs(numbers[2]) < 1e6 else 0
        found = await run_in_threadpool(session.strip, numbers[0], numbers[1], columns)
        return Response(wire.strip_frame(found), media_type="application/octet-stream")

    async def held(request: Request) -> Sheet:
        day = day_asked(bench, request)
        number = request.path_params["number"]
        if day == session.day:
            return await run_in_threadpool(session.pulls.sheet, number)
        logbook = logbook_of(bench)
        return await run_in_threadpool(sheet_from_logbook, logbook, day, number, bench.reader)

    async def pull(request: Request) -> object:
        return wire.sheet_of(await held(request))

    async def compared(request: Request) -> object:
        day, numbers = day_asked(bench, request), _pulls_asked(request)
        found = (
            session.snapshot().pulls
            if day == session.day
            else await run_in_threadpool(cards_of, logbook_of(bench), day)
        )
        cards = {card.number: card for card in found}
        if unknown := [number for number in numbers if number not in cards]:
            raise PageError(
                "pull-unknown",
                f"There is no pull {unknown[0]} on {day}.",
                "The day lists its pulls.",
                "Ask for others.",
            )
        return {"differences": differences([cards[number] for number in numbers]), "says": THESE_TWO}

    async def days(request: Request) -> object:
        at_home(bench, request)
        return {"days": await run_in_threadpool(_days, bench)}

    async def one_day(request: Request) -> object:
        day = request.path_params["day"]
        if day == session.day:
            role_of(bench, request)
            found = session.snapshot()
            return {"day": day, "pulls": found.pulls, "news": [wire.news_of(news) for news in found.news]}
        at_home(bench, request)
        logbook = logbook_of(bench)
        pulls = await run_in_threadpool(cards_of, logbook, day)
        told = await run_in_threadpool(logbook.news, day)
        return {"day": day, "pulls": pulls, "news": [wire.news_of(row.news) for row in told]}

    async def search(request: Request) -> object:
        at_home(bench, request)
        return {
            "found": await run_in_threadpool(
                _search, bench, request.query_params.get("text", "")[:200].strip()
            )
        }

    return [
        Route("/strip", strip, methods=["GET"]),
        question("/pull/{number:int}", pull),
        question("/compare", compared),
        question("/days", days),
        question("/days/{day}", one_day),
        question("/search", search),
        *next_lesson_routes(held),
    ]


def _days(bench: Bench) -> list[dict[str, object]]:
    session = bench.session
    if session.logbook is None:
        return [_day_row(session, session.day, None, 0)]
    rows = []
    for row in session.logbook.days():
        labels = {one.label for one in session.logbook.recordings(row.day)}
        label = next(iter(labels)) if len(labels) == 1 else None
        aside = sum(pull.aside is not None for pull in session.logbook.pulls(row.day))
        rows.append(
            {
                "day": row.day,
                "pulls": row.pulls,
                "set_aside": aside,
                "label": label,
                "today": row.day == session.day,
            }
        )
    if all(row["day"] != session.day for row in rows):
        rows.append(_day_row(session, session.day, session.source.label, 0))
    return rows[::-1]


def _day_row(session: Session, day: str, label: str | None, aside: int) -> dict[str, object]:
    pulls = session.snapshot().pulls
    aside = sum(card.aside is not None for card in pulls)
    return {"day": day, "pulls": len(pulls), "set_aside": aside, "label": label, "today": True}


def _search(bench: Bench, text: str) -> list[dict[str, object]]:
    session = bench.session
    if not text:
        return []
    if session.logbook is None:
        wanted = text.lower()
        cards = [card for card in session.snapshot().pulls if wanted in wire.encoded(card).decode().lower()]
        return [{"day": session.day, "pull": card} for card in cards[:SEARCH_MOST]]
    found = session.logbook.search(text)[-SEARCH_MOST:]
    offsets = {
        row.id: row.offset_s for day in {row.day for row in found} for row in session.logbook.recordings(day)
    }
    settings = {day: Settings(day, session.logbook) for day in {row.day for row in found}}
    cards_found = [
        (row.day, card_of_row(row, offsets.get(row.recording, 0.0), settings[row.day])) for row in found
    ]
    return [{"day": day, "pull": card} for day, card in cards_found if card is not None]


def _pulls_asked(request: Request) -> list[int]:
    """Return the pulls to compare, such as 1+2.  Raises PageError."""
    text = request.query_params.get("pulls", "")[:80]
    numbers = list(
        dict.fromkeys(
            int(one) for one in re.split(r"[ +,]+", text.strip()) if one.isascii() and one.isdigit()
        )
    )
    if not 2 <= len(numbers) <= MOST_COMPARED:
        raise PageError(
            "pulls-to-compare", f"Pulls {text!r} are to be compared.",
            f"It takes 2 to {MOST_COMPARED} numbers, such as 1+2.", "Name them again.",
        )  # fmt: skip
    return numbers


def _number(request: Request, name: str) -> float:
    try:
        return float(request.query_params[name])
    except (KeyError, ValueError):
        raise PageError(
            "strip-impossible", f"{name} is {request.query_params.get(name, '')[:40]!r}.", "It must be a number.",
            "Load the page again.",
        ) from None  # fmt: skip
