"""joblog parse, hear and fetch-model: show what would be understood. Nothing is stored."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from joblog.cli.options import FILE, job_options, json_option
from joblog.cli.printing import print_json, report_problems
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Place


@click.command()
@click.argument("text")
@job_options
@json_option
def parse(text: str, place: Place, job: str | None, as_json: bool) -> None:
    """Show what TEXT would be read as. Stores nothing.

    The words of the job that is named or meant are known too.
    """
    from joblog.form import describe, reading_to_json
    from joblog.service.words import read_words, words_known

    reading, others = read_words(text, words_known(place, job))
    if as_json:
        print_json(reading_to_json(reading, others))
        return
    for entry in reading.entries:
        click.echo(describe(entry))
    for doubt in reading.doubts:
        click.echo(f"doubt about entry {doubt.entry + 1}: {plain(doubt.why)}")
    if reading.unread:
        click.echo(f"not read: {plain(reading.unread)}")
    for other in others:
        facts = "; ".join(describe(entry) for entry in other.reading.entries)
        click.echo(f"or: {facts}\n    {plain(other.why)}")


@click.command()
@click.argument("files", nargs=-1, required=True, type=FILE)
@click.option("--model", type=FILE, help="Another Vosk model folder.")
@click.option("--zone", help="Time zone of the recordings. Else this machine's.")
@job_options
@json_option
def hear(
    files: Sequence[Path],
    model: Path | None,
    zone: str | None,
    place: Place,
    job: str | None,
    as_json: bool,
) -> int:
    """Show what is heard in recordings, and read as what. Stores nothing."""
    from joblog.model import Problem
    from joblog.service import taking_in
    from joblog.service.words import words_known

    words = words_known(place, job)
    shown, problems = [], []
    for file, result in taking_in.hear(files, words, zone, model):
        if isinstance(result, Problem):
            problems.append(result)
            continue
        shown.append({"file": str(file), "recording": result.recording, "heard": result.heard})
        if not as_json:
            _show(file, result)
    if as_json:
        print_json(shown)
    return report_problems(problems)


def _show(file: Path, result: Any) -> None:
    from joblog.form import describe

    recording = result.recording
    trouble = f"  ({plain(recording.trouble)})" if recording.trouble else ""
    click.echo(f"{plain(str(file))}  {recording.seconds:.1f} s{trouble}")
    for one in result.heard:
        click.echo(f"  {one.utterance.start:6.1f} s")
        for hearing in one.utterance.hearings:
            click.echo(f"      {hearing.recognizer:20} {plain(hearing.text)}")
        for at, entry in enumerate(one.reading.entries):
            click.echo(f"    = {describe(entry)}")
            for doubt in one.reading.doubts:
                if doubt.entry == at:
                    click.echo(f"      doubt: {plain(doubt.why)}")


@click.command("fetch-model")
def fetch_model() -> None:
    """Fetch the general English Vosk model from its makers, over the network.

    The only command that goes online. joblog works without it.
    """
    from joblog.service import taking_in

    click.echo(f"It is in {taking_in.fetch_model()}; name it with --model.")
