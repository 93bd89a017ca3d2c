"""Problem sheets, their key and the lab sheet: as PDF through Typst, as HTML, as JSON."""

from pullbench.render.sheets.blocks import Document, Paper, Style
from pullbench.render.sheets.class_set import ClassSet
from pullbench.render.sheets.key import key_sheet
from pullbench.render.sheets.lab import lab_sheet
from pullbench.render.sheets.pdf import as_pdf
from pullbench.render.sheets.record import set_record
from pullbench.render.sheets.student import student_sheets
from pullbench.render.sheets.to_html import html_page

__all__ = [
    "ClassSet",
    "Document",
    "Paper",
    "Style",
    "as_pdf",
    "html_page",
    "key_sheet",
    "lab_sheet",
    "set_record",
    "student_sheets",
]
