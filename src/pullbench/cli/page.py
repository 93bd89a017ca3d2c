"""The page of a session, opened: its port, its keys, its address printed once."""

from __future__ import annotations

import sys
import time

from pullbench.errors import PageError
from pullbench.live import Session, Stage
from pullbench.live.analyst import Reader
from pullbench.web import (
    Bench,
    Doors,
    Hub,
    Join,
    Serving,
    bind,
    join_for,
    make_app,
    new_code,
    new_key,
    room_address,
)


class OpenPage:
    """A page that is being served."""

    def __init__(self, serving: Serving, stage: Stage) -> None:
        self._serving, self._stage = serving, stage

    def stop(self) -> None:
        """Say goodbye to all pages."""
        self._serving.stop()
        self._stage.close()


def open_page(session: Session, reader: Reader, *, port: int, room: bool) -> OpenPage:
    """Serve a session's page and print its address.  Raises PageError when there is no port or no network."""
    address = room_address() if room else None
    if room and address is None:
        raise PageError(
            "no-network", "This machine is in no network.", "--room needs one that the phones are in too.",
            "Join the room's network, or leave --room out.",
        )  # fmt: skip
    listening = bind("0.0.0.0" if room else "127.0.0.1", port)
    port = listening.getsockname()[1]
    key, code = new_key(), new_code() if room else None
    names = ["127.0.0.1", "localhost", "[::1]", *([address] if address else [])]
    hosts = frozenset(f"{name}:{port}" for name in names) | (frozenset(names) if port == 80 else frozenset())
    join: Join | None = join_for(address, port, code) if address and code else None
    stage = Stage()
    doors = Doors(key=key, code=code, hosts=hosts, clock=time.monotonic)
    serving = Serving(make_app(Bench(session, doors, reader, stage, Hub(session), join)), listening)
    serving.start()
    print(f"On watch: {session.source.name}{f' ({session.source.label})' if session.source.label else ''}.")
    print(f"The teacher's page: http://127.0.0.1:{port}/#key={key}")
    if join is not None:
        print(f"Phones follow at {join.url} with the code {join.code}.")
    print("Ctrl-C stands down.")
    sys.stdout.flush()
    return OpenPage(serving, stage)
