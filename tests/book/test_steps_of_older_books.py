"""What was decided in a book from before there were steps can still be undone, in steps."""

from __future__ import annotations

from pathlib import Path

import pytest

from joblog.book import Book, BookError, closed, decisions, schema, steps
from joblog.model import Job

JOB = Job("Gull Point cottage", "America/New_York")
SAID, LATER = "2026-10-05T14:00:00.000000+00:00", "2026-10-05T21:{:02}:00.000000+00:00"

# Entry, version, standing, change, minute of the evening (None: when it was said), restores.
VERSIONS = (
    (1, 1, "heard", "heard", None, None),
    (1, 2, "heard", "corrected", None, None),
    (1, 3, "accepted", "accepted", 1, None),
    (2, 1, "accepted", "typed", 2, None),
    (3, 1, "accepted", "typed", 2, None),
    (2, 2, "accepted", "corrected", 3, None),
    (4, 1, "accepted", "corrected", 3, None),
    (3, 2, "accepted", "corrected", 4, None),
    (5, 1, "accepted", "corrected", 4, None),
    (3, 3, "accepted", "undone", 5, 1),
    (5, 2, "dropped", "undone", 5, None),
)


@pytest.fixture
def older(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book of the third version with five entries and what was done to them."""
    folder = tmp_path / "older"
    with monkeypatch.context() as third:
        third.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:3])
        with Book.create(folder) as book:
            db = book._db
            book.add_job(JOB)
            db.execute(
                "INSERT INTO recording VALUES ('ab', 1, 'a.wav', 'ab/ab.wav', 1, ?, '', 9.0, NULL)",
                [SAID],
            )
            db.execute("INSERT INTO utterance VALUES (1, 'ab', 0, ?, 0.0, 5.0, '')", [SAID])
            for id, utterance in ((1, 1), (2, None), (3, None)):
                db.execute(
                    "INSERT INTO entry VALUES (?, 1, ?, 0, ?, NULL, NULL)", [id, utterance, SAID]
                )
            for entry, version, standing, change, minute, restores in VERSIONS:
                if (entry, version) in ((4, 1), (5, 1)):
                    beside = (2, 2) if entry == 4 else (3, 2)
                    db.execute(
                        "INSERT INTO entry VALUES (?, 1, NULL, 0, ?, ?, ?)", [entry, SAID, *beside]
                    )
                at = SAID if minute is None else LATER.format(minute)
                content = (
                    f'{{"kind": "note", "place": null, "note": "{entry}.{restores or version}"}}'
                )
                values = [entry, version, content, standing, change, at, f"said {entry}", restores]
                marks = ", ".join("?" * len(values))
                db.execute(f"INSERT INTO entry_version VALUES ({marks})", values)
            db.execute("INSERT INTO doubt VALUES (1, 1, 0, 'which?')")
    return folder


def test_everything_in_it_stays_as_it_was(older: Path) -> None:
    with Book.open(older) as book:
        assert book._rows("PRAGMA foreign_key_check") == []
        assert book._rows("PRAGMA foreign_keys") == [{"foreign_keys": 1}]
        versions = [version for id in range(1, 6) for version in book.versions(id)]
        assert sorted((v.id, v.version, v.standing, v.change) for v in versions) == sorted(
            row[:4] for row in VERSIONS
        )
        assert {version.at.isoformat(timespec="microseconds") for version in versions} == {SAID}
        assert book.versions(1)[0].doubts == ("which?",)
        assert book.entry(3).looked_at is False
        assert closed.closings(book) == ()


def test_what_was_heard_then_was_put_to_nobody_and_its_loudness_is_not_known(older: Path) -> None:
    with Book.open(older) as book:
        heard = book.utterance(1).utterance
    assert (heard.scored, heard.level, heard.noise) == ((), None, None)


def test_its_decisions_are_steps_in_the_order_in_which_they_were_taken(older: Path) -> None:
    with Book.open(older) as book:
        found = steps.steps(book, JOB.name)
    assert [(step.who, step.what, step.entries, step.state) for step in found] == [
        ("you, aloud", "corrected: said 1", (1,), "done"),
        ("you", "accepted: said 1", (1,), "done"),
        ("you", "typed: said 2", (2, 3), "done"),
        ("you", "corrected: said 2", (2, 4), "done"),
        ("you", "corrected: said 3", (3, 5), "forgotten"),
    ]


def test_its_decisions_can_be_undone_to_the_first_and_redone(older: Path) -> None:
    with Book.open(older) as book:
        was = [book.entry(id).entry for id in range(1, 6)]
        for _ in range(3):
            steps.undo_last(book, JOB.name)
        assert [book.entry(id).standing for id in range(1, 6)] == ["heard"] + ["dropped"] * 4
        with pytest.raises(BookError, match="nothing to undo"):
            steps.undo_last(book, JOB.name)
        assert decisions.undo(book, 1).doubts == ("which?",)
        decisions.redo(book, 1)
        for _ in range(3):
            steps.redo_last(book, JOB.name)
        assert [book.entry(id).entry for id in range(1, 6)] == was


def test_its_versions_still_cannot_be_overwritten(older: Path) -> None:
    with Book.open(older) as book:
        for statement in ("UPDATE entry_version SET said = ''", "DELETE FROM entry_version"):
            with pytest.raises(BookError, match="a version is never"), book._writing():
                book._db.execute(statement)


def test_a_migration_that_is_cut_off_leaves_the_book_of_the_third_version(
    older: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut_off(db: object) -> None:
        schema.schema_of_steps.steps(db)  # type: ignore[arg-type]
        raise KeyboardInterrupt

    with monkeypatch.context() as stopping, pytest.raises(KeyboardInterrupt):
        stopping.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS[:3], cut_off))
        Book.open(older)
    with monkeypatch.context() as third:
        third.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:3])
        db = schema.database(older / "book.sqlite")
        tables = {row["name"] for row in db.query("SELECT name FROM sqlite_master")}
        assert "step" not in tables
        db.close()
    with Book.open(older) as book:
        assert len(steps.steps(book, JOB.name)) == 5
