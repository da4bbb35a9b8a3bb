"""Which of several hearings stands."""

from joblog.dictation import best
from joblog.model import Alternative, Hearing, Plan
from joblog.plan import vocabulary

WORDS = vocabulary(Plan())


def test_what_two_recognizers_agree_on_stands_without_doubt() -> None:
    hearings = (
        Hearing("trade", "used three sheets of soffit"),
        Hearing("general free", "used three sheets of soft it"),
        Hearing("general constrained", "used three sheets of soffit"),
    )
    chosen, reading = best(hearings, WORDS)
    assert (hearings[chosen].text, reading.doubts) == ("used three sheets of soffit", ())


def test_a_number_on_which_they_differ_is_doubtful_and_quotes_the_other() -> None:
    hearings = (
        Hearing("trade", "north wall eleven and five eighths"),
        Hearing("general constrained", "north wall eleven and seven eighths"),
    )
    _, reading = best(hearings, WORDS)
    assert "seven eighths" in reading.doubts[0].why


def test_two_hearings_of_one_recognizer_do_not_back_each_other() -> None:
    hearings = (
        Hearing("trade", ""),
        Hearing("general free", "used three sheets of soffit"),
        Hearing("general constrained", "used three sheets of soffit"),
    )
    _, reading = best(hearings, WORDS)
    assert [doubt.why for doubt in reading.doubts] == ["only one recognizer heard anything"]


def test_a_note_is_kept_in_the_general_recognizers_own_words() -> None:
    hearings = (
        Hearing("trade", "note the dryer is steep"),
        heard("general free", ("note the driveway is steep", -3.0)),
        heard("general constrained", ("note the rake is steep", -21.0)),
    )
    chosen, _ = best(hearings, WORDS)
    assert hearings[chosen].recognizer == "general free"


def test_a_line_that_both_heard_wins_over_the_favourite_of_one() -> None:
    hearings = (
        heard("trade", ("used three boxes of soffit", -0.6), ("used three sheets of soffit", -0.9)),
        heard("general free", ("used three sheets of soffit", -1.0)),
        heard("general constrained", ("used three sheets of soffit", -1.0)),
    )
    [entry] = best(hearings, WORDS)[1].entries
    assert entry.unit == "sheet"


def test_an_amount_whose_verb_one_recognizer_missed_is_no_note() -> None:
    hearings = (
        heard("trade", ("the seven sticks of fascia", -0.1)),
        heard("general free", ("used seven sticks of fascia", -3.0)),
        heard("general constrained", ("used seven sticks of fascia", -3.0)),
    )
    [entry] = best(hearings, WORDS)[1].entries
    assert (entry.kind, entry.quantity) == ("used", 7)


def heard(recognizer: str, *lines: tuple[str, float]) -> Hearing:
    alternatives = tuple(Alternative(text, log) for text, log in lines)
    return Hearing(recognizer, lines[0][0], alternatives=alternatives, confidence=0.9)


def test_silence_is_no_entry() -> None:
    assert best((Hearing("trade", ""),), WORDS)[1].entries == ()


def test_a_number_word_is_believed_before_the_small_word_that_sounds_like_it() -> None:
    hearings = (Hearing("general free", "used for sticks of fascia"),)
    _, reading = best(hearings, WORDS)
    assert [(entry.kind, entry.quantity) for entry in reading.entries] == [("used", 4)]


def test_a_small_word_that_makes_sense_stays_one() -> None:
    hearings = (Hearing("general free", "used for trim"),)
    _, reading = best(hearings, WORDS)
    assert [entry.kind for entry in reading.entries] == ["note"]
