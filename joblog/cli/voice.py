"""joblog voice: what was learned of whose voice it is, and how much it asks."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from joblog.cli.once import once
from joblog.cli.options import FILE, book_option, json_option
from joblog.cli.printing import print_json
from joblog.form import plain

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from joblog.service import Place


@click.group(invoke_without_command=True)
@click.option(
    "--promise",
    "wanted",
    metavar="SHARE",
    help="How many entries may be wrong without a question: 1/200.",
)
@book_option
@json_option
@click.pass_context
def voice(context: click.Context, wanted: str | None, place: Place, as_json: bool) -> None:
    """Show what it has learned of your voice, and how much it asks.

    It learns from what you accept, correct and drop. All of it stays in your book.
    """
    if context.invoked_subcommand is not None:
        if wanted is not None or as_json:
            raise click.UsageError("--promise and --json go without a further command")
        return
    if wanted is None:
        _show(place, as_json)
    else:
        _promise_and_show(place=place, wanted=wanted, as_json=as_json)


@once()
def _promise_and_show(place: Place, wanted: str, as_json: bool) -> None:
    from joblog.service import opened
    from joblog.service import voice as service

    with opened(place) as book:
        service.promise(book, wanted)
    _show(place, as_json)


def _show(place: Place, as_json: bool) -> None:
    from joblog.service import opened
    from joblog.service import voice as service

    with opened(place) as book:
        known = service.voice_in(book)
    if as_json:
        print_json(known)
        return
    for line in _lines(known):
        click.echo(line)


@voice.command()
def card() -> None:
    """Print the lines to read aloud, two minutes of them; then joblog voice hear FILE."""
    from joblog.service.voice import card_lines

    click.echo("Record this on the device that you use, as you talk at work, and count silently to")
    click.echo("two after each line. A line that went wrong: go on with the next one.")
    for line in card_lines():
        click.echo(f"  {line}")


@voice.command()
@click.argument("file", type=FILE)
@book_option
@once()
def hear(file: Path, place: Place) -> None:
    """Learn from FILE, a recording of the card read aloud."""
    from joblog.service import opened
    from joblog.service import voice as service

    with opened(place) as book:
        heard = service.hear_card(book, file)
    click.echo(f"{heard.right} lines heard right, {len(heard.wrong)} wrong")
    for line, words in heard.wrong:
        click.echo(f"  {line}\n    heard: {plain(words)}")
    if heard.missing:
        click.echo(f"not found in it: {'; '.join(heard.missing)}")


@voice.command()
@book_option
@once()
def forget(place: Place) -> None:
    """Forget what was learned of your voice. The history of the jobs stays as it is."""
    from joblog.service import opened
    from joblog.service import voice as service

    with opened(place) as book:
        service.forget(book)
    click.echo("forgotten; it asks again as it would ask anybody")


def _lines(known: Any) -> Iterator[str]:
    if not known.decisions:
        yield "nothing of your voice is known yet: it asks as it would ask anybody"
        yield f"promise: {_promise(known.promise)}"
        yield "to begin with, read two minutes aloud: joblog voice card"
        return
    yield f"{known.decisions} decisions of yours count, the last ones"
    asks, before = known.asks, known.asked_before
    yield (
        f"asks about {asks.share:.0%} of entries ({asks.low:.0%} to {asks.high:.0%});"
        f" anybody else it would ask about {before.share:.0%} of these"
    )
    silent = known.silent
    yield f"promise: {_promise(known.promise)}"
    yield (
        f"  so far {silent.found} of {silent.count} as far as you found"
        f" ({silent.low:.1%} to {silent.high:.1%} with 95 %): {_kept(known)}"
    )
    yield (
        f"  it rests on your own decisions for {known.own:.0%}"
        + ("" if known.own == 1 else "; strangers' voices stand in for the rest")
    )
    for heard, said, often in known.mixed_up[:5]:
        times = "once" if often == 1 else f"{often} times"
        yield f'heard "{plain(heard)}" where you said "{plain(said)}": {times}'


def _promise(share: Fraction) -> str:
    said = f"1 in {1 / share}" if share.numerator == 1 else f"{float(share):.2%}"
    return f"at most {said} wrong without a question"


def _kept(known: Any) -> str:
    promise = float(known.promise)
    if known.silent.low > promise:
        return "not kept"
    if known.silent.high <= promise:
        return "kept"
    so_far = "kept" if known.silent.share <= promise else "more than promised"
    return f"{so_far} so far, too few to be sure"
