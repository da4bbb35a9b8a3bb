"""Makes the trade model from nothing: `python -m joblog.speech.training.build`.

    python -m joblog.speech.training.build [--work FOLDER] [--hours 27] [--seconds 1580]
                                           [--into FOLDER] [--from STEP] [--people FOLDER ...]

The steps are sound, lexicon, train, export and graph. Each leaves its result in the work folder
and is passed over when that is there; training goes on from where it was stopped. `--from` does a
step and what follows it anew. With a GPU 1580 seconds of training made the model that ships; two
cores of a processor without one need days for the same, and are of use for trying it. Packs of
people, which `python -m joblog.speech.training.people` makes of recordings, are learned too.

Wanted besides the extra `train`: espeak-ng and flite, and fstconvert with its look-ahead types
(Debian: espeak-ng flite libfst-tools libfst22-plugins-base). The model takes the place of the one
that comes with joblog, or goes `--into` another folder.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
from collections.abc import Callable, Iterable, Sequence
from itertools import islice
from pathlib import Path

import torch

from joblog.catalog.lines import starter_catalog
from joblog.model import Vocabulary
from joblog.speech.phrases import phrases
from joblog.speech.training.export import export
from joblog.speech.training.graph import graph
from joblog.speech.training.language_model import (
    LanguageModel,
    language_model,
    with_strange_words,
)
from joblog.speech.training.lexicon import (
    is_guessed,
    lexicon,
    practice,
    pronounced,
    words_of,
)
from joblog.speech.training.people import CORPORA
from joblog.speech.training.synthesize import plan, synthesize
from joblog.speech.training.text import lines
from joblog.speech.training.train import read_lexicon, train, trained
from joblog.speech.training.units import NUMBER

STEPS = ("sound", "lexicon", "train", "export", "graph")
LINES = 60_000
"""Lines of the training text that the language model learns from, of those about the trade."""
BATCH, SMALL_BATCH = 25.0, 2.0
"""Minutes of sound in a step of training, on a GPU and on a processor."""
PRACTICE = 5
"""How often each practice sentence counts among them."""


def main() -> None:
    ask = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    ask.add_argument("--work", type=Path, default=Path("build/trade-en"))
    ask.add_argument("--hours", type=float, default=27.0, help="of clean sound")
    ask.add_argument("--seconds", type=float, default=1580.0, help="of training")
    ask.add_argument("--into", type=Path, default=Path(__file__).parents[1] / "trade-en")
    ask.add_argument("--from", dest="first", choices=STEPS)
    ask.add_argument("--people", type=Path, action="append", default=[], help="folder of packs")
    asked = ask.parse_args()
    try:
        build(asked.work, asked.into, asked.hours, asked.seconds, asked.first, asked.people)
    except (RuntimeError, FileNotFoundError) as missing:
        raise SystemExit(f"{missing}\nWhat is done stays done: run it again to go on.") from None


def build(
    work: Path,
    into: Path,
    hours: float = 27.0,
    seconds: float = 1580.0,
    first: str | None = None,
    people: Sequence[Path] = (),
) -> None:
    """Does the steps whose results are not in `work` yet, and all from `first` on; `people` are
    folders of packs that are there."""
    model = work / "model"
    steps: dict[str, tuple[Path, Callable[[], None]]] = {
        "sound": (work / "sound" / "manifest.jsonl", lambda: _sound(work, hours)),
        "lexicon": (work / "lexicon.json", lambda: _lexicon(work, people)),
        "train": (work / "trained", lambda: _train(work, people, seconds)),
        "export": (
            model / "am" / "final.mdl",
            lambda: export(trained(work / "kept"), model / "am" / "final.mdl"),
        ),
        "graph": (
            model / "graph" / "words.txt",
            lambda: graph(model, _words(work), trade_language()),
        ),
    }
    stale = STEPS[STEPS.index(first) :] if first else ()
    for name, (result, make) in steps.items():
        if name in stale or not result.exists():
            print(name, flush=True)
            make()
    for part in ("am", "conf", "graph"):
        shutil.copytree(model / part, into / part, dirs_exist_ok=True)


def trade_language() -> LanguageModel:
    """How words follow one another on a job, with speech of no known word among them."""
    known = lexicon().pronunciations
    catalog = starter_catalog()
    job = Vocabulary(items=catalog.items, tasks=catalog.tasks)
    texts = [words_of(text) for text in (*phrases(Vocabulary()), *phrases(job))]
    texts += [words_of(text) for text in practice()] * PRACTICE
    about = (line.text.split() for line in lines(9) if line.kind in ("trade", "digits"))
    texts += islice(about, LINES)
    heard = [text for text in texts if text and all(word in known for word in text)]
    return language_model(with_strange_words(heard))


def _sound(work: Path, hours: float) -> None:
    synthesize(plan(hours), work / "sound", True, os.cpu_count() or 1)


def spoken_lexicon(folders: Iterable[Path]) -> dict[str, tuple[tuple[int, ...], ...]]:
    """Numbers of phones of the words that are known, and of those that folders of packs have.

    How people say a word that no dictionary has is not guessed: it counts as unknown.
    """
    known = dict(lexicon().pronunciations)
    for folder in folders:
        for listing in folder.glob("*.jsonl"):
            rows = map(json.loads, listing.read_text("utf-8").splitlines())
            for voice, word in {(row["voice"], w) for row in rows for w in row["text"].split()}:
                by_a_person = voice.split("/")[0] in CORPORA
                if word not in known and not (by_a_person and is_guessed(word)):
                    forms = [form.split() for form in pronounced(word)]
                    known[word] = tuple(tuple(NUMBER[phone] for phone in form) for form in forms)
    return known


def _lexicon(work: Path, people: Sequence[Path]) -> None:
    """Numbers of phones of all words that are said or known."""
    (work / "lexicon.json").write_text(
        json.dumps(spoken_lexicon([work / "sound", *people])), "utf-8"
    )


def _train(work: Path, people: Sequence[Path], seconds: float) -> None:
    workers = max(0, (os.cpu_count() or 1) - 2)
    minutes = BATCH if torch.cuda.is_available() else SMALL_BATCH
    sound = [work / "sound", *people]
    train(work / "kept", _words(work), sound, seconds, minutes=minutes, workers=workers)
    (work / "trained").touch()


def _words(work: Path) -> dict[str, tuple[tuple[int, ...], ...]]:
    return dict(read_lexicon(work / "lexicon.json"))


if __name__ == "__main__":
    main()
