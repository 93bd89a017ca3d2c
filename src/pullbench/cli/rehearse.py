"""`pullbench rehearse`: a virtual pull in the terminal, its verdict and the one fix."""

from __future__ import annotations

import re
import sys
import textwrap
import time
from functools import partial
from itertools import count as naturals
from itertools import islice
from pathlib import Path
from typing import Any

import click
import msgspec

from pullbench.cli.read import NO_PULL
from pullbench.cli.rehearsal import Rehearsal, bench_file, chosen_hand, randomness, rehearse, save
from pullbench.cli.steering import HOW, Keyboard, keyboard, steer
from pullbench.physics.bench import HAND_NAMES, Description
from pullbench.render import pull_record, table


class TruthRecord(msgspec.Struct, frozen=True):
    """What was put into a simulated pull; null where the sled never moved."""

    breakaway_N: float | None
    kinetic_N: float | None
    breakaway_time_s: float | None


@click.command(name="rehearse", context_settings={"help_option_names": ["--help", "-h"]})
@click.option("--bench", type=click.Path(path_type=Path), help="A text file (TOML) that describes the bench.")
@click.option("--hand", "hand_name", help=f"One of {', '.join(HAND_NAMES)}.")
@click.option("--seed", type=click.IntRange(min=0), default=0, help="Of what is random.", show_default=True)
@click.option("--count", type=click.IntRange(1, 1000), help="Pulls to make; one with a chosen hand.")
@click.option("--save", "folder", type=click.Path(path_type=Path), help="Keep the recordings as text tables.")
@click.option(
    "--json", "as_json", is_flag=True, help="One JSON object a pull, as `read` gives, with the truth."
)
@click.option("--comma", is_flag=True, help="Print a decimal comma.")
def command(hand_name: str | None, **options: Any) -> None:
    """Rehearse a pull on a simulated bench and hear its verdict and the one thing to change.

    Without --hand, in a terminal, you steer the hand with the keyboard. Everything is simulated.
    """
    setup = bench_file(options["bench"])
    name = hand_name or setup.hand
    by_hand = name is None and not options["as_json"] and sys.stdin.isatty() and sys.stdout.isatty()
    if by_hand:
        _steered(setup, options)
        return
    for number in range(1, (options["count"] or 1) + 1):
        bench = setup.bench_for(randomness(options["seed"], number, 4))
        movement = chosen_hand(setup, bench, name or "smooth", randomness(options["seed"], number))
        _tell(rehearse(setup, bench, movement, options["seed"], number), number, options)


def _steered(setup: Description, options: dict[str, Any]) -> None:
    """Let a person pull until they have had enough, or `count` pulls."""
    seed, count = options["seed"], options["count"]
    print(f"Rehearsal: everything here is simulated. {HOW}")
    with keyboard() as keys:
        for number in islice(naturals(1), count):
            bench = setup.bench_for(randomness(seed, number, 4))
            movement = steer(bench, keys, clock=time.monotonic, rng=partial(randomness, seed, number))
            print()
            if movement is None:
                return
            _tell(rehearse(setup, bench, movement, seed, number), number, options)
            if number != count and not _another(keys):
                return


def _another(keys: Keyboard) -> bool:
    """Ask whether to pull once more."""
    print("The space bar pulls once more, q ends.")
    key = None
    while key not in ("let go", "end"):
        key = keys.key(None)
    return key == "let go"


def _tell(rehearsal: Rehearsal, number: int, options: dict[str, Any]) -> None:
    if options["folder"] is not None:
        save(rehearsal, options["folder"], number)
    if options["as_json"]:
        for line in _records(rehearsal):
            print(line.decode("utf-8"))
        return
    print(table(rehearsal.pulls, rehearsal.name, comma=options["comma"]))
    if not rehearsal.pulls:
        print(f"{NO_PULL.sentence} {NO_PULL.fix}")
    print(f"{_truth_words(rehearsal, options['comma'])}\n")


def _records(rehearsal: Rehearsal) -> list[bytes]:
    """Return the records of `read`, each with the truth at its end."""
    truth = rehearsal.truth
    put_in = TruthRecord(truth.breakaway_force_N, truth.kinetic_N, truth.breakaway_time_s)
    plain = [pull_record(rehearsal.name, n, pull) for n, pull in enumerate(rehearsal.pulls, 1)]
    plain = plain or [pull_record(rehearsal.name, None, None, (NO_PULL,))]
    end = b',"simulated":true,"truth":' + msgspec.json.encode(put_in) + b"}"
    return [record.removesuffix(b"}") + end for record in plain]


def _truth_words(rehearsal: Rehearsal, comma: bool) -> str:
    truth = rehearsal.truth
    if truth.breakaway_time_s is None or truth.breakaway_force_N is None or truth.kinetic_N is None:
        said = "Truth (simulated): the sled never moved."
    else:
        said = (
            f"Truth (simulated): broke away at {truth.breakaway_time_s:.2f} s with {truth.breakaway_force_N:.2f} N; "
            f"kinetic level {truth.kinetic_N:.2f} N."
        )
    if comma:
        said = re.sub(r"(?<=\d)\.(?=\d)", ",", said)
    return "\n".join(textwrap.wrap(said, 100))
