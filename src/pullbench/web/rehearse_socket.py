"""The rehearsal's socket: a hand comes in, the virtual bench goes out."""

from __future__ import annotations

import asyncio
import secrets
from contextlib import suppress

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.websockets import WebSocket, WebSocketDisconnect

from pullbench.errors import PageError
from pullbench.live import NO_PULL, Rehearsal, Rehearsed, Stage
from pullbench.model import Measured
from pullbench.render import told
from pullbench.web import faults, wire
from pullbench.web.bodies import RehearseMessage, decoded
from pullbench.web.doors import Doors

MOST_AT_ONCE = 8
SAMPLE_S = 1 / 30
MOST_A_SECOND = 120
IDLE_S = 120.0
READ_WITHIN_S = 30.0
_busy = 0


async def rehearse(socket: WebSocket, doors: Doors, stage: Stage) -> None:
    """Serve one rehearsal until the page leaves."""
    global _busy
    await socket.accept()
    if _busy >= MOST_AT_ONCE:
        await socket.send_text(faults.on_socket(faults.too_many("rehearsals")).decode())
        await socket.close(1013)
        return
    _busy += 1
    try:
        await _Line(socket, doors, stage).serve()
    except PageError as fault:
        with suppress(WebSocketDisconnect, RuntimeError):
            await socket.send_text(faults.on_socket(fault).decode())
            await socket.close(1008)
    except TimeoutError:
        with suppress(WebSocketDisconnect, RuntimeError):
            await socket.close(1001)
    except (WebSocketDisconnect, RuntimeError):
        pass
    finally:
        _busy -= 1


class _Line:
    def __init__(self, socket: WebSocket, doors: Doors, stage: Stage) -> None:
        self._socket, self._doors, self._stage = socket, doors, stage
        self._rehearsal: Rehearsal | None = None
        self._told_s = 0.0
        self._let_in = False
        self._second, self._said = 0, 0

    async def serve(self) -> None:
        while True:
            async with asyncio.timeout(IDLE_S):
                text = await self._socket.receive_text()
            self._not_too_often()
            message = decoded(text, RehearseMessage)
            self._identify(message)
            if message.go is not None:
                await self._begin()
            elif message.x is not None and self._rehearsal is not None:
                await self._move(self._rehearsal, message.x)
            elif message.let_go is not None and self._rehearsal is not None:
                await self._let_go(self._rehearsal)

    def _identify(self, message: RehearseMessage) -> None:
        if not self._let_in:
            address = self._socket.client.host if self._socket.client else ""
            self._doors.role(address, message.key, message.code)
            self._let_in = True

    def _not_too_often(self) -> None:
        second = int(asyncio.get_running_loop().time())
        self._said = self._said + 1 if second == self._second else 1
        self._second = second
        if self._said > MOST_A_SECOND:
            raise faults.too_many("moves of the hand")

    async def _begin(self) -> None:
        self._rehearsal = await run_in_threadpool(Rehearsal, secrets.randbelow(2**31))
        self._told_s = 0.0
        await self._send({"ready": True, "label": "simulated"})

    async def _move(self, rehearsal: Rehearsal, places: tuple[tuple[float, float], ...]) -> None:
        for time_s, place_m in places[:MOST_A_SECOND]:
            rehearsal.move(time_s, place_m)
        seen = rehearsal.seen()
        if seen.time_s - self._told_s >= SAMPLE_S:
            self._told_s = seen.time_s
            await self._send(
                {
                    "t": seen.time_s, "force_N": seen.force_N, "sled_m": seen.sled_m, "sliding": seen.sliding,
                    "slack": seen.slack, "text": seen.force.text, "plus_minus": seen.force.plus_minus,
                    "label": "simulated",
                }
            )  # fmt: skip

    async def _let_go(self, rehearsal: Rehearsal) -> None:
        self._rehearsal = None
        future = self._stage.read(rehearsal.seed, rehearsal.let_go())
        async with asyncio.timeout(READ_WITHIN_S):
            read = await asyncio.wrap_future(future)
        if read.sheet is None:
            await self._send({"no_pull": NO_PULL, "label": "simulated"})
        else:
            await self._send(
                {"card+": wire.sheet_of(read.sheet), "truth": _truth(read), "label": "simulated"}
            )

    async def _send(self, message: object) -> None:
        await self._socket.send_text(msgspec.json.encode(message).decode())


def _truth(read: Rehearsed) -> dict[str, object]:
    """Return what was put in: exact numbers of the simulation, as texts with three figures."""
    truth = read.truth
    if truth is None or truth.breakaway_force_N is None or truth.kinetic_N is None:
        return {"sentence": "The sled never moved.", "static": None, "kinetic": None}
    return {
        "static": told(_exact(truth.breakaway_force_N)),
        "kinetic": told(_exact(truth.kinetic_N)),
        "at_s": truth.breakaway_time_s,
    }


def _exact(value_N: float) -> Measured:
    half = 0.005  # shown to a hundredth of a newton
    return Measured(
        kind="value",
        value=value_N,
        standard_uncertainty=half / 2,
        limits=(value_N - half, value_N + half),
        unit="N",
    )
