"""Every command with words, and every place of the screens, one after the other on one small book.

Run as a program it does them all: `python -m tests.outside.every_command FOLDER`. Each is done in a
fork of this process, so that what all of them load is loaded once. Before each it opens a file that
is not there and is named after it, for whoever watches what the system is asked for.
"""

from __future__ import annotations

import gc
import os
import sys
import traceback
import wave
from collections.abc import Callable
from contextlib import suppress
from importlib import import_module
from pathlib import Path

from PIL import Image

BOOK, FILES, NAMED = "book", "files", "named"
"""Folders: of the book, of what a person has beside it, and for what he names to be written."""
BOOKS = (BOOK, "named/copy", "named/restored", "named/unpacked", "named/demo")
"""Where there is a book in the end."""
BEGINS = "/dev/null/begins/"

ROOT = Path(__file__).parents[2]
PORCH, MILL = ("--job", "Corner porch"), ("--job", "Mill house")
AT, NEXT = ("--at", "2026-10-05 14:30"), ("--at", "2026-10-06 14:30")

COMMANDS: tuple[tuple[str, ...], ...] = (
    ("new", "Corner porch", "--zone", "America/New_York", "--plan", "files/plan.csv"),
    ("new", "Mill house", "--zone", "America/New_York", "--place", "north eave"),
    ("use", "Corner porch"),
    ("add", "files/phone"),
    ("write", "used three sheets of soffit. used two sheets of soffit. 6 hours hang soffit", *AT),
    ("write", "delivered ten sticks of fascia. six sticks of fascia to the shop", *NEXT),
    ("hear", "files/phone/2026-10-05 08.00.00.wav"),
    ("listen", "--from", "files/phone/2026-10-05 08.00.00.wav", "--fast", "--keep-day"),
    ("watch", "files/more", "--once", "--settle", "0.1"),
    ("voice",),
    ("voice", "card"),
    ("voice", "--promise", "1/100"),
    ("voice", "forget"),
    ("edit", "2", "quantity", "9"),
    ("drop", "1"),
    ("split", "2", "6"),
    ("merge", "2", "3"),
    ("done", "hang soffit", "82"),
    ("clock", "Invented", "--set", "+47 min"),
    ("tie", "yard.jpg", "2"),
    ("move", "yard.jpg", "--to", "Mill house"),
    ("withdraw", "yard.jpg", *MILL),
    ("fence", "--at", "41.52 -70.66", "--radius", "80"),
    ("site", "--svg", "named/site.svg"),
    ("undo",),
    ("redo",),
    ("history",),
    ("catalog", "set", "fascia", "cost=15.20", "length=12 ft"),
    ("plan", "--csv"),
    ("takeoff", "files/runs.csv", "--pieces"),
    ("order",),
    ("cuts", "--from", "files/pieces.csv", "--stock", "12 ft", "--html", "named/cuts.html"),
    ("house", "files/house.csv", "--svg", "named/house.svg", *MILL),
    ("bid", "files/runs.csv", "--set", "hourly cost=42", "--pdf", "named/bid.pdf", *MILL),
    ("stock",),
    ("jobs",),
    ("entries",),
    ("photos",),
    ("recordings",),
    ("search", "soffit"),
    ("todo",),
    ("squareup",),
    ("day",),
    ("sign", "2026-10-06"),
    ("covered", "--into", "named/covered"),
    ("paper", "job", "--pdf", "named/job.pdf"),
    ("paper", "house", "--html", "named/house.html", *MILL),
    ("close", "--anyway"),
    ("rates", "--add", "files/earlier.csv"),
    ("check",),
    ("copy", "named/copy"),
    ("bin",),
    ("backup", "named/stick"),
    ("restore", "named/stick", "--book", "named/restored"),
    ("pack", "named/porch.jobpack"),
    ("unpack", "named/porch.jobpack", "--book", "named/unpacked"),
    ("completion", "bash"),
    ("parse", "used two sheets of soffit"),
    ("demo", "--no-ui", "named/demo"),
)  # fmt: skip
OTHERWISE = {
    "review": "opened on a terminal, and place by place",
    "fetch-model": "the one that goes online",
}
"""Commands that are not said here, and what is done instead."""
SCREENS = "screens"


def lay_out(world: Path) -> None:
    """The files that a person has beside his book."""
    files = world / FILES
    (files / "phone").mkdir(parents=True)
    (world / NAMED / "stick").mkdir(parents=True)
    (files / "plan.csv").write_bytes((ROOT / "fixtures/demo/plan.csv").read_bytes())
    sound = files / "phone/2026-10-05 08.00.00.wav"
    told = str(ROOT / "fixtures/demo/recordings/2026-10-05 09.05.00.wav")
    with wave.open(told) as whole, wave.open(str(sound), "wb") as first:
        first.setparams(whole.getparams())
        first.writeframes(whole.readframes(int(3.4 * whole.getframerate())))  # One utterance.
    exif = Image.Exif()
    exif[0x010F] = exif[0x0110] = "Invented"
    exif.get_ifd(0x8769)[0x9003] = "2026:10:05 07:00:30"
    for shade, name in enumerate(PICTURES):
        (files / name).parent.mkdir(parents=True, exist_ok=True)
        Image.new("RGB", (64, 48), (90 + shade, 128, 128)).save(files / name, exif=exif)
    # The demo with a tenth of its files: what it does with one recording it does with all.
    (files / "shown/recordings").mkdir()
    (files / "shown/recordings/memo.wav").write_bytes(sound.read_bytes())
    (files / "shown/plan.csv").write_bytes((files / "plan.csv").read_bytes())
    for name, text in TABLES.items():
        (files / name).write_text(text, "utf-8")


PICTURES = ("phone/yard.jpg", "more/eave.jpg", "shown/photos/gable.jpg")
TABLES = {
    "runs.csv": "work,place,length,depth\nboxed eave,north eave,41 ft,12\n",
    "pieces.csv": "length,pieces,label\n63 1/2,4,sill\n41,6,rake\n",
    "earlier.csv": "job,date,item,work,gone\nCedar Lane,2026-05-02,soffit panel,20,22\n",
    "house.csv": """what,name,length,height,top,corner,depth,pitch
side,front,42 ft,9 ft,eave,outside,12,
side,left,28 ft,9 ft,gable,outside,12,6/12
side,back,42 ft,9 ft,eave,outside,12,
side,right,28 ft,9 ft,gable,outside,12,6/12
""",
    "phone/way.gpx": """<?xml version="1.0"?>
<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>
<trkpt lat="41.52" lon="-70.66"><time>2026-10-05T11:00:00Z</time></trkpt>
<trkpt lat="41.521" lon="-70.66"><time>2026-10-05T12:00:00Z</time></trkpt>
</trkseg></trk></gpx>
""",
}


def words_of(words: tuple[str, ...]) -> Callable[[], None]:
    """The command line with these words."""

    def do() -> None:
        from joblog.cli import main

        sys.argv = ["joblog", *words]
        main()

    return do


def every_place() -> None:
    """Goes to each place of the screens, opens what is chosen there, and goes back."""
    import asyncio

    from joblog.service import open_desk, places
    from joblog_tui.app import ReviewApp
    from joblog_tui.go import PLACES

    async def go() -> None:
        with places.opened(places.place_of(Path(BOOK))) as book:
            app = ReviewApp(open_desk(book, "Corner porch"))
            async with app.run_test(size=(80, 24)) as pilot:
                for place in PLACES:
                    app.action_go_to(place.key)
                    await pilot.pause()
                    await pilot.press("enter")
                    await pilot.pause()
                    await pilot.press("escape")

    asyncio.run(go())


def begins(name: str) -> None:
    """Tells whoever watches what is done from now on."""
    with suppress(OSError):
        os.open(BEGINS + name.replace("/", " "), os.O_RDONLY)


def in_a_fork(do: Callable[[], None]) -> int:
    if not (child := os.fork()):
        status = 70
        try:
            do()
            status = 0
        except SystemExit as left:
            status = left.code if isinstance(left.code, int) else 1 if left.code else 0
        except BaseException:
            traceback.print_exc()
        finally:
            for stream in (sys.stdout, sys.stderr):
                stream.flush()
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def load() -> None:
    """What most of them load, once for all; it is watched as it is loaded."""
    import joblog_tui
    from joblog.cli import command

    for folder in (Path(command.__file__).parents[1], Path(joblog_tui.__file__).parent):
        for file in folder.rglob("[a-z]*.py"):
            if file.parent.name in LOADED:
                import_module(".".join(file.relative_to(folder.parent).with_suffix("").parts))
    with suppress(SystemExit):
        words_of(("parse", "used two sheets of soffit"))()
    gc.freeze()  # Else every fork would copy what it looks through for garbage.


LOADED = ("cli", "service", "report", "papers", "book", "joblog_tui")


def main() -> None:
    os.chdir(sys.argv[1])
    load()
    from joblog.cli import demo

    demo._demo_files = lambda: Path("files/shown").absolute()
    doings = [(" ".join(words), words_of(words)) for words in COMMANDS]
    for name, do in [*doings, (SCREENS, every_place)]:
        begins(name)
        if status := in_a_fork(do):
            print(f"{name}: ended with {status}", file=sys.stderr)
            sys.exit(1)


if __name__ == "__main__":
    main()
