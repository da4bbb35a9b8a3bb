"""joblog fence and site: where the job is, and a sketch of it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.completing import names
from joblog.cli.once import once
from joblog.cli.options import DAY, FILE, date_of, job_options, json_option
from joblog.cli.printing import print_json, say_which, width, write_file
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.model import Fence
    from joblog.service import Desk, Place


@click.command()
@click.option("--at", "at", metavar='"LAT LON"', help="Set its middle, in degrees: 41.52 -70.66.")
@click.option("--radius", type=float, metavar="METRES", help="Set how far it reaches. [100]")
@click.option("--learned", is_flag=True, help="Learn it from the job's photos again.")
@job_options
@json_option
@once()
def fence(
    at: str | None,
    radius: float | None,
    learned: bool,
    place: Place,
    job: str | None,
    as_json: bool,
) -> None:
    """Show or set the ground that the job is on.

    A photo that was taken outside of it is told when it comes in, and in joblog photos, with the
    job that it fits; it is never moved by itself.
    """
    from joblog.service import desk_at, ground

    if learned and (at or radius):
        raise click.UsageError("say --learned, or where it is, not both")
    with desk_at(place, job) as desk:
        say_which(desk)
        if learned:
            found = ground.learn_fence(desk)
        elif at or radius:
            found = _set(desk, at, radius)
        else:
            found = ground.fence(desk)
        places = ground.places(desk)
        if as_json:
            print_json({"fence": found, "places": places})
            return
        click.echo(f"{plain(desk.job.name)}: {_line(found)}")
        for name, lies in places.items():
            error = f" within {lies.error:.0f} m" if lies.error is not None else ""
            click.echo(f"  {plain(name)}: {lies.latitude:.5f} {lies.longitude:.5f}{error}")


def _set(desk: Desk, at: str | None, radius: float | None) -> Fence:
    from joblog.service import ground

    if at is None:
        before = ground.fence(desk)
        if before is None:
            raise click.UsageError("say where its middle is as well, with --at")
        return ground.set_fence(desk, before.latitude, before.longitude, radius or 0)
    try:
        latitude, longitude = map(float, at.replace(",", " ").split())
    except ValueError:
        raise click.BadParameter(f'{at!r} is no place; write --at "41.52 -70.66"') from None
    return ground.set_fence(
        desk, latitude, longitude, ground.USUAL_RADIUS if radius is None else radius
    )


def _line(found: Fence | None) -> str:
    if found is None:
        return "no fence yet; it is learned from four photos with a position, or set with --at"
    where = f"{found.latitude:.5f} {found.longitude:.5f}"
    return f"fence of {found.radius:.0f} m around {where}, {found.source}"


@click.command()
@click.argument(
    "day",
    required=False,
    type=DAY,
    shell_complete=names("days"),
)
@click.option("--svg", type=FILE, metavar="FILE", help="Draw it into this file, to be printed.")
@job_options
@json_option
def site(
    day: datetime | None, svg: Path | None, place: Place, job: str | None, as_json: bool
) -> None:
    """Sketch where the photos of the job, or of one DAY, were taken, and where its places lie.

    In metres and without any map. A drawing holds the names and times of photos, and no picture.
    """
    from joblog.report.sketch import as_sketch, as_svg
    from joblog.service import desk_at, ground

    wanted = date_of(day)
    with desk_at(place, job, frozenset([wanted] if wanted else [])) as desk:
        say_which(desk)
        drawn = ground.sketch(desk, wanted)
        if as_json:
            print_json(drawn)
        elif drawn is None:
            click.echo(f"{plain(desk.job.name)}: no photo tells where it was taken")
        elif svg is None:
            click.echo(as_sketch(drawn, width()))
        else:
            write_file(svg, as_svg(drawn, f"{desk.job.name}, {wanted or 'all days'}"))
            click.echo(f"{svg}: written")
