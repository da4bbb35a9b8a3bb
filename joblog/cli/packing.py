"""joblog pack and unpack: one job in one file, and out of it into another book."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from joblog.cli.options import FILE, book_option, job_options, json_option
from joblog.cli.printing import complain, print_json
from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service import Place
    from joblog.service.packing import Packed, Unpacked


@click.command()
@click.argument("file", type=FILE)
@job_options
@json_option
def pack(file: Path, place: Place, job: str | None, as_json: bool) -> int:
    """Write one job into FILE: its recordings, photos, entries, history, plan, bids, closings.

    FILE ends in .jobpack, also where that is not typed; in a folder it is called as the job.
    """
    from joblog.service import packing
    from joblog.service.desk import desk_at

    with desk_at(place, job) as desk:
        packed = packing.pack_job(desk, file)
    if as_json:
        print_json({**asdict(packed), "file": str(packed.file)})
    else:
        click.echo(_packed(packed))
    for name in packed.missing:
        complain(f"{name}: its original is damaged or missing in this book, and not in the pack")
    return 1 if packed.missing else 0


@click.command()
@click.argument("file", type=FILE)
@click.option("--as", "name", metavar="NAME", help="What the job is to be called in this book.")
@book_option
@json_option
def unpack(file: Path, name: str | None, place: Place, as_json: bool) -> None:
    """Take the job in FILE, written by joblog pack, into a book; a new one where there is none."""
    from joblog.service import packing
    from joblog.service.places import made_or_opened

    if not place.has_book:
        packing.must_be_a_pack(file)
    with made_or_opened(place) as book:
        unpacked = packing.unpack_job(book, file, name)
    if as_json:
        print_json(unpacked)
    else:
        click.echo(_unpacked(unpacked))
    for line in unpacked.told:
        complain(line)


def _packed(packed: Packed) -> str:
    from joblog.service.packing import size_told

    return plain(
        f"{packed.job}: {_many(packed.entries, 'entry', 'entries')} and"
        f" {_many(packed.originals, 'original', 'originals')} in {packed.file}"
        f" ({size_told(packed.bytes)}), read again and whole"
    )


def _unpacked(unpacked: Unpacked) -> str:
    came = (
        f"{_many(unpacked.entries, 'entry', 'entries')} and"
        f" {_many(unpacked.originals, 'original', 'originals')} came"
    )
    return plain(
        {
            "new": f"{unpacked.job}: is in this book now; {came}",
            "went on": f"{unpacked.job}: goes on from what was here; {came}",
            "same": f"{unpacked.job}: was here already, the same; nothing was changed",
            "older": f"{unpacked.job}: what is here is newer than the pack; nothing was changed",
        }[unpacked.outcome]
    )


def _many(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"
