"""What a person reads: day sheets, the squared-up job, lists; as text, CSV or JSON."""

from joblog.report.learned import back_tested, learned
from joblog.report.sheets import (
    day_sheet,
    entry_list,
    job_list,
    photo_list,
    plan_list,
    recording_list,
)
from joblog.report.squared import squared_up
from joblog.report.table import as_csv

__all__ = [
    "as_csv",
    "back_tested",
    "day_sheet",
    "entry_list",
    "job_list",
    "learned",
    "photo_list",
    "plan_list",
    "recording_list",
    "squared_up",
]
