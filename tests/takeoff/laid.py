"""Runs in whole sticks of the usual length and what remains: how a line is laid by hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from math import ceil

from joblog.catalog.lines import starter_catalog
from joblog.model import Piece

STOCK = {item.name: item.stock_length for item in starter_catalog().items}


def laid_end_to_end(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """Each run of the starter's items as its whole sticks and the last piece; the rest as it is."""
    for piece in pieces:
        stock = STOCK[piece.item or ""]
        if piece.joints is None or stock is None:
            yield piece
            continue
        lap = piece.joints.lap
        joints = ceil((piece.length - lap) / (stock - lap)) - 1
        whole = replace(piece, length=stock, pieces=joints * piece.pieces, joints=None)
        last = piece.length + joints * lap - joints * stock
        yield from (whole, replace(whole, length=Fraction(last), pieces=piece.pieces))
