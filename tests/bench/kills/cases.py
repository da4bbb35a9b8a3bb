"""What is killed: every command with words, and the screens with keys, each on a small book."""

from __future__ import annotations

import sqlite3
import wave
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from tests.bench.kills import screens

JOB, OTHER = "Gull Point cottage", "Heron House"


@dataclass(frozen=True, slots=True)
class Case:
    """Words of a command, and those of commands that were said before. `keys` are pressed in the
    screens instead, as long as there is something to decide."""

    words: tuple[str, ...]
    before: tuple[tuple[str, ...], ...] = ()
    share: float = 1.0
    after: tuple[str, ...] = ()
    """What is said afterwards, before what there is is looked at."""
    """How many kills it gets, of what others get."""
    only_reads: bool = False
    ends_with: tuple[int, ...] = (0,)
    do: Callable[[], int | None] | None = None
    """What is done in the place of the command."""

    @property
    def name(self) -> str:
        shown = [word if len(word) < 24 else word[:23] + "…" for word in self.words]
        return " ".join(f'"{word}"' if " " in word else word for word in shown)

    @property
    def command(self) -> str:
        return self.words[0]


def _of(
    *words: str,
    before: tuple[tuple[str, ...], ...] = (),
    share: float = 1.0,
    after: tuple[str, ...] = (),
) -> Case:
    return Case(words, before, share, after)


def _reads(*words: str) -> Case:
    return Case(words, share=0.1, only_reads=True)


AT = ("--at", "2026-10-05 14:30")

RESTORED = ("restore", "stick", "--book", "restored")

CASES = (
    _of("new", "Mill house", "--zone", "America/New_York", "--plan", "files/plan.csv"),
    _of("new", "Mill house", "--zone", "America/New_York", "--book", "another"),
    _of("demo", "--no-ui", "shown", share=0.5),
    _of("add", "files/phone", share=2),
    _of("add", "files/more/eave.jpg"),
    _of("watch", "files/phone", "--once", "--settle", "0.1"),
    _of("write", "used three sheets of soffit", *AT),
    _of("write", "delivered ten sticks of fascia. no, twelve. 6 hours hang soffit", *AT),
    _of("write", "scratch that", *AT, before=(("write", "used two sheets of soffit", *AT),)),
    _of("edit", "2", "quantity", "9"),
    _of("drop", "1", "2"),
    _of("bin", "--entry", "1", "--back", "1", before=(("drop", "1"),)),
    _of("done", "hang soffit", "82"),
    _of("split", "2", "6"),
    _of("merge", "3", "4"),
    _of("tie", "yard.jpg", "1"),
    _of("tie", "yard.jpg", "1", "--back", before=(("tie", "yard.jpg", "1"),)),
    _of("move", "2026-10-05 07-00-00.wav", "--to", OTHER),
    _of("move", "yard.jpg", "--to", OTHER),
    _of("withdraw", "2026-10-05 07-00-00.wav"),
    _of("withdraw", "yard.jpg"),
    _of("withdraw", "yard.jpg", "--back", before=(("withdraw", "yard.jpg"),)),
    _of("clock", "Invented", "--set", "+47 min"),
    _of("clock", "Invented", "--back", before=(("clock", "Invented", "--set", "+47 min"),)),
    _of("fence", "--at", "41.52 -70.66", "--radius", "80"),
    _of("fence", "--radius", "60", before=(("fence", "--at", "41.52 -70.66"),)),
    _of("fence", "--learned", before=(("fence", "--at", "41.52 -70.66"),)),
    _of("undo"),
    _of("undo", before=(("drop", "1"), ("edit", "2", "quantity", "5"))),
    _of("redo", before=(("drop", "1"), ("undo",))),
    _of("close", "--anyway"),
    _of("close", "--back", before=(("close", "--anyway"),)),
    _of("sign", "2026-10-05"),
    _of("plan", "files/plan.csv"),
    _of("takeoff", "files/runs.csv", "--to-plan"),
    _of("catalog", "files/catalog.csv"),
    _of("catalog", "set", "fascia", "cost=15.20", "length=12 ft"),
    _of("catalog", "drop", "fascia"),
    _of("catalog", "same", "vented board", "soffit panel"),
    _of("catalog", "own", "vented board"),
    _of("bid", "files/runs.csv", "--set", "hourly cost=42", "--set", "overhead=12%"),
    _of("bid", "files/runs.csv", "--job", "Barn", "--zone", "America/Chicago"),
    _of("bid", "--from-plan", "--set", "margin=20%"),
    _of("bid", "--set", "round=10", before=(("bid", "--from-plan", "--set", "margin=20%"),)),
    _of("bid", "--set", "margin=25%", "--pdf", "bid.pdf", before=(("bid", "--from-plan"),)),
    _of("house", "files/house.csv"),
    _of("stock", "take", "fascia", "--job", OTHER, before=(
        ("write", "delivered ten sticks of fascia", *AT),
        ("write", "six sticks of fascia to the shop", *AT),
    )),
    _of("rates", "--add", "files/earlier.csv"),
    _of("rates", "--drop", "Cedar Lane", before=(("rates", "--add", "files/earlier.csv"),)),
    _of("use", OTHER),
    _of("use", "--none", before=(("use", OTHER),)),
    _of("voice", "--promise", "1/100"),
    _of("voice", "hear", "files/card.wav"),
    _of("voice", "forget"),
    _of("listen", "--from", "files/2026-10-05 15.00.00.wav", "--fast", "--answers", "none",
        share=0.4),
    _of("check", "--accept"),
    _of("copy", "copied"),
    _of("check", "--mend", before=(("backup", "stick"), ("(spoil)",))),
    _of("backup", "stick", after=RESTORED),
    _of("backup", before=(("backup", "stick"), ("drop", "1")), after=RESTORED),
    _of("backup", "stick", "--keep", "1", before=(
        ("backup", "stick"), ("drop", "1"), ("backup", "stick"), ("drop", "2"),
    ), after=RESTORED),
    _of("restore", "stick", "--book", "restored", before=(("backup", "stick"),)),
    _of("pack", "job.jobpack"),
    _of("unpack", "job.jobpack", "--book", "another",
        before=(("pack", "job.jobpack"), ("new", "Mill house", "--book", "another"))),
    _of("unpack", "job.jobpack", "--book", "another", before=(
        ("pack", "first.jobpack"), ("new", "Mill house", "--book", "another"),
        ("unpack", "first.jobpack", "--book", "another"), ("drop", "1"), ("pack", "job.jobpack"),
    )),
    _of("paper", "day", "--html", "day.html"),
    _of("covered", "--into", "handed"),
    _of("site", "--svg", "site.svg"),
    _of("house", "--svg", "house.svg", before=(("house", "files/house.csv"),)),
    _of("cuts", "--from", "files/pieces.csv", "--stock", "12 ft", "--html", "cuts.html"),
    *(
        Case(("review", keys), (("(evening)",), *before), 0.3, do=do)
        for keys, do, before in (
            ("keep", screens.answering("a", anew=True), ()),
            ("drop", screens.answering("d"), ()),
            ("answer 1", screens.answering("1"), ()),
            ("undo", screens.taking_back, (("drop", "1", "--book", "evening", "--job", JOB),)),
        )
    ),
    _reads("jobs"), _reads("entries"), _reads("search", "soffit"), _reads("photos"),
    _reads("recordings"), _reads("day"), _reads("history"), _reads("squareup"), _reads("todo"),
    _reads("parse", "used two sheets of soffit"),
    _reads("hear", "files/phone/2026-10-05 08-00-00.wav"),
    _reads("order"), _reads("check"), _reads("voice"), _reads("completion", "bash"),
)  # fmt: skip

LEFT_OUT = {"fetch-model": "goes online, and writes nothing into the book"}


def spoil(world: Path) -> None:
    """Damages a book: an original is gone, and a line is not as it was written."""
    next((world / "book/media").glob("*/*.wav")).unlink()
    with closing(sqlite3.connect(world / "book/book.sqlite")) as book:
        book.execute("UPDATE photo SET width = 65 WHERE name = 'yard.jpg'")
        book.commit()


def without_words(commands: set[str]) -> set[str]:
    """The commands that nobody gave words to."""
    return commands - {case.command for case in CASES} - set(LEFT_OUT)


def lay_out(world: Path) -> None:
    """The files that a person has beside his book."""
    files = world / "files"
    for folder in (
        world / "home",
        world / "tmp",
        world / "stick",
        files / "phone",
        files / "more",
        files / "first",
    ):
        folder.mkdir(parents=True)
    for name, text in TABLES.items():
        (files / name).write_text(text, "utf-8")
    _told(files / "first/2026-10-05 07-00-00.wav", "north wall 10 and seven eighths",
          "used twelve sheets of soffit", "used two sheets of soffit",
          "used three sheets of soffit", "delivered thirty sheets of soffit",
          "four hours hanging soffit")  # fmt: skip
    _pictured(files / "first/yard.jpg", "2026:10:05 07:00:30", 90)
    _pictured(files / "first/wall.jpg", "2026:10:05 09:00:00", 120)
    _told(files / "phone/2026-10-05 08-00-00.wav", "south eave 22 and a half",
          "used four sheets of soffit",
          "take a photo of the south eave", "scratch that")  # fmt: skip
    _told(files / "phone/2026-10-05 08-30-00.wav", "used one stick of fascia")
    _pictured(files / "phone/eave.jpg", "2026:10:05 08:00:31", 60)
    _pictured(files / "more/eave.jpg", "2026:10:05 08:00:31", 61)
    _told(files / "shown/recordings/2026-10-06 07-00-00.wav", "used two sheets of soffit")
    _pictured(files / "shown/photos/eave.jpg", "2026:10:06 07:00:10", 70)
    (files / "shown/plan.csv").write_text(TABLES["plan.csv"], "utf-8")
    _told(files / "card.wav", "CARD")
    _sounded(files / "2026-10-05 15.00.00.wav")


def _told(path: Path, *lines: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("\n".join(lines))


def _pictured(path: Path, taken: str, shade: int) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    exif = Image.Exif()
    exif[0x010F] = exif[0x0110] = "Invented"
    exif.get_ifd(0x8769)[0x9003] = taken
    exif.get_ifd(0x8769)[0x9011] = "-04:00"
    Image.new("RGB", (64, 48), (shade, 128, 128)).save(path, exif=exif)


def _sounded(path: Path) -> None:
    """Two utterances of noise that a cutter takes for speech, between silences."""
    import numpy as np

    from joblog.audio.decode import RATE
    from tests.audio.sounds import even_babble, quiet

    parts = (quiet(0.6), even_babble(1.5), quiet(4.4), even_babble(3.5), quiet(3.0))
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(RATE)
        sound.writeframes((np.concatenate(parts) * 32767).astype("<i2").tobytes())


BEGUN = (
    ("new", JOB, "--zone", "America/New_York", "--plan", "files/plan.csv"),
    ("new", OTHER, "--zone", "America/New_York"),
    ("use", JOB),
    ("add", "files/first"),
    ("write", "photo of the open wall. used one roll of house wrap. note the vent is blocked", *AT),
)
"""What was said before every case."""

TABLES = {
    "plan.csv": """line,name,quantity,unit,cost,opening,said,net,offcut,amount,task
item,soffit panel,15,sheet,21.40,,soffit; soffit panels,13,1,,hang soffit
item,fascia,7,stick,14.90,,fascia board,6 1/2,1/2,,wrap fascia
item,vented board,4,stick,,,,,,,
item,house wrap,1,roll,118.00,,,,,,
task,hang soffit,18,hour,48.00,,hung soffit,,,82 ft,
task,wrap fascia,6,hour,48.00,,wrapped fascia,,,82 ft,
place,north eave,,,,,,,,,
place,south eave,,,,,,,,,
""",
    "runs.csv": """work,place,length,depth
boxed eave,north eave,41 ft,12
boxed eave,south eave,41 ft,12
""",
    "catalog.csv": """line,name,unit,cost,said
item,soffit panel,sheet,22.10,soffit
item,drip edge,stick,9.80,
task,hang gutter,ft,48,
""",
    "earlier.csv": """job,date,item,work,gone
Cedar Lane,2026-05-02,soffit panel,20,22
Cedar Lane,2026-05-02,fascia,10,11
Dune Road,2026-06-11,soffit panel,14,15
""",
    "house.csv": """what,name,length,height,top,corner,depth,pitch,at,sill,count,gutter
side,front,42 ft,9 ft,eave,outside,12,,,,,yes
window,kitchen,3 ft,4 ft,,,,,6 ft,3 ft,2,
side,left,28 ft,9 ft,gable,outside,12,6/12,,,,
side,back,42 ft,9 ft,eave,outside,12,,,,,
side,right,28 ft,9 ft,gable,outside,12,6/12,,,,
""",
    "pieces.csv": """item,length,pieces
fascia,41,2
fascia,63 1/2,3
""",
}
