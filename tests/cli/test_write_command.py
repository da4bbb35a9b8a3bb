"""Evening notes: what is typed or piped in, as it was understood, and how to take it back."""

from __future__ import annotations

import io
import json
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from running import Say

BOOK = ("--book", "book")
DAY = ("--day", "2026-10-05", *BOOK)


class Typed(io.TextIOWrapper):
    """A terminal at which these lines are typed."""

    def isatty(self) -> bool:
        return True


def typing(monkeypatch: pytest.MonkeyPatch, text: str, *, at_terminal: bool = False) -> None:
    kind = Typed if at_terminal else io.TextIOWrapper
    monkeypatch.setattr("sys.stdin", kind(io.BytesIO(text.encode()), "utf-8"))


def entries(say: Say, day: str = "2026-10-05") -> list[dict[str, Any]]:
    found = json.loads(say("entries", "--day", day, "--json", *BOOK)[1])
    return [one for one in found if one["entry"]["kind"] != "correction"]


NOTES = """Used three sheets of soffit on the south eave. Same on the north eave;
no, that was seven.
Lunch 12-12:30.

- quit at 4:30 p.m.
"""


def test_whole_paragraphs_are_read_from_what_is_piped_in(
    porch: Say, monkeypatch: pytest.MonkeyPatch
) -> None:
    typing(monkeypatch, NOTES)
    status, shown, _ = porch("write", "--at", "17:30", *DAY)
    assert status == 0
    _, south, north, lunch, stop = entries(porch)
    assert (south["entry"]["quantity"], north["entry"]["quantity"]) == ("3", "7")
    assert (north["entry"]["place"], lunch["entry"]["minutes"]) == ("north eave", "30")
    assert stop["entry"]["time"] == "16:30"
    assert "no, that was seven." in shown
    assert "now installed: 7 soffit panels, north eave" in shown


def test_at_a_terminal_an_empty_line_ends_it(porch: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    text = "used three sheets of soffit\nscratch that\n\nused nine\n"
    typing(monkeypatch, text, at_terminal=True)
    status, shown, told = porch("write", "-", "--at", "17:30", *DAY)
    assert (status, told) == (0, "Write what there is to note; an empty line ends it.\n")
    assert "taken back: installed: 3 soffit panels" in shown
    assert "nine" not in shown
    assert [one["standing"] for one in entries(porch)] == ["accepted", "dropped"]


def test_a_terminal_that_is_closed_ends_it_too(porch: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    typing(monkeypatch, "used three sheets of soffit", at_terminal=True)
    assert porch("write", "--at", "17:30", *DAY)[0] == 0
    assert len(entries(porch)) == 2


def test_what_was_not_read_and_what_is_doubtful_is_said(porch: Say) -> None:
    _, shown, _ = porch("write", "used three sheets of blorf zzz", "--at", "17:30", *DAY)
    assert "doubtful: " in shown
    assert "1 fact, 1 doubtful; joblog undo takes it all back, joblog drop ID one of it" in shown


def test_what_was_written_counts_for_the_next_thing_written(porch: Say) -> None:
    porch("write", "used three sheets of soffit on the south eave", "--at", "15:00", *DAY)
    porch("write", "same on the north eave", "--at", "15:00", *DAY)
    porch("write", "make it nine", "--at", "15:00", *DAY)
    assert [one["entry"].get("quantity") for one in entries(porch)] == [None, "3", "9"]


def test_all_of_it_is_undone_together_and_one_of_it_is_dropped(porch: Say) -> None:
    text = "used three sheets of soffit. quit at 4"
    porch("write", text, "--at", "17:30", *DAY)
    _, used, _ = entries(porch)
    dropped = porch("drop", str(used["id"]), *BOOK)[1]
    assert dropped.startswith("dropped: installed: 3 soffit panels")
    porch("undo", *BOOK)
    assert [one["standing"] for one in entries(porch)] == ["accepted"] * 3
    porch("undo", *BOOK)
    assert [one["standing"] for one in entries(porch)] == ["accepted", "dropped", "dropped"]


@pytest.mark.parametrize("at", ["14:45", "2:45pm", "2:45 p.m.", "2026-10-05 14:45"])
def test_a_time_stands_alone_or_with_its_day(porch: Say, at: str) -> None:
    porch("write", "quit", "--at", at, *DAY)
    zone = ZoneInfo("America/Chicago")
    assert datetime.fromisoformat(entries(porch)[-1]["at"]).astimezone(zone) == datetime(
        2026, 10, 5, 14, 45, tzinfo=zone
    )


def test_a_time_alone_is_of_today_where_the_job_is(porch: Say) -> None:
    porch("write", "used three sheets of soffit", "--at", "00:01", *BOOK)
    today = datetime.now(ZoneInfo("America/Chicago")).date()
    near = [str(today - timedelta(days=off)) for off in (0, 1)]  # Midnight may pass meanwhile.
    assert any(entries(porch, day) for day in near)


def test_a_day_that_is_over_is_told_after_all_that_was_said_on_it(porch: Say) -> None:
    porch("write", "used three sheets of soffit", "--at", "19:00", *DAY)
    porch("write", "make it nine", *DAY)
    assert [one["entry"].get("quantity") for one in entries(porch)] == [None, "9"]


def test_what_is_no_time_is_said_so(porch: Say) -> None:
    status, _, told = porch("write", "quit", "--at", "25:99", *DAY)
    assert status == 2
    assert "'25:99' is no time; write 14:30, 2:30pm or 2026-10-05 14:30" in told


def test_two_days_for_one_note_are_refused(porch: Say) -> None:
    status, _, told = porch("write", "quit", "--at", "2026-10-06 14:30", *DAY)
    assert status == 2
    assert "--at says 2026-10-06 and --day says 2026-10-05: which one?" in told


def test_each_sentence_is_printed_as_json_too(porch: Say) -> None:
    text = "used three sheets of soffit. quit at 4"
    first, second = json.loads(porch("write", text, "--at", "17:30", "--json", *DAY)[1])
    assert (first["said"], second["said"]) == ("used three sheets of soffit.", "quit at 4")
    assert first["entries"][0]["entry"]["quantity"] == "3"
    assert first["unread"] == ""
