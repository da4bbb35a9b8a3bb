"""Whether an extra was agreed, by what was said of it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from joblog.model import BesideLine
from joblog.reconcile.agreed import agreement


@pytest.mark.parametrize(
    ("told", "who", "words"),
    [
        ("gutter guards", None, "agreement not said"),
        ("gutter guards", "Mrs Hale", "asked for by Mrs Hale, agreement not said"),
        ("gutter guards, she agreed to 450 dollars", "Mrs Hale", "agreed: Mrs Hale"),
        ("new downspout 120 dollars owner said yes", None, "agreed, as it was told"),
        ("new downspout, okayed on the phone", "the owner", "agreed: the owner"),
        ("she has not agreed to the vents", "she", "not agreed yet: she"),
        ("vents, waiting for her to approve", None, "not agreed yet"),
        ("vents if the owner agrees", None, "not agreed yet"),
        ("paint the disagreeable door", None, "agreement not said"),
    ],
)
def test_who_agreed_is_as_it_was_said(told: str, who: str | None, words: str) -> None:
    line = BesideLine("extra", date(2026, 10, 5), told, Decimal("450"), who=who)
    assert agreement(line) == words
