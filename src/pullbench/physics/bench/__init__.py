"""The virtual bench: simulated pulls with known truth, and the sensors that record them.

Everything here is invented: a number that comes from it must say so wherever it is shown.
"""

from pullbench.physics.bench.demo import SLED_KG, DemoRecording, DemoTruth, demo_day, demo_days
from pullbench.physics.bench.description import Description, described
from pullbench.physics.bench.habits import HAND_NAMES, Sizes, hand
from pullbench.physics.bench.hands import Hand
from pullbench.physics.bench.kernel import INTERPRETED, Kernel, compiled, fastest
from pullbench.physics.bench.live import LiveSled
from pullbench.physics.bench.rig import Bench, Rider, Shape
from pullbench.physics.bench.run import PullTruth, Run, in_a_row
from pullbench.physics.bench.sensor import CONVERTER_10, CONVERTER_80, Sensor, record
from pullbench.physics.bench.slider import simulate
from pullbench.physics.bench.tipping import tipping_pull_N
from pullbench.physics.bench.usual import USUAL_BENCH

__all__ = [
    "CONVERTER_10",
    "CONVERTER_80",
    "HAND_NAMES",
    "INTERPRETED",
    "SLED_KG",
    "USUAL_BENCH",
    "Bench",
    "DemoRecording",
    "DemoTruth",
    "Description",
    "Hand",
    "Kernel",
    "LiveSled",
    "PullTruth",
    "Rider",
    "Run",
    "Sensor",
    "Shape",
    "Sizes",
    "compiled",
    "demo_day",
    "demo_days",
    "described",
    "fastest",
    "hand",
    "in_a_row",
    "record",
    "simulate",
    "tipping_pull_N",
]
