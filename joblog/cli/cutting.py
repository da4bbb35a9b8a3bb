"""joblog cuts: what to cut from which stick. Needs no job and no book."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from joblog.cli.completing import names
from joblog.cli.options import FILE, book_option, csv_option, json_option
from joblog.cli.printing import print_csv, print_json, width, write_file
from joblog.cli.tables import settled, table_options, without_what_was_refused
from joblog.sheet import refused

if TYPE_CHECKING:
    from joblog.service import Place
    from joblog.sheet import Reading


@click.command()
@click.option(
    "--from",
    "file",
    type=click.Path(path_type=Path, allow_dash=True),
    help="A spreadsheet with the columns length, pieces, label, and item if several. Without it, "
    "or with -, what is piped in.",
)
@click.option(
    "--stock",
    "stock",
    multiple=True,
    help='A stock length: 12\', "12\' x 10" for ten of it, "12\' @ 18.50" for its cost. May be '
    "repeated. Else the item's own, else 12'.",
)
@click.option(
    "--cutoff",
    "--offcut",
    "offcuts",
    multiple=True,
    help='On hand, used first: 63.5 or "63.5 x 2".',
)
@click.option("--kerf", help="What the blade takes. Else the item's own, else 1/8.")
@click.option("--useful", help="The shortest cutoff worth keeping. Else the item's own, else 24.")
@click.option("--lap", help="Pieces longer than any stock are runs of sticks that lap so much.")
@click.option("--two-up", is_flag=True, help="Two sticks are stacked and cut at once.")
@click.option("--item", help="Only the pieces of this item.", shell_complete=names("items"))
@click.option(
    "--was",
    type=FILE,
    help="An earlier list (JSON) that was begun: what was cut of it stays, the rest is new.",
)
@click.option("--done", type=int, default=0, help="Sticks of the earlier list that were cut.")
@click.option("--begun", type=int, default=0, help="Cuts made on the stick after those.")
@click.option(
    "--effort",
    type=click.FloatRange(0, 200),
    help="How much to search: 3 is three times the usual. Same list and effort, same plan.",
)
@click.option(
    "--seconds",
    type=click.FloatRange(0, 86_400, min_open=True),
    help="How long to search, for all items together; the plan may differ from machine to machine.",
)
@click.option("--html", type=FILE, help="Write a page for phone or printer.")
@table_options
@book_option
@json_option
@csv_option
def cuts(
    file: Path | None,
    reading: Reading,
    place: Place,
    html: Path | None,
    was: Path | None,
    as_json: bool,
    as_csv: bool,
    **wishes: Any,
) -> int:
    """List what to cut from which stick, with the least stock. Needs no job.

    \b
    joblog cuts --from pieces.csv --stock 12' --stock 16' --kerf 1/8 --cutoff 63.5
    joblog takeoff runs.csv --pieces | joblog cuts --two-up
    joblog cuts --from pieces.csv --json > cuts.json
    joblog cuts --from changed.csv --was cuts.json --done 3 --begun 2
    """
    from joblog.report.cut_sheet import cut_json, cut_page, cut_sheet, cut_table
    from joblog.service.planning import what_to_cut

    if file is None or str(file) == "-":
        plans, problems = what_to_cut(place, _piped_in(), was, reading, **wishes)
    else:
        asked = settled(place, "pieces", file, reading)
        plans, problems = what_to_cut(place, file, was, asked, **wishes)
    status = without_what_was_refused(problems)
    if html is not None:
        of = "" if file is None or str(file) == "-" else f" of {file.stem}"
        write_file(html, cut_page(plans, f"Cut list{of}"))
    if as_json:
        told = [{"what": problem.what, "why": problem.why} for problem in refused(problems)]
        print_json({"plans": [cut_json(plan) for plan in plans], "problems": told})
    elif as_csv:
        print_csv(cut_table(plans))
    else:
        click.echo(cut_sheet(plans, width()), nl=bool(plans))
    return status


def _piped_in() -> bytes:
    if sys.stdin.isatty():
        raise click.UsageError("name a FILE of pieces with --from, or pipe one in")
    return sys.stdin.buffer.read()
