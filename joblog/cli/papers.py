"""joblog paper: what a job has to show, as a page for the browser and as PDF."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from joblog.cli.options import FILE, day_option, job_options
from joblog.cli.printing import complain, say_which
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Place
    from joblog.service.papers import Kind

_SIZES = {"letter": True, "a4": False}


@click.command()
@click.argument("kind", type=click.Choice(("day", "job", "close-out", "covered", "house", "jobs")))
@day_option
@click.option("--pdf", type=FILE, help="Write it as PDF there.")
@click.option("--html", type=FILE, help="Write it as one page for a browser there.")
@click.option("--hand-out", is_flag=True, help="A copy without prices, costs, hours and doubts.")
@click.option("--positions", is_flag=True, help="With where the photos were taken.")
@click.option(
    "--size",
    type=click.Choice(tuple(_SIZES), case_sensitive=False),
    help="Of the PDF's pages. Else as your country has it.",
)
@click.option("--over", is_flag=True, help="Write over a file that is there already.")
@job_options
def paper(
    kind: str,
    day: date | None,
    pdf: Path | None,
    html: Path | None,
    hand_out: bool,
    positions: bool,
    size: str | None,
    over: bool,
    place: Place,
    job: str | None,
) -> None:
    """Write a paper: the sheet of a day, the book of the job, its close-out, the covered work.

    \b
    joblog paper day --day yesterday         one day: hours, what was told, photos
    joblog paper job --pdf book.pdf          all days, covered work, problems, lists
    joblog paper close-out                   planned against actual, and why
    joblog paper covered --hand-out          for the inspector or the owner
    joblog paper house                       plan and sides of the house, to scale
    joblog paper jobs                        what all closed jobs earned, and where it goes

    It becomes a PDF in this folder unless --pdf or --html names another file. Photos are small
    copies without anything that the camera wrote into them.
    """
    from joblog.papers.record import Copy
    from joblog.service import desk_at
    from joblog.service.papers import file_name, paper_of, write_paper
    from joblog.service.record import day_named

    wanted = cast("Kind", kind)
    with desk_at(place, job, frozenset([day] if day else [])) as desk:
        say_which(desk)
        of_day = day_named(desk, day) if kind == "day" else day
        copy = Copy(hand_out, positions)
        files = [file for file in (pdf, html) if file is not None]
        if not files:
            files = [Path(file_name(desk, wanted, of_day, "pdf", copy))]
        _fitting(pdf, html)
        made = paper_of(desk, wanted, of_day, copy, _progress)
        if hand_out:
            complain(
                "notes and names stand in it as they were said; read it before you hand it out"
            )
        for file in files:
            letter = None if size is None else _SIZES[size]
            bytes_written = write_paper(made, file, over=over, letter=letter)
            click.echo(f"{plain(str(file))}: written, {_large(bytes_written)}")


def _fitting(pdf: Path | None, html: Path | None) -> None:
    """Raises UsageError where a name says that it is the other kind of file."""
    if pdf is not None and pdf.suffix.lower() != ".pdf":
        raise click.UsageError(f"--pdf writes a PDF; {plain(str(pdf))} does not end in .pdf")
    if html is not None and html.suffix.lower() == ".pdf":
        raise click.UsageError(f"--html writes a page; {plain(str(html))} ends in .pdf")


_EVERY = 50


def _progress(done: int, of: int) -> None:
    if of > _EVERY and done % _EVERY == 0 and done < of:
        complain(f"{done} of {of} photos made small")


def _large(size: int) -> str:
    return f"{size / 1_000_000:.1f} MB" if size >= 1_000_000 else f"{max(1, size // 1000)} kB"
