"""joblog watch: what lands in a folder is taken in by itself."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.options import FILE, job_options
from joblog.cli.printing import complain, say_which
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Place
    from joblog.service.watching import News


@click.command()
@click.argument("folders", nargs=-1, required=True, type=FILE)
@click.option(
    "--settle",
    type=click.FloatRange(0.1, 3600),
    default=5.0,
    show_default=True,
    metavar="SECONDS",
    help="A file is taken in when it has not changed for so long.",
)
@click.option("--poll", is_flag=True, help="Ask the disk; for network folders, which do not tell.")
@click.option("--once", is_flag=True, help="Take in what lies there, and end.")
@click.option("--model", type=FILE, help="Another Vosk model folder.")
@job_options
def watch(
    folders: Sequence[Path],
    settle: float,
    poll: bool,
    once: bool,
    model: Path | None,
    place: Place,
    job: str | None,
) -> int:
    """Take in recordings and photos by themselves, as they land in FOLDERS. Ctrl-C ends it."""
    from joblog.service import desk_at, watching
    from joblog.service.taking_in import days_of

    complaints = 0

    def tell(news: News) -> None:
        nonlocal complaints
        line = f"{news.what}: {news.why}" if news.why else f"{news.kind}: {news.what}"
        if news.kind in ("problem", "waiting"):
            complaints += 1
            complain(line)
        else:
            click.echo(plain(line))

    with desk_at(place, job, days_of(folders) if once else frozenset()) as desk:
        say_which(desk)
        if not once:
            click.echo(f"watching for {plain(desk.job.name)}; Ctrl-C ends it")
        taken = watching.watch(desk, folders, tell, still=settle, poll=poll, once=once, model=model)
    click.echo(f"{taken} recordings and photos taken in")
    return 1 if once and complaints else 0
