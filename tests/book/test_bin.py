"""Nothing that ever stood is lost: it stands, or is brought back and stands as it was."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from joblog.bid.planned import plan_of
from joblog.bid.work_out import work_out
from joblog.book import (
    Book,
    BookError,
    bids,
    bin,
    closed,
    decisions,
    houses,
    nouns,
    paper,
    parting,
    signing,
    steps,
)
from joblog.catalog.lines import with_item, without
from joblog.house.read_table import read_house
from joblog.model import Bid, Fence, History, House, Item, PastUse, Plan
from tests.bid.a_basis import basis
from tests.book.two_jobs import AT, JOB, JOBS, LEFT, NINE, OTHER, PLAN, USED, a_book, balance, wrote

PAST = PastUse("Heron house", date(2025, 3, 5), "soffit panel", Fraction(40), Fraction(44))
FASCIA = Item("fascia 1x6", "stick")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with a_book(tmp_path) as made:
        yield made


def bid(margin: str) -> Bid:
    return work_out(JOB.name, date(2026, 11, 2), basis(), (("margin", margin),))


def house(length: int) -> House:
    found, problems = read_house(
        "what,name,length,height,top,corner\n"
        + "".join(f"side,{name},{length} ft,9 ft,eave,outside\n" for name in "abcd")
    )
    assert problems == ()
    return found


def in_bin(book: Book, job: str | None = None) -> list[tuple[str, ...]]:
    return [one.things for one in bin.binned(book, job)]


def last(book: Book, job: str = JOB.name) -> int:
    return steps.steps(book, job)[-1].id


# --- each kind of thing -----------------------------------------------------------------------


def test_an_entry_that_was_dropped_is_in_the_bin_until_it_is_brought_back(book: Book) -> None:
    [id] = wrote(book, USED)
    before = book.entry(id)
    decisions.drop(book, id)
    [found] = bin.binned(book)
    assert found.things == ("installed 3 soffit panels, north eave",)
    assert (found.entries, found.step.what) == ((id,), f"dropped: {found.things[0]}")

    back = bin.bring_back(book, found.step.id)

    assert back.what == f"brought back: {found.things[0]}"
    now = book.entry(id)
    assert (now.entry, now.doubts, now.standing) == (before.entry, before.doubts, before.standing)
    assert bin.binned(book) == ()


def test_bringing_back_is_a_step_that_can_be_undone(book: Book) -> None:
    [id] = wrote(book, USED)
    decisions.drop(book, id)
    there = in_bin(book)
    bin.bring_back(book, last(book))
    steps.undo_last(book, JOB.name)
    assert book.entry(id).standing == "dropped"
    assert sorted(in_bin(book))[-1:] == there


def test_bringing_back_twice_says_that_it_stands_already(book: Book) -> None:
    [id] = wrote(book, USED)
    decisions.drop(book, id)
    dropped = last(book)
    bin.bring_back(book, dropped)
    with pytest.raises(BookError, match="stands as it was"):
        bin.bring_back(book, dropped)
    with pytest.raises(BookError, match="no step 99"):
        bin.bring_back(book, 99)


def test_a_step_by_which_nothing_went_has_nothing_to_bring_back(book: Book) -> None:
    wrote(book, USED)
    with pytest.raises(BookError, match="nothing went with step"):
        bin.bring_back(book, last(book))


def test_what_was_taken_back_and_can_no_longer_be_done_again_is_in_the_bin(book: Book) -> None:
    [id] = wrote(book, USED)
    steps.undo_last(book, JOB.name)
    wrote(book, LEFT)
    with pytest.raises(BookError, match="nothing to redo"):
        steps.redo_last(book, JOB.name)
    [found] = bin.binned(book)
    assert found.step.state == "forgotten"

    bin.bring_back(book, found.step.id)

    assert (book.entry(id).entry, book.entry(id).standing) == (USED, "accepted")


def test_a_merged_entry_comes_back_with_the_one_that_it_was_merged_into(book: Book) -> None:
    [id], [other] = wrote(book, USED), wrote(book, NINE)
    parting.merge(book, id, other)
    assert book.entry(id).entry.quantity == 12
    bin.bring_back(book, last(book))
    assert (book.entry(id).entry, book.entry(other).entry) == (USED, NINE)
    assert book.entry(other).standing != "dropped"


def test_what_an_entry_was_before_it_was_corrected_comes_back_by_its_step(book: Book) -> None:
    [id] = wrote(book, USED)
    decisions.edit(book, id, "quantity", "7")
    corrected = last(book)
    decisions.edit(book, id, "place", "dormer")
    assert bin.binned(book) == ()
    bin.bring_back(book, corrected)
    assert book.entry(id).entry == USED


def test_an_entry_that_was_moved_comes_back_into_its_job(book: Book) -> None:
    [id] = wrote(book, USED)
    decisions.move(book, id, job=OTHER.name)
    assert len(bin.binned(book, JOB.name)) == len(bin.binned(book, OTHER.name)) == 1
    bin.bring_back(book, last(book))
    assert book.job_of(id) == JOB.name


def test_a_recording_comes_back_with_its_entries_but_for_those_decided_since(book: Book) -> None:
    [recording, *_] = book.recordings(JOB.name)
    was = {one.id: one.entry for one in book.entries(JOB.name) if one.standing != "dropped"}
    decisions.withdraw(book, recording.sha256)
    [found] = bin.binned(book)
    assert found.things[0] == "recording morning.wav"
    kept, *_ = found.entries
    decisions.restore(book, kept)
    decisions.edit(book, kept, "place", "dormer")

    bin.bring_back(book, found.step.id)

    assert book.recording(recording.sha256).standing == "kept"
    now = {one.id: one.entry for one in book.entries(JOB.name) if one.standing != "dropped"}
    assert now == {**was, kept: replace(was[kept], place="dormer")}


def test_a_photo_comes_back_from_withdrawal_and_from_another_job(book: Book) -> None:
    photo = book.photos(JOB.name)[0].sha256
    decisions.withdraw_photo(book, photo)
    decisions.move_original(book, photo, OTHER.name)
    found = bin.binned(book)
    assert [one.things[0] for one in found] == ["photo yard.jpg"]
    bin.bring_back(book, found[0].step.id)
    assert photo in {one.sha256 for one in book.photos(JOB.name)}


def test_plans_and_houses_and_bids_that_were_replaced_come_back(book: Book) -> None:
    decisions.load_plan(book, JOB.name, Plan(places=("barn",)))
    houses.keep_house(book, JOB.name, house(20))
    houses.keep_house(book, JOB.name, house(30))
    bids.keep_bid(book, bid("20%"), None)
    bids.keep_bid(book, bid("25%"), plan_of(bid("25%")))
    steps.undo_last(book, JOB.name)  # The second bid, and its plan.
    went = {one.things[0]: one.step.id for one in bin.binned(book)}
    assert set(went) == {"plan: 1 item", "house: 4 sides, 0 ceilings", "bid of $1,084.73"}

    for id in went.values():
        bin.bring_back(book, id)

    assert houses.house_of(book, JOB.name) == house(20)
    newest = bids.newest_bid(book, JOB.name)
    assert newest is not None and newest.bid == bid("25%")
    plans = {book.plan(JOB.name)}
    steps.undo_last(book, JOB.name)
    assert PLAN in plans | {book.plan(JOB.name)}


def test_lines_of_the_catalog_come_back_one_step_at_a_time(book: Book) -> None:
    decisions.change_catalog(book, lambda now: with_item(now, FASCIA))
    decisions.change_catalog(book, lambda now: with_item(now, replace(FASCIA, unit="each")))
    changed = last(book)
    decisions.change_catalog(book, lambda now: without(now, FASCIA.name))
    dropped = last(book)
    assert in_bin(book) == [("item fascia 1x6",), ("item fascia 1x6",)]
    bin.bring_back(book, dropped)
    assert next(one for one in book.catalog().items if one.name == FASCIA.name).unit == "each"
    bin.bring_back(book, changed)
    assert FASCIA in book.catalog().items


def test_an_earlier_job_that_was_replaced_or_dropped_comes_back(book: Book) -> None:
    better = replace(PAST, consumed=Fraction(45))
    paper.keep_past(book, History((PAST,)))
    paper.keep_past(book, History((better,)))
    paper.drop_past(book, "heron HOUSE")
    assert paper.past(book) == History()
    found = bin.binned(book)
    assert [one.things for one in found] == [("earlier job Heron house, 1 line",)] * 2
    bin.bring_back(book, found[0].step.id)
    assert paper.past(book) == History((better,))
    bin.bring_back(book, found[1].step.id)
    assert paper.past(book) == History((PAST,))


def test_a_closing_that_was_taken_back_counts_again(book: Book) -> None:
    closed.close_job(book, JOB.name, AT.date(), balance(book, JOB))  # type: ignore[arg-type]
    closed.reopen(book, JOB.name)
    [found] = bin.binned(book)
    assert found.things == ("closing for Mon, Oct 5, 2026",)
    bin.bring_back(book, found.step.id)
    assert closed.closed_jobs(book) == {JOB.name}


def test_clocks_fences_ties_and_signatures_come_back(book: Book) -> None:
    [tie] = [one for one in book.ties(JOB.name) if book.photo(one.photo).name == "wall.jpg"]
    camera, days = "unnamed camera", [AT.date()]
    decisions.untie(book, tie.photo, tie.entry)
    decisions.set_clock(book, JOB.name, camera, days, 60)
    decisions.unset_clock(book, JOB.name, camera, days)
    decisions.set_fence(book, JOB.name, Fence(41.5, -81.5, 60.0, "set"))
    decisions.set_fence(book, JOB.name, None)
    signing.sign_off(book, JOB.name, AT.date())
    steps.undo_last(book, JOB.name)
    found = bin.binned(book)
    assert [one.things[0].split()[0] for one in found] == ["signature", "fence:", "clock", "photo"]
    for one in found:
        bin.bring_back(book, one.step.id)
    assert signing.signed(book, JOB.name)
    assert book._rows("SELECT radius FROM fence") == [{"radius": 60.0}]
    assert [row["seconds"] for row in book._rows("SELECT seconds FROM hand_clock")] == [60.0]
    assert (tie.photo, tie.entry) in {(one.photo, one.entry) for one in book.ties(JOB.name)}


def test_what_the_voice_had_taught_comes_back(book: Book) -> None:
    decisions.set_settings(book, "read the card aloud", {"voice card": "{}"})
    what = "let the voice be learned anew"
    decisions.set_settings(book, what, {"voice since": "2026-10-05", "voice card": None})
    [found] = bin.binned(book)
    assert found.things == ("what your voice had taught", "what was heard of the card")
    bin.bring_back(book, found.step.id)
    assert (book.setting("voice since"), book.setting("voice card")) == (None, "{}")


def test_when_a_step_was_taken_back_and_done_again_is_kept(book: Book) -> None:
    wrote(book, USED)
    steps.undo_last(book, JOB.name)
    steps.redo_last(book, JOB.name)
    step = steps.steps(book, JOB.name)[-1]
    assert [(turn.who, turn.undone) for turn in step.turns] == [("you", True), ("you", False)]
    assert step.at <= step.turns[0].at <= step.turns[1].at


def test_what_is_damaged_keeps_nothing_else_from_coming_back(book: Book) -> None:
    photo = book.photos(JOB.name)[0].sha256
    decisions.withdraw_photo(book, photo)
    [id] = wrote(book, USED)
    decisions.drop(book, id)
    with sqlite3.connect(book.folder / "book.sqlite") as raw:
        raw.execute("DELETE FROM photo WHERE sha256 = ?", [photo])
    raw.close()
    with Book.open(book.folder) as damaged:
        assert in_bin(damaged) == [
            ("installed 3 soffit panels, north eave",),
            ("a photo that cannot be read any more",),
        ]
        bin.bring_back(damaged, last(damaged))
        assert damaged.entry(id).standing != "dropped"


# --- whatever was decided ---------------------------------------------------------------------


def standing(book: Book) -> dict[str, object]:
    """Everything that stands, by what it is."""
    found: dict[str, object] = {
        f"entry {one.id}": (job.name, one.at, one.entry, one.doubts)
        for job in JOBS
        for one in book.entries(job.name)
        if one.standing != "dropped"
    }
    for job in JOBS:
        found |= {f"photo {one.sha256}": job.name for one in book.photos(job.name)}
        found |= {
            f"recording {one.sha256}": job.name
            for one in book.recordings(job.name)
            if one.standing == "kept"
        }
        found[f"plan {job.name}"] = book.plan(job.name)
        found[f"house {job.name}"] = houses.house_of(book, job.name)
        newest = bids.newest_bid(book, job.name)
        found[f"bid {job.name}"] = newest and newest.bid
        found |= {f"closing {one.closed_at}": one.day for one in closed.closings_of(book, job.name)}
    lines = nouns.catalog_lines(book)
    found |= {one: json.dumps({**json.loads(text), "ordinal": 0}) for one, text in lines.items()}
    for table in ("hand_tie", "hand_clock", "fence", "signing", "past_use", "past_work"):
        for row in book._rows(f"SELECT * FROM {table}"):
            key = [value for name, value in row.items() if name in _KEYS[table]]
            if row.get("tied") != 0:  # That a photo was untied is no thing that stands.
                found[f"{table} {key}"] = tuple(row.values())
    return {name: value for name, value in found.items() if value not in (None, Plan())}


_KEYS = {
    "hand_tie": ("photo", "entry"),
    "hand_clock": ("job", "camera", "day"),
    "fence": ("job",),
    "signing": ("job", "day"),
    "past_use": ("job_key", "day", "item_key"),
    "past_work": ("job_key", "day", "task_key"),
}


def decide(book: Book, pick: Random) -> None:
    """Anything that a person may decide, drawn at random."""
    job = pick.choice(JOBS)
    entries = [one.id for job in JOBS for one in book.entries(job.name)]
    photos = [
        one.sha256
        for job in JOBS
        for away in (False, True)
        for one in book.photos(job.name, withdrawn=away)
    ]
    recordings = [one.sha256 for job in JOBS for one in book.recordings(job.name)]
    id, other, photo = pick.choice(entries), pick.choice(entries), pick.choice(photos)
    recording, line = pick.choice(recordings), pick.choice(book.catalog().items).name
    camera, days, at = "unnamed camera", [AT.date()], AT + timedelta(hours=pick.randint(-30, 30))
    ways: list[Callable[[], object]] = [
        lambda: wrote(book, pick.choice([USED, LEFT, NINE]), job=job),
        lambda: decisions.accept(book, id),
        lambda: decisions.drop(book, id),
        lambda: decisions.restore(book, id),
        lambda: decisions.edit(book, id, "quantity", str(pick.randint(1, 9))),
        lambda: decisions.edit(book, id, "note", "by hand"),
        lambda: parting.split(book, id, parting.shared(book.entry(id).entry, "1")),
        lambda: parting.merge(book, id, other),
        lambda: decisions.move(book, id, at=at, job=job.name),
        lambda: decisions.move_original(book, pick.choice([photo, recording]), job.name),
        lambda: decisions.withdraw(book, recording),
        lambda: decisions.bring_back(book, recording),
        lambda: decisions.withdraw_photo(book, photo),
        lambda: decisions.bring_back_photo(book, photo),
        lambda: decisions.tie(book, photo, id),
        lambda: decisions.untie(book, photo, id),
        lambda: decisions.set_clock(book, job.name, camera, days, 60.0 * pick.randint(1, 3)),
        lambda: decisions.unset_clock(book, job.name, camera, days),
        lambda: decisions.set_fence(
            book, job.name, pick.choice([None, Fence(41.5, -81.5, pick.randint(30, 60), "set")])
        ),
        lambda: decisions.load_plan(book, job.name, Plan(places=(pick.choice("abc"),))),
        lambda: houses.keep_house(book, job.name, house(pick.randint(10, 12))),
        lambda: bids.keep_bid(book, bid(f"{pick.randint(10, 12)}%"), None),
        lambda: decisions.change_catalog(book, lambda now: without(now, line)),
        lambda: decisions.change_catalog(
            book, lambda now: with_item(now, replace(FASCIA, unit=pick.choice(["each", "stick"])))
        ),
        lambda: closed.close_job(book, job.name, AT.date(), balance(book, job)),  # type: ignore[arg-type]
        lambda: closed.reopen(book, job.name),
        lambda: signing.sign_off(book, job.name, AT.date()),
        lambda: paper.keep_past(
            book, History((replace(PAST, consumed=Fraction(pick.randint(41, 44))),))
        ),
        lambda: paper.drop_past(book, PAST.job),
        *[lambda: steps.undo_last(book, job.name)] * 4,
        *[lambda: steps.redo_last(book, job.name)] * 2,
        lambda: decisions.undo(book, id),
        lambda: bin.bring_back(book, pick.choice(bin.binned(book)).step.id),
    ]
    with suppress(BookError, IndexError):  # It was refused, and nothing was changed.
        pick.choice(ways)()


def test_whatever_was_decided_nothing_that_ever_stood_is_lost(book: Book) -> None:
    lost, not_in_the_bin = lost_after(book, Random(2), 30)
    assert lost == set()
    # What stands in no way is in the bin, and nobody has to look for it in the history.
    assert not_in_the_bin == set()


def lost_after(book: Book, pick: Random, many: int) -> tuple[set[str], set[str]]:
    """What stood once in so many random decisions and can not be made to stand as it did; and what
    stands in no way and is not in the bin either."""
    ever: set[tuple[str, object]] = set(standing(book).items())
    for _ in range(many):
        decide(book, pick)
        ever |= standing(book).items()
    now = standing(book)
    back = brought_back(book, [one.step.id for one in bin.binned(book)], now)
    nowhere = {name for name, _ in ever} - now.keys() - {name for name, _ in back}
    if ever - now.items() - back:
        back |= brought_back(book, range(1, last_of_all(book) + 1), now)
    left = ever - now.items() - back
    return {name for name, value in left if not version_brought_back(book, name, value)}, nowhere


def brought_back(book: Book, ids: object, now: dict[str, object]) -> set[tuple[str, object]]:
    """What stands when each of these is brought back, and taken back again."""
    found: set[tuple[str, object]] = set()
    for id in ids:  # type: ignore[attr-defined]
        try:
            step = bin.bring_back(book, id)
        except BookError:
            assert standing(book) == now
        else:
            found |= standing(book).items()
            steps.take_back(book, step.id)
            assert standing(book) == now
    return found


def version_brought_back(book: Book, name: str, value: object) -> bool:
    """Whether there is a version of the entry in which it stands as it was, once it is back."""
    kind, _, id = name.partition(" ")
    for version in book.versions(int(id)) if kind == "entry" else ():
        with suppress(BookError):
            step = bin.bring_back_version(book, int(id), version.version)
            stands = standing(book)[name] == value
            steps.take_back(book, step.id)
            if stands:
                return True
    return False


def last_of_all(book: Book) -> int:
    [row] = book._rows("SELECT max(id) AS last FROM step")
    return int(row["last"])
