"""What a day of listening came to, held against what was truly said. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import numpy as np

from tests.bench.corpus import same_but_for_place
from tests.bench.site_day import Day, Said

Span = tuple[float, float]
"""Seconds from the day's start."""


@dataclass(frozen=True)
class Kept:
    """An entry of the book at the end of the day."""

    start: float
    end: float
    entry: dict[str, Any]
    doubtful: bool
    """It waits for a person."""
    dropped: bool
    recording: str = ""


@dataclass(frozen=True)
class Cost:
    """What the listener had cost by then: CPU seconds since its process began, bytes of memory."""

    at: float
    cpu: float
    memory: float


@dataclass(frozen=True)
class Run:
    """All that is known of a day on which something listened."""

    day: Day
    spoken: dict[int, Span]
    """When each thing was truly said; what was never said is not in it."""
    plays: tuple[tuple[float, float, float], ...]
    """Start and end of what was heard of the listener, and how long it would have been."""
    found: tuple[Span, ...]
    """Every stretch that the listener took for speech to it."""
    recordings: tuple[tuple[float, float, str], ...]
    kept: tuple[Kept, ...]
    costs: tuple[Cost, ...] = ()
    kills: tuple[Span, ...] = ()
    """When it died, and when it heard again."""
    hears_itself: bool = True
    """What it plays gets into its microphone."""


@dataclass
class Facts:
    """How the facts that were said ended up."""

    said: int = 0
    exact: int = 0
    needless: int = 0
    """Exact, and doubted all the same; part of `exact`."""
    asked: int = 0
    """Not exact, and doubtful."""
    silent: int = 0
    """Wrong and not doubtful."""
    lost: int = 0
    """Nothing stands of it, and nothing says so."""
    extra: int = 0
    """Stands beside what was said, not doubtful."""

    @property
    def silent_errors(self) -> int:
        return self.silent + self.lost + self.extra


@dataclass
class Figures:
    """The measure of one run."""

    said: int = 0
    found: int = 0
    split: int = 0
    """Found in two or more pieces."""
    spared: int = 0
    """Being said when it was killed; counted nowhere else."""
    hours: float = 0.0
    false_entries: int = 0
    false_sure: int = 0
    """Those of them that wait for nobody."""
    false_answers: int = 0
    """Spoke though nobody had spoken to it."""
    own_voice: int = 0
    strict: Facts = field(default_factory=Facts)
    lenient: Facts = field(default_factory=Facts)
    """The place is not compared, and a note more is not wrong."""
    commands: int = 0
    commands_taken: int = 0
    """Answered, and nothing written down (but a photo note)."""
    answers: int = 0
    over_person: int = 0
    """Sounded more than 0.25 s while he spoke."""
    longest_over: float = 0.0
    talked_over: int = 0
    """Times that he began to speak while it was answering."""
    talked_over_found: int = 0
    stopped_after: list[float] = field(default_factory=list)
    """Seconds from then to its silence."""
    too_long: int = 0
    """Read-backs over 3 s."""
    lengths: list[float] = field(default_factory=list)
    latencies: list[float] = field(default_factory=list)
    answerable: int = 0
    """Facts and commands after which there was room for an answer."""
    near_kills: int = 0
    """Said in the half minute before it was killed, and over by then."""
    near_kills_found: int = 0
    doubled: int = 0
    """Recordings that hold the same moment as another one."""
    silence_cpu: float | None = None
    """CPU seconds a second in minutes in which nobody spoke."""
    by_noise: dict[str, tuple[int, int]] = field(default_factory=dict)
    """Found and said, by how far he was above the noise."""
    missed: list[Said] = field(default_factory=list)
    false: list[tuple[float, str]] = field(default_factory=list)
    """When something was written down or said for nothing, and what."""
    wrong: list[tuple[int, str]] = field(default_factory=list)
    """Scene and what became of it, of what is not exact."""


BANDS = {"20 dB and more": 20.0, "10 to 20": 10.0, "under 10": -99.0}
OVER = 0.25
LONGEST = 3.0
GREETING = 10.0
"""Seconds after its start in which it may speak unasked: to say that it listens."""
ROOM = 2.0
"""Seconds that he leaves for an answer; when he says more before, none is wanted yet."""
BEING_SAID = 1.2
"""Seconds after which a sentence is over for whoever listens."""


def measure(run: Run) -> Figures:
    """The figures of one run."""
    figures = Figures(hours=run.day.seconds / 3600)
    said = {one.number: one for one in run.day.said if one.number in run.spoken}
    spared = {
        number
        for number in said
        for died, again in run.kills
        if run.spoken[number][0] < again and run.spoken[number][1] + BEING_SAID > died
    }
    figures.spared = len(spared)
    heard = [one for number, one in said.items() if number not in spared]
    _count_found(figures, run, heard)
    _count_false(figures, run)
    _count_facts(figures, run, said, {said[number].scene for number in spared})
    _count_answers(figures, run, heard)
    _count_kills(figures, run, heard)
    figures.silence_cpu = _silence(run)
    return figures


def overlap(one: Span, other: Span) -> float:
    return max(0.0, min(one[1], other[1]) - max(one[0], other[0]))


def _count_found(figures: Figures, run: Run, heard: Sequence[Said]) -> None:
    spans = sorted({*run.found, *((start, end) for start, end, _ in run.recordings)})
    joined = _joined(spans)
    for one in heard:
        span = run.spoken[one.number]
        share = sum(overlap(span, other) for other in joined) / max(span[1] - span[0], 1e-9)
        figures.said += 1
        figures.found += share >= 0.5
        figures.split += sum(overlap(span, other) > 0.2 for other in joined) > 1
        band = next(name for name, least in BANDS.items() if one.above >= least)
        found, said = figures.by_noise.get(band, (0, 0))
        figures.by_noise[band] = (found + (share >= 0.5), said + 1)
        if share < 0.5:
            figures.missed.append(one)


def _joined(spans: Iterable[Span]) -> list[Span]:
    out: list[Span] = []
    for start, end in spans:
        if out and start < out[-1][1] - 0.1:
            out[-1] = (out[-1][0], max(end, out[-1][1]))
        else:
            out.append((start, end))
    return out


def _scene_of(run: Run, kept: Kept) -> int | None:
    """The scene in which an entry was said; None where he said nothing then."""
    span = (kept.start, max(kept.end, kept.start + 0.05))
    best, most = None, 0.0
    for one in run.day.said:
        if one.number not in run.spoken:
            continue
        mine = run.spoken[one.number]
        shared = overlap(span, mine)
        if shared > most and shared >= 0.3 * min(span[1] - span[0], mine[1] - mine[0]):
            best, most = one.scene, shared
    return best


def _count_false(figures: Figures, run: Run) -> None:
    for kept in run.kept:
        if _scene_of(run, kept) is not None:
            continue
        figures.false_entries += 1
        figures.false.append((kept.start, "dropped " * kept.dropped + brief(kept)))
        figures.false_sure += not (kept.doubtful or kept.dropped)
        length = max(kept.end - kept.start, 0.05)
        own = sum(
            overlap((kept.start, kept.end), (start, end + 0.3)) for start, end, _ in run.plays
        )
        figures.own_voice += run.hears_itself and own >= 0.3 * length
    begins = (0.0, *(again for _, again in run.kills))
    for start, _, _ in run.plays:
        if any(begin <= start < begin + GREETING for begin in begins):
            continue
        near = (begun <= start and start - 8.0 < ended for begun, ended in run.spoken.values())
        if not any(near):
            figures.false_answers += 1
            figures.false.append((start, "spoke"))


def _count_facts(figures: Figures, run: Run, said: dict[int, Said], spared: set[int]) -> None:
    standing: dict[int, list[Kept]] = defaultdict(list)
    for kept in run.kept:
        scene = _scene_of(run, kept)
        if scene is not None and not kept.dropped and kept.entry["kind"] != "correction":
            standing[scene].append(kept)
    scenes: dict[int, list[Said]] = defaultdict(list)
    for one in said.values():
        scenes[one.scene].append(one)
    place: str | None = None
    for scene, ones in sorted(scenes.items()):
        if scene in spared:
            continue
        wanted: list[tuple[dict[str, Any], str | None]] = []
        for one in ones:
            for fact in one.facts:
                wanted.append((fact, place))
                place = fact.get("place") or place
        commands = [one for one in ones if one.kind == "command"]
        if commands:
            found = [kept for kept in standing[scene] if kept.entry["kind"] != "photo"]
            figures.strict.extra += sum(not kept.doubtful for kept in found)
            figures.lenient.extra += sum(not kept.doubtful for kept in found)
            _count_commands(figures, run, commands, bool(found))
            continue
        _hold(figures.lenient, wanted, standing[scene], strictly=False)
        before = (figures.strict.exact, figures.strict.extra)
        _hold(figures.strict, wanted, standing[scene], strictly=True)
        if (figures.strict.exact - before[0], figures.strict.extra) != (len(wanted), before[1]):
            shown = "; ".join(brief(kept) for kept in standing[scene]) or "nothing"
            figures.wrong.append((scene, shown))


def _count_commands(
    figures: Figures, run: Run, commands: Sequence[Said], written_down: bool
) -> None:
    for one in commands:
        ended = run.spoken[one.number][1]
        figures.commands += 1
        answered = any(ended - 0.3 <= start <= ended + 5.0 for start, _, _ in run.plays)
        figures.commands_taken += answered and not written_down


def _hold(
    facts: Facts,
    wanted: Sequence[tuple[dict[str, Any], str | None]],
    standing: Sequence[Kept],
    *,
    strictly: bool,
) -> None:
    left = list(standing)
    unmet = 0
    facts.said += len(wanted)
    for fact, carried in wanted:
        same = [kept for kept in left if _same(fact, carried, kept.entry, strictly)]
        if not same:
            unmet += 1
            continue
        best = min(same, key=lambda kept: kept.doubtful)
        left.remove(best)
        facts.exact += 1
        facts.needless += best.doubtful
    if not strictly and unmet < len(wanted):
        left = [kept for kept in left if kept.entry["kind"] != "note" or kept.doubtful]
    doubtful = sum(kept.doubtful for kept in left)
    sure = len(left) - doubtful
    asked = min(unmet, doubtful)
    silent = min(unmet - asked, sure)
    facts.asked += asked
    facts.silent += silent
    facts.lost += unmet - asked - silent
    facts.extra += sure - silent


def _same(
    wanted: dict[str, Any], carried: str | None, found: dict[str, Any], strictly: bool
) -> bool:
    if not same_but_for_place(wanted, found):
        return False
    if not strictly:
        return True
    place = found.get("place")
    return place == wanted.get("place") or (not wanted.get("place") and place in (None, carried))


def _count_answers(figures: Figures, run: Run, heard: Sequence[Said]) -> None:
    spans = sorted(run.spoken.values())
    for start, end, _ in run.plays:
        over = max((overlap((start, end), span) for span in spans), default=0.0)
        figures.answers += 1
        figures.over_person += over > OVER
        figures.longest_over = max(figures.longest_over, over)
    missed = {one.number for one in figures.missed}
    for one in heard:
        begun, ended = run.spoken[one.number]
        for start, end, _ in run.plays:
            if start < begun < end:
                figures.talked_over += 1
                figures.talked_over_found += one.number not in missed
                figures.stopped_after.append(end - begun)
        following = min((start for start, _ in spans if start > begun), default=1e9)
        if one.kind == "reply" or following < ended + ROOM:
            continue
        figures.answerable += 1
        answers = [
            (start, whole)
            for start, _, whole in run.plays
            if ended - 0.3 <= start < min(following, ended + 8.0)
        ]
        if answers:
            figures.latencies.append(answers[0][0] - ended)
            if one.kind == "fact":
                figures.lengths.append(answers[0][1])
                figures.too_long += answers[0][1] > LONGEST


def _count_kills(figures: Figures, run: Run, heard: Sequence[Said]) -> None:
    missed = {one.number for one in figures.missed}
    for died, _ in run.kills:
        near = [one for one in heard if died - 30 < run.spoken[one.number][1] < died]
        figures.near_kills += len(near)
        figures.near_kills_found += sum(one.number not in missed for one in near)
    ordered = sorted(run.recordings)
    figures.doubled = sum(overlap(one[:2], two[:2]) > 0.6 for one, two in pairwise(ordered))


def _silence(run: Run) -> float | None:
    talk = [(one.at, one.end) for one in run.day.around if one.text]
    talk += [*run.spoken.values(), *((start, end) for start, end, _ in run.plays)]
    shares = [
        (two.cpu - one.cpu, two.at - one.at)
        for one, two in _spans_of_costs(run.costs)
        if not any(overlap((one.at - 10, two.at), span) for span in talk)
    ]
    seconds = sum(length for _, length in shares)
    return sum(cpu for cpu, _ in shares) / seconds if seconds else None


def _spans_of_costs(costs: Sequence[Cost]) -> Iterator[tuple[Cost, Cost]]:
    for one, two in pairwise(costs):
        if two.at > one.at and two.cpu >= one.cpu:
            yield one, two


def brief(kept: Kept) -> str:
    """An entry in one line."""
    shown = {
        name: value
        for name, value in kept.entry.items()
        if value is not None and name not in ("carried", "as_said")
    }
    return f"{'DOUBT ' * kept.doubtful}{shown}"


def curve(costs: Sequence[Cost], minutes: int = 15) -> list[str]:
    """Memory, and CPU seconds a second, of every quarter of an hour, as lines of text."""
    shares: dict[int, list[float]] = defaultdict(list)
    memory: dict[int, float] = {}
    for one, two in _spans_of_costs(costs):
        shares[int(one.at // (60 * minutes))].append((two.cpu - one.cpu) / (two.at - one.at))
    for cost in costs:
        part = int(cost.at // (60 * minutes))
        memory[part] = max(memory.get(part, 0.0), cost.memory / 2**20)
    most = max(memory.values(), default=1.0)
    bars = {part: "#" * round(30 * memory[part] / most) for part in sorted(memory)}
    return [
        f"{part * minutes / 60:5.2f} h  {memory[part]:6.0f} MB {bar:30}"
        f"  CPU {np.mean(shares.get(part, [0.0])):6.1%}"
        for part, bar in bars.items()
    ]


def report(figures: Figures, run: Run) -> list[str]:
    """The figures as lines of text, each with its goal."""
    f = figures
    lines = [
        f"{f.hours:.2f} h; found {f.found} of {f.said} utterances, {_share(f.found, f.said)}"
        f" (goal 98 %); {f.split} in pieces; {f.spared} left out, being said when it was killed",
        "found by how far he is above the noise: "
        + ", ".join(
            f"{band} {f.by_noise[band][0]} of {f.by_noise[band][1]}"
            for band in BANDS
            if band in f.by_noise
        ),
        f"false: {f.false_entries} entries, {f.false_entries / f.hours:.1f} an hour (goal 1);"
        f" without a doubt {f.false_sure}, {f.false_sure / f.hours:.1f} an hour;"
        f" spoke though nobody spoke to it {f.false_answers}, {f.false_answers / f.hours:.1f} an"
        f" hour; own voice taken for his {f.own_voice} (goal 0)",
    ]
    for name, facts in (("strictly", f.strict), ("leniently", f.lenient)):
        lines.append(
            f"facts {name}: {facts.said} said, exact {facts.exact}"
            f" ({_share(facts.exact, facts.said)}, {facts.needless} doubted), asked {facts.asked}"
            f" ({_share(facts.asked, facts.said)}), silent errors {facts.silent_errors}"
            f" ({_share(facts.silent_errors, facts.said)}: wrong {facts.silent}, lost {facts.lost},"
            f" too many {facts.extra})"
        )
    lines.append(f"commands taken: {f.commands_taken} of {f.commands}")
    if f.latencies:
        middle, late = np.percentile(f.latencies, [50, 95])
        lines.append(
            f"answered {len(f.latencies)} of {f.answerable}; from the end of speech to the answer"
            f" {middle:.2f} s median, {late:.2f} s 95th (goal 0.7, 1.5)"
        )
    longest = max(f.lengths, default=0.0)
    lines.append(
        f"{f.answers} answers, {f.over_person} over the person by more than {OVER} s (most"
        f" {f.longest_over:.2f} s); read-backs over {LONGEST:.0f} s: {f.too_long} of"
        f" {len(f.lengths)}, longest {longest:.1f} s"
    )
    if f.stopped_after:
        lines.append(
            f"he talked over it {f.talked_over} times and was found {f.talked_over_found} times; it"
            f" was silent after {np.median(f.stopped_after):.2f} s (median),"
            f" {max(f.stopped_after):.2f} s at most"
        )
    if run.kills:
        lines.append(
            f"killed {len(run.kills)} times; of what had been said in the half minute before, found"
            f" {f.near_kills_found} of {f.near_kills}; recordings of the same moment twice:"
            f" {f.doubled}"
        )
    quiet = "not known" if f.silence_cpu is None else f"{f.silence_cpu:.1%} of one core"
    lines.append(f"CPU while nobody speaks: {quiet} (goal 15 %)")
    return [*lines, *curve(run.costs)]


def _share(part: int, whole: int) -> str:
    return f"{part / whole:.1%}" if whole else "none"
