"""One rehearsal: a virtual pull made, recorded, caught and read."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from pullbench.analysis import Conditions, analyse, with_coefficients
from pullbench.detect import windows
from pullbench.errors import BenchError, RecordingError
from pullbench.model import Chunk, Pull, Trace
from pullbench.physics.bench import (
    USUAL_BENCH,
    Bench,
    Description,
    Hand,
    PullTruth,
    described,
    hand,
    record,
    simulate,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rehearsal:
    """A virtual pull: its name (which says that it is simulated), recording, truth, and how it was read."""

    name: str
    trace: Trace
    truth: PullTruth
    pulls: tuple[Pull, ...]


def bench_file(path: Path | None) -> Description:
    """Return the description in a file, or the usual one.  Raises RecordingError and BenchError."""
    if path is None:
        return described(USUAL_BENCH)
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        why = fault.strerror if isinstance(fault, OSError) else "it is not UTF-8 text"
        raise RecordingError(
            "bench-file-unreadable", f"The bench {path} cannot be read: {why}.",
            "It must be a text file (TOML) that describes a bench.", "Give --bench another file.",
        ) from fault  # fmt: skip
    try:
        return described(text)
    except BenchError as fault:
        raise BenchError(fault.code, f"{path}: {fault.what}", fault.allowed, fault.next_step) from fault


def randomness(seed: int, number: int, purpose: int = 0) -> np.random.Generator:
    """Return the randomness of one pull of a rehearsal."""
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, number, purpose])))


def chosen_hand(setup: Description, bench: Bench, name: str, rng: np.random.Generator) -> Hand:
    """Return one pull by this hand, with the sizes that the description sets."""
    stretch_m = bench.stretch_m
    usual = {
        "stretch_m": stretch_m,
        "slack_m": min(0.01, 5 * stretch_m),
    }  # a stiff string leaves little slack
    return hand(name, rng, **{**usual, **setup.sizes})


def rehearse(setup: Description, bench: Bench, movement: Hand, seed: int, number: int) -> Rehearsal:
    """Return what becomes of one movement of the hand on this bench."""
    run = simulate(bench, movement, rng=randomness(seed, number, 1))
    trace = record(run, setup.sensor, randomness(seed, number, 2))
    conditions = Conditions(weight_N=bench.weight_N, string_deg=bench.string_deg, tilt_deg=bench.tilt_deg)
    caught = windows([Chunk(time_s=trace.time_s, force_N=trace.force_N)])
    pulls = tuple(with_coefficients(analyse(window), conditions) for window in caught)
    name = f"simulated pull {number}, {movement.name} hand"
    return Rehearsal(name=name, trace=trace, truth=run.truths[0], pulls=pulls)


def save(rehearsal: Rehearsal, folder: Path, number: int) -> Path:
    """Write the recording as a text table that `pullbench read` takes; nothing is written over."""
    path = folder / f"simulated-pull-{number:02d}.txt"
    pairs = zip(rehearsal.trace.time_s.tolist(), rehearsal.trace.force_N.tolist(), strict=True)
    rows = (f"{time_s:.6f}\t{force_N:.6f}" for time_s, force_N in pairs)
    text = "\n".join([f"# {rehearsal.name}; nothing here was measured", "time (s)\tforce (N)", *rows, ""])
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError as fault:
        what = f"{path} is there already." if path.exists() else f"{folder} is not a folder."
        raise RecordingError(
            "recording-exists", what, "A recording is never written over.", "Give --save another folder."
        ) from fault
    except OSError as fault:
        raise RecordingError(
            "recording-not-written", f"{path} cannot be written: {fault.strerror}.",
            "The folder must be writable.", "Give --save another folder.",
        ) from fault  # fmt: skip
    return path
