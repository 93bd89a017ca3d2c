"""All kinds of problems, by name, in the order of a sheet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pullbench.teach.problems.kind import Kind
from pullbench.teach.problems.kinds.angled_pull import AngledPull
from pullbench.teach.problems.kinds.best_angle import BestAngle
from pullbench.teach.problems.kinds.braking_track import BrakingTrack
from pullbench.teach.problems.kinds.compare_pairs import ComparePairs
from pullbench.teach.problems.kinds.conveyor import Conveyor
from pullbench.teach.problems.kinds.flatbed import Flatbed
from pullbench.teach.problems.kinds.hanging_load import HangingLoad
from pullbench.teach.problems.kinds.heaviest_load import HeaviestLoad
from pullbench.teach.problems.kinds.held_still import HeldStill
from pullbench.teach.problems.kinds.level_pull import LevelPull
from pullbench.teach.problems.kinds.level_to_tilt import LevelToTilt
from pullbench.teach.problems.kinds.limits_of_mu import LimitsOfMu
from pullbench.teach.problems.kinds.load_line import LoadLine
from pullbench.teach.problems.kinds.mistake import MistakeAtRest, MistakeInUnits, MistakeOnTilt
from pullbench.teach.problems.kinds.mu_from_pull import MuFromPull
from pullbench.teach.problems.kinds.push_off import PushOff
from pullbench.teach.problems.kinds.read_trace import ReadTrace
from pullbench.teach.problems.kinds.rider import Rider
from pullbench.teach.problems.kinds.scenery_push import SceneryPush
from pullbench.teach.problems.kinds.shoes_and_box import ShoesAndBox
from pullbench.teach.problems.kinds.slide_out import SlideOut
from pullbench.teach.problems.kinds.slip_height import SlipHeight
from pullbench.teach.problems.kinds.speed_up import SpeedUp
from pullbench.teach.problems.kinds.stacked_blocks import StackedBlocks
from pullbench.teach.problems.kinds.string_between import StringBetween
from pullbench.teach.problems.kinds.tilt_pulley import TiltPulley
from pullbench.teach.problems.kinds.tilt_slide import TiltSlide
from pullbench.teach.problems.kinds.tilt_stays import TiltStays
from pullbench.teach.problems.kinds.up_the_board import UpTheBoard
from pullbench.teach.problems.kinds.which import WHICH
from pullbench.teach.problems.kinds.work_and_heat import WorkAndHeat

_IN_ORDER: tuple[Kind, ...] = (
    ReadTrace(), MuFromPull(), *WHICH,
    LevelPull(), HeaviestLoad(), HeldStill(), TiltStays(), SlipHeight(), PushOff(),
    WorkAndHeat(), BrakingTrack(), MistakeAtRest(), MistakeOnTilt(), MistakeInUnits(),
    SpeedUp(), AngledPull(), TiltSlide(), LevelToTilt(), LoadLine(),
    ComparePairs(), StringBetween(), HangingLoad(), SceneryPush(), ShoesAndBox(), Flatbed(), Conveyor(),
    StackedBlocks(), Rider(), TiltPulley(), SlideOut(), UpTheBoard(), BestAngle(), LimitsOfMu(),
)  # fmt: skip

KINDS: Mapping[str, Kind] = MappingProxyType({kind.name: kind for kind in _IN_ORDER})
