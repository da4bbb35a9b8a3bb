"""The same evening in a true terminal: `joblog review` in tmux, its screen read and keys pressed.

    python -m tests.bench.evening.terminal FOLDER [--show]

Nothing of the screens is touched: what is asked is what stands in the terminal, and every question
has been in sight for half a second before a key is pressed, as it is for a person. Needs tmux.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from zoneinfo import ZoneInfo

from joblog.local import clock_written
from joblog.service.questions import Question, questions, with_answers
from tests.bench.evening.person import Answered, Person
from tests.bench.evening.play import MOST, print_keys, print_rest

READ = 0.6
"""Seconds for which a question is in sight before a key is pressed."""
BETWEEN = 0.2
"""Seconds between two keys."""
STILL = 4
"""As many looks at the screen, a fifth of a second apart, must show the same."""
AT_MOST = 5.0
"""Seconds to wait for a change that may not come: what is typed may stand there already."""
PATIENCE = 60.0
"""Seconds in which the screen must have come to what is waited for."""


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser("tests.bench.evening.terminal", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("folder", type=Path)
    parser.add_argument("--show", action="store_true", help="the screen at every question")
    parser.add_argument("--columns", type=int, default=80)
    parser.add_argument("--lines", type=int, default=24)
    asked = parser.parse_args(arguments)
    with Person.of(asked.folder) as person:
        doubts = person.doubts
        with Terminal(person.desk.book.folder, asked.columns, asked.lines) as terminal:
            began = time.monotonic()
            took = _evening(person, terminal, show=asked.show)
            spent = time.monotonic() - began
        print_keys(doubts, took)
        print(f"  {spent:.0f} s at the terminal, every question read for {READ} s")
        print_rest(person, show=asked.show)
    return 0


class Terminal:
    """joblog review in a tmux of its own."""

    def __init__(self, book: Path, columns: int, lines: int) -> None:
        self._name = f"evening-{os.getpid()}"
        path = os.pathsep.join(filter(None, sys.path))
        command = f"exec {sys.executable} -m joblog review --book {book}"
        size = ("-x", str(columns), "-y", str(lines))
        path_option = ("-e", f"PYTHONPATH={path}")
        self._tmux("-f", os.devnull, "new-session", "-d", *size, *path_option, command)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(self, *_how: object) -> None:
        subprocess.run(["tmux", "-L", self._name, "kill-server"], capture_output=True, check=False)

    def screen(self) -> str:
        return self._tmux("capture-pane", "-p")

    def press(self, keys: Sequence[str]) -> None:
        """Letters of a line follow each other; after any other key the screen is looked at."""
        on_a_line = False
        for key in keys:
            named, before = _NAMES.get(key), self.screen()
            self._tmux("send-keys", *([named] if named else ["-l", key]))
            on_a_line = not on_a_line if key == "enter" else on_a_line or key == "w"
            if on_a_line and len(key) == 1:
                time.sleep(BETWEEN)
            else:
                self._changed(before)

    def until(self, so: Callable[[str], bool]) -> str:
        """What stands on the screen as soon as it is so, and has come to rest."""
        end = time.monotonic() + PATIENCE
        seen = [""]
        while time.monotonic() < end:
            seen = [*seen[-STILL:], self.screen()]
            if len({*seen}) == 1 and so(seen[0]):
                return seen[0]
            time.sleep(0.2)
        raise SystemExit(f"it did not come to what was waited for:\n{seen[-1]}")

    def _changed(self, before: str) -> None:
        end = time.monotonic() + AT_MOST
        self.until(lambda shown: shown != before or time.monotonic() > end)

    def _tmux(self, *words: str) -> str:
        command = ["tmux", "-L", self._name, *words]
        return subprocess.run(command, capture_output=True, text=True, check=True).stdout


_NAMES = {
    "enter": "Enter", "escape": "Escape", "tab": "Tab", "up": "Up", "down": "Down",
    "ctrl+u": "C-u", "ctrl+w": "C-w", "ctrl+left": "C-Left", "end": "End", " ": "Space", ";": "\\;",
}  # fmt: skip

DONE = "Nothing left to decide"


def _evening(person: Person, terminal: Terminal, *, show: bool) -> list[Answered]:
    took: list[Answered] = []
    decided: frozenset[tuple[int, int]] = frozenset()
    while len(took) < MOST:

        def asks_anew(shown: str, before: frozenset[tuple[int, int]] = decided) -> bool:
            found = _shown(person, shown)
            return DONE in shown or (found is not None and _versions(found) != before)

        shown = terminal.until(asks_anew)
        question = _shown(person, shown)
        if show:
            print(shown)
        if DONE in shown or question is None:
            break
        answered = person.answers(with_answers(person.desk, question))
        time.sleep(READ)
        terminal.press(answered.keys)
        if show:
            print(f">>> {answered.how}: {' '.join(answered.keys)}\n")
        took.append(answered)
        decided = _versions(question)
    terminal.press(["q"])
    return took


def _shown(person: Person, shown: str) -> Question | None:
    """The question that stands on the screen."""
    words = " ".join(shown.split())
    zone = ZoneInfo(person.desk.job.zone)
    for one in questions(person.desk):
        at = clock_written(one.entries[0].at.astimezone(zone))
        said = " ".join(one.entries[0].said.split())
        # Words that were not surely heard are marked.
        there = " ".join(one.asks.split()) in words and said in words.replace("?", "")
        if there and at in words:
            return one
    return None


def _versions(question: Question) -> frozenset[tuple[int, int]]:
    return frozenset((one.id, one.version) for one in question.entries)


if __name__ == "__main__":
    raise SystemExit(main())
