"""What listening asks for: when a recording began, what the day holds, how far a list is cut."""

from __future__ import annotations

import json
import os
import wave
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.model import Piece
from joblog.service import Desk, ServiceError, decide, listening, open_desk, planning

AT = datetime(2026, 10, 5, 13, 0, tzinfo=UTC)
"""Eight in the morning there."""


def silent(file: Path, seconds: float = 2.0) -> Path:
    with wave.open(str(file), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(16_000)
        sound.writeframes(bytes(round(seconds * 32_000)))
    return file


# --- when a recording began -------------------------------------------------------------------


def test_a_recording_began_when_its_name_says(desk: Desk, tmp_path: Path) -> None:
    began = listening.begun(desk, silent(tmp_path / "2026-10-05 08.31.07.wav"))
    assert began == datetime(2026, 10, 5, 13, 31, 7, tzinfo=UTC)


def test_a_recording_without_a_moment_began_as_long_before_its_file_as_it_lasts(
    desk: Desk, tmp_path: Path
) -> None:
    file = silent(tmp_path / "ladder.wav", 90.0)
    os.utime(file, (AT.timestamp(), AT.timestamp()))
    assert listening.begun(desk, file) == AT - timedelta(seconds=90)


@pytest.mark.parametrize("name", ["missing.wav", "letter.wav"])
def test_what_is_no_recording_has_no_beginning(desk: Desk, tmp_path: Path, name: str) -> None:
    (tmp_path / "letter.wav").write_text("dear")
    with pytest.raises(ServiceError, match=name):
        listening.begun(desk, tmp_path / name)


# --- what the day holds -----------------------------------------------------------------------


def test_the_entries_of_the_day_are_those_before_the_moment_as_they_were_said(desk: Desk) -> None:
    kept = listening.entries_today(desk, AT + timedelta(minutes=1))
    assert [(one.entry.kind, one.entry.place) for one in kept] == [
        ("used", "north eave"),
        ("photo", "north eave"),
    ]
    assert [one.at for one in kept] == sorted(one.at for one in kept)
    before_the_photo = listening.entries_today(desk, AT + timedelta(seconds=20))
    assert [one.id for one in before_the_photo] == [kept[0].id]
    assert listening.entries_today(desk, kept[0].at) == ()


def test_another_day_holds_nothing_of_it(desk: Desk) -> None:
    assert listening.entries_today(desk, AT + timedelta(days=1)) == ()


def test_the_day_is_the_job_s_own(desk: Desk) -> None:
    """At three in the morning by UTC it is still the evening before."""
    evening = datetime(2026, 10, 6, 3, 0, tzinfo=UTC)
    assert len(listening.entries_today(desk, evening)) == 2


def test_an_entry_that_was_dropped_is_none_that_words_can_point_back_at(desk: Desk) -> None:
    first, *_ = listening.entries_today(desk, AT + timedelta(hours=1))
    decide.drop(desk, first.id)
    left = listening.entries_today(desk, AT + timedelta(hours=1))
    assert first.id not in [one.id for one in left]


# --- how far a list is cut --------------------------------------------------------------------

LIST = (Piece(Fraction(29, 2), 2, "fascia"), Piece(Fraction(6), 1))


def test_how_far_a_list_is_cut_is_remembered_by_the_book(desk: Desk) -> None:
    name = listening.name_of_list(LIST)
    assert listening.pieces_cut(desk, name) == 0
    listening.note_pieces_cut(desk, name, 2)
    assert listening.pieces_cut(open_desk(desk.book, desk.job.name), name) == 2
    listening.note_pieces_cut(desk, name, 3)
    assert listening.pieces_cut(desk, name) == 3


def test_a_list_of_another_job_and_another_list_are_cut_by_themselves(desk: Desk) -> None:
    name = listening.name_of_list(LIST)
    listening.note_pieces_cut(desk, name, 2)
    assert listening.pieces_cut(open_desk(desk.book, "Mill house"), name) == 0
    assert listening.pieces_cut(desk, listening.name_of_list(LIST[:1])) == 0


def test_a_list_is_known_by_its_pieces_in_their_order() -> None:
    name = listening.name_of_list(LIST)
    others = [
        LIST[::-1],
        (Piece(Fraction(29, 2), 3, "fascia"), LIST[1]),
        (Piece(Fraction(29, 2), 2, "soffit"), LIST[1]),
        (Piece(Fraction(29, 2), 2, "fascia", "panel"), LIST[1]),
    ]
    assert listening.name_of_list(tuple(LIST)) == name
    assert len({name, *map(listening.name_of_list, others)}) == 5


# --- a printed list ---------------------------------------------------------------------------


def test_a_cut_list_is_read_back_as_it_was_printed(tmp_path: Path) -> None:
    stick = {
        "length": "96", "kerf": "1/8", "remainder": "655/8", "kept": True, "offcut": False,
        "label": "", "load": 0,
        "cuts": [{"length": "14", "mark": "14", "label": "north eave"}],
    }  # fmt: skip
    plan = {
        "sticks": [stick], "kerf": "1/8", "useful": "12", "spent": "96", "at_least": "96",
        "priced": False, "patterns": 1, "patterns_proved": True, "settings": 1, "at_once": 1,
        "short": [], "spare": [], "already": [], "made": [], "item": "fascia",
    }  # fmt: skip
    file = tmp_path / "cuts.json"
    file.write_text(json.dumps({"plans": [plan]}))
    [read] = planning.read_cut_list(file)
    [cut] = read.sticks[0].cuts
    assert (read.item, cut.length, cut.label) == ("fascia", Fraction(14), "north eave")
    stick["remainder"] = "80"
    file.write_text(json.dumps({"plans": [plan]}))
    with pytest.raises(ServiceError, match=r"cuts\.json: a stick does not add up"):
        planning.read_cut_list(file)


@pytest.mark.parametrize("content", ["dear", "[]", '{"plans": [{}]}', '{"plans": 3}'])
def test_what_is_no_cut_list_is_refused_in_a_line(tmp_path: Path, content: str) -> None:
    file = tmp_path / "cuts.json"
    file.write_text(content)
    with pytest.raises(ServiceError, match=r"cuts\.json: is no cut list; make one with"):
        planning.read_cut_list(file)
    with pytest.raises(ServiceError, match=r"missing\.json: cannot be read"):
        planning.read_cut_list(tmp_path / "missing.json")


def test_how_loud_he_was_is_known_the_next_time_by_the_same_microphone(desk: Desk) -> None:
    assert listening.loudness(desk, "headset") == ()
    listening.note_loudness(desk, "headset", (-25.04, -31.0))
    assert listening.loudness(desk, "headset") == (-25.0, -31.0)
    assert listening.loudness(desk, "laptop") == ()
