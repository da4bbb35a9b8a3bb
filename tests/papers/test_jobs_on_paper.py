"""All closed jobs on paper: the drawing holds its points, the tables add up, names are text."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from joblog.bid.over_jobs import COMPARED, groups_of, trend
from joblog.model import JobResult, OverJobs
from joblog.papers.blocks import Box, Drawing, Line, Table, Text, Warning
from joblog.papers.html import as_html
from joblog.papers.over_jobs import BOTTOM, LEFT, RIGHT, TOP, drawing_of, jobs_paper
from joblog.papers.pdf import as_pdf
from joblog.report.over_jobs import course_of

BAD = "<img src=x onerror=alert(1)>"


def job(at: int, earned: str | None, **more: object) -> JobResult:
    made = JobResult(
        date(2026, 1, 5) + timedelta(days=10 * at),
        f"job {at}",
        "Hale",
        "winter",
        2,
        charged=Decimal("1000.00"),
        earned=None if earned is None else Decimal(earned),
        hours=Fraction(10),
        hours_bid=Fraction(8),
    )
    return replace(made, **more)  # type: ignore[arg-type]


def over(*results: JobResult) -> OverJobs:
    trends = tuple(trend(name, results) for name in COMPARED)
    return OverJobs(results, groups_of(results), trends, (("Shed", "not closed"),))


def test_points_stand_by_their_day_and_their_height() -> None:
    # 40, 20 and 0 an hour, ten days apart: the top, the middle and the foot of the field.
    drawing = drawing_of(
        course_of(over(job(0, "400"), job(1, "200"), job(2, "0")), "earned_an_hour")
    )
    dots = [shape for shape in drawing.shapes if isinstance(shape, Box)]
    middles = [(dot.x + dot.width / 2, dot.y + dot.height / 2) for dot in dots]
    assert [y for _, y in middles] == pytest.approx([TOP, (TOP + BOTTOM) / 2, BOTTOM], abs=0.1)
    xs = [x for x, _ in middles]
    assert xs[1] - xs[0] == pytest.approx(xs[2] - xs[1], abs=0.2)
    assert drawing.alt == (
        "earned an hour, job by job: Jan 5, 2026 40.00; Jan 15, 2026 20.00; Jan 25, 2026 0.00"
    )


def test_a_trend_is_a_dashed_line_and_without_one_there_is_none() -> None:
    def dashed(drawing: Drawing) -> list[Line]:
        return [one for one in drawing.shapes if isinstance(one, Line) and one.dashed]

    falling = [job(at, str(400 - 20 * at)) for at in range(9)]
    assert len(dashed(drawing_of(course_of(over(*falling), "earned_an_hour")))) == 1
    assert dashed(drawing_of(course_of(over(*falling[:3]), "earned_an_hour"))) == []


@given(st.lists(st.decimals(-9999, 9999, places=2), min_size=1, max_size=20))
@settings(deadline=None)
def test_whatever_was_earned_stays_in_the_field(amounts: list[Decimal]) -> None:
    results = [job(at, str(amount)) for at, amount in enumerate(amounts)]
    for shape in drawing_of(course_of(over(*results), "earned_an_hour")).shapes:
        if isinstance(shape, Box):
            assert LEFT - 1 <= shape.x <= RIGHT and TOP - 4 <= shape.y <= BOTTOM + 1
        elif isinstance(shape, Line):
            assert TOP - 1 <= min(shape.y1, shape.y2) <= max(shape.y1, shape.y2) <= BOTTOM + 1


def test_what_is_not_known_is_a_question_mark_with_its_reason_and_no_nought() -> None:
    silent = job(1, None, job="Barn", lacks=(("earned", "nobody counted fascia"),))
    paper = jobs_paper(over(job(0, "400"), silent))
    [table] = [
        block for block in paper.blocks
        if isinstance(block, Table) and block.caption.startswith("Charged")
    ]  # fmt: skip
    earned = table.headings.index("earned")
    # The sum is of one of the two jobs, and says so.
    assert [row[earned] for row in table.rows] == ["400.00", "?", "400.00 (1)"]
    told = [block.text for block in paper.blocks if isinstance(block, Text | Warning)]
    assert "not known of Barn: earned: nobody counted fascia" in told
    assert "Not among them: Shed: not closed." in told


def test_names_of_jobs_are_text_in_html_and_pdf() -> None:
    found = over(job(0, "400", job=BAD, house=BAD), job(1, "300"))
    html = as_html(jobs_paper(found))
    assert "<img src=x" not in html
    assert "&lt;img src=x onerror=alert(1)&gt;" in html
    pages = PdfReader(BytesIO(as_pdf(jobs_paper(found), "letter"))).pages
    text = "".join(page.extract_text() for page in pages)
    assert "onerror=alert(1)" in text
    assert "What the jobs earned" in text
