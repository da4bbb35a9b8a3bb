"""The walk around a house: where each wall stands, and whether the walk closes."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from joblog.model import Body, Hand, Problem, Side

Point = tuple[Fraction, Fraction]
"""Inches from where the walk begins: along the first side, and to the left of it."""


@dataclass(frozen=True, slots=True)
class Wall:
    """One side of a body, where it stands."""

    side: Side
    begins: Point
    ends: Point


@dataclass(frozen=True, slots=True)
class Outline:
    """A body's walls in the order of the walk."""

    walls: tuple[Wall, ...]
    closed: bool
    """Whether the walk leads back to its beginning; an open one need not."""
    missing: Point = (Fraction(0), Fraction(0))
    """How far a closed walk ends from where it began."""


def outline(body: Body, at_hand: Hand = "right") -> Outline:
    """Where the walls of a body stand, exactly; with the house at the right hand an outside corner
    turns right."""
    raise NotImplementedError


def problems_of(body: Body) -> tuple[Problem, ...]:
    """Why the walk around a body cannot be, in words: turns that do not add up, lengths that do
    not close."""
    raise NotImplementedError
