"""What the record does not say or says in two ways, and what would settle it."""

from __future__ import annotations

from textual.content import Content

from joblog.form import plain, units_of
from joblog.model import Gap, Reconciliation
from joblog.report.figures import money_shown
from joblog.report.words import SETTLED_BY
from joblog.service.filling_in import missing_of
from joblog_tui.columns import in_columns
from joblog_tui.squared_row import SquaredRow
from joblog_tui.wording import in_doubt


def missing(squared: Reconciliation, width: int = 78) -> tuple[SquaredRow, ...]:
    """The one count that settles most, what cannot all be true, and all else that is missing."""
    wrong = [gap for gap in squared.gaps if gap.contradiction]
    rest = [gap for gap in squared.gaps if not gap.contradiction]
    return (
        *_lines("one count would settle most", _one_count(squared.gaps), squared, width),
        *_lines("cannot all be true", wrong, squared, width),
        *_lines("missing", rest, squared, width),
    )


def _one_count(gaps: tuple[Gap, ...]) -> list[Gap]:
    """The first that a count settles: gaps come with those first that settle most."""
    return [gap for gap in gaps if gap.settled_by == "count" and gap.width is not None][:1]


def _lines(title: str, gaps: list[Gap], squared: Reconciliation, width: int) -> list[SquaredRow]:
    names = [plain(gap.text) for gap in gaps]
    rows = [(_wide(gap), _worth(gap)) for gap in gaps]
    heads, shown = in_columns(title, ("how much", "worth"), names, rows, width)
    return [
        SquaredRow(
            heads,
            text,
            _meaning(gap),
            gap.entries,
            doubtful=gap.contradiction,
            missing=missing_of(gap, squared),
        )
        for text, gap in zip(shown, gaps, strict=True)
    ]


def _wide(gap: Gap) -> str:
    return "-" if gap.width is None else units_of(gap.width, plain(gap.unit), gap.name)


def _worth(gap: Gap) -> str:
    return "-" if gap.money is None else money_shown(gap.money)


def _meaning(gap: Gap) -> Content:
    open_ = "" if gap.width is None else f"{units_of(gap.width, plain(gap.unit), gap.name)} open"
    worth = "" if gap.money is None else f", worth {money_shown(gap.money)}"
    wrong = [in_doubt("These entries cannot all be true.")] if gap.contradiction else []
    return Content("\n").join(
        [
            Content.styled(plain(gap.text), "bold"),
            *wrong,
            Content(f"Settled by {SETTLED_BY[gap.settled_by]}."),
            *([Content(f"{open_}{worth}.")] if open_ else []),
        ]
    )
