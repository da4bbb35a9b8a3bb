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
@click.option("--accept", is_flag=True, help="Take damaged lines as they now read, for good.")
@book_option
@json_option
def check(accept: bool, place: Place, as_json: bool) -> int:
    """Look whether every line and every original in the book is as it was written."""
    from joblog.service import checking, opened

    with opened(place) as book:
        for damage in checking.accept_damage(book) if accept else ():
            complain(f"{damage.what}: taken as it now reads")
        found = checking.check(book)
    if as_json:
        print_json(found)
    elif not found:
        click.echo("everything in the book is as it was written")
    return tell_damage(found)


@click.command()
@click.argument("target", type=FILE)
@book_option
def copy(target: Path, place: Place) -> int:
    """Copy the whole book into the new folder TARGET, safely even while it is in use."""
    from joblog.service import checking, opened

    with opened(place) as book:
        found = checking.copy_book(book, target)
    click.echo(f"copied to {plain(str(target))}")
    return tell_damage(found)
