"""The words of a job: what may be dictated at all, and how it may be written."""

from __future__ import annotations

from functools import lru_cache
from itertools import chain

from joblog.dictation.grammar import known_words
from joblog.model import Vocabulary
from joblog.speech.expectation import Expectation
from joblog.speech.phrases import expected_words, phrases, spelled

NUMBERS = """
zero oh one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen
sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred
thousand dozen couple half halves quarter quarters third thirds fourth fourths eighth eighths
sixteenth sixteenths seconds second sixty fourths point and a an by times over heavy light strong
scant shy full plus minus about even exactly
"""

UNITS = """
inch inches foot feet yard yards meter meters centimeter centimeters millimeter millimeters square
squares linear lineal pound pounds sheet sheets piece pieces stick sticks box boxes roll rolls
bundle bundles tube tubes pair pairs gallon gallons panel panels length lengths bag bags board
boards case cases pack packs strip strips pail pails can cans degree degrees minute minutes hour
hours day days dollar dollars cent cents each percent
"""

VERBS = """
used use using scrapped spoiled wasted ruined broke broken cracked bent dented damaged scratched
warped split dropped lost delivered delivery came received unloaded picked bought got returned
return sent back left leftover on hand counted remaining need needs needed order ordered out more
short missing started start starting stopped stop stopping quit done finished finish knocked off
arrived arrive back lunch break worked work working hung hang hanging installed install wrapped
wrap nailed cut cutting measured measure measures measurement mark run rip put up took take tore
removed replaced covered cover covering closing closed hidden behind before after caulked painted
primed flashed cleaned clean moved move set make made change changed
"""

SMALL_WORDS = """
the of on at in to from for with without is are was were it its this that these those all both
other another one's same again as so not no yes wait scratch correction sorry strike delete undo
next last first and or but i we he they there here now today tomorrow yesterday this morning
afternoon evening noon midnight a.m. p.m. am pm o'clock past till until monday tuesday wednesday
thursday friday saturday sunday has have had will be been side out down over under above below
beside near between around through
"""

TRADE = """
north south east west northeast northwest southeast southwest upper lower inside outside right
left front rear main wall walls gable gables corner corners eave eaves overhang rake rakes ridge
valley roof window windows door doors porch dormer deck post posts beam header sill trim frame
opening return chimney vent vents garage bay soffit fascia siding channel gutter gutters downspout
downspouts flashing sheathing plywood drywall shingles felt insulation vinyl aluminum steel starter
drip edge house coil tape nails nail screws screw staples brackets hangers caulk paint primer
lumber stud studs rafter rafters joist joists sub frieze board rough wood pitch slope rise depth
width height length center photo photos picture pictures note notes problem issue reminder call
ask check weather rain raining snow wind windy cold hot sunny cloudy heat wet dry delay helper
helpers man men guy guys crew people inspector owner ladder scaffold brake saw truck trailer white
brown black gray rotten rot loose crooked leak leaking water wire pipe block blocking
"""

TABLES = (NUMBERS, UNITS, VERBS, SMALL_WORDS, TRADE)
WORDS = frozenset(chain(expected_words(), *map(str.split, TABLES)))
"""The fixed words, whatever the job."""

DENOMINATORS = {2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty second"}


@lru_cache
def job_words(vocabulary: Vocabulary) -> frozenset[str]:
    """Every word that dictation on this job may have, in lower case.

    The fixed words, all that the dictation room can read, and the words in the names of the job's
    items, places and tasks.
    """
    return WORDS | known_words() | vocabulary_words(vocabulary)


@lru_cache(maxsize=8)
def language_of(vocabulary: Vocabulary) -> Expectation:
    """How likely words follow one another on this job, from its phrases."""
    return Expectation(phrases(vocabulary), len(job_words(vocabulary)))


def vocabulary_words(vocabulary: Vocabulary) -> frozenset[str]:
    """The words in the names of the job's items, places and tasks, and of the other jobs."""
    names = [
        *(name for item in vocabulary.items for name in (item.name, item.unit, *item.spoken)),
        *(unit for item in vocabulary.items for unit, _ in item.also),
        *vocabulary.places,
        *vocabulary.jobs[:JOBS],
        *(name for task in vocabulary.tasks for name in (task.name, *task.spoken)),
        *vocabulary.commands,
    ]
    return frozenset(word for name in names for word in name.lower().replace("-", " ").split())


JOBS = 20
"""Other jobs, the newest, whose names are expected to be said."""


@lru_cache
def figures() -> dict[str, tuple[str, ...]]:
    """Numbers, fractions and clock times in figures, and how each is said."""
    said = {str(number): spelled(number) for number in range(1000)}
    for bottom, name in DENOMINATORS.items():
        for top in range(1, bottom, 2):
            said[f"{top}/{bottom}"] = f"{spelled(top)} {name if top == 1 else name + 's'}"
    for hour in range(1, 13):
        for minute in range(60):
            said[f"{hour}:{minute:02}"] = (
                f"{spelled(hour)} {'oh ' if minute < 10 else ''}{spelled(minute) if minute else ''}"
                if minute
                else f"{spelled(hour)} o'clock"
            )
    return {figure: tuple(words.split()) for figure, words in said.items()}
