"""How often people at work take each way through the tables of the language.

    python -m tests.bench.count_productions

Writes `joblog/dictation/productions.json` anew, from the practice phrases and the open half of the
conversations: neither half of what hearing is measured by goes into it, and nothing locked.
Prints how many stretches were counted and how many could not be.
"""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from collections.abc import Sequence
from pathlib import Path

from joblog.dictation import productions
from joblog.dictation.grammar import (
    FRAC,
    ITEM,
    MIX,
    NUM,
    SPOT,
    Atom,
    Stretch,
    known_words,
)
from joblog.dictation.numbers import DIGITS, Number, number_at
from joblog.dictation.read import said_in, understand
from joblog.dictation.trees import Choice, Leaf, Repeat, Step, patterns, way_through
from joblog.dictation.words import marked_words
from joblog.model import Item, Vocabulary
from joblog.quantity import spoken_unit
from tests.bench.corpus import practice, site, words
from tests.bench.corpus.conversations import talks
from tests.bench.walks import walks

FILE = Path(productions.__file__).with_name(productions.FILE)

LARGEST = 9999
STRANGE = 1
"""Words in no table that a form may have."""

Counts = defaultdict[str, Counter[str]]


class Counted:
    """What has been counted so far."""

    def __init__(self) -> None:
        self.utterances: Counter[str] = Counter()
        self.patterns: Counter[str] = Counter()
        self.tails: Counter[str] = Counter()
        self.told: Counter[str] = Counter()
        self.strangers: Counter[str] = Counter()
        self.items = 0
        self.by_key: dict[str, Counts] = {
            name: defaultdict(Counter)
            for name in (
                "options", "times", "words", "fillings", "numbers", "fractions", "strange",
            )
        }  # fmt: skip
        self.keys: dict[str, int] = {}
        """Of the leaves that hold numbers: where in the list of them each stands."""
        self.lost = 0
        self._item: object = None
        self._tasks: set[str] = set()
        self._names: dict[str, list[str]] = {}
        self._known = known_words()

    def add(self, text: str, vocabulary: Vocabulary) -> None:
        if any(letter.isdigit() for letter in text):
            return
        self._names = {
            item.name: sorted(_called(item), key=len, reverse=True) for item in vocabulary.items
        }
        self._tasks = {name for task in vocabulary.tasks for name in (task.name, *task.spoken)}
        marked = marked_words(text)
        understood = understand(marked, vocabulary)
        if understood is None or len(marked) > 80:
            return
        atoms = said_in(marked, vocabulary).atoms
        stretches = {stretch.start: stretch for stretch in understood[1]}
        self._item = next((atom.value for atom in atoms if atom.char == ITEM), None)
        said: list[str] = []
        at = 0
        while at < len(atoms):
            stretch = stretches.get(at)
            if stretch is None:
                said.append(f"~{atoms[at].words}" if atoms[at].value is None else "")
                at += 1
                continue
            said.append(f"{stretch.meaning}: {self._stretch(stretch)}")
            at = stretch.end
        form = "|".join(said)
        if all(said) and len(self._strange(form)) <= STRANGE:
            self.utterances[form] += 1

    def _strange(self, form: str) -> set[str]:
        """Words in no table: names and oaths are not to be expected."""
        said = " ".join(unit.partition(": ")[2] for unit in form.split("|"))
        return {word for word in said.split() if word[0] != "{"} - self._known

    def _stretch(self, stretch: Stretch) -> str:
        """Counts it; its words with slots."""
        text = "".join(atom.char for atom in stretch.atoms)
        for pattern in patterns():
            if pattern.meaning != stretch.meaning:
                continue
            steps = way_through(pattern.tree, text, 0, len(text))
            if steps is not None:
                self.patterns[pattern.key] += 1
                return " ".join(filter(None, (self._step(one, stretch.atoms) for one in steps)))
        self.lost += 1
        return self._form(stretch.atoms)

    def _step(self, step: Step, atoms: Sequence[Atom]) -> str:
        node, first, last = step
        if isinstance(node, Choice):
            self.by_key["options"][node.key][str(first)] += 1
            return ""
        if isinstance(node, Repeat):
            self.by_key["times"][node.key][str(first)] += 1
            return ""
        number = not node.wild and atoms[first].char in _NUMBERS
        form = self._form(atoms[first:last], self._kept(node.key) if number else "")
        if node.wild:
            if " ".join(atom.words for atom in atoms[first:last]) in self._tasks:
                form = "{TASK}"
            if len(self._strange(f": {form}")) <= STRANGE:
                self.by_key["fillings"][node.key][form] += 1
        else:
            self._leaf(node, atoms[first])
        return form

    def _leaf(self, leaf: Leaf, atom: Atom) -> None:
        value = atom.value
        if leaf.token == "OTHER":
            self.by_key["strange"][leaf.key][atom.words] += 1
        elif atom.char in (NUM, MIX) and isinstance(value, Number):
            if (value.whole or 0) <= LARGEST:
                self.by_key["numbers"][leaf.key][str(value.whole)] += 1
            if atom.char == MIX:
                self.tails[_tail(atom.words, value)] += 1
        elif atom.char == FRAC:
            self.by_key["fractions"][leaf.key][atom.words] += 1
        elif leaf.token in productions.WORDS:
            self.by_key["words"][leaf.key][atom.words] += 1

    def _kept(self, key: str) -> str:
        return f":{self.keys.setdefault(key, len(self.keys))}"

    def _item_said(self, atom: Atom) -> None:
        said = atom.said
        if said is None or said.lines is None:
            return
        self.items += 1
        [name] = {line.name for line in said.lines.items[:1]}
        if name not in self._names:
            self.strangers[atom.words] += 1
        names = self._names.get(name, ())
        called = next((one for one in names if f" {atom.words}".endswith(f" {one}")), "")
        told = atom.words.removesuffix(called).strip()
        if called and told:
            self.told[told] += 1

    def _form(self, atoms: Sequence[Atom], key: str = "") -> str:
        """The words with their numbers, items, places and the item's own units as slots."""
        return " ".join(self._word(atom, key) for atom in atoms)

    def _word(self, atom: Atom, key: str) -> str:
        if atom.char in _NUMBERS and not _is_row_of_digits(atom):
            return f"{{{_NUMBERS[atom.char]}{key}}}"
        if atom.char == ITEM:
            self._item_said(atom)
        if atom.char in _NAMES:
            return f"{{{_NAMES[atom.char]}}}"
        if isinstance(self._item, Item):
            one, many = spoken_unit(self._item.unit)
            if one and atom.words in (one, many):
                return "{UNIT}" if atom.words == many else "{ONEUNIT}"
        return atom.words

    def as_json(self) -> dict[str, object]:
        del self.tails[""]
        return {
            "utterances": self.utterances,
            "keys": list(self.keys),
            "patterns": self.patterns,
            "tails": self.tails,
            "items": self.items,
            "told": self.told,
            "strangers": self.strangers,
            **self.by_key,
        }


def main() -> None:
    counted = Counted()
    for phrase in practice():
        counted.add(phrase.text, words())
    for told in walks("practice"):
        counted.add(told.text, words())
    for talk in talks():
        for line in talk.lines:
            counted.add(line, site.words())
    text = json.dumps(counted.as_json(), separators=(",", ":"), sort_keys=True)
    FILE.write_text(text + "\n", "utf-8")
    print(f"{counted.patterns.total()} stretches, {counted.lost} not; {len(text) // 1000} kB")


_NUMBERS = {NUM: "NUM", MIX: "MIX", FRAC: "FRAC"}
_NAMES = {ITEM: "ITEM", SPOT: "SPOT"}


def _called(item: Item) -> set[str]:
    """Its names, one and many."""
    return {spelled for name in (item.name, *item.spoken) for spelled in (name, name + "s")}


def _is_row_of_digits(atom: Atom) -> bool:
    """True for "five five five one two", which is no amount."""
    digits = atom.words.split()
    return len(digits) > 2 and all(digit in DIGITS for digit in digits)


def _tail(said: str, number: Number) -> str:
    """What follows the whole number in "eleven and a half"; empty where nobody can tell."""
    spoken = said.split()
    for cut in range(len(spoken) - 1, 0, -1):
        found = number_at(spoken[:cut], 0)
        if found and found[1] == cut and found[0].value == number.whole:
            return " ".join(spoken[cut:])
    return ""


if __name__ == "__main__":
    main()
