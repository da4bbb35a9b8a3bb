"""Squaring up: planned against used, material and labor, from the entries of the book."""

from joblog.reconcile.sense import sensed
from joblog.reconcile.square_up import reconcile

__all__ = ["reconcile", "sensed"]
