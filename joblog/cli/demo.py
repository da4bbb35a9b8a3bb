"""joblog demo: the whole of it on an invented job."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from joblog.cli.counting import counting_along
from joblog.cli.looking import day_text, squared_text
from joblog.cli.options import FILE, json_option
from joblog.cli.printing import print_json, report_problems

if TYPE_CHECKING:
    from joblog.service import Desk

JOB = "Gull Point cottage"


@click.command()
@click.argument("folder", required=False, type=FILE)
@click.option("--no-ui", is_flag=True, help="Stop before the day review opens.")
@json_option
def demo(folder: Path | None, no_ui: bool, as_json: bool) -> int:
    """Take in an invented job, three days of it, and square it up.

    FOLDER is a new folder for the demo's book; a temporary one unless named.
    """
    import tempfile

    from joblog.service.showing import finished, shown
    from joblog.service.taking_in import take_in

    place = folder or Path(tempfile.mkdtemp(prefix="joblog-demo-"))
    files = _demo_files()
    with shown(place, JOB, "America/New_York", files / "plan.csv") as desk:
        if not as_json:
            click.echo(f"A demo job in {place}\n")
        with counting_along(not as_json) as progress:
            intake = take_in(desk, [files / "recordings", files / "photos"], progress=progress)
        if as_json:
            print_json(_everything(desk))
        else:
            _show(desk, place)
        status = report_problems(intake.problems)
        finished(desk.book)
        if not no_ui and not as_json and sys.stdin.isatty() and sys.stdout.isatty():
            from joblog.cli.review import open_review

            open_review(desk, None)
    return status


def _demo_files() -> Path:
    package = Path(__file__).parents[1]
    shipped = package / "demo_files"
    return shipped if shipped.is_dir() else package.parent / "fixtures" / "demo"


def _show(desk: Desk, folder: Path) -> None:
    from joblog.service.record import read_days

    for line in read_days(desk):
        click.echo(day_text(desk, line.day) + "\n")
    click.echo(squared_text(desk))
    click.echo(f"\nReview it with: joblog review --book {folder}   (all voices are synthetic)")


def _everything(desk: Desk) -> dict[str, Any]:
    from joblog.service import record

    return {
        "job": desk.job,
        "entries": record.read_entries(desk),
        "photos": record.photos(desk),
        "ties": record.ties(desk),
        "clocks": record.clocks(desk),
        "reconciliation": record.read_balance(desk),
    }
