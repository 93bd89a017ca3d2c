"""Refusals of the page, each with its status, as one object: {"error": {code, what, allowed, next_step}}."""

from __future__ import annotations

import msgspec

from pullbench.errors import ConditionsError, PageError, PullbenchError

STATUS = {
    "wrong-key": 403, "no-key": 403, "wrong-code": 403, "wrong-host": 403, "wrong-origin": 403, "only-today": 403,
    "pull-unknown": 404, "nothing-there": 404, "day-unknown": 404, "no-logbook": 404, "pull-let-go": 410,
    "tilt-unknown": 404, "prediction-closed": 409, "nothing-to-reveal": 409, "no-slips": 409,
    "too-many": 429, "too-many-slips": 429, "too-many-tilts": 429, "body-too-large": 413, "body-unreadable": 400,
    "body-too-slow": 408, "method-unknown": 405, "bench-broken": 500,
}  # fmt: skip


def status_of(fault: PullbenchError) -> int:
    """Return the HTTP status of a fault: 503 for what the bench cannot do now, 4xx for what was asked wrongly."""
    if isinstance(fault, PageError | ConditionsError):
        return STATUS.get(fault.code, 400)
    return 503


def error_object(fault: PullbenchError) -> dict[str, str]:
    """Return the fault as the page shows it."""
    return {"code": fault.code, "what": fault.what, "allowed": fault.allowed, "next_step": fault.next_step}


def as_json(fault: PullbenchError) -> bytes:
    """Return the body of a refusal."""
    return msgspec.json.encode({"error": error_object(fault)})


def on_socket(fault: PullbenchError) -> bytes:
    """Return a refusal as a message of a socket."""
    return msgspec.json.encode({"kind": "error", "error": error_object(fault)})


def nothing_there(path: str) -> PageError:
    """Return the refusal of an address that is not there."""
    return PageError(
        "nothing-there",
        f"There is nothing at {path[:80]!r}.",
        "The page is at /.",
        "Open the address that the command printed.",
    )


def wrong_key() -> PageError:
    """Return the refusal of a key that is not this session's."""
    return PageError(
        "wrong-key", "The teacher key is not the one of this session.", "Every start of the bench makes a new one.",
        "Open the address that the command printed last; watching goes on meanwhile.",
    )  # fmt: skip


def no_key() -> PageError:
    """Return the refusal of a change without the key."""
    return PageError(
        "no-key", "Only the teacher's page changes the day.",
        "It has the key from the address that the command printed.",
        "Open that address on the teacher's machine.",
    )  # fmt: skip


def wrong_code() -> PageError:
    """Return the refusal of a phone without the join code."""
    return PageError(
        "wrong-code", "This page is let in with a join code.", "The code is on the teacher's screen.",
        "Type the code, or point the phone at the square.",
    )  # fmt: skip


def too_many(what: str) -> PageError:
    """Return the refusal of too much at once."""
    return PageError(
        "too-many", f"Too many {what} at once.", "The bench comes first.", "Wait a little, then try again."
    )
