"""How conversations are read: right, asked about, silently wrong.

    python -m tests.bench.talk             the open half, by class
    python -m tests.bench.talk --locked    the locked half: figures only
    python -m tests.bench.talk --fresh     those that were written last: figures only
    python -m tests.bench.talk --practice  those that were written for building only
    python -m tests.bench.talk --show sizes    which of the open half are not right, or asked about
    python -m tests.bench.talk --written   each line written down by itself in a book; and which
                                           conversations come out otherwise so

Strictly, one wrong entry without a doubt, or a lost fact that no doubt speaks for, makes the whole
conversation silent; leniently it is silent where it is wrong and nothing is in doubt.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from joblog.book import Book
from joblog.model import Job, Plan
from joblog.service.desk import Desk
from tests.bench.corpus.conversations import (
    CLASSES,
    Judged,
    Stands,
    Talk,
    fresh_talks,
    judged,
    practice_talks,
    stands_after,
    stands_after_writing,
    talks,
)
from tests.bench.corpus.site import words


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--locked", action="store_true")
    parser.add_argument("--fresh", action="store_true")
    parser.add_argument("--practice", action="store_true")
    parser.add_argument("--written", action="store_true")
    parser.add_argument("--show", choices=(*CLASSES, "all"))
    asked_for = parser.parse_args()
    unseen = asked_for.locked or asked_for.fresh
    if asked_for.show and unseen:
        sys.exit("these are only counted")
    vocabulary = words()
    chosen = (
        practice_talks()
        if asked_for.practice
        else fresh_talks()
        if asked_for.fresh
        else talks(asked_for.locked)
    )
    standing = [stands_after(talk, vocabulary) for talk in chosen]
    if asked_for.written:
        written = _written(chosen)
        others = [talk for talk, a, b in zip(chosen, standing, written, strict=True) if a != b]
        print(f"{len(others)} of {len(chosen)} come out otherwise")
        for talk in () if unseen else others:
            print(f"    {' / '.join(talk.lines)}")
        standing = written
    found = [
        (talk, judged(talk, stands, vocabulary))
        for talk, stands in zip(chosen, standing, strict=True)
    ]
    for kind in (*CLASSES, "all"):
        of_kind = [one for talk, one in found if kind in (talk.kind, "all")]
        if of_kind:
            print(f"{kind:9}{line_of(of_kind)}")
    if asked_for.show:
        for talk, one in found:
            if asked_for.show in (talk.kind, "all") and (not one.right or one.needless):
                _show(talk, one)


def _written(chosen: Sequence[Talk]) -> list[list[Stands]]:
    """What stands of each when its lines are written down one by one, in a book on the disk."""
    with tempfile.TemporaryDirectory() as folder, Book.create(Path(folder) / "book") as book:
        nobody = Job("nobody", "UTC")
        desk = Desk(book, nobody, Plan(), book.catalog(), words())
        return [stands_after_writing(talk, desk) for talk in chosen]


def line_of(found: list[Judged]) -> str:
    """The figures of some conversations, in percent."""

    def share(name: str) -> str:
        return f"{100 * sum(getattr(one, name) for one in found) / len(found):5.1f}"

    return (
        f"{len(found):4}  right {share('right')}  asked {share('asked')}  needless "
        f"{share('needless')}  silent {share('silent')} (leniently {share('plainly_silent')})  "
        f"sizes dropped {sum(one.dropped for one in found)}"
    )


def _show(talk: Talk, one: Judged) -> None:
    from joblog.dictation import Context, after, read

    kind = "needless" if one.right else "SILENT" if one.silent else "wrong, asked"
    print(f"\n--- {talk.kind}: {kind}")
    context = Context(at=talk.at, place=talk.place)
    for line in talk.lines:
        reading = read(line, words(), context)
        context = after(context, reading)
        print(f"  {line!r}")
        for doubt in reading.doubts:
            print(f"      ? {doubt.entry}: {doubt.why}")
    for name, entries in (("lost ", one.lost), ("wrong", one.wrong)):
        for entry in entries:
            told = {key: value for key, value in entry.items() if value is not None}
            print(f"    {name} {json.dumps(told)}")


if __name__ == "__main__":
    main()
