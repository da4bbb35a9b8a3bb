"""The simulated day, the air between microphone and speaker, and the measure, each by itself."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from joblog.audio.decode import RATE, Samples
from joblog.dictation import Context, read
from joblog.form import entry_to_json
from tests.bench.corpus import same_but_for_place, words
from tests.bench.listening import instants
from tests.bench.site import chatter
from tests.bench.site.measure import Cost, Facts, Figures, Kept, Run, curve, measure, report
from tests.bench.site.noises import Sounding, loudness, without_rumble
from tests.bench.site.sentences import Line, Told, told
from tests.bench.site.voices import close
from tests.bench.site.world import Log, Site, from_bed
from tests.bench.site_day import VOICE, Day, Said, bed_of, day, from_json, to_json, words_of

DAYS = ("open", "locked")


def hum(text: str, voice: str) -> Samples:
    """Something as long as the text, for tests that need no words."""
    count = round(0.06 * RATE * len(text))
    t = np.arange(count) / RATE
    return (0.3 * np.sin(2 * np.pi * (300 + len(voice)) * t)).astype(np.float32)


def silent() -> np.ndarray:
    return np.zeros(RATE, np.int16)


def sentences(told: Told) -> list[Line]:
    changed = [first for first, _, _ in (*told.corrected, *told.repeated)]
    series = [line for row in told.series for line in row]
    return [*told.singles, *told.paused, *series, *told.bare, *told.scratched, *changed]


@pytest.fixture(scope="module")
def short() -> Day:
    return day("open", 400.0, dense=6.0, say=hum)


# --- the day


@pytest.mark.parametrize("name", DAYS)
def test_the_truth_of_every_sentence_is_what_its_text_is_read_as(name: str) -> None:
    for line in sentences(told(name)):
        reading = read(line.words.replace("... ", ""), words())
        found = [entry_to_json(entry) for entry in reading.entries]
        assert not reading.doubts, line.words
        assert len(found) == len(line.facts), line.words
        for wanted, entry in zip(line.facts, found, strict=True):
            assert same_but_for_place(wanted, entry), line.words
            assert wanted.get("place") == entry.get("place"), line.words


@pytest.mark.parametrize("name", DAYS)
def test_the_truth_of_every_correction_is_what_it_is_read_as(name: str) -> None:
    for first, change, last in told(name).corrected:
        before = read(first.words, words()).entries[0]
        (entry,) = read(change, words(), Context(last=before, place=before.place)).entries
        assert entry.action == "replace" and entry.replacement is not None, change
        assert same_but_for_place(last.facts[0], entry_to_json(entry.replacement)), change


def test_the_locked_day_shares_no_sentence_with_the_open_one() -> None:
    open_day, locked = ({line.words for line in sentences(told(name))} for name in DAYS)

    assert len(open_day) == len(locked) == 61
    assert not open_day & locked


def test_nobody_else_on_the_site_has_the_voice_of_the_person() -> None:
    assert not set(VOICE.values()) & set(chatter.VOICES)
    assert len(set(VOICE.values())) == 2


def test_a_shorter_day_is_the_beginning_of_the_longer_one(short: Day) -> None:
    shorter = day("open", 200.0, dense=6.0, say=hum)

    assert 0 < len(shorter.said) < len(short.said)
    assert shorter.said == short.said[: len(shorter.said)]
    assert shorter.around == tuple(one for one in short.around if one.at < 200.0)


def test_a_day_comes_back_from_its_json_as_it_was(short: Day) -> None:
    assert from_json(to_json(short)) == short


def test_the_noises_are_the_same_from_wherever_they_are_begun(short: Day) -> None:
    through, late = bed_of(short, hum), bed_of(short, hum)

    whole = [through.second(k) for k in range(60, 75)]

    assert np.array_equal(late.second(74), whole[-1])


def test_he_is_5_to_30_dB_above_all_else(short: Day) -> None:  # noqa: N802 - a unit
    bed = bed_of(short, hum)
    for one in short.said:
        noise = without_rumble(bed.stretch(one.at, one.at + one.seconds))
        ratio = one.level - 20 * np.log10(max(loudness(noise), 1e-6))
        assert 4.9 < ratio < 30.1


def test_his_words_are_as_loud_as_planned_and_end_where_they_end(short: Day) -> None:
    one = replace(short.said[0], room=0)

    sound = words_of(one, short.voice, hum)

    assert len(sound) == round(one.seconds * RATE)
    assert 20 * np.log10(loudness(sound)) == pytest.approx(one.level, abs=0.1)


def test_a_pause_inside_a_sentence_is_silent() -> None:
    said = Said(0, 0, "eleven ... and seven eighths", 1.0, 0.0, -26.0, gap=0.5)

    sound = words_of(said, "he", hum)

    begin = len(hum("eleven", "he"))
    assert np.abs(sound[begin : begin + RATE // 2]).max() == 0
    assert np.abs(sound[begin + RATE // 2 :]).max() > 0.01


def test_silence_around_a_voice_is_cut_off() -> None:
    quiet = np.zeros(RATE, np.float32)

    cut = close(np.concatenate([quiet, hum("north eave", "he"), quiet]))

    assert len(cut) == pytest.approx(len(hum("north eave", "he")), abs=RATE // 50)


def test_a_dropout_is_digital_silence_and_a_clipping_moment_clips() -> None:
    around = (
        Sounding("dropout", 1.0, 1.0, 0.0, 1),
        Sounding("clipping", 3.0, 1.0, 60.0, 1),
    )
    bed = bed_of(Day("open", 10.0, "he", 3, (), around))

    assert not bed.second(1).any()
    assert np.abs(bed.second(0)).max() > 0
    assert np.mean(np.abs(bed.second(3).astype(int)) >= 32767) > 0.2


# --- the air between


def said(number: int, after: str = "", wait: float = 1.0, at: float = 2.0) -> Said:
    return Said(number, 0, "north eave", at, 0.6, -20.0, after=after, wait=wait)


def site_of(folder: Path, *ones: Said, speaker: str = "belt", **more: Any) -> Site:
    made = Day("open", 30.0, "he", 1, ones, ())
    log = Log(folder / "log.jsonl")
    return Site(made, log, silent, speaker=speaker, pace=False, say=hum, **more)


def spoken(folder: Path) -> dict[int, float]:
    rows = [json.loads(line) for line in (folder / "log.jsonl").read_text().splitlines()]
    return {row["number"]: row["start"] for row in rows if row["what"] == "said"}


def listened(site: Site, plays_at: float | None = None, seconds: float = 1.0) -> Samples:
    """All that the microphone hears, where something is played once."""
    heard = []
    for block in site.blocks():
        heard.append(block.sound)
        if plays_at is not None and site.seconds() >= plays_at:
            site.play(np.full(round(seconds * 8000), 0.5, np.float32), 8000)
            plays_at = None
    return np.concatenate(heard) / np.float32(32768)


def test_what_is_played_comes_back_late_and_softer(tmp_path: Path) -> None:
    sound = listened(site_of(tmp_path), plays_at=5.0)

    heard = np.flatnonzero(np.abs(sound) > 0.01) / RATE
    assert 5.02 <= heard[0] <= 5.13
    assert 6.0 < heard[-1] < 6.7
    assert loudness(sound[round(5.2 * RATE) : round(5.9 * RATE)]) < 0.5 / 10 ** (15 / 20)


def test_what_an_earpiece_plays_does_not_come_back(tmp_path: Path) -> None:
    assert not listened(site_of(tmp_path, speaker="earpiece"), plays_at=5.0).any()


def test_what_is_stopped_is_heard_no_more(tmp_path: Path) -> None:
    site = site_of(tmp_path)
    heard = []
    for block in site.blocks():
        heard.append(block.sound)
        if site.seconds() == pytest.approx(5.0):
            site.play(np.full(10 * RATE, 0.5, np.float32), RATE)
        if site.seconds() == pytest.approx(6.0):
            site.stop()
            assert not site.playing

    assert not np.concatenate(heard)[8 * RATE :].any()


def test_he_waits_for_the_read_back_to_end(tmp_path: Path) -> None:
    listened(site_of(tmp_path, said(0), said(1, "answer", 1.0)), plays_at=3.0)

    assert spoken(tmp_path)[1] == pytest.approx(5.0, abs=0.1)


def test_he_waits_six_seconds_for_a_read_back_that_does_not_come(tmp_path: Path) -> None:
    listened(site_of(tmp_path, said(0), said(1, "answer", 1.0)))

    assert spoken(tmp_path)[1] == pytest.approx(2.6 + 6.0, abs=0.1)


def test_he_talks_over_the_read_back(tmp_path: Path) -> None:
    listened(site_of(tmp_path, said(0), said(1, "over", 0.5)), plays_at=3.0, seconds=3.0)

    assert spoken(tmp_path)[1] == pytest.approx(3.5, abs=0.1)


def test_he_says_again_only_what_nothing_answers(tmp_path: Path) -> None:
    again = said(1, "silence", 4.0)
    (tmp_path / "answered").mkdir()
    (tmp_path / "not").mkdir()

    listened(site_of(tmp_path / "answered", said(0), again), plays_at=3.0)
    listened(site_of(tmp_path / "not", said(0), again))

    assert spoken(tmp_path / "answered")[1] == -1.0
    assert spoken(tmp_path / "not")[1] == pytest.approx(6.6, abs=0.1)


def test_he_answers_only_what_he_is_asked(tmp_path: Path) -> None:
    site = site_of(tmp_path, said(0), said(1, "question", 0.7))
    for _ in site.blocks():
        if site.seconds() == pytest.approx(3.0):
            site.play(np.zeros(RATE, np.float32), RATE)
            site.told("question")
    listened_without = tmp_path / "without"
    listened_without.mkdir()
    listened(site_of(listened_without, said(0), said(1, "question", 0.7)), plays_at=3.0)

    assert spoken(tmp_path)[1] == pytest.approx(4.7, abs=0.1)
    assert spoken(listened_without)[1] == -1.0


def test_after_a_kill_the_day_goes_on_and_nothing_is_said_twice(tmp_path: Path) -> None:
    site = site_of(tmp_path, said(0), said(1, at=12.0), begin=10, already={0: (2.0, 2.6)})

    sound = listened(site)

    assert len(sound) == 20 * RATE
    assert spoken(tmp_path) == {1: 12.0}


def test_blocks_tell_their_time_and_what_is_lost_before_them(tmp_path: Path) -> None:
    made = Day("open", 10.0, "he", 1, (), (), unplugged=((4.0, 6.0),))
    site = Site(made, Log(tmp_path / "log.jsonl"), silent, pace=False, say=hum)

    blocks = list(site.blocks())

    (after,) = [block for block in blocks if block.lost]
    assert (after.at - blocks[0].at).total_seconds() == pytest.approx(6.0, abs=0.06)
    assert len(blocks) == 160


def test_the_same_noises_come_to_the_microphone_as_were_made(short: Day, tmp_path: Path) -> None:
    quiet = replace(short, said=(), unplugged=(), seconds=5.0)
    noises = from_bed(bed_of(short, hum))
    site = Site(quiet, Log(tmp_path / "log.jsonl"), noises, pace=False, say=hum)

    heard = np.concatenate([block.sound for block in site.blocks()])

    made = np.concatenate([bed_of(short, hum).second(k) for k in range(5)])
    assert np.abs(heard.astype(int) - made).max() <= 1


# --- the measure

FACT = {"kind": "measure", "place": "north eave", "inches": "117/8"}
NEXT = {"kind": "measure", "inches": "29/2"}


def run_of(*kept: Kept, **more: Any) -> Run:
    """Somebody says a measure at 10 s and another at 30 s, each for two seconds."""
    first = Said(0, 0, "north eave fourteen and five eighths", 10.0, 2.0, -26.0, facts=(FACT,))
    second = Said(1, 1, "next one fourteen and a half", 30.0, 2.0, -26.0, facts=(NEXT,))
    made = Day("open", 3600.0, "he", 1, (first, second), (), scenes={0: "single", 1: "single"})
    run = Run(made, {0: (10.0, 12.0), 1: (30.0, 32.0)}, (), (), (), kept)
    return replace(run, **more)


def kept(at: float, entry: dict[str, Any], doubtful: bool = False, dropped: bool = False) -> Kept:
    return Kept(at, at + 2.0, entry, doubtful, dropped)


def facts_of(*ones: Kept) -> tuple[Facts, Facts]:
    figures = measure(run_of(*ones))
    return figures.strict, figures.lenient


RIGHT = (kept(10.0, FACT), kept(30.0, NEXT))


def test_what_stands_as_it_was_said_is_exact() -> None:
    strict, lenient = facts_of(*RIGHT)

    assert strict == lenient == Facts(said=2, exact=2)


def test_a_wrong_number_is_a_silent_error_unless_it_is_doubtful() -> None:
    wrong = {**FACT, "inches": "325/8"}

    silent, _ = facts_of(kept(10.0, wrong), RIGHT[1])
    asked, _ = facts_of(kept(10.0, wrong, doubtful=True), RIGHT[1])

    assert silent == Facts(said=2, exact=1, silent=1)
    assert asked == Facts(said=2, exact=1, asked=1)


def test_a_wrong_place_counts_strictly_only() -> None:
    strict, lenient = facts_of(kept(10.0, {**FACT, "place": "south eave"}), RIGHT[1])

    assert strict == Facts(said=2, exact=1, silent=1)
    assert lenient == Facts(said=2, exact=2)


def test_a_place_may_hold_from_before_but_no_other_may() -> None:
    carried, _ = facts_of(RIGHT[0], kept(30.0, {**NEXT, "place": "north eave"}))
    invented, _ = facts_of(RIGHT[0], kept(30.0, {**NEXT, "place": "east wall"}))

    assert carried.exact == 2
    assert invented.exact == 1


def test_what_was_dropped_does_not_stand() -> None:
    strict, _ = facts_of(kept(10.0, FACT, dropped=True), RIGHT[1])

    assert strict == Facts(said=2, exact=1, lost=1)


def test_what_stands_twice_is_one_too_many() -> None:
    strict, _ = facts_of(RIGHT[0], *RIGHT)

    assert strict == Facts(said=2, exact=2, extra=1)


def test_an_entry_where_he_said_nothing_is_false() -> None:
    figures = measure(run_of(*RIGHT, kept(500.0, FACT), kept(600.0, FACT, doubtful=True)))

    assert (figures.false_entries, figures.false_sure, figures.own_voice) == (2, 1, 0)


def test_an_entry_made_of_what_was_played_is_its_own_voice() -> None:
    figures = measure(run_of(*RIGHT, kept(13.0, FACT), plays=((12.8, 15.0, 2.2),)))

    assert (figures.false_entries, figures.own_voice, figures.false_answers) == (1, 1, 0)


def test_what_an_earpiece_plays_is_never_taken_for_his() -> None:
    over = run_of(kept(13.0, FACT), plays=((12.8, 15.0, 2.2),), hears_itself=False)

    assert (measure(over).false_entries, measure(over).own_voice) == (1, 0)


def test_half_of_an_utterance_has_to_be_found() -> None:
    figures = measure(run_of(found=((10.9, 13.0), (31.2, 33.0))))

    assert (figures.said, figures.found) == (2, 1)


def test_an_utterance_that_a_recording_holds_is_found_and_pieces_are_counted() -> None:
    figures = measure(run_of(recordings=((9.0, 11.0, "a"), (11.5, 12.5, "b"), (29.0, 33.0, "c"))))

    assert (figures.found, figures.split) == (2, 1)


def test_an_answer_is_timed_from_the_true_end_of_speech() -> None:
    figures = measure(run_of(plays=((12.7, 14.0, 1.3), (33.0, 37.0, 4.0))))

    assert figures.latencies == pytest.approx([0.7, 1.0])
    assert (figures.answerable, figures.too_long) == (2, 1)


def test_an_answer_over_the_person_is_seen() -> None:
    figures = measure(run_of(plays=((29.0, 30.2, 1.2), (31.0, 33.0, 2.0))))

    assert (figures.answers, figures.over_person) == (2, 1)
    assert figures.longest_over == pytest.approx(1.0)


def test_how_soon_it_is_silent_when_he_talks_over_it_is_seen() -> None:
    figures = measure(run_of(plays=((29.8, 30.2, 3.0),), found=((29.9, 32.1),)))

    assert (figures.talked_over, figures.talked_over_found) == (1, 1)
    assert figures.stopped_after == pytest.approx([0.2])


def test_speaking_when_nobody_spoke_is_seen() -> None:
    assert measure(run_of(plays=((13.0, 14.0, 1.0), (300.0, 301.0, 1.0)))).false_answers == 1


def test_saying_at_the_start_that_it_listens_is_no_false_answer() -> None:
    run = run_of(plays=((0.5, 1.5, 1.0), (501.5, 502.0, 0.5)), kills=((500.0, 501.0),))

    assert measure(run).false_answers == 0


def test_a_kill_spares_only_the_sentence_that_was_being_said() -> None:
    being_said = measure(run_of(kills=((11.0, 13.0),)))
    over = measure(run_of(kills=((14.0, 15.0),)))

    assert (being_said.spared, being_said.said) == (1, 1)
    assert (over.spared, over.near_kills, over.near_kills_found) == (0, 1, 0)


def test_the_same_moment_in_two_recordings_is_doubled() -> None:
    twice = ((9.5, 12.5, "a"), (9.9, 12.5, "b"), (29.5, 32.5, "c"))

    assert measure(run_of(recordings=twice)).doubled == 1


def test_silence_is_where_nobody_speaks() -> None:
    costs = tuple(Cost(60.0 * k, 30.0 * min(k, 1) + 6.0 * max(k - 1, 0), 1e8) for k in range(5))

    assert measure(run_of(costs=costs)).silence_cpu == pytest.approx(0.1)


def test_the_report_says_all_of_it() -> None:
    costs = (Cost(0.0, 0.0, 2**28), Cost(900.0, 90.0, 2**28))
    run = run_of(*RIGHT, costs=costs, kills=((500.0, 501.0),))

    text = "\n".join(report(measure(run), run))

    assert "exact 2 (100.0%" in text
    assert "killed 1 times" in text
    assert len(curve(costs)) == 2
    assert isinstance(measure(run), Figures)


def test_most_kills_come_soon_after_something_was_said(short: Day) -> None:
    ends = [one.at + one.seconds for one in short.said if not one.after]

    kills = instants(short, 5, seed=1)

    assert len(kills) == 5
    assert sum(any(0 <= kill - end <= 3 for end in ends) for kill in kills) >= 3
