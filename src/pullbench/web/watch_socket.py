"""The page's socket: a hello, then everything as it comes."""

from __future__ import annotations

import asyncio
from contextlib import suppress
from time import localtime, strftime

from starlette.websockets import WebSocket, WebSocketDisconnect

from pullbench.errors import PageError
from pullbench.live import Session
from pullbench.web import faults, wire
from pullbench.web.bodies import WatchHello, decoded
from pullbench.web.doors import Doors
from pullbench.web.hub import Hub, Watcher
from pullbench.web.join import Join

HELLO_S = 5.0
MOST_WATCHERS = 200
MOST_CHATTER = 20  # further messages; a page sends none
REFUSED = 1008  # policy violation: trying again does not help
BUSY = 1013  # try again later


async def watch(socket: WebSocket, session: Session, doors: Doors, hub: Hub, join: Join | None) -> None:
    """Serve one page until it leaves, is stuck, or says what it should not."""
    await socket.accept()
    if hub.count >= MOST_WATCHERS:
        await _refuse(socket, faults.too_many("pages"), BUSY)
        return
    try:
        async with asyncio.timeout(HELLO_S):
            said = decoded(await socket.receive_text(), WatchHello)
        address = socket.client.host if socket.client else ""
        role, wrong_key = doors.role(address, said.key, said.code)
    except PageError as fault:
        await _refuse(socket, fault, REFUSED)
        return
    except (TimeoutError, KeyError):
        await _refuse(socket, _no_hello(), REFUSED)
        return
    except WebSocketDisconnect:
        return

    def greet() -> tuple[int, list[str]]:
        snapshot = session.snapshot(said.after)
        since = strftime("%H:%M", localtime(snapshot.since_at))
        texts = [wire.hello(snapshot, role=role, join=join if role == "teacher" else None, since=since)]
        texts += [text for seq, state in snapshot.missed if (text := wire.text_of(seq, state))]
        if wrong_key:
            texts.append(faults.on_socket(faults.wrong_key()).decode())
        said.after = 0  # what was missed is told once
        return snapshot.seq, texts

    watcher = Watcher(socket, greet)
    hub.add(watcher)
    jobs = [asyncio.create_task(job) for job in (watcher.send(), _hear(socket), watcher.stuck.wait())]
    try:
        done, _ = await asyncio.wait(jobs, return_when=asyncio.FIRST_COMPLETED)
        for job in done:
            with suppress(WebSocketDisconnect, RuntimeError):
                job.result()
    finally:
        hub.remove(watcher)
        for job in jobs:
            job.cancel()
        await asyncio.gather(*jobs, return_exceptions=True)
        with suppress(WebSocketDisconnect, RuntimeError):
            await socket.close(REFUSED if jobs[1] in done else 1001)


async def _hear(socket: WebSocket) -> None:
    """Return when the page has said too much; raises WebSocketDisconnect when it leaves."""
    for _ in range(MOST_CHATTER):
        message = await socket.receive()
        if message["type"] == "websocket.disconnect":
            raise WebSocketDisconnect(message.get("code", 1005))


async def _refuse(socket: WebSocket, fault: PageError, code: int) -> None:
    with suppress(WebSocketDisconnect, RuntimeError):
        await socket.send_text(faults.on_socket(fault).decode())
        await socket.close(code, fault.code)


def _no_hello() -> PageError:
    return PageError(
        "body-unreadable",
        "The page did not say hello.",
        f"It must within {HELLO_S:g} s.",
        "Load the page again.",
    )
