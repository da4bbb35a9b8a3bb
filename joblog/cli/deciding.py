"""joblog undo, redo, history, move and withdraw: what was decided, and putting it otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from joblog.cli.options import csv_option, job_options, json_option
from joblog.cli.printing import print_table, say_which
from joblog.form import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from joblog.model import Step
    from joblog.service import Place


@click.command()
@job_options
def undo(place: Place, job: str | None) -> None:
    """Take back the last thing that was decided about the job."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        _tell("taken back", decide.undo(desk))


@click.command()
@job_options
def redo(place: Place, job: str | None) -> None:
    """Do again what was taken back last."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        _tell("done again", decide.redo(desk))


@click.command()
@job_options
@json_option
@csv_option
def history(place: Place, job: str | None, as_json: bool, as_csv: bool) -> None:
    """List everything that was decided about the job: when, by whom, what."""
    from joblog.report.sheets import step_list
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        found = decide.steps(desk)
        print_table(step_list(desk.job, found), found, as_json, as_csv)


@click.command()
@click.argument("name")
@click.option("--to", "other", required=True, metavar="JOB", help="The job it belongs to.")
@job_options
def move(name: str, other: str, place: Place, job: str | None) -> None:
    """Move the recording or photo called NAME to another job, with its entries and ties."""
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        decide.move_original(desk, decide.original_named(desk, name), other)
        click.echo(f"{plain(name)}: moved from {plain(desk.job.name)} to {plain(other)}")


@click.command()
@click.argument("name")
@click.option("--back", is_flag=True, help="Let it count again.")
@job_options
def withdraw(name: str, back: bool, place: Place, job: str | None) -> None:
    """Let the recording called NAME count no more, with all that was said in it.

    It stays in the book and can be read.
    """
    from joblog.service import decide, desk_at

    with desk_at(place, job) as desk:
        say_which(desk)
        found = decide.original_named(desk, name)
        recording = (decide.bring_back if back else decide.withdraw)(desk, found)
        click.echo(f"{plain(recording.name)}: {'counts again' if back else 'withdrawn'}")


def _tell(what: str, steps: Sequence[Step]) -> None:
    for step in steps:
        click.echo(f"{what}: {plain(step.what)}")


COMMANDS = (undo, redo, history, move, withdraw)
