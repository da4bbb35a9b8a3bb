"""Lists and day sheets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from joblog.form import WORDS, amount, describe, plain, reopening, to_json, units_of
from joblog.local import clock_written, day_written, moment_written, money_written
from joblog.model import (
    BookEntry,
    ClockCorrection,
    Closing,
    DayHours,
    Entry,
    Found,
    Job,
    Photo,
    Placed,
    Plan,
    Position,
    Recording,
    Signed,
    Step,
    Tie,
    Wanted,
)
from joblog.plan.read_csv import COLUMNS, rows_of
from joblog.report.figures import amount as cell
from joblog.report.figures import day_cell, unit_cell
from joblog.report.table import Shown, Table


def day_sheet(
    job: Job,
    day: date,
    entries: Sequence[BookEntry],
    photos: Sequence[Photo],
    ties: Sequence[Tie],
    hours: DayHours | None,
    recordings: Sequence[Recording] = (),
    clocks: Sequence[ClockCorrection] = (),
    unspoken: Sequence[Photo] = (),
    unanswered: Sequence[BookEntry] = (),
    alike: Sequence[Sequence[str]] = (),
    due: Sequence[BookEntry] = (),
    told_later: Sequence[BookEntry] = (),
    signed: Signed | None = None,
) -> str:
    """One day of a job on one page: hours, what was said, photos, and what is doubtful.

    Of the job's `recordings`, those of the day are named of which a person should know something;
    of `clocks`, those of the day's cameras that were put right or may have to be. `unspoken` are
    photos that nobody spoke of, `unanswered` entries that speak of a photo and have none; `alike`
    are groups of photos that show the same. `due` was said before for this day, `told_later` was
    said afterwards to have been on it. `signed` says whether it was signed off.
    """
    title = f"{plain(job.name)}, {day_written(day)}"
    tied: dict[int, list[str]] = {}
    for tie in ties:
        tied.setdefault(tie.entry, []).append(tie.photo)
    doubtful = sum(entry.open for entry in entries)
    lines = [title, "=" * len(title)]
    if hours is not None:
        lines.append(_hours(hours))
    lines.append(
        f"{_count(len(entries), 'entry', 'entries')}, "
        f"{_photos([photo.sha256 for photo in photos], alike)}, "
        f"{_count(doubtful, 'doubt', 'doubts')} to settle"
    )
    if signed is not None:
        lines += _signature(job, signed)
    for entry in entries:
        photos_of = f"  [{_photos(tied[entry.id], alike)}]" if entry.id in tied else ""
        mark = "?" if entry.open else "x" if entry.standing == "dropped" else " "
        lines.append(f" {mark} {_local(job, entry.at)}  {describe(entry.entry)}{photos_of}")
        if entry.open:
            lines += [f"            doubt: {plain(why)}" for why in entry.doubts]
    known = _known(recordings)
    lines += [
        f" ! {plain(one.name)}: {plain(known[one.sha256])}"
        for one in recordings
        if known[one.sha256] and one.made.at.astimezone(ZoneInfo(job.zone)).date() == day
    ]
    lines += [f" ! {plain(line)}" for line in clock_lines(clocks)]
    lines += [f"   {line}" for line in of_other_days(job, due, told_later)]
    lines += about_photos(photos, ties, unspoken, unanswered)
    return "\n".join(lines)


def of_other_days(job: Job, due: Sequence[BookEntry], told_later: Sequence[BookEntry]) -> list[str]:
    """What entries of other days say of this one, a line each: what is due, then what was told
    afterwards."""
    zone = ZoneInfo(job.zone)
    return [f"due: {_without_day(one)}" for one in due] + [
        f"told on {day_written(one.at.astimezone(zone).date())}: {_without_day(one)}"
        for one in told_later
    ]


def _without_day(kept: BookEntry) -> str:
    doubt = ", in doubt" if kept.open else ""
    return f"{describe(replace(kept.entry, day=None))} (entry {kept.id}{doubt})"


def _photos(photos: Sequence[str], alike: Sequence[Sequence[str]]) -> str:
    """Such as "6 photos, 3 to look at"; of those that are alike one is to be looked at."""
    spare = sum(max(0, len(set(group) & set(photos)) - 1) for group in alike)
    counted = _count(len(photos), "photo", "photos")
    return f"{counted}, {len(photos) - spare} to look at" if spare else counted


def clock_lines(clocks: Sequence[ClockCorrection]) -> list[str]:
    """Each camera whose clock was put right, or that nobody is sure of, in words."""
    return [
        f"{one.camera}: its clock was {one.reason}" for one in clocks if one.sure and one.seconds
    ] + [f"{one.camera}: its clock is {one.reason}" for one in clocks if not one.sure and one.cues]


MOST_NAMED = 8
"""Photos that a line of a day sheet names."""


def about_photos(
    photos: Sequence[Photo],
    ties: Sequence[Tie],
    unspoken: Sequence[Photo],
    unanswered: Sequence[BookEntry],
) -> list[str]:
    """Close calls among the ties of these photos, what has no photo, and what nobody spoke of."""
    names = {photo.sha256: photo.name for photo in photos}
    asked: dict[tuple[int, str], list[Tie]] = {}
    for tie in ties:
        if not tie.sure and tie.photo in names:
            # The shots of a burst differ in nothing but a second or two.
            asked.setdefault((tie.entry, tie.reason.partition("not sure")[2]), []).append(tie)
    lines = [
        f" ? {_some([names[tie.photo] for tie in those], 1)}: tied to entry {entry}:"
        f" {plain(those[0].reason)}"
        for (entry, _), those in asked.items()
    ]
    if unanswered:
        said = "; ".join(f"{one.id} {describe(one.entry)}" for one in unanswered)
        lines.append(f"   spoken of, without a photo: {said}")
    if unspoken:
        listed = _some([photo.name for photo in unspoken], MOST_NAMED)
        lines.append(f"   photos that nobody spoke of: {listed}")
    return lines


def _some(names: Sequence[str], most: int) -> str:
    """The first names and how many more there are."""
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(map(plain, names[:most])) + more


def errand_list(job: Job, to_do: Sequence[BookEntry], wanted: Sequence[Wanted]) -> Table:
    """What is to do and to buy, as one row each; "by" is the day that was said."""
    done = [
        (
            str(one.id),
            "to do",
            day_cell(one.entry.day),
            _errand_cell(replace(one.entry, day=None)),
            _in_doubt(one),
        )
        for one in to_do
    ]
    bought = [
        (
            ", ".join(map(str, one.entries)),
            "to buy",
            day_cell(one.day),
            one.item
            if one.quantity is None
            else f"{units_of(one.quantity, one.unit, one.item)} of {one.item}",
            one.note or ("nobody said how much" if one.quantity is None else ""),
        )
        for one in wanted
    ]
    return Table(("entry", "what", "by", "in words", "to know"), (*done, *bought))


def _in_doubt(kept: BookEntry) -> str:
    return "; ".join(kept.doubts) if kept.open else ""


def _signature(job: Job, signed: Signed) -> list[str]:
    at = f"signed off {signed.at.astimezone(ZoneInfo(job.zone)):%Y-%m-%d %H:%M}"
    if not signed.changed:
        return [at]
    return [f"{at}, and changed since:", *(f" ! {plain(line)}" for line in signed.changed)]


def entry_list(job: Job, entries: Sequence[BookEntry]) -> Table:
    """Every entry as one row."""
    return Table(
        ("id", "day", "time", "state", "entry", "heard"),
        tuple(
            (
                str(entry.id),
                day_cell(entry.at.astimezone(ZoneInfo(job.zone)).date()),
                _clock_cell(entry.at.astimezone(ZoneInfo(job.zone))),
                "doubtful" if entry.open else entry.standing,
                told_cell(entry.entry),
                entry.said,
            )
            for entry in entries
        ),
        right=frozenset(("id",)),
    )


def found_list(found: Sequence[Found]) -> Table:
    """Where words were found, one place a row."""
    return Table(
        ("job", "day", "time", "id", "what"),
        tuple(
            (
                plain(one.job),
                Shown(day_written(one.at.date()), f"{one.at:%Y-%m-%d}"),
                Shown(clock_written(one.at), f"{one.at:%H:%M}"),
                "" if one.entry is None else str(one.entry),
                plain(one.text),
            )
            for one in found
        ),
        right=frozenset(("id",)),
    )


def photo_list(
    job: Job,
    photos: Sequence[Photo],
    ties: Sequence[Tie],
    alike: Sequence[Sequence[str]] = (),
    placed: Mapping[str, Placed] | None = None,
    astray: Mapping[str, str] | None = None,
    put_right: Mapping[str, tuple[datetime, ClockCorrection]] | None = None,
) -> Table:
    """Every photo as one row, with the entry it is tied to and why, and its place among `alike`.

    `placed` says where photos were taken, also by a track; `astray` what to tell of those that were
    taken outside of the job's fence. `put_right` has the photos whose camera's clock was put right:
    when they were taken, and by what; their original time stays beside it.
    """
    from joblog.photos.alike import rank

    moved = put_right or {}
    tied = {tie.photo: tie for tie in ties}
    places = {one: f"{at} of {among}" for one, (at, among) in rank(alike).items()}
    rows = []
    for photo in photos:
        tie = tied.get(photo.sha256)
        at = photo.taken.at.astimezone(ZoneInfo(job.zone))
        rows.append(
            (
                moment_cell(at),
                photo.taken.source,
                _moved(job, photo, moved),
                photo.name,
                position_words(photo, (placed or {}).get(photo.sha256)),
                f"{tie.entry}{'' if tie.sure else '?'}" if tie else "",
                places.get(photo.sha256, ""),
                "; ".join(
                    filter(
                        None,
                        (
                            tie.reason if tie else "not tied",
                            *photo.remarks,
                            (astray or {}).get(photo.sha256),
                            photo.trouble,
                        ),
                    )
                ),
            )
        )
    headings = ("taken", "known from", "put right to", "photo", "position", "entry", "alike", "why")
    shown = [at for at, heading in enumerate(headings) if heading != "put right to" or moved]
    return Table(
        tuple(headings[at] for at in shown), tuple(tuple(row[at] for at in shown) for row in rows)
    )


def _moved(job: Job, photo: Photo, moved: Mapping[str, tuple[datetime, ClockCorrection]]) -> str:
    if photo.sha256 not in moved:
        return ""
    at, _ = moved[photo.sha256]
    local = at.astimezone(ZoneInfo(job.zone))
    return Shown(clock_written(local, seconds=True), f"{local:%H:%M:%S}")


def clock_list(clocks: Sequence[ClockCorrection]) -> Table:
    """Every camera and day as one row: what its clock was off by, how sure that is, and why."""
    return Table(
        ("camera", "day", "add", "sure", "why"),
        tuple(
            (
                one.camera,
                day_cell(one.day),
                f"{one.seconds:+.0f} s" if one.sure else "",
                f"{100 * one.confidence:.0f} %",
                one.reason,
            )
            for one in clocks
        ),
        right=frozenset(("add", "sure")),
    )


def position_words(photo: Photo, placed: Placed | None = None) -> str:
    """Where it was taken: "41.50000 -70.25000 within 8 m, looking 12° magnetic", or "".

    A position that is not the photo's own, but `placed` by a track, names the track.
    """
    parts = []
    if position := placed.position if placed else photo.position:
        parts.append(_where(position))
    if placed and photo.position is None:
        parts.append(f"by {placed.source}")
    if photo.direction:
        parts.append(f"looking {photo.direction.degrees:.0f}° {photo.direction.north}")
    return ", ".join(parts)


def recording_list(
    job: Job, recordings: Sequence[Recording], placed: Mapping[str, Placed] | None = None
) -> Table:
    """Every recording as one row; where it was begun as well, where a track log tells of any."""
    known, where = _known(recordings), placed or {}
    table = Table(
        ("made", "known from", "seconds", "recording", "trouble"),
        tuple(
            (
                moment_cell(recording.made.at.astimezone(ZoneInfo(job.zone))),
                recording.made.source,
                f"{recording.seconds:.1f}",
                recording.name,
                known[recording.sha256],
            )
            for recording in recordings
        ),
        right=frozenset(("seconds",)),
    )
    if not where:
        return table
    spots = (_spot(where.get(recording.sha256)) for recording in recordings)
    return Table(
        (*table.headings, "position"),
        tuple((*row, spot) for row, spot in zip(table.rows, spots, strict=True)),
        table.right,
    )


def _spot(placed: Placed | None) -> str:
    return f"{_where(placed.position)}, by {placed.source}" if placed else ""


def _where(position: Position) -> str:
    where = f"{position.latitude:.5f} {position.longitude:.5f}"
    return where if position.error is None else f"{where} within {position.error:.0f} m"


def _known(recordings: Sequence[Recording]) -> dict[str, str]:
    """What a person should know of each: whether it counts, and what is wrong with it."""
    names = {one.sha256: one.name for one in recordings}
    standing = {
        one.sha256: f"superseded by {names.get(one.superseded_by, 'another job')}"
        if one.superseded_by
        else one.standing * (one.standing != "kept")
        for one in recordings
    }
    return {
        one.sha256: "; ".join(filter(None, (standing[one.sha256], one.trouble)))
        for one in recordings
    }


def step_list(job: Job, steps: Sequence[Step]) -> Table:
    """Every decision about a job as one row, oldest first, with its number."""
    zone = ZoneInfo(job.zone)
    return Table(
        ("step", "when", "who", "state", "what"),
        tuple(
            (
                str(step.id),
                _minute_cell(step.at.astimezone(zone)),
                step.who,
                _step_state(step, zone),
                step.what,
            )
            for step in steps
        ),
        frozenset({"step"}),
    )


def _step_state(step: Step, zone: ZoneInfo) -> str:
    if step.state == "done":
        return ""
    back = next((turn.at for turn in reversed(step.turns) if turn.undone), None)
    at = f" {_minute_cell(back.astimezone(zone))}" if back else ""
    return f"taken back{at}"


def job_list(jobs: Sequence[Job], closings: Sequence[Closing] = ()) -> Table:
    """Every job as one row, and whether it is open, closed, or was reopened and by what."""
    closed = {closing.job: closing for closing in closings}
    return Table(
        ("job", "time zone", "places", "state"),
        tuple(
            (job.name, job.zone, ", ".join(job.places), _state(closed.get(job.name)))
            for job in jobs
        ),
    )


def job_json(jobs: Sequence[Job], closings: Sequence[Closing]) -> list[dict[str, object]]:
    """The same as JSON values; "closed" is the day, null for a job that never was."""
    closed = {closing.job: closing for closing in closings}
    return [
        {
            **to_json(job),
            "closed": closed[job.name].day.isoformat() if job.name in closed else None,
            "reopened": job.name in closed and closed[job.name].reopened,
            "changed": list(closed[job.name].changed) if job.name in closed else [],
            "plan_changed": job.name in closed and closed[job.name].plan_changed,
        }
        for job in jobs
    ]


def _state(closing: Closing | None) -> str:
    if closing is None:
        return "open"
    state = f"closed on {day_written(closing.day)}"
    if closing.reopened:
        state += f", {reopening(closing.changed, closing.plan_changed, closing.told_on)}"
    return state


def plan_list(plan: Plan) -> Table:
    """Every planned item and task as one row, with the parts of its quantity where one has any."""
    items = [
        (
            line.item.name,
            cell(line.quantity),
            unit_cell(line.item.unit, line.item.name),
            _cost(line.unit_cost),
            "-" if line.net is None else cell(line.net),
            "-" if line.net is None else cell(line.offcut),
            "-" if line.net is None else cell(line.quantity - line.net - line.offcut),
            line.source,
        )
        for line in plan.items
    ]
    tasks = [
        (
            line.task.name,
            cell(line.hours),
            WORDS["crew_hours"],
            _cost(line.hourly_cost),
            "-" if line.quantity is None else units_of(line.quantity, line.task.unit),
            "",
            "",
            line.source,
        )
        for line in plan.tasks
    ]
    headings = (
        "planned",
        "quantity",
        "unit",
        "cost of one",
        "work",
        WORDS["offcut"],
        "extra",
        "from",
    )
    rows = (*items, *tasks)
    shown = [at for at, _ in enumerate(headings) if at < 4 or any(_says(row[at]) for row in rows)]
    return Table(
        tuple(headings[at] for at in shown),
        tuple(tuple(row[at] for at in shown) for row in rows),
        right=frozenset(headings[1:7]) - {"unit"},
        notes=_without_price([row[0] for row in rows if "?" in row[3]]),
    )


def _without_price(names: Sequence[str]) -> tuple[str, ...]:
    return (f"? nobody said what one costs: {', '.join(names)}",) if names else ()


def _says(cell: str) -> bool:
    return cell not in ("", "-")


def plan_table(plan: Plan) -> Table:
    """Every field of a plan's lines; as CSV it can be read back."""
    return Table(COLUMNS, rows_of(plan))


def _cost(cost: Decimal | None) -> str:
    return "?" if cost is None else money_written(cost, bare=True)


def _hours(hours: DayHours) -> str:
    started = clock_written(hours.started) if hours.started else "no start said"
    stopped = clock_written(hours.stopped) if hours.stopped else "no stop said"
    worked = "man-hours not known"
    if hours.crew_hours is not None:
        worked = f"{amount(hours.crew_hours)} {WORDS['crew_hours']}"
    pause = f", {amount(hours.break_minutes)} minutes of break" if hours.break_minutes else ""
    tasks = f", {amount(hours.on_tasks)} of them put to a task" if hours.on_tasks else ""
    return f"{started} to {stopped}{pause}: {worked}{tasks}"


def _local(job: Job, at: datetime) -> str:
    return clock_written(at.astimezone(ZoneInfo(job.zone)))


def _clock_cell(local: datetime) -> str:
    return Shown(clock_written(local), f"{local:%H:%M}")


def told_cell(entry: Entry) -> str:
    """An entry in one line; by its names and in ISO for CSV."""
    return Shown(describe(entry), describe(entry, exact=True))


def _errand_cell(entry: Entry) -> str:
    shown, exact = describe(entry), describe(entry, exact=True)
    return Shown(shown.removeprefix("to do: "), exact.removeprefix("to do: "))


def _minute_cell(local: datetime) -> str:
    return Shown(moment_written(local), f"{local:%Y-%m-%d %H:%M}")


def moment_cell(local: datetime) -> str:
    """Day and time to the second, of a datetime in the job's zone; ISO for CSV."""
    return Shown(moment_written(local, seconds=True), f"{local:%Y-%m-%d %H:%M:%S}")


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
