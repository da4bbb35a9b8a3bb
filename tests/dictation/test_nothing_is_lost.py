"""Every name and number of an utterance ends in an entry, or somebody is asked about it."""

from collections.abc import Iterator

from joblog.dictation import read
from joblog.dictation.draft import Context
from joblog.dictation.grammar import ITEM, NUMBERS, Atom, has_any, is_a
from joblog.dictation.pieces import LONGEST
from joblog.dictation.read import said_in
from joblog.dictation.words import marked_words
from joblog.form import FIELDS
from joblog.model import Entry, Item, Reading, Vocabulary
from tests.bench.corpus import phrases, practice, words
from tests.bench.corpus.conversations import talks
from tests.bench.corpus.site import words as site_words

Said = tuple[str, Vocabulary, Context]


def said() -> Iterator[Said]:
    """Everything that may be looked at."""
    for phrase in (*phrases(), *practice()):
        if not phrase.held_out:
            yield phrase.text, words(), phrase.context
    for talk in talks():
        for line in talk.lines:
            yield line, site_words(), Context(at=talk.at, place=talk.place)


def test_every_name_and_strange_word_is_in_an_entry_or_asked_about() -> None:
    assert [line for line in map(_lost_words, said()) if line] == []


def test_every_number_is_in_an_entry_or_asked_about() -> None:
    assert [line for line in map(_lost_numbers, said()) if line] == []


def _lost_words(line: Said) -> str:
    text, vocabulary, context = line
    reading = read(text, vocabulary, context)
    told = {_stem(word) for word in _told(reading).split()}
    items = [entry.item for entry in map(_inner, reading.entries) if entry.item]
    moved = any(entry.kind == "moved" for entry in map(_inner, reading.entries))
    task = any(entry.task for entry in map(_inner, reading.entries))
    lost = [
        atom.words
        for atom in _atoms(line)
        if (atom.char == ITEM or is_a(atom, "OTHER"))
        and not has_any((atom,), "FILLER", "IDLY", "AUXILIARY")
        and not all(_stem(word) in told for word in atom.words.split())
        and not (isinstance(atom.value, Item) and _is_named(atom.value, items))
        # The shop is held by its one name, and what was carried by its kind.
        and not (moved and has_any((atom,), "SHOPWORD", "CARRIES"))
        # The words of a task are held by the task, and an item that is denied is no loss.
        and not task
        and not any(entry.kind == "correction" for entry in reading.entries)
    ]
    return f"{text!r}: {lost}" if lost else ""


def _lost_numbers(line: Said) -> str:
    text, vocabulary, context = line
    reading = read(text, vocabulary, context)
    told = _told(reading)
    if reading.doubts or any(map(_holds_number, map(_inner, reading.entries))):
        return ""
    lost = [atom.words for atom in _atoms(line) if atom.char in NUMBERS and atom.words not in told]
    return f"{text!r}: {lost}" if lost else ""


def _atoms(line: Said) -> list[Atom]:
    text, vocabulary, context = line
    marked = marked_words(text)
    return [] if len(marked) > LONGEST else list(said_in(marked, vocabulary, context).atoms)


def _inner(entry: Entry) -> Entry:
    return entry.replacement or entry


def _told(reading: Reading) -> str:
    parts = [
        str(getattr(entry, name) or "")
        for entry in map(_inner, reading.entries)
        for name in (*FIELDS[entry.kind], "place", "note")
    ]
    doubts = [doubt.why for doubt in reading.doubts]
    return " ".join((*parts, *doubts, reading.unread if doubts else ""))


def _holds_number(entry: Entry) -> bool:
    held = (getattr(entry, name) for name in (*FIELDS[entry.kind], "day"))
    return any(value is not None and not isinstance(value, str) for value in held)


def _is_named(item: Item, names: list[str]) -> bool:
    return any(name in (item.name, item.variant_of) for name in names)


def _stem(word: str) -> str:
    return word.strip("',:?\"").removesuffix("'s").removesuffix("s")


def test_an_item_that_is_named_again_without_a_word_is_read_past() -> None:
    assert read("soffit cut raccoons ten of inches, a of", words()).entries
