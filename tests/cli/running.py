"""What the tests of the command line share."""

from __future__ import annotations

from collections.abc import Callable

Say = Callable[..., tuple[int, str, str]]
"""Runs a command: its exit status, what it printed, what it complained of."""
