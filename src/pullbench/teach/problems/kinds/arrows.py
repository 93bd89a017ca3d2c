"""Force arrows for the key figures of all kinds, with the same symbols and words everywhere."""

from __future__ import annotations

from typing import Literal

from pullbench.model.scene import ForceArrow

G_N_KG = 9.81  # printed in every problem that needs it


def pull(size_N: float, *, string_deg: float = 0.0, symbol: str = "F", words: str = "pull") -> ForceArrow:
    """Return the pull of a string, at an angle above the board."""
    return _arrow("pull", symbol, words, size_N, string_deg)


def rub(size_N: float, *, static: bool = False, forward: bool = False, words: str = "") -> ForceArrow:
    """Return friction along the board, backward unless told otherwise."""
    kind: Literal["static", "kinetic"] = "static" if static else "kinetic"
    symbol = "f_s" if static else "f_k"
    return _arrow(kind, symbol, words or f"{kind} friction", size_N, 0.0 if forward else 180.0)


def weight(size_N: float, *, tilt_deg: float = 0.0, symbol: str = "W") -> ForceArrow:
    """Return the weight, straight down whatever the tilt of the board."""
    return _arrow("weight", symbol, "weight", size_N, -90.0 - tilt_deg)


def normal(size_N: float, *, words: str = "normal force", down: bool = False) -> ForceArrow:
    """Return a normal force, off the board, or down onto it from what rides on top."""
    return _arrow("normal", "N", words, size_N, -90.0 if down else 90.0)


def _arrow(
    kind: Literal["pull", "static", "kinetic", "weight", "normal"],
    symbol: str,
    words: str,
    size_N: float,
    direction_deg: float,
) -> ForceArrow:
    return ForceArrow(
        kind=kind, symbol=symbol, words=words, length_N=size_N, direction_deg=direction_deg, value_N=size_N
    )
