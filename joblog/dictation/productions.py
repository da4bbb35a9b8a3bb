"""How often people at work take each way through the tables, counted and smoothed."""

from __future__ import annotations

import json
import random
from bisect import bisect
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from importlib.resources import files
from itertools import accumulate
from typing import Any

from joblog.dictation.language import WORDS
from joblog.dictation.trees import (
    Choice,
    Leaf,
    Named,
    Node,
    Pattern,
    Repeat,
    Row,
    patterns,
)

FILE = "productions.json"


@cache
def productions() -> Productions:
    """What was counted; read when it is first asked for."""
    return Productions(json.loads(files("joblog.dictation").joinpath(FILE).read_text("utf-8")))


class Productions:
    """Draws each step of a sentence as often as it was counted; what was never seen a little.

    `counted` has by name: "utterances", how meanings followed one another and were worded; "keys",
    which the slots in them name by number; "tails" of numbers; how many "items", what was "told"
    beside their names, and "strangers" to the catalog; and by the key of a node "patterns",
    "options", "times", "words", "fillings", "numbers", "fractions" and "strange" words. Keys that
    the tables have no more are passed over, and ways that they have since then are drawn evenly.
    """

    def __init__(self, counted: Mapping[str, Any]) -> None:
        self._counted = counted
        self._tables: dict[object, _Table] = {}
        self._forms: dict[str, dict[str, float]] = {}
        self._words: dict[str, float] = {}
        self._holding: dict[str, list[list[tuple[str, str]]]] = {}
        self._spans: dict[str, tuple[int, int]] = {}
        self._by_meaning: dict[str, list[Pattern]] = {}
        for pattern in patterns():
            self._by_meaning.setdefault(pattern.meaning, []).append(pattern)

    def utterance(self, draw: random.Random) -> Sequence[tuple[str, str]]:
        """Meanings in the order of an utterance, each with words that were said so once; a word
        that no meaning holds has none."""
        chosen = self._table("utterances", self._utterances).draw(draw)
        assert isinstance(chosen, list)
        return chosen

    def utterance_with(self, meaning: str, draw: random.Random) -> Sequence[tuple[str, str]]:
        """An utterance that holds this meaning; it alone where none was counted."""
        if not self._holding:
            for units, _ in self._utterances():
                for one in {one for one, _ in units}:
                    self._holding.setdefault(one, []).append(units)
        return draw.choice(self._holding.get(meaning, [[(meaning, "")]]))

    def said(self, meaning: str, draw: random.Random) -> str:
        """How a meaning was said once, with slots in braces."""
        return str(self._table(("said", meaning), lambda: self._said()[meaning].items()).draw(draw))

    def _utterances(self) -> list[tuple[list[tuple[str, str]], float]]:
        rows = []
        for said, count in self._counted["utterances"].items():
            units = [_unit(one) for one in said.split("|")]
            if all(not meaning or meaning in self._by_meaning for meaning, _ in units):
                rows.append((units, count))
        return rows

    def _said(self) -> dict[str, dict[str, float]]:
        if not self._forms:
            for units, count in self._utterances():
                for meaning, form in units:
                    forms = self._forms.setdefault(meaning, {})
                    forms[form] = forms.get(form, 0) + count
        return self._forms

    def key_of(self, number: str) -> str:
        """The key of a leaf by its number in a slot, "{NUM:12}"; empty for none."""
        return str(self._counted["keys"][int(number)]) if number else ""

    def pattern(self, meaning: str, draw: random.Random, evenly: bool) -> Pattern:
        found = self._by_meaning[meaning]
        if evenly:
            return draw.choice(found)
        counts = self._counted["patterns"]
        table = self._table(
            ("pattern", meaning),
            lambda: [
                (one, 0.0 if _is_written(one.tree) else counts.get(one.key, 0) + UNSEEN)
                for one in found
            ],
        )
        chosen = table.draw(draw)
        assert isinstance(chosen, Pattern)
        return chosen

    def option(self, node: Choice, draw: random.Random, evenly: bool) -> int:
        if evenly:
            return draw.randrange(len(node.options))
        counts = self._counted["options"].get(node.key, {})
        total = sum(counts.values())
        share = UNSEEN if total else 1.0
        table = self._table(
            node,
            lambda: [
                (at, 0.0 if _is_written(one) else counts.get(str(at), 0) + share)
                for at, one in enumerate(node.options)
            ],
        )
        return int(str(table.draw(draw)))

    def times(self, node: Repeat, draw: random.Random, evenly: bool) -> int:
        usual = _TIMES[node.mark]
        if evenly:
            return draw.choices(range(len(usual)), usual)[0]
        counts = self._counted["times"].get(node.key, {})
        table = self._table(
            node,
            lambda: [
                (times, counts.get(str(times), 0) + UNSEEN * (usual[times] if times < 3 else 0))
                for times in range(max([2, *map(int, counts)]) + 1)
                if times < len(usual) or str(times) in counts
            ],
        )
        return int(str(table.draw(draw)))

    def word(self, leaf: Leaf, draw: random.Random, evenly: bool) -> str:
        if evenly:
            return draw.choice(_listed(leaf.token))
        return str(self._table(leaf, lambda: self._worded(leaf).items()).draw(draw))

    def _worded(self, leaf: Leaf) -> dict[str, float]:
        """Shares of the words of a leaf: those counted there, and those of the class anywhere."""
        anywhere = {word: self._spoken().get(word, 0) + UNSEEN / 10 for word in _listed(leaf.token)}
        total = sum(anywhere.values())
        here = self._counted["words"].get(leaf.key, {})
        return {
            word: here.get(word, 0) + ELSEWHERE * count / total for word, count in anywhere.items()
        }

    def filling(self, leaf: Leaf, draw: random.Random, evenly: bool) -> str:
        """Any words that may stand for `...`, with slots in braces."""
        found = self._counted["fillings"].get(leaf.key, {})
        if found and not (evenly and draw.random() < 0.5):
            return str(self._table(leaf, found.items).draw(draw))
        count = draw.randrange(0 if leaf.token != ".." else 1, 4)
        return " ".join(self.strange("", draw) for _ in range(count))

    def number(self, key: str, draw: random.Random, evenly: bool) -> int:
        found = self._counted["numbers"].get(key)
        if evenly or not found:
            return draw.randrange(1, draw.choice((13, 21, 61, 101, 101)))
        number = int(str(self._table(("number", key), found.items).draw(draw)))
        if draw.random() < EXACTLY:
            return number
        least, most = self._span(key)
        return draw.randint(max(least, number // 2), min(most, 2 * number))

    def _span(self, key: str) -> tuple[int, int]:
        if key not in self._spans:
            seen = [int(one) for one in self._counted["numbers"][key]]
            self._spans[key] = min(seen), max(seen)
        return self._spans[key]

    def fraction(self, key: str, draw: random.Random) -> str:
        found = self._counted["fractions"].get(key)
        return self._of(("fraction", key), found, "fractions", draw)

    def tail(self, draw: random.Random) -> str:
        """What follows a whole number: "and a quarter"."""
        return str(self._table("tails", self._counted["tails"].items).draw(draw))

    def strange(self, key: str, draw: random.Random) -> str:
        """A word that is in no table."""
        found = self._counted["strange"].get(key) if draw.random() > UNSEEN else None
        return self._of(("strange", key if found else ""), found, "strange", draw)

    def _of(
        self, key: object, found: dict[str, float] | None, name: str, draw: random.Random
    ) -> str:
        return str(self._table(key, lambda: (found or self._everywhere(name)).items()).draw(draw))

    def told(self, draw: random.Random) -> str:
        """What tells an item from others of its name: "one by eight"."""
        return str(self._table("told", self._counted["told"].items).draw(draw))

    def stranger(self, draw: random.Random) -> str:
        """A thing that no catalog knows."""
        return str(self._table("strangers", self._counted["strangers"].items).draw(draw))

    @property
    def told_share(self) -> float:
        """Of items, for how many something was said beside the name."""
        return float(sum(self._counted["told"].values()) / self._counted["items"])

    @property
    def stranger_share(self) -> float:
        return float(sum(self._counted["strangers"].values()) / self._counted["items"])

    def place(self, draw: random.Random) -> str:
        """A place of a job that has named none."""
        return f"{draw.choice(_listed('COMPASS')[:4])} {draw.choice(_PARTS)}"

    def patterns_counted(self) -> frozenset[str]:
        """Keys of the patterns that were counted."""
        return frozenset(self._counted["patterns"])

    def words(self) -> frozenset[str]:
        """Every word that a sentence can have besides those of the tables and of the job."""
        found = [form for units, _ in self._utterances() for _, form in units]
        for name in ("fillings", "fractions"):
            found += [words for counts in self._counted[name].values() for words in counts]
        found += self._counted["tails"]
        return frozenset(word for form in found for word in form.split() if word[0] != "{")

    def _spoken(self) -> dict[str, float]:
        if not self._words:
            self._words = self._everywhere("words")
        return self._words

    def _everywhere(self, name: str) -> dict[str, float]:
        whole: dict[str, float] = {}
        for counts in self._counted[name].values():
            for word, count in counts.items():
                whole[word] = whole.get(word, 0) + count
        return whole

    def _table(self, key: object, make: Any) -> _Table:
        if key not in self._tables:
            self._tables[key] = _Table(make())
        return self._tables[key]


UNSEEN = 0.05
"""How often what the tables have and nobody was heard to say is drawn, against once counted."""
ELSEWHERE = 0.5
"""How many words of a class are drawn as anywhere, against those counted at this place."""
EXACTLY = 0.5
"""Share of numbers that were said so; the others are of their size."""
_TIMES = {"?": (0.6, 0.4), "*": (0.7, 0.2, 0.1), "+": (0.0, 0.8, 0.2)}
_PARTS = ("wall", "eave", "gable", "side", "overhang", "rake", "corner", "porch", "window", "door")


def _unit(said: str) -> tuple[str, str]:
    """ "measure: {SPOT} {MIX:3}" as meaning and words; "~okay" has no meaning."""
    if said.startswith("~"):
        return "", said[1:]
    meaning, _, form = said.partition(": ")
    return meaning, form


class _Table:
    """Values, each drawn by its weight."""

    def __init__(self, weighed: Iterable[tuple[object, float]]) -> None:
        pairs = [(value, weight) for value, weight in weighed if weight > 0]
        self._values = [value for value, _ in pairs]
        self._sums = [*accumulate(weight for _, weight in pairs)]

    def draw(self, draw: random.Random) -> object:
        return self._values[bisect(self._sums, draw.random() * self._sums[-1])]


@cache
def _listed(token: str) -> tuple[str, ...]:
    return tuple(" ".join(phrase.split()) for phrase in WORDS[token].split(","))


def _is_written(node: Node) -> bool:
    """True where it can only be typed: "7:30", "8/12"."""
    match node:
        case Leaf():
            return node.token in ("CLOCK", "TWELFTHS", "HUGE")
        case Named():
            return _is_written(node.part)
        case Row():
            return any(map(_is_written, node.parts))
        case Choice():
            return all(map(_is_written, node.options))
        case Repeat():
            return node.mark == "+" and _is_written(node.part)
