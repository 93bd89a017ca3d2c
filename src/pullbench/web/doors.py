"""Who may come in, and as what: the teacher by key, this machine by itself, the room by join code."""

from __future__ import annotations

import hmac
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from pullbench.web.faults import too_many, wrong_code

Role = Literal["teacher", "watcher"]
LOOPBACK = frozenset({"127.0.0.1", "::1"})
MOST_WRONG, WRONG_S = 10, 60.0  # wrong keys or codes from one address, within so many seconds
RATE, BURST = 200.0, 2000.0  # requests a second from one address: a school's phones may share one
SLIP_RATE, SLIP_BURST = 20.0, 400.0  # slips: a whole class behind one address hands in at once, and changes
_ADDRESSES = 4096


class _Recent:
    """Something counted per address; only the most recent addresses are remembered, so memory is bounded."""

    def __init__(self) -> None:
        self._of: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def get(self, address: str, otherwise: tuple[float, float]) -> tuple[float, float]:
        return self._of.get(address, otherwise)

    def put(self, address: str, value: tuple[float, float]) -> None:
        self._of[address] = value
        self._of.move_to_end(address)
        while len(self._of) > _ADDRESSES:
            self._of.popitem(last=False)


@dataclass
class Doors:
    """The key and code of a session, and what was tried.

    key: of the teacher, never sent to anybody.  code: for the room, None while the page is on loopback only.
    hosts: values of Host (name and port) that are ours.  clock: steady seconds.
    """

    key: str
    hosts: frozenset[str]
    clock: Callable[[], float]
    code: str | None = None
    _wrong: _Recent = field(default_factory=_Recent)
    _bucket: _Recent = field(default_factory=_Recent)
    _slips: _Recent = field(default_factory=_Recent)

    def role(self, address: str, key: str | None, code: str | None) -> tuple[Role, bool]:
        """Return the role of one who comes, and whether a key was given that is not ours.

        A wrong key makes nobody a teacher but does not lock a watcher out: a page that was open while the
        bench was started anew still follows.  Raises PageError for one from the room without the code, and
        for an address that guesses.
        """
        count, since = self._wrong.get(address, (0.0, self.clock()))
        if self.clock() - since > WRONG_S:
            count, since = 0.0, self.clock()
        guessing = count >= MOST_WRONG
        if key and not guessing and same(key, self.key):
            return "teacher", False
        at_home = address in LOOPBACK
        let_in = at_home or (not guessing and self.code is not None and code is not None and self._fits(code))
        if key or (code and not let_in):
            self._wrong.put(address, (count + 1, since))
        if not let_in:
            raise too_many("wrong keys or codes") if guessing else wrong_code()
        return "watcher", bool(key)

    def admits(self, address: str) -> bool:
        """Return whether an address may ask once more now (a token bucket each)."""
        return self._one_more(self._bucket, address, RATE, BURST)

    def admits_slip(self, address: str) -> bool:
        """Return whether an address may hand in one more slip now."""
        return self._one_more(self._slips, address, SLIP_RATE, SLIP_BURST)

    def _one_more(self, bucket: _Recent, address: str, rate: float, burst: float) -> bool:
        now_s = self.clock()
        left, at_s = bucket.get(address, (burst, now_s))
        left = min(burst, left + (now_s - at_s) * rate)
        bucket.put(address, (max(left - 1, 0.0), now_s))
        return left >= 1

    def knows_host(self, host: str) -> bool:
        """Return whether a Host is ours: a page of another name that resolves to here is not (DNS rebinding)."""
        return host.lower() in self.hosts

    def knows_origin(self, origin: str | None) -> bool:
        """Return whether an Origin is ours; programs other than browsers send none."""
        return origin is None or (
            origin.lower().removeprefix("http://") in self.hosts and origin.startswith("http://")
        )

    def _fits(self, code: str) -> bool:
        return same(code.strip().upper().replace("-", ""), self.code or "")


def same(given: str, wanted: str) -> bool:
    """Compare in a time that does not tell how much was right."""
    return hmac.compare_digest(given.encode("utf-8", "replace"), wanted.encode())
