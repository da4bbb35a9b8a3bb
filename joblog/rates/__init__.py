"""Waste and production rates learned from closed jobs, and what the next job should order."""

from joblog.rates.back_test import back_test
from joblog.rates.curve import learning_curve
from joblog.rates.families import family_of
from joblog.rates.jointly import Demand, OrderTogether, order_together
from joblog.rates.learn import learn
from joblog.rates.learned import Learned, knows_task
from joblog.rates.order import order_quantity
from joblog.rates.past import JobRate, by_job, history_of, joined
from joblog.rates.predict import predict, predict_hours
from joblog.rates.read_csv import read_history_csv

__all__ = [
    "Demand",
    "JobRate",
    "Learned",
    "OrderTogether",
    "back_test",
    "by_job",
    "family_of",
    "history_of",
    "joined",
    "knows_task",
    "learn",
    "learning_curve",
    "order_quantity",
    "order_together",
    "predict",
    "predict_hours",
    "read_history_csv",
]
