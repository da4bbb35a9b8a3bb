"""Whether "outside corner" is a corner that somebody walks around, or a stick of corner trim."""

from __future__ import annotations

from collections.abc import Sequence


def turns(words: Sequence[str], at: int, stop: int) -> bool:
    """Whether the two words at `at` tell of a corner of the house.

    It is one by itself or between two sides: nothing leads to it that leads to a place or an item,
    what follows is the next side, and nothing of the utterance is used, bought or cut. `stop` is
    the index of the next word with a pause before it.
    """
    if words[at + 1 : at + 2] != ["corner"] or words[at] not in _WAYS:
        return False
    if at and words[at - 1] in _LEADS_TO_A_THING:
        return False
    end = at + 2
    goes_on = end < len(words) and stop != end
    if goes_on and not _begins_a_side(words, end):
        return False
    return _OF_MATERIAL.isdisjoint(words)


def _begins_a_side(words: Sequence[str], at: int) -> bool:
    word, following = words[at], words[at + 1 : at + 2]
    if word in _SIDES:
        # "One outside corner left" is material; "left side" is where he walks on.
        return bool(following) and (following[0] in _PARTS or following[0] in _SIDES)
    return word in _PARTS or word in _GOING_ON


_WAYS = ("outside", "inside")
_LEADS_TO_A_THING = frozenset(
    "on at by for from of near past to the each per both with behind under over this".split()
)
_SIDES = frozenset(
    "front back rear left right north south east west northeast northwest southeast southwest "
    "garage porch dormer kitchen street upper lower far near other main addition".split()
)
_PARTS = frozenset(
    "side eave gable wall end rake hand front back left right north south east west dormer "
    "elevation eaves".split()
)
_GOING_ON = frozenset(
    "and then now next there here it's that's that no not sorry wait i window windows door doors "
    "two three four one the all okay walls overhang".split()
)
_OF_MATERIAL = frozenset(
    "used use using installed install put set hung hang nailed delivered deliver dropped drop "
    "picked brought got get returned return sent send need needs order ordered cut cutting ruined "
    "spoiled wrecked bent broke broken bought stick sticks piece pieces each post posts trim "
    "leftover boxes bundle bundles dollars bucks short count counted".split()
)
"""Words beside which a corner is a thing that is bought and cut."""
