"""The running session: source, watch, analysis, logbook, listeners; nothing of HTTP."""

from pullbench.live.analyst import Analyst, InlineAnalyst
from pullbench.live.board import Board, SettingChange
from pullbench.live.day_pulls import label_of, pulls_of_day
from pullbench.live.listeners import Listener
from pullbench.live.messages import (
    Behind,
    CheckTold,
    ForceNow,
    Message,
    NewsTold,
    PredictionNow,
    PullTold,
    Refreshed,
    SettingNow,
    Sheet,
    Snapshot,
    StateNow,
    StoodDown,
    StripColumns,
    TiltNow,
)
from pullbench.live.null import Null
from pullbench.live.rehearsal import NO_PULL, Rehearsal, Rehearsed, Seen, Stage
from pullbench.live.reread import ReadAgain, read_again
from pullbench.live.session import Session
from pullbench.live.sheets import card_of_row, cards_of, sheet_from_logbook
from pullbench.live.slip_desk import SlipDesk
from pullbench.live.strip import COLUMN_S

__all__ = [
    "COLUMN_S",
    "NO_PULL",
    "Analyst",
    "Behind",
    "Board",
    "CheckTold",
    "ForceNow",
    "InlineAnalyst",
    "Listener",
    "Message",
    "NewsTold",
    "Null",
    "PredictionNow",
    "PullTold",
    "ReadAgain",
    "Refreshed",
    "Rehearsal",
    "Rehearsed",
    "Seen",
    "Session",
    "SettingChange",
    "SettingNow",
    "Sheet",
    "SlipDesk",
    "Snapshot",
    "Stage",
    "StateNow",
    "StoodDown",
    "StripColumns",
    "TiltNow",
    "card_of_row",
    "cards_of",
    "label_of",
    "pulls_of_day",
    "read_again",
    "sheet_from_logbook",
]
