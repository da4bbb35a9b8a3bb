"""What lies at one end, a job or the shop, of one item: first in, first out.

What leaves takes the cost of what has lain longest, and what lies there at the end cost what was
paid last; what goes back to the supplier is what came last (Warren, Reeve and Duchac, Accounting,
on FIFO under a perpetual inventory system; that what is returned is the newest is common practice,
for it is what the yard still takes back). All of it is exact.

A record is told out of order: what was used before the delivery of it was told is owed, and paid
by what comes next.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from joblog.model import Layer

NOTHING = Fraction(0)


@dataclass(slots=True)
class Outflow:
    """What left an end together. `missing` of it did not lie there yet."""

    parts: list[Part] = field(default_factory=list)
    missing: Fraction = NOTHING

    def layers(self) -> tuple[Layer, ...]:
        """What it cost, oldest first, neighbours of one delivery as one; without a price what was
        never told to have come."""
        if not self.missing and all(part.owed is None for part in self.parts):
            return joined(part.as_it_is() for part in self.parts)
        whole = sum((part.quantity for part in self.parts), self.missing)
        return joined(self.between(NOTHING, whole, frozenset()))

    def between(
        self, first: Fraction, last: Fraction, within: frozenset[_Asked]
    ) -> Iterator[Layer]:
        """The layers from the `first` of it to the `last`; `within` which others that is asked."""
        asked = (id(self), first, last)
        if asked in within:
            yield Layer(last - first, None)  # Carried in a circle, and never bought.
            return
        at = NOTHING
        for part in self.parts:
            begin, end = max(at, first), min(at + part.quantity, last)
            if begin < end:
                yield from part.between(begin - at, end - at, within | {asked})
            at += part.quantity
        begin = max(at, first)
        if begin < last:
            yield Layer(last - begin, None)


_Asked = tuple[int, Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Part:
    """So many of a delivery, or of what another end still owes: from `offset` of it on."""

    quantity: Fraction
    layer: Layer | None = None
    owed: Outflow | None = None
    offset: Fraction = NOTHING

    def as_it_is(self) -> Layer:
        """The layer, of what is owed by nobody."""
        each, day = (self.layer.each, self.layer.day) if self.layer else (None, None)
        return Layer(self.quantity, each, day)

    def split(self, quantity: Fraction) -> tuple[Part, Part]:
        """The first so many of it, and the rest."""
        offset = self.offset + quantity if self.owed is not None else NOTHING
        first = Part(quantity, self.layer, self.owed, self.offset)
        return first, Part(self.quantity - quantity, self.layer, self.owed, offset)

    def between(
        self, first: Fraction, last: Fraction, within: frozenset[_Asked]
    ) -> Iterator[Layer]:
        """The layers from the `first` of it to the `last`."""
        if self.owed is not None:
            yield from self.owed.between(self.offset + first, self.offset + last, within)
        elif self.layer is not None:
            yield replace(self.layer, quantity=last - first)


@dataclass(slots=True)
class Account:
    """What lies at one end, the oldest first."""

    lying: deque[Part] = field(default_factory=deque)
    consumed: list[Outflow] = field(default_factory=list)
    owing: deque[Outflow] = field(default_factory=deque)
    """What left before it came, as far as anybody told; nothing lies there then."""

    def put(self, parts: Iterable[Part]) -> None:
        """More comes; what is owed is taken out of it first."""
        for part in parts:
            while self.owing and part.quantity:
                outflow = self.owing[0]
                paid, part = part.split(min(outflow.missing, part.quantity))
                outflow.parts.append(paid)
                outflow.missing -= paid.quantity
                if not outflow.missing:
                    self.owing.popleft()
            if part.quantity:
                self.lying.append(part)

    def take(self, quantity: Fraction, *, newest: bool = False) -> Outflow:
        """So many leave, the oldest first; or the newest. What is not there yet is owed."""
        found: list[Part] = []
        missing = quantity
        while missing and self.lying:
            part = self.lying.pop() if newest else self.lying.popleft()
            if part.quantity > missing and newest:
                rest, part = part.split(part.quantity - missing)
                self.lying.append(rest)
            elif part.quantity > missing:
                part, rest = part.split(missing)
                self.lying.appendleft(rest)
            found.append(part)
            missing -= part.quantity
        outflow = Outflow(found[::-1] if newest else found, missing)
        if missing:
            self.owing.append(outflow)
        return outflow

    def consume(self, quantity: Fraction) -> None:
        """So many are used up, spoiled or gone."""
        if quantity:
            self.consumed.append(self.take(quantity))

    def leave(self, quantity: Fraction) -> None:
        """A count: so many are left. Whatever else lies there is gone.

        Where more is left than can be, less was consumed than was told; what can never have come
        has no price.
        """
        for outflow in self.consumed:
            if outflow.missing:
                self.owing.remove(outflow)
                outflow.missing = NOTHING
        over = quantity - sum((part.quantity for part in self.lying), NOTHING)
        if over < 0:
            self.consume(-over)
        while self.consumed and over > 0:
            last = self.consumed[-1]
            while last.parts and over:
                part = last.parts.pop()
                if part.quantity > over:
                    kept, part = part.split(part.quantity - over)
                    last.parts.append(kept)
                self.lying.appendleft(part)
                over -= part.quantity
            if not last.parts:
                self.consumed.pop()
        if over > 0:
            self.lying.append(bought(Layer(over, None)))

    def everything(self) -> Outflow:
        """All that lies there leaves."""
        outflow = Outflow([*self.lying])
        self.lying.clear()
        return outflow

    def lying_layers(self) -> tuple[Layer, ...]:
        return Outflow([*self.lying]).layers()

    def consumed_layers(self) -> tuple[Layer, ...]:
        return joined(layer for outflow in self.consumed for layer in outflow.layers())


def bought(layer: Layer) -> Part:
    """A delivery, or what is known to have cost so much."""
    return Part(layer.quantity, layer)


def carried(outflow: Outflow) -> list[Part]:
    """What left one end, as it comes to another: also what the first one does not have yet."""
    parts = [*outflow.parts]
    if outflow.missing:
        so_far = sum((part.quantity for part in parts), NOTHING)
        parts.append(Part(outflow.missing, owed=outflow, offset=so_far))
    return parts


def joined(layers: Iterable[Layer]) -> tuple[Layer, ...]:
    """The layers, neighbours of one day and price as one."""
    found: list[Layer] = []
    for layer in layers:
        last = found[-1] if found else None
        if last is not None and (last.each, last.day) == (layer.each, layer.day):
            found[-1] = replace(last, quantity=last.quantity + layer.quantity)
        else:
            found.append(layer)
    return tuple(found)
