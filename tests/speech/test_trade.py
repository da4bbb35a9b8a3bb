"""The trade recognizer on short clips."""

import math
import pickle
from pathlib import Path

import numpy as np
import pytest
from said import JOB, LINES, clip

from joblog.model import Hearing, Vocabulary
from joblog.speech import Recognizer, Scorer, SpeechError
from joblog.speech.recognizer import RATE
from joblog.speech.trade import TradeRecognizer

TRADE = TradeRecognizer()


def heard(name: str, start: float = 0.0) -> Hearing:
    (hearing,) = TRADE.hear(clip(name), JOB, start)
    return hearing


def test_it_is_a_recognizer() -> None:
    assert isinstance(TRADE, Recognizer)


@pytest.mark.parametrize("name", ["measure", "used", "digits"])
def test_a_plain_phrase_is_read(name: str) -> None:
    assert heard(name).text == LINES[name]


def test_words_make_up_the_text_and_follow_one_another_inside_the_clip() -> None:
    hearing = heard("measure")
    times = [time for word in hearing.words for time in (word.start, word.end)]
    assert " ".join(word.text for word in hearing.words) == hearing.text
    assert times == sorted(times)
    assert 0 <= times[0] < times[-1] <= len(clip("measure")) / RATE


def test_the_same_clip_heard_again_has_the_same_times() -> None:
    assert heard("measure") == heard("measure")


def test_times_count_from_the_start_that_is_given() -> None:
    early, late = heard("used").words, heard("used", start=100.0).words
    assert [word.start + 100 for word in early] == pytest.approx([word.start for word in late])


def test_alternatives_are_best_first_and_share_one_probability() -> None:
    hearing = heard("note")
    logs = [line.log_probability for line in hearing.alternatives]
    assert hearing.alternatives[0].text == hearing.text
    assert logs == sorted(logs, reverse=True)
    assert sum(map(math.exp, logs)) == pytest.approx(1.0, abs=0.01)


def test_talk_of_other_things_is_unsure() -> None:
    assert heard("note").confidence < 0.5 < 0.8 < heard("measure").confidence


def test_a_word_that_every_line_has_is_surer_than_one_that_few_have() -> None:
    words = heard("note").words
    assert words[-1].text == "morning"
    assert min(word.confidence for word in words) < 0.8 < 0.95 < words[-1].confidence


def test_silence_says_nothing() -> None:
    (hearing,) = TRADE.hear(np.zeros(2 * RATE, np.float32), JOB)
    assert (hearing.text, hearing.words, hearing.confidence) == ("", (), 0.0)


def test_only_the_words_that_are_asked_for_are_heard() -> None:
    digits = "one two three four five six seven eight nine".split()
    (hearing,) = TradeRecognizer(only=digits).hear(clip("measure"), Vocabulary())
    assert hearing.words
    assert {word.text for word in hearing.words} <= set(digits)


def test_a_vocabulary_without_a_job_does_as_well() -> None:
    (hearing,) = TRADE.hear(clip("measure"), Vocabulary())
    assert hearing.text == LINES["measure"]


def test_it_can_be_sent_to_another_process_after_it_has_heard() -> None:
    before = heard("digits")
    again = pickle.loads(pickle.dumps(TRADE))
    assert again.hear(clip("digits"), JOB) == (before,)


def test_a_missing_model_folder_is_named() -> None:
    with pytest.raises(SpeechError, match="there is no speech model nowhere/model"):
        TradeRecognizer(Path("nowhere/model")).hear(clip("digits"), JOB)


def test_a_folder_without_a_model_is_named_and_nothing_else_is_printed(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SpeechError, match="holds no speech model") as failure:
        TradeRecognizer(tmp_path).hear(clip("digits"), JOB)
    assert str(tmp_path) in str(failure.value)
    assert capfd.readouterr() == ("", "")


def scores(*lines: str, ear: TradeRecognizer = TRADE) -> tuple[float | None, ...]:
    return ear.score(clip("used"), lines, JOB)


def test_it_is_a_scorer() -> None:
    assert isinstance(TRADE, Scorer)


def test_what_was_said_is_likelier_than_what_sounds_like_it() -> None:
    said, alike = scores("used four sticks of wall channel", "used forty sticks of wall channel")
    assert said is not None
    assert alike is None or said > alike


def test_a_line_with_a_word_that_the_model_does_not_know_has_no_score() -> None:
    said, strange = scores(LINES["used"], "used four styx of wall channel")
    assert said is not None
    assert strange is None


def test_a_line_far_from_what_was_said_has_no_score() -> None:
    assert scores(LINES["used"], "north wall eleven and seven eighths")[1] is None


def test_no_line_has_no_score() -> None:
    assert scores() == ()
    assert scores("", "styx") == (None, None)


def test_a_lead_does_not_depend_on_how_many_of_the_lines_share_a_word() -> None:
    said, alike = LINES["used"], "used for sticks of wall channel"
    more = ("used four sticks of channel", "used four sticks", "used four pieces of wall channel")
    few, many = scores(said, alike), scores(said, alike, *more)
    assert None not in few[:2]
    # What Vosk expects of the words that they share would alone make a nat of difference.
    assert few[0] - few[1] == pytest.approx(many[0] - many[1], abs=0.3)  # type: ignore[operator]


def test_lines_are_scored_alike_whatever_was_heard_before() -> None:
    used = TradeRecognizer()
    used.hear(clip("note"), JOB)
    assert scores(LINES["used"], ear=used) == scores(LINES["used"], ear=TradeRecognizer())
