"""A cut list that is walked through by voice: what is next, what is left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from joblog.aloud.numbers import in_words, length_in_words
from joblog.model import BookEntry, CutPlan, Piece

ALOUD_AT_ONCE = 4
"""Lengths that are read out in one go; nobody keeps more in his head."""


@dataclass(frozen=True, slots=True)
class CutWalk:
    """Pieces in the order of the saw, of which the first `done` are cut."""

    pieces: tuple[Piece, ...] = ()
    """Each of one piece, or of several alike that follow one another."""
    done: int = 0

    @property
    def in_all(self) -> int:
        return sum(piece.pieces for piece in self.pieces)

    @property
    def left(self) -> tuple[Piece, ...]:
        """What is still to be cut."""
        passed, rest = self.done, list[Piece]()
        for piece in self.pieces:
            if passed < piece.pieces:
                rest.append(replace(piece, pieces=piece.pieces - passed))
            passed = max(0, passed - piece.pieces)
        return tuple(rest)

    def one_more(self) -> CutWalk:
        """The walk after one more piece was cut."""
        return replace(self, done=min(self.in_all, self.done + 1))

    def say_next(self) -> str:
        if not self.pieces:
            return NO_LIST
        if not self.left:
            return "all cut"
        first = self.left[0]
        more = f", {in_words(first.pieces - 1)} more like it" if first.pieces > 1 else ""
        return f"next, {length_in_words(first.length)}{more}{_where(first)}"

    def say_left(self) -> str:
        if not self.pieces:
            return NO_LIST
        left = sum(piece.pieces for piece in self.left)
        return f"{in_words(left)} left of {in_words(self.in_all)}" if left else "none left"

    def say_list(self) -> str:
        """The next few lengths, each with its number of pieces."""
        if not self.left:
            return self.say_next()
        by_length = [
            (length, sum(piece.pieces for piece in some))
            for length, some in groupby(self.left, key=lambda piece: piece.length)
        ]
        said = [
            f"{in_words(count)} at {length_in_words(length)}"
            for length, count in by_length[:ALOUD_AT_ONCE]
        ]
        more = len(by_length) - ALOUD_AT_ONCE
        return "; ".join([*said, f"and {in_words(more)} lengths more"] if more > 0 else said)


NO_LIST = "there is no cut list"


def walk_of_plans(plans: Sequence[CutPlan], done: int = 0) -> CutWalk:
    """The cuts of printed cut lists, in their order."""
    cuts = [
        Piece(cut.length, 1, cut.label, plan.item)
        for plan in plans
        for stick in plan.sticks
        for cut in stick.cuts
    ]
    return CutWalk(_together(cuts), done)


def walk_of_entries(entries: Sequence[BookEntry], done: int = 0) -> CutWalk:
    """The pieces that were called out: "cut six at fourteen and a half". No doubtful ones."""
    pieces = [
        Piece(kept.entry.inches, kept.entry.pieces, kept.entry.place or "", kept.entry.item)
        for kept in entries
        if kept.entry.kind == "measure"
        and kept.entry.inches
        and kept.entry.pieces
        and kept.standing != "dropped"
        and not kept.open
    ]
    return CutWalk(tuple(pieces), done)


def _together(cuts: Sequence[Piece]) -> tuple[Piece, ...]:
    runs = groupby(cuts, key=lambda piece: (piece.length, piece.label, piece.item))
    return tuple(replace(some[0], pieces=len(some)) for some in (list(run) for _, run in runs))


def _where(piece: Piece) -> str:
    return f", {piece.label}" if piece.label else ""
