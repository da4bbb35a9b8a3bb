"""Tables: what is read from a spreadsheet, and how."""

from joblog.sheet.nouns import SURE, Columns, Notice, Question, Reading, Row, Sheet, Way
from joblog.sheet.read_sheet import AS_IT_IS, columns_in, each_row, read_sheet, refused
from joblog.sheet.summed_up import summed_up

__all__ = [
    "AS_IT_IS",
    "SURE",
    "Columns",
    "Notice",
    "Question",
    "Reading",
    "Row",
    "Sheet",
    "Way",
    "columns_in",
    "each_row",
    "read_sheet",
    "refused",
    "summed_up",
]
