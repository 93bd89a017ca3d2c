"""Joining from the room: the machine's own address, a short code, a square code of both."""

from __future__ import annotations

import io
import secrets
import socket
from dataclasses import dataclass

import segno

ALPHABET = "ABCDEFGHJKMNPQRSTVWXYZ23456789"  # without what looks alike on a projector
LENGTH = 6


@dataclass(frozen=True, slots=True)
class Join:
    """What the teacher's screen shows: address, code, and a square of both.  The teacher key is in none of them."""

    url: str
    code: str
    svg: str


def new_code() -> str:
    """Return a join code: 30^6 are too many to guess at ten tries a minute."""
    return "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))


def new_key() -> str:
    """Return a teacher key of 128 bits."""
    return secrets.token_urlsafe(16)


def room_address() -> str | None:
    """Return this machine's address in the room's network, or None without one.  Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # TEST-NET-1 (RFC 5737): choosing a route sends no packet
            address: str = probe.getsockname()[0]
        except OSError:
            return None
    return None if address.startswith("127.") or address == "0.0.0.0" else address


def join_for(address: str, port: int, code: str) -> Join:
    """Return what lets a phone follow."""
    url = f"http://{address}:{port}/"
    out = io.BytesIO()
    segno.make(f"{url}#code={code}", error="m").save(
        out, kind="svg", xmldecl=False, svgns=True, omitsize=True, border=4, dark="#000", light="#fff"
    )
    return Join(url, code, out.getvalue().decode())
