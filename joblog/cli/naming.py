"""The question what a planned name is in the catalog, asked once, with a digit for each answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from joblog.cli.printing import complain_of, somebody_is_there
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Desk, Place


def tell_names(desk: Desk) -> None:
    """Says of every name that may be one of the catalog's what that means and what settles it;
    where somebody is there to answer, `ask_names` is going to."""
    from joblog.service.naming import told_of_names

    if not somebody_is_there():
        complain_of(told_of_names(desk))


def ask_names(place: Place, job: str | None) -> None:
    """Asks what each name is that may be one of the catalog's, where somebody is there to answer;
    then says of every one that is still open what that means and what settles it."""
    if not somebody_is_there():
        return
    from joblog.service import desk_at
    from joblog.service.naming import settle_name, told_of_names, unsettled_names

    with desk_at(place, job) as desk:
        for one in unsettled_names(desk):
            item = _asked(one.name, [item.name for item in one.likely])
            if item is not None:
                complain_of(settle_name(desk, one.name, item or None))
        complain_of(told_of_names(desk))


def _asked(name: str, likely: list[str]) -> str | None:
    """The item that was chosen, "" for none of them, None where it was left open."""
    click.echo(f"\n{plain(name)}: which of your catalog is it?", err=True)
    for digit, item in enumerate(likely, 1):
        click.echo(f"  {digit}  {plain(item)}", err=True)
    click.echo("  0  none of these; it is a thing of its own", err=True)
    while True:
        answer = click.prompt(
            "a digit, or Enter to leave it open", default="", show_default=False, err=True
        ).strip()
        if not answer:
            return None
        if answer == "0":
            return ""
        if answer.isdecimal() and 1 <= int(answer) <= len(likely):
            return likely[int(answer) - 1]
        click.echo(f"{plain(answer)} is none of these digits.", err=True)
