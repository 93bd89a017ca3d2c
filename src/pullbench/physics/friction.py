"""Laws of friction between two dry solids, as small frozen values.

Each law answers two questions with a coefficient (friction over normal force): `holding`, what must
be exceeded to break away, and `sliding`, what resists at a speed.  `state` is the memory of the
contact in seconds; only the rate-and-state law has one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, Protocol

from pullbench.errors import ConditionsError


class FrictionLaw(Protocol):
    """What the bench asks of a law of friction."""

    def holding(self, contact_s: float, state: float) -> float:
        """Return the coefficient to exceed after contact_s of rest that began with this state."""
        ...

    def sliding(self, speed_m_s: float, state: float) -> float:
        """Return the coefficient while sliding at speed_m_s >= 0."""
        ...

    def after_rest(self, contact_s: float, state: float) -> float:
        """Return the state after contact_s of rest."""
        ...

    @property
    def fresh(self) -> float:
        """Return the state of a contact just made."""
        ...

    @property
    def constant(self) -> float | None:
        """Return the kinetic coefficient when it does not depend on speed or history, else None."""
        ...


class _WithoutMemory:
    """What the laws without a state variable share."""

    __slots__ = ()

    @property
    def fresh(self) -> float:
        """Return 0: there is nothing to remember."""
        return 0.0

    def after_rest(self, contact_s: float, state: float) -> float:
        """Return the state unchanged."""
        return state


@dataclass(frozen=True, slots=True)
class Coulomb(_WithoutMemory):
    """Two constants: mu_s until it moves, mu_k while it moves (Amontons, Coulomb)."""

    mu_s: float
    mu_k: float

    def __post_init__(self) -> None:
        _check_pair(self.mu_s, self.mu_k)

    @property
    def constant(self) -> float | None:
        """Return mu_k."""
        return self.mu_k

    def holding(self, contact_s: float, state: float = 0.0) -> float:
        """Return mu_s."""
        return self.mu_s

    def sliding(self, speed_m_s: float, state: float = 0.0) -> float:
        """Return mu_k."""
        return self.mu_k


@dataclass(frozen=True, slots=True)
class Stribeck(_WithoutMemory):
    """Friction that falls from mu_s to mu_k with speed: mu_k + (mu_s - mu_k) exp(-(v/v_stribeck)²).

    viscous_s_m: extra coefficient per m/s, 0 for dry solids.
    """

    mu_s: float
    mu_k: float
    v_stribeck_m_s: float
    viscous_s_m: float = 0.0

    def __post_init__(self) -> None:
        _check_pair(self.mu_s, self.mu_k)
        _check_above_zero("Stribeck speed", self.v_stribeck_m_s, "m/s")
        if not 0 <= self.viscous_s_m < math.inf:
            raise _impossible("Viscous coefficient", self.viscous_s_m, "s/m", "0 s/m or more")

    @property
    def constant(self) -> float | None:
        """Return None: it depends on speed."""
        return None

    def holding(self, contact_s: float, state: float = 0.0) -> float:
        """Return mu_s."""
        return self.mu_s

    def sliding(self, speed_m_s: float, state: float = 0.0) -> float:
        """Return the coefficient at this speed."""
        weakening = math.exp(-((speed_m_s / self.v_stribeck_m_s) ** 2))
        return self.mu_k + (self.mu_s - self.mu_k) * weakening + self.viscous_s_m * speed_m_s


@dataclass(frozen=True, slots=True)
class Ageing(_WithoutMemory):
    """Static friction that grows while the sled stands: mu_s + per_decade · log10(1 + t / onset_s).

    Dieterich 1972 and many since (growth with the logarithm of contact time).  mu_s: of a fresh contact.
    """

    mu_s: float
    mu_k: float
    per_decade: float
    onset_s: float = 1.0

    def __post_init__(self) -> None:
        _check_pair(self.mu_s, self.mu_k)
        _check_above_zero("Onset of ageing", self.onset_s, "s")
        if not 0 <= self.per_decade < math.inf:
            raise _impossible("Growth per decade", self.per_decade, "", "0 or more")

    @property
    def constant(self) -> float | None:
        """Return mu_k."""
        return self.mu_k

    def holding(self, contact_s: float, state: float = 0.0) -> float:
        """Return the static coefficient after contact_s of rest."""
        return self.mu_s + self.per_decade * math.log10(1 + contact_s / self.onset_s)

    def sliding(self, speed_m_s: float, state: float = 0.0) -> float:
        """Return mu_k."""
        return self.mu_k


@dataclass(frozen=True, slots=True)
class RateState:
    """Rate-and-state friction: mu0 + a ln(V/V0) + b ln(V0 θ/Dc), with state θ in seconds.

    law "ageing" (Dieterich 1979): dθ/dt = 1 - V θ/Dc; "slip" (Ruina 1983): dθ/dt = -(V θ/Dc) ln(V θ/Dc).
    creep_m_s: below it a sled counts as standing, since the law itself knows no rest; its logarithm
    is cut there.
    """

    mu0: float
    a: float
    b: float
    Dc_m: float
    V0_m_s: float
    law: Literal["ageing", "slip"] = "ageing"
    creep_m_s: float = 1e-9

    def __post_init__(self) -> None:
        for name, value, unit in (
            ("mu0", self.mu0, ""),
            ("Slip distance Dc", self.Dc_m, "m"),
            ("Reference speed V0", self.V0_m_s, "m/s"),
            ("Creep speed", self.creep_m_s, "m/s"),
        ):
            _check_above_zero(name, value, unit)
        for name, value in (("a", self.a), ("b", self.b)):
            if not 0 <= value < math.inf:
                raise _impossible(f"Rate-and-state {name}", value, "", "0 or more")

    @property
    def constant(self) -> float | None:
        """Return None: it depends on speed and history."""
        return None

    @property
    def fresh(self) -> float:
        """Return the state of steady sliding at V0."""
        return self.Dc_m / self.V0_m_s

    def sliding(self, speed_m_s: float, state: float) -> float:
        """Return the coefficient at this speed (cut at creep_m_s) and state."""
        speed = max(speed_m_s, self.creep_m_s)
        memory = math.log(self.V0_m_s * state / self.Dc_m)
        return self.mu0 + self.a * math.log(speed / self.V0_m_s) + self.b * memory

    def holding(self, contact_s: float, state: float) -> float:
        """Return the coefficient at creep speed after contact_s of true rest."""
        return self.sliding(0.0, self.after_rest(contact_s, state))

    def after_rest(self, contact_s: float, state: float) -> float:
        """Return the state after true rest: ageing adds the time, the slip law forgets nothing."""
        return state + contact_s if self.law == "ageing" else state

    def steady(self, speed_m_s: float) -> float:
        """Return the coefficient of steady sliding: mu0 + (a - b) ln(V/V0)."""
        return self.mu0 + (self.a - self.b) * math.log(speed_m_s / self.V0_m_s)

    def state_rate(self, speed_m_s: float, state: float) -> float:
        """Return dθ/dt (a pure number) at this speed and state."""
        travelled = speed_m_s * state / self.Dc_m
        if self.law == "ageing":
            return 1 - travelled
        return -travelled * math.log(travelled) if travelled > 0 else 0.0

    def state_after(self, state: float, speed_m_s: float, time_s: float) -> float:
        """Return the state after time_s at constant speed_m_s > 0, in closed form."""
        steady, fade = self.Dc_m / speed_m_s, math.exp(-speed_m_s * time_s / self.Dc_m)
        if self.law == "ageing":
            return steady + (state - steady) * fade
        return float(steady * (state / steady) ** fade)

    def speed_at(self, coefficient: float, state: float) -> float:
        """Return the speed (m/s) at which the law gives this coefficient: `sliding`, solved for V."""
        memory = self.b * math.log(self.V0_m_s * state / self.Dc_m)
        return self.V0_m_s * math.exp((coefficient - self.mu0 - memory) / self.a)


def _check_pair(mu_s: float, mu_k: float) -> None:
    if not 0 <= mu_k <= mu_s < math.inf:
        raise ConditionsError(
            "coefficients-impossible",
            f"Static coefficient {mu_s:g}, kinetic coefficient {mu_k:g}.",
            "The kinetic one must be 0 or more, and the static one at least as large.",
            "Swap them if they were mixed up.",
        )


def _check_above_zero(name: str, value: float, unit: str) -> None:
    if not 0 < value < math.inf:
        raise _impossible(name, value, unit, f"a finite number above 0 {unit}".rstrip())


def _impossible(name: str, value: float, unit: str, allowed: str) -> ConditionsError:
    return ConditionsError(
        "friction-law-impossible",
        f"{name} is {value:g} {unit}".rstrip() + ".",
        f"It must be {allowed}.",
        "Check the value and its unit.",
    )
