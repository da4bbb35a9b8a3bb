"""Writes the model's graphs, for composition while decoding: HCLr.fst, Gr.fst and their lists.

HCLr holds every word of the lexicon, Gr the language model; a grammar that Vosk is given at run
time takes Gr's place and may use any word of HCLr. Needs pywrapfst (of the package pynini), and
OpenFst's fstconvert with its look-ahead types: Debian's libfst-tools and libfst22-plugins-base.
"""

from __future__ import annotations

import math
import os
import shutil
import subprocess
import tempfile
from collections import defaultdict
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from joblog.speech.trade import UNKNOWN
from joblog.speech.training.export import transition_states
from joblog.speech.training.features import CONF
from joblog.speech.training.language_model import LanguageModel
from joblog.speech.training.lfmmi import PAUSE, Pronunciations
from joblog.speech.training.units import (
    KIND,
    KINDS,
    PHONES,
    PLACED,
    PLACED_NUMBER,
    SPN,
    bare,
    placed,
)

MODEL_CONF = """--min-active=200
--max-active=1500
--beam=9.0
--lattice-beam=8.0
--acoustic-scale=1.0
--frame-subsampling-factor=3
--endpoint.silence-phones=1
--endpoint.rule2.min-trailing-silence=0.5
--endpoint.rule3.min-trailing-silence=1.0
--endpoint.rule4.min-trailing-silence=2.0
--frames-per-chunk=150
"""
"""Settings of the search: 9 nats of beam (12 hear strange voices in noise a little better, a third
slower), and what silence ends an utterance, in seconds."""
SECOND_FORM = 0.3
"""Share of the probability that a word's pronunciations pay for being several."""


def graph(folder: Path, words: Pronunciations, language: LanguageModel) -> None:
    """Fills a model's folder with everything but the network.

    Raises `RuntimeError` when fstconvert is missing or cannot write the look-ahead type.
    """
    (folder / "graph" / "phones").mkdir(parents=True, exist_ok=True)
    (folder / "conf").mkdir(exist_ok=True)
    (folder / "conf" / "mfcc.conf").write_text(CONF, "ascii")
    (folder / "conf" / "model.conf").write_text(MODEL_CONF, "ascii")
    spelled = {**words, UNKNOWN: ((SPN,),)}
    numbers = {word: number for number, word in enumerate(sorted(spelled), 1)}
    lexicon, marks = _lexicon(spelled, numbers)
    changed = _look_ahead(_transitions(lexicon, marks), folder / "graph" / "HCLr.fst")
    numbers = {word: changed[number] for word, number in numbers.items()}
    _grammar(language, numbers).write(str(folder / "graph" / "Gr.fst"))
    _write_lists(folder / "graph", numbers, marks)


def _lexicon(words: Pronunciations, numbers: dict[str, int]) -> tuple[Any, int]:
    """Phones to words, pauses between them optional, as small as it can be made; and how many
    marks it took to keep words apart that sound the same."""
    fst = _fst()
    same: dict[tuple[int, ...], list[str]] = defaultdict(list)
    for word, forms in words.items():
        for form in forms:
            same[form].append(word)
    lexicon = fst.VectorFst()
    start, loop, pause = (lexicon.add_state() for _ in range(3))
    lexicon.set_start(start)
    lexicon.set_final(loop, 0.0)
    silence = PLACED_NUMBER["SIL"]
    lexicon.add_arc(start, fst.Arc(0, 0, math.log(2), loop))
    lexicon.add_arc(start, fst.Arc(silence, 0, math.log(2), loop))
    lexicon.add_arc(pause, fst.Arc(silence, 0, 0.0, loop))
    for word, forms in sorted(words.items()):
        for form in forms:
            labels = placed([PHONES[phone] for phone in form])
            if len(same[form]) > 1:
                labels.append(len(PLACED) + same[form].index(word))
            cost, sound, at = SECOND_FORM * math.log(len(forms)), numbers[word], loop
            for label in labels[:-1]:
                onward = lexicon.add_state()
                lexicon.add_arc(at, fst.Arc(label, sound, cost, onward))
                cost, sound, at = 0.0, 0, onward
            lexicon.add_arc(at, fst.Arc(labels[-1], sound, cost - math.log(1 - PAUSE), loop))
            lexicon.add_arc(at, fst.Arc(labels[-1], sound, cost - math.log(PAUSE), pause))
    lexicon.rmepsilon()
    lexicon.arcsort("olabel")
    smaller = fst.determinize(lexicon)
    encoder = fst.EncodeMapper("standard", encode_labels=True, encode_weights=True)
    smaller.encode(encoder)
    smaller.minimize(allow_nondet=True)
    smaller.decode(encoder)
    return smaller, max(map(len, same.values()))


def _transitions(lexicon: Any, marks: int) -> Any:
    """The lexicon with transitions of the network's outputs for phones.

    Its states know the kind of the sound before; where different phones lead to one state, each
    gets a state of its own to last in.
    """
    fst = _fst()
    numbers = {state: number for number, state in enumerate(transition_states(), 1)}
    first_mark = 2 * len(numbers) + 1
    pause = KIND[0]
    arcs: list[tuple[tuple[int, int], Any, int | None, tuple[int, int]]] = []
    met: dict[tuple[int, int], set[int]] = defaultdict(set)
    begin = (lexicon.start(), pause)
    met[begin].add(0)
    waiting, seen = [begin], {begin}
    while waiting:
        state = waiting.pop()
        for arc in lexicon.arcs(state[0]):
            speaks = 0 < arc.ilabel < len(PLACED)
            number = numbers[arc.ilabel, state[1]] if speaks else None
            target = (arc.nextstate, KIND[bare(arc.ilabel)] if speaks else state[1])
            arcs.append((state, arc, number, target))
            met[target].add(number or 0)
            if target not in seen:
                seen.add(target)
                waiting.append(target)
    made = fst.VectorFst()
    places = {state: made.add_state() for state in sorted(seen)}
    made.set_start(places[begin])
    lasting: dict[tuple[tuple[int, int], int], int] = {}
    for state, place in places.items():
        final = lexicon.final(state[0])
        if float(final) != math.inf:
            made.set_final(place, final)
        alone = next(iter(met[state])) if len(met[state]) == 1 else 0
        if alone:
            made.add_arc(place, fst.Arc(2 * alone - 1, 0, 0.0, place))
    for state, arc, number, target in arcs:
        goal, label = places[target], 0
        if number is None:
            label = first_mark + arc.ilabel - len(PLACED) if arc.ilabel else 0
        else:
            label = 2 * number
            if len(met[target]) > 1:
                if (target, number) not in lasting:
                    own = lasting[target, number] = made.add_state()
                    made.add_arc(own, fst.Arc(2 * number - 1, 0, 0.0, own))
                    made.add_arc(own, fst.Arc(0, 0, 0.0, goal))
                goal = lasting[target, number]
        made.add_arc(places[state], fst.Arc(label, arc.olabel, arc.weight, goal))
    made.connect()
    made.arcsort("olabel")
    return made


def _look_ahead(transitions: Any, path: Path) -> dict[int, int]:
    """Writes the graph in the type that looks ahead; gives the words' new numbers."""
    tool = shutil.which("fstconvert")
    if tool is None:
        raise RuntimeError(
            "fstconvert is missing; install libfst-tools and libfst22-plugins-base, or put a"
            " folder with it on PATH"
        )
    with tempfile.TemporaryDirectory() as space:
        plain, pairs = Path(space) / "plain.fst", Path(space) / "pairs"
        transitions.write(str(plain))
        order = ["--fst_type=olabel_lookahead", f"--save_relabel_opairs={pairs}"]
        done = subprocess.run(
            [tool, *order, str(plain), str(path)], env=_with_plugins(tool), capture_output=True
        )
        if done.returncode:
            raise RuntimeError(
                f"fstconvert could not write {path.name}; libfst22-plugins-base may be missing: "
                + done.stderr.decode(errors="replace").strip()
            )
        rows = [line.split() for line in pairs.read_text("ascii").splitlines()]
    return {int(old): int(new) for old, new in rows}


def _with_plugins(tool: str) -> dict[str, str]:
    """The environment with OpenFst's folders of libraries beside the tool, wherever it lies."""
    libraries = Path(tool).resolve().parents[1] / "lib"
    found = [str(one.parent) for one in libraries.rglob("olabel_lookahead-fst.so")]
    found += [str(one.parent) for one in libraries.rglob("libfstscript.so.*")]
    before = os.environ.get("LD_LIBRARY_PATH", "")
    return {**os.environ, "LD_LIBRARY_PATH": ":".join([*dict.fromkeys(found), before])}


def _grammar(language: LanguageModel, numbers: dict[str, int]) -> Any:
    fst = _fst()
    grammar = fst.VectorFst()
    steps = language.steps
    contexts = sorted(
        {language.start, *(end for step in steps for end in (step.source, step.target))}
    )
    places = {context: grammar.add_state() for context in contexts}
    grammar.set_start(places[language.start])
    for step in steps:
        label = 0 if step.word is None else numbers[step.word]
        grammar.add_arc(places[step.source], fst.Arc(label, label, step.cost, places[step.target]))
    for context, cost in language.ends.items():
        grammar.set_final(places[context], cost)
    grammar.connect()
    grammar.arcsort("ilabel")
    return fst.convert(grammar, "const")


def _write_lists(folder: Path, numbers: dict[str, int], marks: int) -> None:
    last = max(numbers.values())
    rows = {"<eps>": 0, **numbers, "#0": last + 1, "<s>": last + 2, "</s>": last + 3}
    listed = sorted(rows.items(), key=lambda row: row[1])
    _write(folder / "words.txt", [f"{word} {number}" for word, number in listed])
    names = {"B": "begin", "E": "end", "I": "internal", "S": "singleton"}
    sides = ["nonword", *(names[phone[-1]] for phone in PLACED[2:])]
    _write(
        folder / "phones" / "word_boundary.int", [f"{n} {side}" for n, side in enumerate(sides, 1)]
    )
    first = 2 * (len(PLACED) - 1) * len(KINDS) + 1
    _write(folder / "disambig_tid.int", [str(first + mark) for mark in range(marks)])


def _write(path: Path, lines: Sequence[str]) -> None:
    path.write_text("".join(f"{line}\n" for line in lines), "utf-8")


def _fst() -> Any:
    try:
        import pywrapfst
    except ImportError:
        raise ModuleNotFoundError(
            "graphs are made with pywrapfst: pip install joblog[train]"
        ) from None
    return pywrapfst
