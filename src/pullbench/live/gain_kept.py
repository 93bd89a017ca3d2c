"""The force scale as the logbook keeps it: noted when it was verified, found again for any pull after it."""

from __future__ import annotations

import json
import math

from pullbench.analysis import Verification
from pullbench.archive import LogbookReader
from pullbench.model import Measured


def verification_noted(verified: Verification) -> bytes:
    """Return a verification as the logbook keeps it."""
    gain = verified.gain
    low, high = gain.limits or (None, None)
    return json.dumps(
        {"gain": gain.value, "u": gain.standard_uncertainty, "limits": [low, high], "u_gain": verified.u_gain,
         "masses": verified.masses}
    ).encode()  # fmt: skip


def last_verification(logbook: LogbookReader, day: str) -> Verification | None:
    """Return the day's last verification with masses."""
    noted = [row for row in logbook.conditions(day) if row.kind == "gain"]
    if not noted:
        return None
    told_of = json.loads(noted[-1].noted)
    gain = Measured(
        kind="value",
        value=told_of["gain"],
        standard_uncertainty=told_of["u"],
        limits=tuple(told_of["limits"]),
        unit="1",
    )
    return Verification(gain=gain, u_gain=told_of["u_gain"], masses=told_of["masses"])


def u_gain_at(logbook: LogbookReader, day: str, recording: int, own_s: float) -> float:
    """Return the doubt of the force scale that held at a moment of a recording."""
    u_gain = 0.0
    for row in logbook.conditions(day):
        at_s = -math.inf if row.at_s is None else row.at_s
        if row.kind == "gain" and (
            row.recording < recording or (row.recording == recording and at_s <= own_s)
        ):
            u_gain = json.loads(row.noted)["u_gain"]
    return u_gain
