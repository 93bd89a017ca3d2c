"""Values become text, JSON and pictures, returned as str or bytes; the only room that rounds."""

from pullbench.render.bench_words import CheckCard, check_card, check_text, rest_card
from pullbench.render.card import (
    Budgets,
    Card,
    Coefficients,
    budgets,
    card,
    coefficients,
    mass_words,
    setting_card,
)
from pullbench.render.compare_json import compare_record
from pullbench.render.compare_picture import compare_svg
from pullbench.render.compare_text import compare_table, compare_text
from pullbench.render.law_cards import (
    Greyed,
    LadderCard,
    PredictionCard,
    SurfaceCard,
    SurfacesCard,
    TiltCard,
    TiltReadingCard,
    cannot_words,
    ladder_card,
    prediction_card,
    surfaces_card,
    tilt_card,
)
from pullbench.render.line_json import line_record
from pullbench.render.line_picture import line_svg
from pullbench.render.line_text import line_table, line_text
from pullbench.render.plan_json import plan_record
from pullbench.render.plan_text import plan_text
from pullbench.render.png import as_png
from pullbench.render.pool_picture import pool_svg
from pullbench.render.pool_text import pool_record, pool_table, pool_text
from pullbench.render.pull_back import pull_of_record, with_samples
from pullbench.render.pull_json import pull_record
from pullbench.render.pull_text import explain, table
from pullbench.render.recording import recording_svg
from pullbench.render.rounding import plus_minus
from pullbench.render.sheet import pull_sheet_svg
from pullbench.render.tilt_picture import tilt_svg
from pullbench.render.tilt_text import tilt_record, tilt_table, tilt_text
from pullbench.render.told import NEWTONS, Told, told

__all__ = [
    "NEWTONS",
    "Budgets",
    "Card",
    "CheckCard",
    "Coefficients",
    "Greyed",
    "LadderCard",
    "PredictionCard",
    "SurfaceCard",
    "SurfacesCard",
    "TiltCard",
    "TiltReadingCard",
    "Told",
    "as_png",
    "budgets",
    "cannot_words",
    "card",
    "check_card",
    "check_text",
    "coefficients",
    "compare_record",
    "compare_svg",
    "compare_table",
    "compare_text",
    "explain",
    "ladder_card",
    "line_record",
    "line_svg",
    "line_table",
    "line_text",
    "mass_words",
    "plan_record",
    "plan_text",
    "plus_minus",
    "pool_record",
    "pool_svg",
    "pool_table",
    "pool_text",
    "prediction_card",
    "pull_of_record",
    "pull_record",
    "pull_sheet_svg",
    "recording_svg",
    "rest_card",
    "setting_card",
    "surfaces_card",
    "table",
    "tilt_card",
    "tilt_record",
    "tilt_svg",
    "tilt_table",
    "tilt_text",
    "told",
    "with_samples",
]
