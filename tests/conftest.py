"""What holds for every test: none depends on how fast the machine is, nor on its country."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from joblog.book import arriving, intake, making, owner, schema
from joblog.ordering import stock_cuts
from tests.in_process import Here

# Days, times and money are written as in the United States, whatever the machine's own locale is.
os.environ["LC_ALL"] = "en_US.UTF-8"

settings.register_profile(
    "joblog",
    deadline=None,
    # The one health check that goes by the clock.
    suppress_health_check=[HealthCheck.too_slow],
    # Where nobody is there to look at a new counter-example, the same examples each time.
    derandomize="CI" in os.environ,
    # There they are the same each time, and half as many tell as much; at home they differ.
    max_examples=50 if "CI" in os.environ else 100,
    print_blob=True,
)
# On versions other than a developer's, where it is theirs that are looked at.
settings.register_profile("other-versions", settings.get_profile("joblog"), max_examples=10)
settings.load_profile("joblog")


@pytest.fixture(autouse=True, scope="session")
def _an_empty_book_is_made_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The file of a new book is a copy of the first one that was made: to make it costs as much as
    many a test. Where its making is what is tested, the test asks for `made_anew`."""
    first: dict[tuple[Callable[..., None], ...], Path] = {}
    folder = tmp_path_factory.mktemp("empty books")

    def database(path: Path, *, new: bool = False) -> Any:
        if not new:
            return schema.database(path)
        shutil.copyfile(first.get(schema.MIGRATIONS) or made(), path)
        return sqlite3.connect(path)

    def made() -> Path:
        file = folder / f"{os.getpid()} {len(first)}"  # Some tests fork.
        schema.database(file, new=True).close()
        first[schema.MIGRATIONS] = file
        return file

    made()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(making, "database", database)
        yield


@pytest.fixture
def made_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    """A new book is made as a person's is, step by step."""
    monkeypatch.setattr(making, "database", schema.database)


@pytest.fixture(autouse=True)
def _no_book_was_closed_to_others(monkeypatch: pytest.MonkeyPatch) -> None:
    """A test that opens an older book leaves nothing for the next command to tell."""
    monkeypatch.setattr(owner, "closed", [])


@pytest.fixture
def heard_here(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is taken in is read and heard in this process."""
    for room in (intake, arriving):
        monkeypatch.setattr(room, "Pool", Here)


@pytest.fixture(autouse=True, scope="session")
def _the_same_sticks_are_cut_once() -> Iterator[None]:
    """An order asks again for the plan that the order of another test asked for; it is the same
    each time, which the tests of cutting itself see to."""
    plan, known = stock_cuts._plan, {}

    def once(*asked: Any) -> Any:
        key = repr(asked)
        if key not in known:
            known[key] = plan(*asked)
        return known[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(stock_cuts, "_plan", once)
        yield
