"""A year entered into a book as he would do it: step by step, by the one door."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from joblog.book import Book
from joblog.model import BookEntry, Closing
from joblog.service import Desk, closing, decide, open_desk, planning, stock, taking_in
from joblog.service.done import say_done
from joblog.service.jobs import begin_job
from joblog.service.record import last_closing, read_entries
from tests.bench.year.life import UNITS, ZONE, Fact, Step


@dataclass(slots=True)
class Entered:
    """What entering the year came to."""

    closings: dict[str, Closing] = field(default_factory=dict)
    sentences: int = 0
    settled: int = 0
    """Tasks of which he was asked how much was done, and said it."""
    asked: list[tuple[str, str]] = field(default_factory=list)
    """(what was typed, what was doubted of it); he let each stand."""
    unread: list[str] = field(default_factory=list)
    """What was typed and became no entry, or not all of it."""
    in_the_way: list[tuple[str, str]] = field(default_factory=list)
    """(job, what was in the way of closing it)."""


def enter(
    book: Book,
    year: tuple[Step, ...],
    folder: Path,
    planned: Callable[[Desk, Fact], None] = lambda desk, plan: None,
) -> Entered:
    """Enters every step. `planned` is told of every job when its plan is loaded."""
    told = Entered()
    known: set[str] = set()
    names = list(dict.fromkeys(step.job for step in year))
    for step in year:
        at = names.index(step.job)
        for name in names[at : at + 2]:  # He knows where he works next.
            if name not in known:
                known.add(name)
                begin_job(book, name, ZONE)
        _do(open_desk(book, step.job), step, folder, told, planned)
    return told


def _do(
    desk: Desk, step: Step, folder: Path, told: Entered, planned: Callable[[Desk, Fact], None]
) -> None:
    if step.does == "says":
        _say(desk, step, told)
    elif step.does == "plan":
        file = folder / "plan.csv"
        with file.open("w", newline="", encoding="utf-8") as opened:
            csv.writer(opened).writerows(plan_rows(step.truth))
        planning.load_plan(desk, file)
        planned(desk, step.truth[0])
    elif step.does == "take":
        stock.take(desk, step.words.split("; "))
    elif step.does == "done":
        say_done(desk, *step.words.split("|"))
        told.settled += 1
    else:
        for entry in read_entries(desk):
            if entry.open:
                _let_stand(desk, entry, told)
        draft = closing.draft_closing(desk, step.at.date())
        told.in_the_way += [(desk.job.name, obstacle.why) for obstacle in draft.obstacles]
        closing.close(desk, draft)


def _say(desk: Desk, step: Step, told: Entered) -> None:
    told.sentences += 1
    written = taking_in.write_notes(desk, step.words, step.at.date(), step.at.time())
    entries = [entry for one in written for entry in one.entries]
    if not entries or any(one.unread for one in written):
        told.unread.append(step.words)
    for entry in entries:
        if entry.open:
            _let_stand(desk, entry, told)


def _let_stand(desk: Desk, entry: BookEntry, told: Entered) -> None:
    told.asked.append((entry.said, "; ".join(entry.doubts)))
    decide.accept(desk, entry.id)


def plan_rows(truth: tuple[Fact, ...]) -> Iterator[list[object]]:
    (_, _, _, items, tasks), *openings = truth
    had = {fact[3]: fact[4] for fact in openings}
    yield "line,name,quantity,unit,cost,opening,net,offcut,amount,task".split(",")
    for item, quantity, price, net, offcut, task in items:
        parted = (net, offcut) if net is not None else ("", "")
        yield ["item", item, quantity, UNITS[item], price, had.get(item, ""), *parted, "", task]
    for task, hours, pay, amount in tasks:
        yield ["task", task, hours, "hour", pay, "", "", "", f"{amount} ft", ""]
    for place in ("north eave", "south eave", "west gable"):
        yield ["place", place, *[""] * 8]


def closed_at_the_end(book: Book, year: tuple[Step, ...]) -> dict[str, Closing]:
    """How each job is closed when the year is over; what reopened one is in `changed`."""
    found = {}
    for name in dict.fromkeys(step.job for step in year):
        if (last := last_closing(open_desk(book, name))) is not None:
            found[name] = last
    return found
