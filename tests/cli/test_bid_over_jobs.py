"""joblog bid --jobs: all closed jobs beside each other."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from running import Say

from joblog.book import Book
from joblog.model import Job
from tests.bid.closed_jobs import fill_closed


@pytest.fixture(scope="module")
def closed_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("many") / "book"
    with Book.create(folder) as made:
        fill_closed(made, 10)
        made.add_job(Job("Shed", "America/Chicago"))
    return folder


def test_the_jobs_stand_in_time_with_groups_and_a_trend(say: Say, closed_book: Path) -> None:
    status, out, _ = say("bid", "--jobs", "--book", str(closed_book))
    assert status == 0
    rows = [line.split() for line in out.splitlines()]
    assert ["352.14", "29.34", "5.42"] in [row[-3:] for row in rows]
    # Winter: 352.14 + 312.14, in 12 + 13 hours.
    assert ["winter", "2", "664.28", "26.57"] in [row[:4] for row in rows]
    told = " ".join(out.split())
    # Each a man-hour longer, nine times, of 13: 69 in a hundred.
    assert "Hours against the bid went up by about 69 percentage points from" in told
    assert "No trend that might not be luck: material against the bid (10 jobs)" in told
    assert "Not among them: Shed: not closed, and has no bid." in told


def test_csv_and_json_are_exact(say: Say, closed_book: Path) -> None:
    rows = list(
        csv.DictReader(io.StringIO(say("bid", "--jobs", "--csv", "--book", str(closed_book))[1]))
    )
    shown = json.loads(say("bid", "--jobs", "--json", "--book", str(closed_book))[1])
    assert [row["earned"] for row in rows[:10]] == [one["earned"] for one in shown["results"]]
    assert (rows[1]["earned"], rows[1]["season"], rows[1]["crew"]) == ("312.14", "winter", "2")
    assert (rows[10]["job"], rows[10]["not known"]) == ("Shed", "not closed, and has no bid")


def test_without_a_closed_job_it_says_so(say: Say) -> None:
    assert say("new", "Shed", "--zone", "America/Chicago", "--book", "book")[0] == 0
    status, out, _ = say("bid", "--jobs", "--book", "book")
    assert status == 0
    assert "No job is closed yet" in out


def test_it_only_shows(say: Say, closed_book: Path) -> None:
    status, _, err = say("bid", "--jobs", "--set", "margin=5%", "--book", str(closed_book))
    assert status == 2
    assert "only show; say them alone" in err
