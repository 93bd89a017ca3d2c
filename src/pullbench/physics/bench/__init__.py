"""The virtual bench: simulated pulls with known truth, and the sensors that record them.

Everything here is invented: a number that comes from it must say so wherever it is shown.
"""

from pullbench.physics.bench.demo import DemoRecording, DemoTruth, demo_day
from pullbench.physics.bench.habits import HAND_NAMES, Sizes, hand
from pullbench.physics.bench.hands import Hand
from pullbench.physics.bench.rig import Bench
from pullbench.physics.bench.run import PullTruth, Run, in_a_row
from pullbench.physics.bench.sensor import CONVERTER_10, CONVERTER_80, Sensor, record
from pullbench.physics.bench.slider import simulate

__all__ = [
    "CONVERTER_10",
    "CONVERTER_80",
    "HAND_NAMES",
    "Bench",
    "DemoRecording",
    "DemoTruth",
    "Hand",
    "PullTruth",
    "Run",
    "Sensor",
    "Sizes",
    "demo_day",
    "hand",
    "in_a_row",
    "record",
    "simulate",
]
