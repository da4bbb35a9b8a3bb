"""What lies where, through all jobs, and what it cost. Pure."""

from joblog.stock.layers import cost_of, quantity_of, unpriced_in
from joblog.stock.ledger import Ledger, Movement, each_once, through_jobs

__all__ = [
    "Ledger",
    "Movement",
    "cost_of",
    "each_once",
    "quantity_of",
    "through_jobs",
    "unpriced_in",
]
