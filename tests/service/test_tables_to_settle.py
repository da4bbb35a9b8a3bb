"""What a person may settle of a table by a yes, and how it is read afterwards."""

from __future__ import annotations

from pathlib import Path

from joblog.service import places
from joblog.service.tables import to_settle
from joblog.sheet import AS_IT_IS, Reading


def test_what_a_yes_settles_is_not_asked_again(tmp_path: Path) -> None:
    nowhere = places.Place(tmp_path / "nowhere", asked=False)
    table = tmp_path / "plan.csv"
    table.write_text("line,name,quantity,unit,price\nitem,fascia,4,stick,14.90\n")
    reading: Reading = AS_IT_IS
    asked = to_settle(nowhere, "plan", table, reading)
    assert [way.asks for question in asked for way in question.ways][:1] == [
        "Is 'price' the column cost?"
    ]
    reading = asked[0].ways[0].settle(reading)
    assert dict(reading.named) == {"price": "cost"}
    assert to_settle(nowhere, "plan", table, reading) == ()


def test_what_only_a_mended_table_can_settle_is_no_question(tmp_path: Path) -> None:
    nowhere = places.Place(tmp_path / "nowhere", asked=False)
    table = tmp_path / "plan.csv"
    table.write_text("line,name,quantity,unit\nitem,fascia,four,stick\n")
    assert to_settle(nowhere, "plan", table) == ()
