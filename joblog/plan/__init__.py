"""The plan of a job: plan files, and the words that a job may use."""

from joblog.plan.read_csv import read_csv
from joblog.plan.read_json import read_json
from joblog.plan.vocabulary import vocabulary

__all__ = ["read_csv", "read_json", "vocabulary"]
