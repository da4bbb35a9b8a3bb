"""Tables with slips in them against a strict reader that shares no code with the program."""

from pathlib import Path
from random import Random

import pytest

from tests.bench.tables import strict
from tests.bench.tables.__main__ import one
from tests.bench.tables.held import comparable
from tests.bench.tables.kinds import KINDS, Kind
from tests.bench.tables.written import table_of

TABLES = 60


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_no_table_with_a_slip_gives_a_wrong_row_without_a_word(kind: Kind, tmp_path: Path) -> None:
    wrong = [
        (outcome.table.done, outcome.found, outcome.why)
        for number in range(TABLES)
        if (outcome := one(kind, Random(f"{kind.name} {number}"), tmp_path)).verdict
        in ("WRONG", "TRACE")
    ]
    assert not wrong


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_the_strict_reader_reads_a_table_without_slips_as_it_was_meant(kind: Kind) -> None:
    for number in range(TABLES):
        table = table_of(kind, Random(f"{kind.name} {number}"))
        found, _ = table.bytes()
        assert comparable(kind.name, strict.read(found, kind)) == comparable(kind.name, table.rows)
