"""`pullbench check`: is the bench good enough?  Some seconds of rest, in words."""

from __future__ import annotations

import time
from collections import deque
from typing import Any

import click
import msgspec
import numpy as np

from pullbench.analysis import bench_check
from pullbench.cli.choosing import chosen_source, duration_s, source_options
from pullbench.detect import Watch
from pullbench.live import Null
from pullbench.model import Chunk, Ended, Trace
from pullbench.render import check_card, check_text
from pullbench.sources import Source

USUAL_S = 3.0
FEWEST = 20  # samples of rest worth looking at
PATIENCE_S = (
    20.0  # for so much rest: a board may start anew when its port is opened, a hand may still hold the string
)


@click.command(name="check", context_settings={"help_option_names": ["--help", "-h"]})
@source_options
@click.option("--for", "for_text", metavar="TIME", help="How much rest to look at; 3s when nothing is said.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
def command(**options: Any) -> None:
    """Check the bench: rate, resolution, noise, drift, range, hum, and what pulls it is good for.

    Let the string hang loose meanwhile. Nothing is kept.
    """
    look_s = duration_s(options["for_text"], "--for") or USUAL_S
    source = chosen_source(options)
    try:
        trace = rest_of(source, look_s)
    finally:
        source.close()
    card = check_card(bench_check(trace), label=source.label)
    print(msgspec.json.encode(card).decode() if options["as_json"] else check_text(card, source.name))


def rest_of(source: Source, look_s: float) -> Trace:
    """Return look_s of rest, or all that came when the patience is over; times are the recording's own."""
    began_s, watch, null = time.monotonic(), Watch(), Null(look_s)
    pieces: deque[Chunk] = deque()
    for delivery in source.deliveries(clock=time.monotonic, sleep=time.sleep):
        if isinstance(delivery, Ended):
            break  # times begin anew after it
        if isinstance(delivery, Chunk) and delivery.time_s.size:
            pieces.append(delivery)
            watch.advance(delivery)
            null.see(delivery, watch.state)
            time_s, force_N = null.quiet_trace()
            if time_s.size and time_s[-1] - time_s[0] >= look_s:
                return Trace(time_s=time_s, force_N=force_N)
            while pieces[-1].time_s[-1] - pieces[0].time_s[0] > 10 * look_s:
                pieces.popleft()
        if time.monotonic() - began_s > PATIENCE_S + look_s:
            break
    time_s, force_N = null.quiet_trace()
    if time_s.size >= FEWEST:
        return Trace(time_s=time_s, force_N=force_N)
    return Trace(
        time_s=np.concatenate([np.empty(0), *(chunk.time_s for chunk in pieces)]),
        force_N=np.concatenate([np.empty(0), *(chunk.force_N for chunk in pieces)]),
    )
