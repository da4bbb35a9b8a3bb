"""joblog listen: hands-free on the ladder, answered by ear."""

from __future__ import annotations

import shutil
import sys
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import click

from joblog.cli.options import FILE, job_options
from joblog.cli.printing import complain, say_which
from joblog.form import describe, plain
from joblog.local import clock_written

if TYPE_CHECKING:
    from joblog.listening.session import Caught, Event
    from joblog.service import Desk, Place

CAUTIONS = """\
Set the ladder first, one foot out for every four up; three points of contact while you climb.
Do not read or type up there: look down when you are down. Ears protected by the saw, and then
the answers are not heard; keep one ear for the site. This log is no safety system."""


@click.command()
@click.option("--from", "source", type=FILE, help="Listen to a recording, not to a microphone.")
@click.option("--fast", is_flag=True, help="With --from: as fast as it goes, and nothing sounds.")
@click.option(
    "--answers",
    type=click.Choice(["voice", "beeps", "none"]),
    default="voice",
    show_default=True,
    help="What you hear of each entry.",
)
@click.option("--voice", help="Which voice answers: espeak, piper, system. Else the quickest.")
@click.option("--volume", type=click.IntRange(0, 100), default=80, show_default=True)
@click.option("--microphone", help="Its number, or a part of its name; see --devices.")
@click.option("--speaker", help="Its number, or a part of its name.")
@click.option("--cuts", type=FILE, help="A cut list (JSON of joblog cuts) to be walked through.")
@click.option(
    "--shorter",
    metavar="INCHES",
    help="Answer a measure with the size to cut too, so much shorter: 1/4.",
)
@click.option("--keep-day", is_flag=True, help="Record the whole day too: 9 MB an hour.")
@click.option("--devices", is_flag=True, help="List microphones and loudspeakers.")
@click.option("--try", "try_it", is_flag=True, help="Record five seconds, say what is understood.")
@job_options
def listen(
    place: Place, job: str | None, devices: bool, try_it: bool, shorter: str | None, **wished: Any
) -> int:
    """Listen from the ladder for hours, and answer by ear. Ctrl-C ends it.

    \b
    Say what you would dictate. It is read back; silence lets it stand, "scratch that" drops it,
    a number said again right after replaces it, "keep both" keeps both. Said alone:
    "pause" · "resume" · "read back the cut list" · "what's next to cut" · "next one" ·
    "how many are left" · "which place are we at" · "read the last one" · "take a photo note"
    """
    from joblog.listening.start import Wishes, listen_to, sound_devices
    from joblog.service import desk_at
    from joblog.service.taking_in import days_of

    if devices:
        for device in sound_devices():
            what = ("hears", "hears and plays", "plays")[
                (device.outputs > 0) + (device.outputs > 0 and not device.inputs)
            ]
            click.echo(f"{device.number:3}  {plain(device.name)} ({device.system}), {what}")
        return 0
    wishes = Wishes(shorter=_inches(shorter), **wished)
    if wishes.fast and wishes.source is None:
        raise click.UsageError("--fast needs a recording: --from FILE")
    days = days_of([wishes.source]) if wishes.source is not None else frozenset()
    with desk_at(place, job, days) as desk:
        say_which(desk)
        if try_it:
            return _tried(desk, wishes)
        click.echo(CAUTIONS)
        click.echo(f"loading; then it listens for {plain(desk.job.name)}. Ctrl-C ends it.")
        screen = _Screen(desk)
        lacks, size = listen_to(desk, wishes, screen.show)
        screen.clear()
        click.echo(screen.summary())
        if size is not None:
            click.echo(f"the day's recording: {size}, in {plain(str(desk.book.folder / 'days'))}")
        if lacks is not None and wishes.source is not None:
            complain(f"{wishes.source}: {lacks}")
        return 0


def _inches(text: str | None) -> Fraction | None:
    from joblog.quantity import fraction_of

    if text is None:
        return None
    try:
        return fraction_of(text)
    except ValueError as error:
        raise click.UsageError(f"--shorter: {error}") from None


def _tried(desk: Desk, wishes: Any) -> int:
    from joblog.listening.start import try_microphone

    def ready(name: str) -> None:
        click.echo(f"{plain(name)}: speak now, for five seconds")

    tried = try_microphone(desk, wishes, ready)
    click.echo(f"loudest: {tried.decibels:.0f} dB of full scale")
    if tried.warning is not None:
        click.echo(tried.warning)
    for heard in tried.heard:
        words = heard.utterance.hearings[0].text if heard.utterance.hearings else ""
        click.echo(f"heard: {plain(words)}")
        for entry in heard.reading.entries:
            click.echo(f"  {describe(entry)}")
        for doubt in heard.reading.doubts:
            click.echo(f"  not sure: {plain(doubt.why)}")
    for trouble in tried.troubles:
        complain(trouble)
    if not tried.heard:
        click.echo("nothing was understood; nearer to the microphone, or another one: --devices")
    return 0 if tried.heard else 1


@dataclass(slots=True)
class _Screen:
    """One line an utterance, and below them, on a terminal, how loud it is and what is said."""

    desk: Desk
    words: str = ""
    decibels: float = -100.0
    kept: int = 0
    asked: int = 0
    aside: int = 0

    def show(self, event: Event) -> None:
        from joblog.listening import session

        match event:
            case session.Caught():
                self.words = ""
                self._caught(event)
            case session.Answered(words=words):
                self._line(f'          answers: "{plain(words)}"')
            case session.Stopped():
                self._line("          stopped, for you spoke")
            case session.Warned(words=words):
                self._line(f"! {plain(words)}")
            case session.SoFar(words=words):
                self.words = words
                self._status()
            case session.Loudness(decibels=decibels):
                self.decibels = decibels
                self._status()
            case _:
                pass

    def summary(self) -> str:
        asked = f"{self.asked} of them to be settled in joblog review"
        return (
            f"{self.kept} entries, {asked}; {self.aside} times something was said and noted nowhere"
        )

    def clear(self) -> None:
        if sys.stdout.isatty():
            room = shutil.get_terminal_size().columns - 1
            click.echo("\r" + " " * room + "\r", nl=False)

    def _caught(self, event: Caught) -> None:
        at = event.at.astimezone(ZoneInfo(self.desk.job.zone))
        self.kept += len(event.entries)
        self.asked += sum(entry.open for entry in event.entries)
        self.aside += not event.entries
        note = f" ({plain(event.ignored)})" if event.ignored else ""
        self._line(f"{clock_written(at, seconds=True)}  {plain(event.heard)}{note}")
        for entry in event.entries:
            sign = "?" if entry.open else "x" if entry.standing == "dropped" else " "
            self._line(f"        {sign} {describe(entry.entry)}")

    def _line(self, text: str) -> None:
        self.clear()
        click.echo(text)

    def _status(self) -> None:
        if not sys.stdout.isatty():
            return
        room = shutil.get_terminal_size().columns - 1
        full = max(0, min(10, round((self.decibels + 60) / 6)))
        line = f"[{'#' * full}{'.' * (10 - full)}] {self.decibels:4.0f} dB  {plain(self.words)}"
        click.echo("\r" + line[-room:].ljust(room), nl=False)
