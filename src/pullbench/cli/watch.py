"""`pullbench watch`: on watch at the bench, until told otherwise."""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from types import FrameType
from typing import Any

import click

from pullbench.archive import Logbook
from pullbench.cli.choosing import chosen_source, duration_s, source_options
from pullbench.cli.logbooks import USUAL_LOGBOOK
from pullbench.cli.page import open_page
from pullbench.cli.plain import Plain
from pullbench.cli.typed import TypedOrders, setting_of
from pullbench.errors import PageError
from pullbench.live import Analyst, Listener, PullTold, Session, StoodDown
from pullbench.sources import Source

BEGINS_WITHIN_S = 2.0


@click.command(name="watch", context_settings={"help_option_names": ["--help", "-h"]})
@source_options
@click.option("--plain", is_flag=True, help="In the terminal only, without a page.")
@click.option(
    "--json", "as_json", is_flag=True, help="One JSON line a pull, as `read` gives, without a page."
)
@click.option("--for", "for_text", metavar="TIME", help="Stand down by itself, after 30s, 5min or 1h.")
@click.option(
    "--logbook", type=click.Path(path_type=Path), help=f"Where everything is kept; {USUAL_LOGBOOK} here."
)
@click.option(
    "--port", type=click.IntRange(0, 65535), default=8730, show_default=True, help="Of the page; 0: any."
)
@click.option("--sled", help="The empty sled: 0.35kg.")
@click.option("--load", help="What is on it to begin with: 0.5kg.")
@click.option("--surface", help="What it stands on, such as felt.")
@click.option("--step", help="What is added after so many usable pulls: 0.5kg.")
@click.option("--pulls-per-step", type=click.IntRange(1, 99), help="How many; 3 when nothing is said.")
@click.option("--room", is_flag=True, help="Let phones in the room follow, by a join code.")
def command(**options: Any) -> None:
    """Go on watch: every pull is caught, judged, shown and kept.

    Prints the address of the page, with the key that makes it the teacher's. Ctrl-C stands down.
    """
    plain, as_json = options["plain"], options["as_json"]
    if options["room"] and (plain or as_json):
        raise PageError(
            "room-without-page",
            "--room is given with --plain or --json.",
            "The room follows on the page.",
            "Leave one out.",
        )
    for_s = duration_s(options["for_text"], "--for")
    setting = setting_of(options)
    source = chosen_source(options)
    with ExitStack() as stack:
        logbook = _logbook(options["logbook"], source)
        if logbook is not None:
            stack.enter_context(logbook)
        analyst = Analyst()
        stack.callback(analyst.close)
        session = Session(
            source, logbook, clock=time.monotonic, sleep=time.sleep, now=time.time, reader=analyst, for_s=for_s,
            first_looks=not as_json,
        )  # fmt: skip
        stack.callback(session.close)
        if setting is not None:
            session.board.set(setting)
        listener = session.listen(100_000 if as_json else 1024)
        has_page = not (plain or as_json)

        def show_page() -> None:
            if has_page:
                stack.callback(open_page(session, analyst, port=options["port"], room=options["room"]).stop)

        stays = has_page and for_s is None and sys.stdin.isatty()
        _watch(session, listener, options, begun=show_page, stays=stays)


def _logbook(path: Path | None, source: Source) -> Logbook | None:
    if path is None and source.label is not None:
        return None
    return Logbook.open(path or USUAL_LOGBOOK, now=time.time)


def _watch(
    session: Session, listener: Listener, options: dict[str, Any], *, begun: Callable[[], None], stays: bool
) -> None:
    """Run the session in a thread of its own and print what it tells.

    begun: called once the source is there.  stays: the page goes on after the source.
    """
    faults: list[BaseException] = []

    def run() -> None:
        try:
            session.run()
        except BaseException as fault:
            faults.append(fault)
            session.leave(listener)
        finally:
            session.begun.set()

    show = _json_lines(session) if options["as_json"] else _words(session, plain=options["plain"])
    typed = _typed(session, show, options)
    thread = threading.Thread(target=run, name="bench", daemon=True)
    stopped = threading.Event()

    def stand_down(number: int, frame: FrameType | None) -> None:
        stopped.set()
        session.end()

    before = {sign: signal.signal(sign, stand_down) for sign in (signal.SIGINT, signal.SIGTERM)}
    try:
        thread.start()
        session.begun.wait(BEGINS_WITHIN_S)  # so that no page is offered of a port that is not there
        if typed is not None:
            typed.start()
        if not faults:
            begun()
            _tell(session, listener, show, thread)
        thread.join()
        if faults:
            raise faults[0]
        while stays and not stopped.wait(0.2):
            pass
    finally:
        session.end()
        thread.join()
        if typed is not None:
            typed.stop()
        for sign, handler in before.items():
            signal.signal(sign, handler)


def _typed(session: Session, show: Any, options: dict[str, Any]) -> TypedOrders | None:
    """Return what listens to typed orders: with --plain, where standard input is a terminal and not the source."""
    taken = options["standard_input"] or options["typed"]
    if not options["plain"] or taken or not sys.stdin.isatty() or os.name == "nt":
        return None
    return TypedOrders(session, sys.stdin.fileno(), show.__self__.say)


def _tell(session: Session, listener: Listener, show: Any, thread: threading.Thread) -> None:
    """Print until the session is over."""
    while True:
        one = listener.get(0.2)
        if one is None:
            if not thread.is_alive():
                return
            continue
        show(one[1])
        if isinstance(one[1], StoodDown) and not session.on_watch and not thread.is_alive():
            return


def _words(session: Session, *, plain: bool) -> Any:
    if plain:
        blocks = (sys.stdout.encoding or "").lower().replace("-", "") in ("utf8", "utf16")
        return Plain(session, _out, steady=sys.stdout.isatty(), blocks=blocks).show
    return Plain(session, _out, steady=False).show


def _json_lines(session: Session) -> Any:
    told: set[int] = set()
    label = session.source.label
    end = b"" if label is None else f',"label":"{label}"}}'.encode()

    def show(message: object) -> None:
        if isinstance(message, PullTold) and message.record is not None and message.card.number not in told:
            told.add(message.card.number)
            record = message.record if label is None else message.record.removesuffix(b"}") + end
            _out(record.decode() + "\n")

    return show


def _out(text: str) -> None:
    sys.stdout.write(text)
    sys.stdout.flush()
