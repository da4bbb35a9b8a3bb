"""joblog house: the house of a job, side by side."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.once import once
from joblog.cli.options import FILE, csv_option, job_options, json_option
from joblog.cli.printing import complain, print_table, report_problems, say_which, width, write_file
from joblog.cli.tables import settled, table_options, to_mend_first

if TYPE_CHECKING:
    from joblog.service import Place
    from joblog.sheet import Reading


@click.command()
@click.argument("file", required=False, type=FILE)
@click.option(
    "--measured", is_flag=True, help="Take it from the walk around the house that was told aloud."
)
@table_options
@click.option("--sides", is_flag=True, help="Each side as it is seen from outside, too.")
@click.option("--svg", type=FILE, metavar="FILE", help="Draw all of it into this file.")
@job_options
@json_option
@csv_option
@once("svg")
def house(
    file: Path | None,
    measured: bool,
    reading: Reading,
    sides: bool,
    svg: Path | None,
    place: Place,
    job: str | None,
    as_json: bool,
    as_csv: bool,
) -> int:
    """Describe the house of a job in a table, or show it as it stands.

    FILE is a spreadsheet with a row for each side in the order of a walk around the house, with
    the house at the right hand, and behind it what is in it. What --csv prints can be taken in
    again.

    \b
    what,name,length,height,top,corner,depth,pitch,at,sill,count,gutter
    side,front,42 ft,9 ft,eave,outside,12,,,,,yes
    window,kitchen,3 ft,4 ft,,,,,6 ft,3 ft,2,
    side,left,28 ft,9 ft,gable,outside,12,6/12,,,,
    interrupted,chimney,4 ft,,,,,,10 ft,,,
    \b
    With --measured it is made of what was told on a walk around it: "front eave forty two feet,
    outside corner, left side twenty eight, gable, outside corner".

    \b
    top is eave, gable or open; corner, behind the side, is outside, inside, straight or end.
    joblog takeoff --house, joblog order --house and joblog bid --house go on from there.
    """
    from joblog.papers.house import house_paper
    from joblog.papers.html import as_svg
    from joblog.report.drawn import as_text
    from joblog.report.house import house_list, house_table
    from joblog.service import desk_at
    from joblog.service.house import (
        be_sure_of_house,
        house_of,
        take_in_house,
        take_in_told_house,
    )

    with desk_at(place, job) as desk:
        say_which(desk)
        if file and measured:
            raise click.UsageError("name a table, or say --measured, not both")
        if measured:
            found = take_in_told_house(desk, sure=reading.sure)
        elif file:
            found = take_in_house(desk, file, settled(place, "house", file, reading))
        else:
            found = be_sure_of_house(desk) if reading.sure else house_of(desk)
        if found.changed:
            complain(f"{desk.job.name}: the house is kept; joblog undo takes it back")
        elif found.kept and (file or measured):
            complain(f"{desk.job.name}: the house is as it was")
        table = house_table(found.house) if as_csv else house_list(found.house)
        if drawn := "" if as_json or as_csv else as_text(found.house, width(), elevations=sides):
            click.echo(f"{drawn}\n")
        if as_json or as_csv or table.rows:
            print_table(table, found.house, as_json, as_csv)
        if svg is not None:
            write_file(svg, as_svg(house_paper(desk.job, found.house)))
            complain(f"{svg}: written")
        for note in found.notes:
            complain(note)
        if not found.kept:
            return to_mend_first("The house was not kept", found.problems)
        return report_problems(found.problems)
