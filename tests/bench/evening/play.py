"""An evening at the real screens: how many keys a doubt takes of somebody who knows what he said.

    python -m tests.bench.evening.sounds FOLDER         once, to make the sounds and the book
    python -m tests.bench.evening.play FOLDER [--show]  on a copy of the book

Every key goes through the review's own screens and is counted, the letters of a field as well. What
nobody asked about and is wrong all the same is counted beside it.
"""

from __future__ import annotations

import argparse
import asyncio
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from textual.pilot import Pilot

from joblog.form import describe
from joblog.service import record
from joblog_tui import guard
from joblog_tui.app import ReviewApp
from joblog_tui.questions import QuestionsScreen
from tests.bench.evening.person import Answered, Person

SIZE = (80, 24)
MOST = 300
"""Questions; only so that no fault goes on for ever."""


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser("tests.bench.evening.play", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("folder", type=Path)
    parser.add_argument("--show", action="store_true", help="each question, and what it took")
    asked = parser.parse_args(arguments)
    # A key is dead while nobody can have read the question; this person reads at once.
    guard.TO_BE_READ = guard.HELD = 0.0
    with Person.of(asked.folder) as person:
        doubts = person.doubts
        took = asyncio.run(_evening(person, show=asked.show))
        print_keys(doubts, took)
        print_rest(person, show=asked.show)
    return 0


async def _evening(person: Person, *, show: bool) -> list[Answered]:
    took = []
    app = ReviewApp(person.desk)
    async with app.run_test(size=SIZE) as pilot:
        while len(took) < MOST:
            await _settled(pilot)
            screen = app.screen
            if not isinstance(screen, QuestionsScreen):
                if app.fault is not None:
                    raise app.fault
                shown = "\n".join(line.text for line in screen._compositor.render_strips())
                raise SystemExit(f"{type(screen).__name__} is in sight, no question:\n{shown}")
            question = screen._shown
            if question is None:
                break
            answered = person.answers(question)
            if show:
                print(f"\n{question.asks}")
                for entry in question.entries:
                    said = "; ".join(one.said for one in person.lines(entry))
                    print(f"   {entry.id} {describe(entry.entry)}\n     said: {said}")
                for number, answer in enumerate(question.answers, start=1):
                    print(f"   {number} {answer.says} | {answer.means} | {answer.because}")
                print(f"   {answered.how}: {' '.join(answered.keys)}")
            for key in answered.keys:
                await pilot.press(_NAMES.get(key, key))
            took.append(answered)
    if app.fault is not None:
        raise app.fault
    return took


_NAMES = {
    " ": "space", ".": "full_stop", "/": "slash", ":": "colon", "-": "minus", "'": "apostrophe",
}  # fmt: skip


async def _settled(pilot: Pilot[None]) -> None:
    """Until nothing more comes into sight by itself."""
    for _ in range(3):
        await pilot.pause()
    for _ in range(MOST):
        if isinstance(pilot.app.screen, QuestionsScreen):
            return
        await pilot.pause(0.02)


def print_keys(doubts: int, took: Sequence[Answered]) -> None:
    """What the questions took, in all and each on the average."""
    keys = sum(one.count for one in took)
    typed = [one for one in took if one.sentence]
    print(
        f"\n{doubts} doubtful entries, {len(took)} questions, {keys} keys\n"
        f"  keys a question     {keys / len(took):6.2f}\n"
        f"  keys a doubt        {keys / doubts:6.2f}\n"
        f"  one key             {sum(one.count == 1 for one in took) / len(took):7.1%}\n"
        f"  a sentence typed    {len(typed):4}  ({len(typed) / len(took):.1%})"
    )
    for how, count in Counter(one.how for one in took).most_common():
        print(f"  {how:18} {count:4}")


def print_rest(person: Person, *, show: bool) -> None:
    """What is wrong at the end: asked about and left wrong, or never asked about; told apart."""
    entries = [
        one
        for one in record.read_entries(person.desk)
        if one.standing != "dropped" and one.entry.kind != "correction"
    ]
    wrong = [one for one in entries if not person.right(one)]
    print(f"\nat the end {len(entries)} entries stand, {len(wrong)} of them not as meant:")
    for one in wrong:
        asked = "asked about" if one.standing == "accepted" else "nobody asked"
        if show or asked == "asked about":
            said = "; ".join(line.said for line in person.lines(one))
            print(f"  {asked}: {describe(one.entry)}   said: {said}")
    silent = sum(one.standing != "accepted" for one in wrong)
    print(f"  {silent} that nobody asked about, {len(wrong) - silent} that were asked about")


if __name__ == "__main__":
    raise SystemExit(main())
