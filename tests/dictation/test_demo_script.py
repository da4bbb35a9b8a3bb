"""What is said in the demo is read as its script says, in every field and every word."""

from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache

import pytest

from fixtures.demo_script import RECORDINGS, DemoRecording
from joblog.dictation import Context, after, read
from joblog.form import FIELDS
from joblog.model import Vocabulary
from joblog.plan import read_csv, vocabulary
from tests.bench.demo import FIXTURES, matches


@cache
def words() -> Vocabulary:
    plan, _ = read_csv(FIXTURES / "plan.csv")
    return vocabulary(plan)


@pytest.mark.parametrize("recording", RECORDINGS, ids=lambda one: one.name)
def test_a_recording_of_the_demo_reads_as_its_script_says(recording: DemoRecording) -> None:
    context = Context(at=datetime.fromisoformat(recording.made))
    other = []
    for line in recording.lines:
        reading = read(line.text, words(), context)
        context = after(context, reading)
        context = replace(context, at=(context.at or datetime.min) + timedelta(seconds=5))
        if not matches(line, reading):
            other.append((line.text, reading.entries))
    assert other == []


def test_the_script_speaks_of_no_field_that_its_kind_does_not_have() -> None:
    for line in (line for recording in RECORDINGS for line in recording.lines):
        for entry in line.entries:
            assert set(entry) <= {"kind", *FIELDS[entry["kind"]], "place", "note", "day"}  # type: ignore[index]
