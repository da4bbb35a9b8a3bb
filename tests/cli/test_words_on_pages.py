"""Every page of two books, read as the person in the truck would."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner

from fixtures.demo_script import JOB as DEMO_JOB
from fixtures.demo_script import RECORDINGS, ZONE
from joblog.cli import commands
from joblog.model import STOCK
from joblog.service import desk_at, places
from joblog.service.record import last_closing, read_balance
from joblog_tui.pages import pages as screens

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
RUNS = "work,place,length,depth\nboxed eave,north eave,41,12\nboxed eave,south eave,30,12\n"
PLAN = """line,name,quantity,unit,cost,opening,said,net,offcut,amount,task
item,soffit panel,9,sheet,31.25,,soffit,8,1/2,,hang soffit
item,F channel,6,stick,8.20,,,5,1/2,,hang soffit
item,fascia,6,stick,14.90,,,5,1/2,,wrap fascia
item,trim nails,3,lb,9,,,,,,
task,hang soffit,12,hour,40,,hanging soffit,,,80 ft,
task,wrap fascia,5,hour,40,,wrapping fascia,,,80 ft,
"""
PRICES = {"soffit panel": "31.25", "F channel": "8.20", "fascia": "14.90", "trim nails": "9"}
JOBS: Mapping[str, Mapping[str, str]] = {
    "Mill house": {
        "2026-09-07 08:00": "started at eight. ten soffit panels delivered at 31.25 each. six "
        "sticks of F channel delivered. seven sticks of fascia delivered. three pounds of trim "
        "nails delivered.",
        "2026-09-07 16:30": "used five soffit panels on the north eave. spoiled one soffit panel "
        "on the north eave, cut too short. hung forty feet of soffit in six hours. stopped at "
        "four thirty.",
        "2026-09-08 15:00": "started at eight. used three soffit panels on the south eave. two "
        "hours wrapping fascia. used five sticks of F channel. used six sticks of fascia. one "
        "soffit panel left. one stick of F channel left. half a stick of fascia left. took the "
        "soffit panel back to the shop. stopped at three.",
    },
    "Oak Street": {
        "2026-10-05 08:00": "started at eight. brought one soffit panel from the shop. nine "
        "soffit panels delivered at 33.00 each. six sticks of F channel delivered. six sticks of "
        "fascia delivered at 15 each.",
        "2026-10-05 18:00": "used nine soffit panels. nine hours hanging soffit. used six sticks "
        "of F channel. one soffit panel left. used seven of something. stopped at six.",
        "2026-10-06 16:00": "three hours wrapping fascia. used six sticks of fascia. no F channel "
        "left. no fascia left. spent forty dollars on the permit.",
    },
    "Third house": {
        "2026-11-02 08:00": "started at eight. ten soffit panels delivered. six sticks of F "
        "channel delivered at 8.40 each.",
        "2026-11-02 16:00": "five hours hanging soffit. used six soffit panels. took two sticks "
        "of F channel over to the Oak Street job. used three sticks of F channel.",
    },
}
"""Invented: two jobs that are closed and one that goes on, with a transfer, counts that are missing
and hours of which nobody said how much was done."""

FORBIDDEN = (
    "prior", "posterior", "geometric", "net plus", "crew hour", "crew-hour", "placed", "handling",
    "unaccounted", "either way", "hours per", "hours a foot", "per foot", "spoiled", "offcut",
    "leaning",
)  # fmt: skip
"""What nobody who runs a small crew says, or has another word for on these pages."""

Pages = Mapping[str, str]


def run(book: Path, *words: str) -> str:
    """What a command prints, where it did what it was asked."""
    ran = CliRunner().invoke(commands, (*words, "--book", str(book)), env={"COLUMNS": "80"})
    assert not ran.exception or isinstance(ran.exception, SystemExit), ran.exception
    return ran.stdout


def walked(book: Path, jobs: tuple[str, ...], runs: Path) -> Iterator[tuple[str, str]]:
    """Every page of these jobs, by its name."""
    folder = book.parent
    for job in jobs:
        of = ("--job", job)
        for words in (
            ("squareup",),
            *(("squareup", "--table", name) for name in TABLES),
            ("plan",),
            ("bid",),
            ("bid", "--outcome"),
            ("bid", "--versions"),
            ("day",),
            ("todo",),
        ):
            yield " ".join((*words, job)), run(book, *words, *of)
        for paper in ("day", "job", "close-out"):
            file = folder / f"{paper}.html"
            run(book, "paper", paper, "--html", str(file), "--over", *of)
            yield f"paper {paper} {job}", shown_text(file.read_text("utf-8"))
        yield from of_screens(book, job)
        yield f"close {job}", run(book, "close", "--anyway", *of)
    yield "bid --jobs", run(book, "bid", "--jobs")
    yield "jobs", run(book, "jobs")
    yield "rates", run(book, "rates")
    yield "stock", run(book, "stock")
    yield "takeoff", run(book, "takeoff", str(runs))
    yield "order", run(book, "order", str(runs), "--learned")
    house = folder / "house.csv"
    house.write_text(HOUSE, "utf-8")
    yield "house", run(book, "house", str(house), "--job", jobs[0])
    yield "takeoff of a house", run(book, "takeoff", "--house", "--job", jobs[0])


HOUSE = """what,name,length,height,height_end,top,corner,depth,pitch,count,gutter,at,area
side,front,42 ft,9 ft,,eave,outside,12,,,yes,,
window,kitchen,3 ft,4 ft,,,,,,2,,,
interrupted,porch roof,10 ft,,,,,,,,,16 ft,
side,left,28 ft,9 ft,,gable,outside,14 3/4,6/12,,,,
side,back,42 ft,9 ft,,eave,outside,12,,,yes,,
side,right,28 ft,9 ft,,gable,outside,14 3/4,6/12,,,,
body,dormer,,,,,end,,,2,,,
side,right,6 ft,0,4 ft,eave,outside,6,,,,,
side,front,6 ft,4 ft,,gable,outside,6,8/12,,,,
side,left,6 ft,4 ft,0,eave,end,6,,,,,
ceiling,porch,8 ft,6 ft,,,,,,,,,
attic,,,,,,,,,,,,1176 ft2
"""

TABLES = (
    "balance", "quantity", "money", "labor", "pay", "places", "days", "reasons", "beside",
    "missing",
)  # fmt: skip


def of_screens(book: Path, job: str) -> Iterator[tuple[str, str]]:
    """The pages of the squared-up job on the screen, line by line with what explains each."""
    with desk_at(places.place_of(book), job) as desk:
        squared = read_balance(desk)
        for page in screens(squared, last_closing(desk)):
            for at, line in enumerate(page.lines):
                yield f"screen {page.name} {at} {job}", f"{line.shown}\n{line.meaning.plain}"


class _Text(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self._hidden = False

    def handle_starttag(self, tag: str, _attributes: object) -> None:
        self._hidden = tag in ("style", "title")

    def handle_data(self, data: str) -> None:
        if not self._hidden:
            self.parts.append(data.strip())

    def handle_endtag(self, _tag: str) -> None:
        self._hidden = False


def shown_text(html: str) -> str:
    """What a browser shows of a page, a line for each piece of text."""
    parser = _Text()
    parser.feed(html)
    return "\n".join(filter(None, parser.parts))


@pytest.fixture(scope="module")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Pages:
    folder = tmp_path_factory.mktemp("invented")
    book, runs, plan = folder / "book", folder / "runs.csv", folder / "plan.csv"
    runs.write_text(RUNS, "utf-8")
    plan.write_text(PLAN, "utf-8")
    said = ["hourly cost=40", "overhead=10%", "margin=20%"]
    said += [f"{name}.price={price}" for name, price in PRICES.items()]
    setting = [word for one in said for word in ("--set", one)]
    zone = ("--zone", "America/Chicago")
    for job, told in JOBS.items():
        if job == "Oak Street":
            run(book, "new", job, *zone, "--plan", str(plan))
        else:
            more = setting if job == "Mill house" else []
            run(book, "bid", str(runs), "--job", job, *zone, *more)
        for at, words in told.items():
            run(book, "write", words, "--at", at, "--job", job)
        if job != "Third house":
            run(book, "close", "--anyway", "--job", job)
    return dict(walked(book, tuple(JOBS), runs))


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Pages:
    """The demo's job as its recordings say it, written down."""
    folder = tmp_path_factory.mktemp("demo")
    book = folder / "book"
    run(book, "new", DEMO_JOB, "--zone", ZONE, "--plan", str(DEMO / "plan.csv"))
    for one in RECORDINGS:
        words = ". ".join(line.text for line in one.lines)
        run(book, "write", words, "--at", one.made[:16].replace("T", " "))
    return dict(walked(book, (DEMO_JOB,), DEMO / "runs.csv"))


@pytest.fixture(params=["invented", "demo"])
def every_page(request: pytest.FixtureRequest) -> Pages:
    found: Pages = request.getfixturevalue(request.param)
    return found


def test_the_books_hold_what_the_pages_must_explain(invented: Pages, demo: Pages) -> None:
    assert "nobody counted what is left" in invented["squareup Third house"]
    assert "nobody said how much was done in" in invented["squareup Oak Street"]
    assert "moved" in invented["day Third house"]
    assert STOCK in invented["stock"]
    assert "what it teaches" in invented["close Mill house"]
    assert "charged" in invented["bid --outcome Mill house"]
    assert "cracked in the cold" in demo[f"squareup {DEMO_JOB}"]


def test_no_page_has_a_word_that_a_crew_does_not_use(every_page: Pages) -> None:
    found = [
        (name, word, line)
        for name, text in every_page.items()
        for line in text.splitlines()
        for word in FORBIDDEN
        if word in line.lower()
    ]
    assert found == []


_MARK = re.compile(r"(?<![\w'])\?(?!\w)|\d\?(?= |$)")
_EXPLAINED = re.compile(
    r'^\s*\? \S|^A "\?" is|not known|no bid yet|doubt|nobody (?:told|said)|is missing', re.M | re.I
)
"""A line that begins with the mark, or words that say why it is there."""


def test_a_question_mark_is_explained_on_the_page_that_it_stands_on(every_page: Pages) -> None:
    marked = {name: text for name, text in every_page.items() if _MARK.search(text)}
    assert marked
    assert [name for name, text in marked.items() if not _EXPLAINED.search(text)] == []


def test_waste_is_never_less_than_none(every_page: Pages) -> None:
    found = [name for name, text in every_page.items() if re.search(r"-\d[\d.]* ?%", text)]
    assert found == []
