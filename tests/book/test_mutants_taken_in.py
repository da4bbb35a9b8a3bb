"""Damaged files of every kind come in, or are refused in plain words, and cost nobody else.

A few of those of `tests.bench.mutants`, which takes in 200,000, and all that ever ended, hung or
swelled what read them: `misbehaved`.
"""

from __future__ import annotations

from pathlib import Path

from fake_ears import Says

from joblog.book import Book
from joblog.book.intake import take_in
from joblog.model import Job
from tests.audio import mutated_sounds
from tests.photos import mutants

JOB = Job("Gull Point cottage", "America/New_York")
MISBEHAVED = Path(__file__).parent / "misbehaved"


def files(folder: Path) -> Path:
    """Whole ones, damaged ones, and those that misbehaved."""
    folder.mkdir()
    for sort in (mutated_sounds, mutants):
        for name, content in sort.whole().items():
            (folder / name).write_bytes(content)
        for seed in range(10):
            name, content = sort.mutant(seed)
            (folder / f"{seed} {name}").write_bytes(content)
    for path in MISBEHAVED.iterdir():
        (folder / path.name).write_bytes(path.read_bytes())
    return folder


def test_damaged_files_cost_themselves_alone_and_whole_ones_come_in(tmp_path: Path) -> None:
    folder = files(tmp_path / "phone")
    with Book.create(tmp_path / "book") as book:
        book.add_job(JOB)
        result = take_in(book, JOB.name, [folder], recognizers=(Says(),), workers=1)
    came = result.recordings + result.photos + result.tracks + result.already_there
    passed_over = [note for note in result.notes if note.why.startswith("passed over")]
    assert came + len(passed_over) + len(result.problems) == len(list(folder.iterdir()))
    for problem in result.problems:
        assert problem.why.isprintable()
        assert "It was left out" not in problem.why, problem
        assert "could not be read (" not in problem.why, problem
    named = {Path(problem.what).name for problem in result.problems}
    assert named >= {path.name for path in MISBEHAVED.iterdir()}
    assert named.isdisjoint({*mutated_sounds.whole(), *mutants.whole()})


def test_a_mutant_is_the_same_every_time() -> None:
    once = [mutated_sounds.mutant(seed) for seed in range(20)]
    assert [mutated_sounds.mutant(seed) for seed in range(20)] == once
    assert len(set(once)) == 20
