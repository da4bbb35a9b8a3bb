"""joblog check and copy: is the book as it was written?"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.options import FILE, book_option, json_option
from joblog.cli.printing import complain, print_json, tell_damage
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Place


@click.command()
@click.option("--mend", is_flag=True, help="Put back all that can be had again.")
@click.option(
    "--from",
    "files",
    type=FILE,
    multiple=True,
    help="A good original, a folder of them, or a backup, to mend from.",
)
@click.option("--accept", is_flag=True, help="Take damaged lines as they now read, for good.")
@book_option
@json_option
def check(mend: bool, files: tuple[Path, ...], accept: bool, place: Place, as_json: bool) -> int:
    """Look whether every line and every original in the book is as it was written."""
    from joblog.service import checking, opened

    with opened(place) as book:
        if mend or files:
            checking.mend(book, files, lambda one: complain(f"{one.what}: mended from {one.how}"))
        for damage in checking.accept_damage(book) if accept else ():
            complain(f"{damage.what}: taken as it now reads")
        found = checking.look_at_all(book)
    if as_json:
        print_json(found.damage)
    elif not found.damage:
        click.echo("everything in the book is as it was written")
    if not as_json:
        click.echo(f"all of it was looked at just now, and before that: {found.since}")
    for note in found.notes:
        complain(note)
    status = tell_damage(found.damage)
    again = sum(bool(one.again) for one in found.damage)
    if again:
        complain(f"{again} of {len(found.damage)} can be had again: joblog check --mend")
    return status


@click.command()
@click.argument("target", type=FILE)
@book_option
def copy(target: Path, place: Place) -> int:
    """Copy the whole book into the new folder TARGET, safely even while it is in use."""
    from joblog.service import checking, opened

    with opened(place) as book:
        if checking.is_copied(book, target):
            click.echo(f"copied already: the book in {plain(str(target))} is the same as this one")
            return 0
        found = checking.copy_book(book, target)
    click.echo(f"copied to {plain(str(target))}")
    return tell_damage(found)
