"""Orders typed on the terminal while on watch: the words of the page, a line each."""

from __future__ import annotations

import os
import re
import select
import threading
from collections.abc import Callable

from pullbench.cli.quantities import MASSES_KG, number_and_unit, size
from pullbench.errors import ConditionsError, PageError, PullbenchError
from pullbench.live import Session, SettingChange
from pullbench.model import Setting, TiltReading
from pullbench.render import mass_words

KNOWN = (
    "next load, load 1kg, sled 0.35kg, step 0.5kg, surface felt, set aside 7 slack string, bring back 7, null, "
    "tilt 17.5 slid, draw the line, compare, stand down, go on watch"
)
LOOK_S = 0.2
MOST_OCTETS = 4096


def do(text: str, session: Session) -> str:
    """Do what a typed line says; return one sentence on what was done, empty for an empty line.

    Raises PullbenchError for words that are no order, and as the orders do.
    """
    words = " ".join(text.split())
    for pattern, order in _ORDERS:
        match = re.fullmatch(pattern, words, re.IGNORECASE)
        if match is not None:
            return order(session, match)
    if not words:
        return ""
    raise PageError(
        "order-unknown", f"{words[:60]!r} is no order.", f"Known are: {KNOWN}.", "Type one of them."
    )


def mass_kg(text: str, what: str) -> float:
    """Return a mass in kilograms; a number without a unit is in kilograms, and 0 is a load too."""
    if re.fullmatch(r"0+(?:[.,]0*)?\s*(?:kg|g)?", text.strip()):
        return 0.0
    return size(text, what, MASSES_KG, "0.5kg", bare=1.0)


def setting_words(setting: Setting) -> str:
    """Return what is on the sled, and on what it stands, in one sentence."""
    load = "load not said" if setting.load_kg is None else f"load {mass_words(setting.load_kg)}"
    sled = "sled not weighed" if setting.sled_kg is None else f"sled {mass_words(setting.sled_kg)}"
    step = ""
    if setting.step_kg is not None:
        step = f", {mass_words(setting.step_kg)} more after every {setting.pulls_per_step} usable pulls"
    return f"Now: {load}, {sled}{f', on {setting.surface}' if setting.surface else ''}{step}."


def _set(change: SettingChange) -> Callable[[Session], str]:
    return lambda session: setting_words(session.board.set(change))


def _next(session: Session, match: re.Match[str]) -> str:
    return _set(SettingChange(step=True))(session)


def _load(session: Session, match: re.Match[str]) -> str:
    return _set(SettingChange(load_kg=mass_kg(match[1], "The load")))(session)


def _sled(session: Session, match: re.Match[str]) -> str:
    return _set(SettingChange(sled_kg=mass_kg(match[1], "The sled")))(session)


def _step(session: Session, match: re.Match[str]) -> str:
    return _set(SettingChange(step_kg=mass_kg(match[1], "The step")))(session)


def _surface(session: Session, match: re.Match[str]) -> str:
    return _set(SettingChange(surface=match[1]))(session)


def _aside(session: Session, match: re.Match[str]) -> str:
    session.pulls.set_aside(int(match[1]), match[2] or "")
    return f"Pull {match[1]} is set aside: {match[2]}."


def _back(session: Session, match: re.Match[str]) -> str:
    session.pulls.bring_back(int(match[1]))
    return f"Pull {match[1]} counts again."


def _null(session: Session, match: re.Match[str]) -> str:
    session.null()
    return "The rest reading is taken anew, from the next half second of rest on."


def _tilt(session: Session, match: re.Match[str]) -> str:
    angle, _ = number_and_unit(match[1], "The tilt", "17.5")
    kind = match[2].lower()
    speed = None if match[3] is None else number_and_unit(match[3], "The acceleration", "0.52")[0]
    if kind == "slid":
        session.board.add_tilt(TiltReading(kind="slid", angle_deg=angle, acceleration_m_s2=speed))
    elif kind == "held":
        session.board.add_tilt(TiltReading(kind="held", angle_deg=angle, acceleration_m_s2=speed))
    else:
        session.board.add_tilt(TiltReading(kind="slide", angle_deg=angle, acceleration_m_s2=speed))
    card = session.board.tilt(None, "light")
    return card.cannot or card.sentence


def _line(session: Session, match: re.Match[str]) -> str:
    card = session.board.ladder(None, "light")
    fixes = [f"{one.sentence} {one.fix}" for one in card.diagnoses[:1]]
    return card.cannot or " ".join([card.room_sentence, *fixes])


def _compare(session: Session, match: re.Match[str]) -> str:
    card = session.board.surfaces(None, None, "light")
    return card.cannot or card.sentence


def _down(session: Session, match: re.Match[str]) -> str:
    session.stand_down()
    return ""


def _go(session: Session, match: re.Match[str]) -> str:
    session.go_on_watch()
    return "On watch again."


_ORDERS: tuple[tuple[str, Callable[[Session, re.Match[str]], str]], ...] = (
    (r"next load", _next),
    (r"load (.+)", _load),
    (r"sled (.+)", _sled),
    (r"step (.+)", _step),
    (r"(?:change )?surface (.+)", _surface),
    (r"set aside (\d{1,6})(?: (.+))?", _aside),
    (r"bring back (\d{1,6})", _back),
    (r"null(?: the rest reading)?", _null),
    (r"tilt (\S+?)\s?°? (slid|held|slide)(?: (\S+))?", _tilt),
    (r"draw the line", _line),
    (r"compare", _compare),
    (r"stand down", _down),
    (r"go on watch", _go),
)


class TypedOrders:
    """Does what is typed, in a thread of its own, until it is stopped.

    descriptor: of the terminal, read without holding anything that the end of the program would wait for.  say:
    shows lines.
    """

    def __init__(self, session: Session, descriptor: int, say: Callable[[list[str]], None]) -> None:
        self._session, self._descriptor, self._say = session, descriptor, say
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._run, name="typed orders", daemon=True)

    def start(self) -> None:
        """Listen from now on."""
        self._thread.start()

    def stop(self) -> None:
        """Listen no more."""
        self._over.set()
        self._thread.join(2 * LOOK_S + 1.0)

    def _run(self) -> None:
        pending = b""
        while not self._over.is_set():
            ready, _, _ = select.select([self._descriptor], [], [], LOOK_S)
            if not ready:
                continue
            try:
                octets = os.read(self._descriptor, MOST_OCTETS)
            except OSError:  # the terminal went away; the watch goes on
                return
            if not octets:
                return
            *lines, pending = (pending + octets).split(b"\n")
            pending = pending[-MOST_OCTETS:]
            for line in lines:
                self._do(line.decode("utf-8", "replace"))

    def _do(self, line: str) -> None:
        try:
            told = do(line, self._session)
        except PullbenchError as mistake:
            told = str(mistake)
        if told:
            self._say([told])


def setting_of(options: dict[str, str | int | None]) -> SettingChange | None:
    """Return what --sled, --load, --surface, --step and --pulls-per-step say; None when nothing is said.

    Raises ConditionsError.
    """
    masses = {}
    for name in ("sled", "load", "step"):
        text = options[name]
        masses[name] = None if text is None else mass_kg(str(text), f"--{name}")
    count, surface = options["pulls_per_step"], options["surface"]
    if count is not None and masses["step"] is None:
        raise ConditionsError(
            "step-missing", f"--pulls-per-step is {count}, without --step.",
            "The load grows by a step after so many pulls.",
            "Add --step, such as --step 0.5kg.",
        )  # fmt: skip
    if masses["step"] is not None and masses["load"] is None:
        raise ConditionsError(
            "load-missing", "--step is given without --load.", "The load grows from the one it begins with.",
            "Add --load, such as --load 0.5kg; 0kg is the empty sled.",
        )  # fmt: skip
    change = SettingChange(
        load_kg=masses["load"], sled_kg=masses["sled"], step_kg=masses["step"],
        surface=None if surface is None else str(surface), pulls_per_step=None if count is None else int(count),
    )  # fmt: skip
    if change == SettingChange():
        return None
    change.of(Setting())  # says what cannot be before a source is opened
    return change
