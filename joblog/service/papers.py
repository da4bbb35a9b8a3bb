"""Papers of a job: what stands on them, written into a file as HTML or PDF."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from io import BytesIO
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Literal
from zoneinfo import ZoneInfo

from joblog.local import letter_paper
from joblog.model import CoveredWork, Photo, Tie
from joblog.papers.blocks import Block, Paper
from joblog.papers.close_out import close_out
from joblog.papers.covered import covered_paper
from joblog.papers.day import day_sheet
from joblog.papers.house import house_paper
from joblog.papers.job_book import job_book
from joblog.papers.over_jobs import jobs_paper
from joblog.papers.record import Copy, DayRecord, JobRecord, Shot
from joblog.reconcile.hours import attended
from joblog.service import ground, record
from joblog.service.covered import covered
from joblog.service.cutting import cut_list, pieces_to_cut
from joblog.service.desk import Desk
from joblog.service.errands import errands
from joblog.service.errors import ServiceError, refusing, use_case
from joblog.service.files import put
from joblog.service.house import house_of
from joblog.service.over_jobs import compared
from joblog.service.pictures import GONE
from joblog.service.signing import signed

if TYPE_CHECKING:
    from PIL.Image import Image

Kind = Literal["day", "job", "close-out", "covered", "house", "jobs"]
KINDS: tuple[Kind, ...] = ("day", "job", "close-out", "covered", "house", "jobs")
Tell = Callable[[int, int], None]
"""Is told now and then how many photos are drawn, of how many."""


@use_case
def paper_of(
    desk: Desk,
    kind: Kind,
    day: date | None = None,
    copy: Copy = Copy(),  # noqa: B008
    tell: Tell | None = None,
    bid: Sequence[Block] = (),
) -> Paper:
    """A paper as it stands now; of `day` where one is named, a day sheet else of the last one.

    That of all jobs is the same whatever the job. Raises `ServiceError` where there is nothing to
    put on it, and for one of costs to hand out.
    """
    if kind == "day":
        return day_sheet(desk.job, _days(desk, [record.day_named(desk, day)], tell)[0], copy)
    if kind == "covered":
        work = covered(desk, day)
        return covered_paper(desk.job, work, _shots_of(desk, work, tell), copy)
    if day is not None:
        whole = "all jobs" if kind == "jobs" else "the whole job"
        raise ServiceError(f"the {_TITLES[kind]} is of {whole}; leave the day out")
    if kind == "house":
        described = house_of(desk)
        return house_paper(desk.job, described.house, described.notes)
    if kind == "jobs":
        if copy.handed_out:
            raise ServiceError("what the jobs earned is nothing to hand out")
        return jobs_paper(compared(desk.book))
    if kind == "close-out":
        if copy.handed_out:
            raise ServiceError(
                "a close-out is all costs and hours; the job book can be made to hand out"
            )
        return close_out(
            record.read_balance(desk),
            record.last_closing(desk),
            covered(desk),
            record.behind(desk),
            bid or _became_of_bid(desk),
        )
    days = record.days(desk)
    if not days:
        raise ServiceError(f"{desk.job.name}: nothing was said yet, so there is nothing to write.")
    plans, _ = cut_list(pieces_to_cut(desk))
    waiting, work = errands(desk), covered(desk)
    return job_book(
        JobRecord(
            desk.job,
            _days(desk, days, tell, work),
            work,
            record.read_balance(desk),
            desk.plan,
            record.last_closing(desk),
            waiting.to_do,
            waiting.wanted,
            waiting.problems,
            plans,
        ),
        copy,
    )


def _became_of_bid(desk: Desk) -> tuple[Block, ...]:
    """The bid beside what the job came to; nothing where there was no bid, or nothing was told."""
    from joblog.papers.bid import outcome_blocks
    from joblog.service.bidding import newest_if_any, what_became

    if newest_if_any(desk) is None or not record.days(desk):
        return ()
    return outcome_blocks(what_became(desk))


_TITLES: dict[Kind, str] = {
    "day": "day sheet",
    "job": "job book",
    "close-out": "close-out",
    "covered": "covered work",
    "house": "house",
    "jobs": "comparison of jobs",
}


def file_name(
    desk: Desk,
    kind: Kind,
    day: date | None,
    suffix: str,
    copy: Copy = Copy(),  # noqa: B008
) -> str:
    """What a paper is called as a file: "Gull Point cottage, day sheet 2026-10-07.pdf"."""
    of = f" {day.isoformat()}" if day is not None else ""
    of += " to hand out" if copy.handed_out else ""
    if kind == "jobs":
        return f"{_TITLES[kind]}.{suffix}"
    return f"{as_file_name(desk.job.name)}, {_TITLES[kind]}{of}.{suffix}"


def as_file_name(job: str) -> str:
    """The name of a job as every system takes it in the name of a file."""
    name = re.sub(r'[\x00-\x1f\x7f<>:"/\\|?*]+', "_", job).strip(" .")
    # A disk counts bytes.
    return name.encode(errors="ignore")[:120].decode(errors="ignore") or "job"


@use_case
def write_paper(paper: Paper, file: Path, *, over: bool = False, letter: bool | None = None) -> int:
    """Writes it, as PDF where the name ends so, else as HTML; how many bytes it takes.

    It is there whole or not at all, and nothing is written over unless `over` says so. A PDF is for
    letter paper or A4; where nobody says which, as the country has it. Raises `ServiceError`.
    """
    if file.suffix.lower() == ".pdf":
        from joblog.papers.pdf import PaperError, as_pdf

        of_country = letter_paper() if letter is None else letter
        with refusing(PaperError):
            content = as_pdf(paper, "letter" if of_country else "A4")
    else:
        from joblog.papers.html import as_html

        content = as_html(paper).encode()
    put(file, content, over=over)
    return len(content)


@use_case
def write_beside_book(
    desk: Desk,
    kind: Kind,
    day: date | None = None,
    copy: Copy = Copy(),  # noqa: B008
    tell: Tell | None = None,
) -> Path:
    """A paper as PDF in the folder `papers` beside the book, under a name that is not taken yet."""
    made = paper_of(desk, kind, day, copy, tell)
    return beside_book(desk, made, file_name(desk, kind, day, "pdf", copy))


def beside_book(desk: Desk, paper: Paper, called: str) -> Path:
    """A paper under that name in the folder `papers`, or under the next one that is not taken."""
    folder = papers_folder(desk)
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
    except OSError as error:
        raise ServiceError(f"{folder}: cannot be made: {error.strerror}") from None
    name = Path(called)
    for number in count(1):
        file = folder / (f"{name.stem} {number}{name.suffix}" if number > 1 else name)
        if not (file.exists() or file.is_symlink()):
            break
    write_paper(paper, file)
    return file


def papers_folder(desk: Desk) -> Path:
    """Where the review writes papers; it need not be there yet."""
    return desk.book.folder / "papers"


ALL_PICTURES = 16_000_000
"""Bytes that the pictures of a paper take together at most, but for a paper of thousands."""
MOST, LEAST = 120_000, 8_000
"""Bytes of one picture."""
ACROSS = 800
"""Pixels of the longer side of a picture at most."""
OF_PROOFS = 400_000, 1600
"""The same two of a picture that shows what was covered: it has to be looked at closely."""


# --- what stands on them ------------------------------------------------------------------------


def _days(
    desk: Desk, days: Sequence[date], tell: Tell | None, work: Iterable[CoveredWork] = ()
) -> tuple[DayRecord, ...]:
    """The days, with all photos of this covered work, and of others the best of alike ones."""
    zone = ZoneInfo(desk.job.zone)
    only = days[0] if len(days) == 1 else None
    entries, ties = record.read_entries(desk), record.ties(desk)
    hours = {line.day: line for line in attended(desk.job, entries)}
    clocks, signatures = record.clocks(desk, only), signed(desk, only)
    shots: dict[date, list[Shot]] = {}
    proofs = {proof.photo.sha256 for one in work for proof in one.proofs}
    alike = [[one for one in group if one not in proofs] for group in record.alike(desk, only)]
    for shot in _shots(desk, record.photos(desk, only), filter(None, alike), tell):
        shots.setdefault(record.local_day(shot.photo.taken.at, zone), []).append(shot)
    troubles = _troubles(desk, only)
    return tuple(
        DayRecord(
            day,
            told := record.said_on(entries, day, zone),
            tuple(shots.get(day, ())),
            hours.get(day),
            record.due_among(entries, day, zone),
            record.told_later_among(entries, day, zone),
            record.unanswered_of(told, ties),
            tuple(troubles.get(day, ())),
            tuple(one for one in clocks if one.day == day),
            signatures.get(day),
        )
        for day in days
    )


def _troubles(desk: Desk, day: date | None) -> dict[date, list[str]]:
    zone = ZoneInfo(desk.job.zone)
    found: dict[date, list[str]] = {}
    recordings = (one for one in record.recordings(desk) if one.standing == "kept")
    for made, name, trouble in (
        *((one.made.at, one.name, one.trouble) for one in recordings),
        *((one.taken.at, one.name, one.trouble) for one in record.photos(desk, day)),
    ):
        if trouble:
            found.setdefault(record.local_day(made, zone), []).append(f"{name}: {trouble}")
    return found


def _shots_of(desk: Desk, work: Iterable[CoveredWork], tell: Tell | None) -> dict[str, Shot]:
    """The photos of covered work, all of them, by their SHA-256."""
    wanted = {proof.photo.sha256: proof.photo for one in work for proof in one.proofs}
    shots = _shots(desk, tuple(wanted.values()), (), tell, *OF_PROOFS)
    return {shot.photo.sha256: shot for shot in shots}


def _shots(
    desk: Desk,
    photos: Sequence[Photo],
    alike: Iterable[Sequence[str]],
    tell: Tell | None,
    most: int = MOST,
    across: int = ACROSS,
) -> tuple[Shot, ...]:
    """In time; of those that are alike the best one stands for all."""
    known = {photo.sha256: photo for photo in photos}
    groups = tuple(alike)
    behind = {best: tuple(known[one] for one in others) for best, *others in groups}
    hidden = {one for _, *others in groups for one in others}
    shown = [photo for photo in photos if photo.sha256 not in hidden]
    moments = record.corrected_moments(desk)
    placed = ground.placed(desk)
    ties: dict[str, list[Tie]] = {}
    for tie in sorted(record.ties(desk), key=lambda tie: abs(tie.seconds)):
        ties.setdefault(tie.photo, []).append(tie)
    drawn = _drawn(desk, shown, tell, most, across)
    shots = [
        Shot(
            photo,
            moments[photo.sha256],
            *drawn[photo.sha256],
            tuple(ties.get(photo.sha256, ())),
            behind.get(photo.sha256, ()),
            placed.get(photo.sha256),
        )
        for photo in shown
    ]
    return tuple(sorted(shots, key=lambda shot: (shot.taken, shot.photo.name)))


def _drawn(
    desk: Desk, photos: Sequence[Photo], tell: Tell | None, most: int, across: int
) -> dict[str, tuple[bytes | None, str]]:
    """A small picture of each, or None and why there is none, by SHA-256."""
    from joblog.book.looking import NotDrawnError, all_drawn

    if not photos:
        return {}
    room = min(most, max(LEAST, ALL_PICTURES // len(photos)))
    widest = min(across, _that_may_fit(room)[0][0])
    originals = {desk.book.media(photo.sha256): photo.sha256 for photo in photos}
    there = [path for path in originals if path.exists()]
    found: dict[str, tuple[bytes | None, str]] = {
        originals[path]: (None, f"is {GONE}") for path in originals if not path.exists()
    }
    for path, picture in all_drawn(there, (widest, widest)):
        if isinstance(picture, NotDrawnError):
            found[originals[path]] = None, picture.why
        else:
            found[originals[path]] = within(picture, room), ""
        if tell is not None:
            tell(len(found), len(photos))
    return found


def within(picture: Image, room: int) -> bytes:
    """The pixels alone as a JPEG of `room` bytes at most, as large and as good as fits."""
    for across, quality in _that_may_fit(room):
        small = picture.copy()
        small.thumbnail((across, across))
        small.info.clear()
        out = BytesIO()
        small.save(out, "JPEG", quality=quality, optimize=True)
        if out.tell() <= room:
            break
    return out.getvalue()


def _that_may_fit(room: int) -> list[tuple[int, int]]:
    least = _SIZES[-1][0]
    return [(at, how) for at, how in _SIZES if at == least or at * at * _USUAL <= room]


_USUAL = 0.1
"""Bytes of a JPEG for each pixel of the square around it: fewer than nearly any photo takes."""

_SIZES = (
    (1600, 80), (1200, 80), (800, 80), (640, 78), (500, 75), (400, 68), (320, 64), (240, 55),
    (160, 45),
)  # fmt: skip
"""Pixels of the longer side, and the quality of the JPEG; the last is kept whatever it takes."""
