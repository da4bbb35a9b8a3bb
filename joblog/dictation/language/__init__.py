"""The language of the ladder, as tables. A new phrase is one more line here.

WORDS    classes of words and phrases; a word may stand in several.
SHAPES   named pieces of a sentence, built of classes and other shapes.
DIMENSIONS what a measure may be of, and the words that say it.
SENTENCES what a stretch of words can mean: (meaning, pattern).

Patterns are read word by word. `CLASS` any word or phrase of a class, or a shape; `word` that
very word; `?` maybe, `*` any number, `+` one or more, `( a | b )` either; `name=X` keeps what X
matched for the builder of that meaning (see `meanings.py`). `...` is any words up to the next
cue or number; `....` any words up to an exact length; `......` any words to the end; `..` one or
more words that are no number. NUM is a whole number, MIX a whole with a fraction, FRAC a fraction
alone, CLOCK "7:30", TWELFTHS "8/12"; ITEM a spoken name of the catalog, SPOT a place of the job;
OTHER any word that is in no table.

The tables stand in the files of this folder, by what is spoken of.
"""

from __future__ import annotations

from joblog.dictation.language import (
    beside,
    corrections,
    days,
    errands,
    fillers,
    house,
    items,
    labor,
    measures,
    places,
    stock,
    talk,
    transfers,
)
from joblog.dictation.language.corrections import AMENDS
from joblog.dictation.language.measures import DIMENSIONS
from joblog.dictation.language.stock import TELLTALES, UNTOLD

__all__ = [
    "AMENDS",
    "DIMENSIONS",
    "ERRAND_WORDS",
    "HOUSE_WORDS",
    "SENTENCES",
    "SHAPES",
    "TELLTALES",
    "UNTOLD",
    "WORDS",
]

WORDS: dict[str, str] = {
    **fillers.WORDS,
    **measures.WORDS,
    **items.WORDS,
    **stock.WORDS,
    **transfers.WORDS,
    **labor.WORDS,
    **places.WORDS,
    **talk.WORDS,
    **corrections.WORDS,
    **days.WORDS,
    **errands.WORDS,
    **beside.WORDS,
    **house.WORDS,
}
ERRAND_WORDS = (*errands.WORDS, *beside.WORDS)
HOUSE_WORDS = tuple(house.WORDS)
# A day is said anywhere; one that is still to come makes a plan of what is said beside it.
for _name, _days in days.ALSO:
    WORDS[_name] += f", {WORDS[_days]}"
SHAPES: dict[str, str] = {
    **measures.SHAPES,
    **items.SHAPES,
    **stock.SHAPES,
    **transfers.SHAPES,
    **labor.SHAPES,
    **places.SHAPES,
    **talk.SHAPES,
    **corrections.SHAPES,
    **errands.SHAPES,
    **house.SHAPES,
}
# Of two patterns that explain equally much the one that stands first is taken.
SENTENCES: tuple[tuple[str, str], ...] = (
    *places.SENTENCES,
    *days.SENTENCES,
    *errands.SENTENCES,
    *house.SENTENCES,
    *measures.SENTENCES,
    *days.dated(stock.SENTENCES),
    *transfers.SENTENCES,
    *labor.SENTENCES,
    *talk.SENTENCES,
    *corrections.SENTENCES,
)
