"""However long or tangled a text is: nothing is lost, nothing is silent, the work is bounded."""

import pytest

from joblog.dictation import competing, read
from joblog.dictation.doubter import is_oddity
from joblog.dictation.grammar import Chart
from joblog.dictation.pieces import LONGEST
from joblog.dictation.read import MOST_STEPS
from joblog.dictation.words import words_of
from joblog.model import Entry, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan(places=("north eave",)))
TANGLES = ("one", "7/8", "half", "calm twelve", "used zero four", "quit nailed to", "and a half")


def measures(text: str) -> list[str | None]:
    return [entry.as_said for entry in read(text, WORDS).entries if entry.kind == "measure"]


@pytest.mark.parametrize("tangle", TANGLES)
def test_the_work_for_each_word_is_bounded_however_often_a_tangle_is_said(
    tangle: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    refusals: list[Chart] = []
    refuse = Chart.refuse

    def counted(chart: Chart, start: int, end: int, meaning: str) -> None:
        refusals.append(chart)
        refuse(chart, start, end, meaning)

    monkeypatch.setattr(Chart, "refuse", counted)
    text = " ".join([tangle] * 400)
    read(text, WORDS)
    assert len(refusals) <= MOST_STEPS * (len(words_of(text)) // (LONGEST // 2) + 1)
    assert all(chart.steps <= MOST_STEPS + LONGEST for chart in refusals)


def test_what_is_too_dense_to_be_read_is_one_doubtful_note_that_keeps_every_word() -> None:
    reading = read("one " * 400, WORDS)
    assert reading.entries == (Entry("note", note=" ".join(["one"] * 400)),)
    assert [doubt.why for doubt in reading.doubts] == [
        "too much at once to be read: say or type it in parts"
    ]


def test_facts_behind_a_dense_stretch_are_read_all_the_same() -> None:
    reading = read("one " * LONGEST + ", used nine sheets of soffit", WORDS)
    assert (reading.entries[-1].kind, reading.entries[-1].quantity) == ("used", 9)


def test_a_text_longer_than_a_breath_is_read_like_its_sentences_one_by_one() -> None:
    sentence = "north eave fourteen and a half, used nine sheets of soffit, "
    entries = read(sentence * 30, WORDS).entries
    assert [entry.kind for entry in entries] == ["measure", "used"] * 30
    # What was learned to be odd is learned anew: it is held to its own tests.
    doubts = read(sentence * 30, WORDS).doubts
    assert [doubt for doubt in doubts if not is_oddity(doubt.why)] == []


def test_a_place_said_long_before_holds_as_one_that_was_carried_over() -> None:
    text = "north eave, " + "used nine sheets of soffit, " * 30
    last = read(text, WORDS).entries[-1]
    assert (last.place, last.carried) == ("north eave", ("place",))


def test_a_breath_without_a_pause_is_parted_at_a_joint_and_doubted_on_both_sides() -> None:
    text = " and ".join(["used nine sheets of soffit"] * 20)
    reading = read(text, WORDS)
    torn = [doubt for doubt in reading.doubts if "was parted here" in doubt.why]
    assert len(reading.entries) == 20
    assert [doubt.why for doubt in torn] == [
        "a long breath was parted here: does it belong to what comes next?",
        "a long breath was parted here: does it belong to what comes before?",
    ]
    assert torn[1].entry == torn[0].entry + 1


def test_a_number_torn_in_two_is_never_silent() -> None:
    text = "splice " * 79 + "thirty two and a half"
    reading = read(text, WORDS)
    assert {doubt.entry for doubt in reading.doubts} == set(range(len(reading.entries)))


def test_a_pause_before_a_fraction_is_no_place_to_part() -> None:
    filler = "splice " * 76
    assert measures(f"{filler}, eleven, and a half") == ["11 1/2"]


def test_a_word_not_heard_makes_only_its_own_piece_doubtful() -> None:
    others = "used two sheets of soffit, used three sheets of soffit, " * 10
    reading = read(f"used nine … sheets of soffit, {others}", WORDS)
    doubted = {doubt.entry for doubt in reading.doubts}
    assert {0, 1} <= doubted
    assert len(reading.entries) - 1 not in doubted


def test_an_amount_said_again_is_doubted_wherever_the_text_was_parted() -> None:
    reading = read("used nine sheets of soffit, " * 40, WORDS)
    assert {doubt.entry for doubt in reading.doubts} == set(range(1, 40))


def test_nothing_competes_with_a_text_of_several_pieces_or_with_a_tangle() -> None:
    assert competing("used nine sheets of soffit, " * 30, WORDS) == ()
    assert competing("one " * 75, WORDS) == ()


@pytest.mark.parametrize(
    "text",
    ["9", "7/8", "1:", ":30", ".", "½", "…", '"', "'", "$", "a, ", "x", "oh ", "point one ", "’s "],
)
def test_ten_kilobytes_of_anything_are_read_without_an_exception(text: str) -> None:
    reading = read((text * 100_000)[:10_000], WORDS)
    assert all(0 <= doubt.entry < len(reading.entries) for doubt in reading.doubts)


# --- numbers beyond reason, and strings of digits -----------------------------------------------

ENDLESS = "7" * 5000


@pytest.mark.parametrize(
    "said",
    [
        f"used {ENDLESS} sheets of soffit",
        f"{ENDLESS}/12 pitch",
        f"eleven and 7/{ENDLESS}",
        f"started at {ENDLESS}:30",
        f"eleven point {ENDLESS} inches",
        f".{ENDLESS} inches",
        "eleven point " + "seven " * 60 + "inches",
        f"delivered 5 sheets of soffit at ${ENDLESS}",
        "used 9999999 sheets of soffit",
        "99999 pieces at eleven",
        "north eave 99999 inches",
        "north eave 9999 feet by 99999 feet",
        "delivered 5 sheets of soffit at 999999 dollars each",
    ],
)
def test_an_amount_beyond_reason_is_asked_about_and_never_an_exception(said: str) -> None:
    reading = read(said, WORDS)
    assert reading.doubts
    assert all(len(doubt.why) < 200 for doubt in reading.doubts)


def test_figures_in_a_note_are_words_however_many() -> None:
    reading = read(f"note call {ENDLESS}", WORDS)
    assert reading.entries == (Entry("todo", note=f"note call {ENDLESS}"),)


@pytest.mark.parametrize(
    ("said", "inches", "why"),
    [
        ("one zero six seven", 1067, "one number, digit by digit?"),
        ("one zero one eight", 1018, "one number, digit by digit?"),
        ("seven zero zero", 700, None),
        ("one two five", 125, None),
        ("zero six seven", 67, "begins with a zero"),
        ("one oh ten", 110, "110 inches, or two numbers?"),
        ("one oh six", 106, None),
        ("one forty four", 144, None),
    ],
)
def test_a_string_of_digits_keeps_its_zeros_or_is_doubted(
    said: str, inches: int, why: str | None
) -> None:
    reading = read(f"north eave {said}", WORDS)
    assert [entry.inches for entry in reading.entries] == [inches]
    assert [doubt.why for doubt in reading.doubts if why is None or why not in doubt.why] == []
    assert bool(reading.doubts) == (why is not None)


def test_a_digit_behind_a_string_of_digits_is_not_a_measure_of_its_own_in_silence() -> None:
    reading = read("north eave one oh one six", WORDS)
    assert reading.doubts


def test_digits_of_a_count_are_asked_about_too() -> None:
    [doubt] = read("used one zero six seven sheets of soffit", WORDS).doubts
    assert doubt.why == "'one zero six seven': one number, digit by digit?"
