"""Values become text, JSON and pictures, returned as str or bytes; the only room that rounds."""

from pullbench.render.bench_words import CheckCard, check_card, check_text, rest_card
from pullbench.render.card import Budgets, Card, Coefficients, budgets, card, coefficients
from pullbench.render.plan_json import plan_record
from pullbench.render.plan_text import plan_text
from pullbench.render.png import as_png
from pullbench.render.pull_back import pull_of_record
from pullbench.render.pull_json import pull_record
from pullbench.render.pull_text import explain, table
from pullbench.render.recording import recording_svg
from pullbench.render.rounding import plus_minus
from pullbench.render.sheet import pull_sheet_svg
from pullbench.render.told import NEWTONS, Told, told

__all__ = [
    "NEWTONS",
    "Budgets",
    "Card",
    "CheckCard",
    "Coefficients",
    "Told",
    "as_png",
    "budgets",
    "card",
    "check_card",
    "check_text",
    "coefficients",
    "explain",
    "plan_record",
    "plan_text",
    "plus_minus",
    "pull_of_record",
    "pull_record",
    "pull_sheet_svg",
    "recording_svg",
    "rest_card",
    "table",
    "told",
]
