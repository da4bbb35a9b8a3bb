"""joblog review: the screens."""

from __future__ import annotations

import gc
import sys
from datetime import date
from typing import TYPE_CHECKING

import click

from joblog.cli.options import day_option, job_options

if TYPE_CHECKING:
    from joblog.service import Desk, Place


@click.command()
@day_option
@job_options
def review(day: date | None, place: Place, job: str | None) -> None:
    """Go through the day on the terminal: settle doubts, correct, square up.

    Where there is no job yet it begins with a first one.
    """
    # Nothing of what is loaded for the screens is ever let go of: to look for garbage among it
    # is a sixth of the start. The screens begin to, once the first one stands.
    gc.disable()
    from joblog.service.start import started

    # The screen is drawn on standard error.
    if not all(stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise click.ClickException(
            "review needs a terminal, with keys to press and a screen to look at. "
            "Without one: joblog day, joblog entries, joblog squareup."
        )
    with started(place, job, frozenset([day] if day else [])) as start:
        if start.desk is None:
            begin_review(place)
        else:
            open_review(start.desk, day, sure=start.sure)


def open_review(desk: Desk, day: date | None, *, sure: bool = True) -> None:
    # The terminal interface stands on this package; it is only reached from here.
    from joblog_tui import app

    app.review(desk, day, sure=sure)


def begin_review(place: Place) -> None:
    from joblog_tui import app

    app.begin(place)
