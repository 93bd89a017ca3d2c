"""The bench check in words: what the sensor is like at rest, and what it is good for."""

from __future__ import annotations

import math
from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

import msgspec

from pullbench.analysis import BenchCheck, Verification
from pullbench.model import Measured
from pullbench.render.rounding import Scale, figures_of, fixed, scale_for
from pullbench.render.told import told

SLOW_Hz, COARSE_Hz = 40.0, 15.0  # below: the static maximum is lowered; below: it is only a bound
STEADY_SHARE = 0.25  # drift during a usual pull of 5 s, of the least pull that the sensor is good for


class CheckRow(msgspec.Struct, frozen=True):
    """One thing looked at: its name, its number in words, what it means, what to do (None: nothing)."""

    name: str
    text: str
    sentence: str
    fix: str | None


class RestCard(msgspec.Struct, frozen=True):
    """The reading at rest, as it is subtracted."""

    text: str
    plus_minus: str
    unit: str
    sentence: str


class GainCard(msgspec.Struct, frozen=True):
    """The force scale, verified with masses."""

    text: str
    plus_minus: str
    sentence: str


class CheckCard(msgspec.Struct, frozen=True, kw_only=True):
    """The whole bench check; label must stand beside its numbers."""

    summary: str
    label: str | None
    rows: tuple[CheckRow, ...]
    rest: RestCard | None
    gain: GainCard | None
    step_s: float
    good_above_N: float | None


def check_card(
    check: BenchCheck, *, label: str | None = None, verified: Verification | None = None
) -> CheckCard:
    """Return a bench check in words."""
    return CheckCard(
        summary=_summary(check),
        label=label,
        rows=tuple(_rows(check, verified)),
        rest=rest_card(check.rest),
        gain=None if verified is None else gain_card(verified),
        step_s=1.0 / check.rate_Hz,
        good_above_N=None if check.moved or check.stuck else check.good_above_N,
    )


def rest_card(rest: Measured) -> RestCard:
    """Return the rest reading in pieces."""
    pieces = told(rest)
    return RestCard(
        pieces.text or "", pieces.plus_minus or "", pieces.unit,
        "What the sensor reads with nobody pulling; it is taken off every force shown, and kept.",
    )  # fmt: skip


def gain_card(verified: Verification) -> GainCard:
    """Return the force scale in words: how far it is off, and that readings are left as they are."""
    gain = verified.gain
    pieces = told(gain)
    value, u = gain.value or 1.0, gain.standard_uncertainty or 0.0
    off = abs(value - 1.0)
    if off <= 2 * u:
        sentence = "The scale agrees with the masses within its doubt"
    else:
        sentence = f"The sensor reads {figures_of(100 * off)} % too {'high' if value > 1 else 'low'}"
    return GainCard(
        pieces.text or "", pieces.plus_minus or "",
        f"{sentence}. Readings are left as they come; {figures_of(100 * verified.u_gain)} % of every force "
        "enters its budget from now on.",
    )  # fmt: skip


def check_text(card: CheckCard, source: str) -> str:
    """Return the bench check for a terminal."""
    label = f" ({card.label})" if card.label else ""
    width = max(len(row.name) for row in card.rows)
    lines = [f"Bench check of {source}{label}", ""]
    for row in card.rows:
        lines.append(f"  {row.name:<{width}}  {row.text}")
        lines.append(f"  {'':<{width}}  {row.sentence}{' ' + row.fix if row.fix else ''}")
    if card.rest is not None:
        lines += ["", f"Rest reading {card.rest.text} {card.rest.unit} ± {card.rest.plus_minus}."]
    if card.gain is not None:
        lines.append(f"Force scale {card.gain.text} ± {card.gain.plus_minus}. {card.gain.sentence}")
    return "\n".join([*lines, "", f"{card.summary}{label}"])


def _summary(check: BenchCheck) -> str:
    if check.moved:
        return "The reading moved: let the string hang loose and check again."
    if check.stuck:
        return "The reading never changes: touch the string, and check that the sensor is alive."
    return f"Good for pulls above {_at_least(check.good_above_N)}."


def _rows(check: BenchCheck, verified: Verification | None) -> Iterator[CheckRow]:
    yield _rate(check)
    yield _gaps(check)
    yield _resolution(check)
    yield CheckRow(
        "noise", f"{_force(check.noise_N)} a sample",
        f"So much a reading scatters at rest; limits of ± 5 % need pulls above {_at_least(check.good_above_N)}.",
        "Let the string hang loose, keep hands and motors off the table." if check.moved else None,
    )  # fmt: skip
    yield _drift(check)
    scale = scale_for(check.rest)
    low, high = (fixed(x / scale.size, _decimals(check, scale)) for x in (check.low_N, check.high_N))
    yield CheckRow(
        "range seen", f"{low} to {high} {scale.unit}", "The lowest and highest reading of this check.", None
    )
    if check.hum is not None:
        yield CheckRow(
            "hum", f"{_force(check.hum.amplitude_N)} at {fixed(check.hum.frequency_Hz, 0)} Hz",
            "The mains are heard; it is found and taken off at rest, but not while sliding.",
            "Keep the cable away from power cables, or twist its wires.",
        )  # fmt: skip
    if verified is not None:
        gain = gain_card(verified)
        yield CheckRow("force scale", f"{gain.text} ± {gain.plus_minus}", gain.sentence, None)


def _rate(check: BenchCheck) -> CheckRow:
    text = f"{figures_of(check.rate_Hz) if check.rate_Hz < 100 else fixed(check.rate_Hz, 0)} samples a second"
    if check.rate_Hz < COARSE_Hz:
        return CheckRow("rate", text, "Too few to hold a peak: the static maximum will be a lower bound.",
                        "Set the sensor to 40 samples a second or more.")  # fmt: skip
    if check.rate_Hz < SLOW_Hz:
        return CheckRow("rate", text, "Few for a static maximum: slow loading helps.",
                        "Set the sensor to 80 samples a second if it can.")  # fmt: skip
    return CheckRow("rate", text, "Enough for a static maximum.", None)


def _gaps(check: BenchCheck) -> CheckRow:
    text = f"{figures_of(1000 * check.longest_gap_s)} ms at most between two samples"
    if check.longest_gap_s * check.rate_Hz > 3:
        return CheckRow("gaps", text, "Samples come in fits or get lost on the way.",
                        "Try a shorter cable, another port or a higher baud rate.")  # fmt: skip
    return CheckRow("gaps", text, "They come evenly.", None)


def _resolution(check: BenchCheck) -> CheckRow:
    if check.step_N == 0:
        return CheckRow("resolution", "finer than the noise", "Steps cannot be seen.", None)
    coarse = check.step_N > 3 * check.noise_N or check.noise_N <= check.step_N / math.sqrt(12) * 1.01
    return CheckRow(
        "resolution", _force(check.step_N),
        "The steps are coarser than the noise; they set the least pull." if coarse else "Finer than the noise.", None,
    )  # fmt: skip


def _drift(check: BenchCheck) -> CheckRow:
    text = f"{_signed(check.drift_N_s, check.u_drift_N_s)} a second"
    if abs(check.drift_N_s) <= 2 * check.u_drift_N_s:
        return CheckRow("drift", text, "None that can be told in this time.", None)
    if abs(check.drift_N_s) * 5 > STEADY_SHARE * check.good_above_N:
        return CheckRow("drift", text, "The rest reading moves while you pull; the rest on both sides takes it off.",
                        "Let the sensor warm up for some minutes.")  # fmt: skip
    return CheckRow("drift", text, "Small: the rest before and after each pull takes it off.", None)


def _force(size_N: float) -> str:
    return f"{figures_of(1000 * size_N)} mN" if size_N < 0.1 else f"{figures_of(size_N)} N"


def _signed(value_N: float, u_N: float) -> str:
    half = max(2 * u_N, 1e-12)
    measured = Measured(
        kind="value",
        value=value_N,
        standard_uncertainty=u_N,
        limits=(value_N - half, value_N + half),
        unit="N",
    )
    return told(measured).whole


def _at_least(size_N: float) -> str:
    """Return a force rounded up to one figure: a promise is never made better than it is."""
    exact = Decimal(f"{size_N:.6g}")
    if exact <= 0:
        return "0 N"
    step = Decimal(1).scaleb(exact.adjusted())
    up = exact.quantize(step, rounding=ROUND_CEILING)
    size, unit = (up * 1000, "mN") if up < Decimal("0.1") else (up, "N")
    return f"{size.normalize():f} {unit}"


def _decimals(check: BenchCheck, scale: Scale) -> int:
    grain = max(check.noise_N, check.step_N, 1e-9) / scale.size
    return max(0, min(6, -math.floor(math.log10(grain))))
