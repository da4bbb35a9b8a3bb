"""Makes the trade model from nothing: `python -m joblog.speech.training.build`.

    python -m joblog.speech.training.build [--work FOLDER] [--hours 27] [--seconds 1580]
                                           [--into FOLDER] [--from STEP]

The steps are sound, lexicon, train, export and graph. Each leaves its result in the work folder
and is passed over when that is there; training goes on from where it was stopped. `--from` does a
step and what follows it anew. With a GPU 1580 seconds of training made the model that ships; two
cores of a processor without one need days for the same, and are of use for trying it.

Wanted besides the extra `train`: espeak-ng and flite, and fstconvert with its look-ahead types
(Debian: espeak-ng flite libfst-tools libfst22-plugins-base). The model takes the place of the one
that comes with joblog, or goes `--into` another folder.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
from collections.abc import Callable
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
from joblog.speech.training.lexicon import lexicon, practice, pronounced, words_of
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
    asked = ask.parse_args()
    try:
        build(asked.work, asked.into, asked.hours, asked.seconds, asked.first)
    except (RuntimeError, FileNotFoundError) as missing:
        raise SystemExit(f"{missing}\nWhat is done stays done: run it again to go on.") from None


def build(
    work: Path, into: Path, hours: float = 27.0, seconds: float = 1580.0, first: str | None = None
) -> None:
    """Does the steps whose results are not in `work` yet, and all from `first` on."""
    model = work / "model"
    steps: dict[str, tuple[Path, Callable[[], None]]] = {
        "sound": (work / "sound" / "manifest.jsonl", lambda: _sound(work, hours)),
        "lexicon": (work / "lexicon.json", lambda: _lexicon(work)),
        "train": (work / "trained", lambda: _train(work, seconds)),
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


def _lexicon(work: Path) -> None:
    """Numbers of phones of all words that are said or known."""
    known = dict(lexicon().pronunciations)
    listed = (work / "sound" / "manifest.jsonl").read_text("utf-8").splitlines()
    said = {word for line in listed for word in json.loads(line)["text"].split()}
    for word in said - known.keys():
        forms = [form.split() for form in pronounced(word)]
        known[word] = tuple(tuple(NUMBER[phone] for phone in form) for form in forms)
    (work / "lexicon.json").write_text(json.dumps(known), "utf-8")


def _train(work: Path, seconds: float) -> None:
    workers = max(0, (os.cpu_count() or 1) - 2)
    minutes = BATCH if torch.cuda.is_available() else SMALL_BATCH
    train(work / "kept", _words(work), [work / "sound"], seconds, minutes=minutes, workers=workers)
    (work / "trained").touch()


def _words(work: Path) -> dict[str, tuple[tuple[int, ...], ...]]:
    return dict(read_lexicon(work / "lexicon.json"))


if __name__ == "__main__":
    main()
