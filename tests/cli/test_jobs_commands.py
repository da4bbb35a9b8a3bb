"""Beginning jobs, and which one is meant when nobody says."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from running import Say


def two_jobs(say: Say) -> None:
    for name in ("Corner porch", "Mill house"):
        assert say("new", name, "--zone", "America/Chicago", "--book", "book")[0] == 0


def test_a_new_job_makes_the_book_and_says_where(say: Say) -> None:
    status, shown, _ = say("new", "Corner porch", "--zone", "America/Chicago", "--book", "book")
    assert (status, shown) == (0, "Corner porch: begun in book, time zone America/Chicago\n")
    assert Path("book/book.sqlite").is_file()


def test_without_a_named_folder_the_book_is_in_the_home(say: Say) -> None:
    say("new", "Corner porch", "--zone", "America/Chicago")
    assert Path("home/joblog/book.sqlite").is_file()
    assert "Corner porch" in say("jobs")[1]


def test_a_folder_that_holds_a_book_is_the_book(say: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    say("new", "Corner porch", "--zone", "America/Chicago", "--book", "book")
    monkeypatch.chdir("book")
    assert "Corner porch" in say("jobs")[1]


def test_a_time_zone_that_is_none_makes_no_book(say: Say) -> None:
    status, _, complaint = say("new", "Corner porch", "--zone", "Chicago", "--book", "book")
    assert status == 1
    assert "there is no time zone 'Chicago'; write it like America/New_York" in complaint
    assert not Path("book").exists()


def test_two_jobs_of_one_name_are_refused(say: Say) -> None:
    say("new", "Corner porch", "--book", "book", "--zone", "America/Chicago")
    status, _, complaint = say("new", "Corner porch", "--book", "book", "--zone", "Asia/Tokyo")
    assert status == 1
    assert "there is a job called 'Corner porch' already" in complaint


def test_a_job_that_was_begun_and_holds_nothing_can_be_begun_again(say: Say) -> None:
    say("new", "Corner porch", "--book", "book")
    assert say("new", "Corner porch", "--book", "book")[0] == 0
    say("write", "used three panels", "--book", "book")
    assert "already" in say("new", "Corner porch", "--book", "book")[2]


def test_a_new_job_takes_its_plan_along(say: Say) -> None:
    Path("plan.csv").write_text(
        "line,name,quantity,unit\nitem,fascia,7,stick\nplace,north eave,,\n"
    )
    status, _, complaint = say("new", "Porch", "--book", "book", "--plan", "plan.csv")
    assert status == 0
    assert "Porch: 1 item, 0 tasks, 1 place planned" in complaint
    assert "fascia" in say("plan", "--book", "book")[1]


def test_a_plan_that_holds_nothing_changes_nothing(porch: Say) -> None:
    Path("plan.csv").write_text("line,name,quantity,unit\n")
    assert porch("plan", "plan.csv", "--book", "book")[0] == 1


def test_of_several_jobs_the_last_one_used_is_meant_and_named(say: Say) -> None:
    two_jobs(say)
    status, _, complaint = say("write", "used three sheets of soffit", "--book", "book")
    assert status == 1
    assert "which job? Say --job with one of: Corner porch, Mill house" in complaint
    say("write", "used three sheets of soffit", "--book", "book", "--job", "Mill house")
    status, shown, complaint = say("entries", "--book", "book")
    assert status == 0
    assert "soffit" in shown
    assert complaint.startswith("job: Mill house (the last one used;")


def test_a_job_that_is_settled_is_meant_whatever_was_used(say: Say) -> None:
    two_jobs(say)
    say("write", "used three sheets of soffit", "--book", "book", "--job", "Mill house")
    assert say("use", "Corner porch", "--book", "book")[:2] == (0, "in use: Corner porch\n")
    assert "job: Corner porch (settled with joblog use;" in say("entries", "--book", "book")[2]
    assert "in use: Corner porch" in say("jobs", "--book", "book")[1]
    assert say("use", "--none", "--book", "book")[0] == 0
    assert "job: Mill house (the last one used;" in say("entries", "--book", "book")[2]


def test_the_only_open_job_is_meant(say: Say) -> None:
    two_jobs(say)
    said = ("used three sheets of soffit", "--at", "2026-10-05 14:30", "--job", "Mill house")
    say("write", *said, "--book", "book")
    assert say("close", "--anyway", "--job", "Mill house", "--book", "book")[0] == 0
    assert "job: Corner porch (the only open one;" in say("entries", "--book", "book")[2]


def test_the_job_with_days_like_these_is_meant(say: Say) -> None:
    two_jobs(say)
    for job, day in (("Corner porch", "2026-10-05"), ("Mill house", "2026-11-20")):
        words = ("used three sheets of soffit", "--at", f"{day} 14:30")
        say("write", *words, "--job", job, "--book", "book")
    told = say("write", "two sheets spoiled", "--at", "2026-10-06 09:00", "--book", "book")[2]
    assert told.startswith("job: Corner porch (the only open one with days like these;")


def test_no_job_at_all_says_how_to_begin_one(say: Say) -> None:
    status, _, complaint = say("entries", "--book", "book")
    assert status == 1
    assert "there is no book here" in complaint


def test_use_wants_a_job_that_is_there(porch: Say) -> None:
    status, _, complaint = porch("use", "Attic", "--book", "book")
    assert status == 1
    assert "there is no job called 'Attic' in this book; it has: Corner porch" in complaint
    assert porch("use", "--book", "book")[0] == 2


def test_jobs_as_json_say_what_is_open(porch: Say) -> None:
    [job] = json.loads(porch("jobs", "--json", "--book", "book")[1])
    assert (job["name"], job["closed"]) == ("Corner porch", None)
