"""Lattice-free maximum mutual information from a flat start, batched in PyTorch.

The network learns to make what was said (the numerator: the phones of the text, pauses between
words optional, every pronunciation allowed) likelier against everything that could have been said
(the denominator: phones following one another as a trigram of the language's phones has them). No
alignments are needed: Hadian, Sameti, Povey and Khudanpur, "End-to-end speech recognition using
lattice-free MMI", 2018. A phone lasts one frame or more; leaving it and staying are equally likely,
so that both drop out of the ratio.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import torch
from torch import Tensor

from joblog.speech.trade import UNKNOWN
from joblog.speech.training.units import KIND, KINDS, OUTPUTS, PHONES, SIL, SPN, output

NEVER = -1e30
PAUSE = 0.15
"""How often two words have a pause between them, in the denominator."""
EDGE_PAUSE = 0.8
"""How often an utterance begins or ends with one."""
LIMIT = 30.0
"""Outputs are taken as no larger than this, in either direction."""

Pronunciations = Mapping[str, tuple[tuple[int, ...], ...]]


@dataclass(frozen=True)
class PhoneChances:
    """Log-probabilities of phones: the first one, the next after two, the end after two."""

    first: Tensor
    """(phones): after nothing, which counts as a pause."""
    following: Tensor
    """(before, last, next)."""
    end: Tensor
    """(before, last)."""

    def to(self, device: torch.device | str) -> PhoneChances:
        return PhoneChances(self.first.to(device), self.following.to(device), self.end.to(device))


def mutual_information(
    outputs: Tensor, lengths: Tensor, said: Said, chances: PhoneChances
) -> tuple[Tensor, Tensor]:
    """What each utterance gains, in nats, and where the numerator puts its frames.

    `outputs` are (utterances, frames, OUTPUTS), of which `lengths` frames count. Gives
    (utterances,), whose gradient flows to `outputs`, and the numerator's shares of each output
    (utterances, frames, OUTPUTS), without gradient.
    """
    gain, shares = _Gain.apply(outputs, lengths, said, chances)
    return gain, shares


@dataclass(frozen=True)
class Said:
    """The phones of a batch of texts as graphs, padded to one size.

    Node `n` of an utterance is one phone at one place after one other; `into` and `out` are the
    nodes before and after it, with what the step costs.
    """

    outputs: Tensor
    """(utterances, nodes): the output of the node's first frame."""
    into: Tensor
    into_chance: Tensor
    out: Tensor
    out_chance: Tensor
    """(utterances, nodes, steps)."""
    first: Tensor
    last: Tensor
    """(utterances, nodes): log-probability to begin and to end there."""

    def to(self, device: torch.device | str) -> Said:
        return Said(*(getattr(self, name).to(device) for name in self.__dataclass_fields__))


def said(texts: Sequence[Sequence[str]], words: Pronunciations, chances: PhoneChances) -> Said:
    """The graphs of texts, each a row of words; `UNKNOWN` is speech of no known word."""
    tables = tuple(table.cpu().numpy() for table in (chances.first, chances.following, chances.end))
    graphs = [_graph([_forms(word, words) for word in text], tables) for text in texts]
    nodes = max(len(graph[0]) for graph in graphs)
    steps_in = max(len(row) for _, into, _, _ in graphs for row in into)
    outs = [_turned(into) for _, into, _, _ in graphs]
    steps_out = max(max(len(row) for row in out) for out in outs)
    size = len(graphs)
    outputs = np.zeros((size, nodes), np.int64)
    first, last = (np.full((size, nodes), NEVER, np.float32) for _ in range(2))
    for at, (marks, _, begin, finish) in enumerate(graphs):
        outputs[at, : len(marks)] = marks
        first[at, list(begin)] = list(begin.values())
        last[at, list(finish)] = list(finish.values())
    into, into_chance = _padded([graph[1] for graph in graphs], nodes, max(1, steps_in))
    out, out_chance = _padded(outs, nodes, max(1, steps_out))
    arrays = (outputs, into, into_chance, out, out_chance, first, last)
    return Said(*(torch.from_numpy(array) for array in arrays))


def shortest(text: Sequence[str], words: Pronunciations) -> int:
    """The fewest frames in which a text can be said."""
    return sum(min(map(len, _forms(word, words))) for word in text)


def phone_chances(texts: Iterable[Sequence[str]], words: Pronunciations) -> PhoneChances:
    """Chances of phones after one another in texts, shared out to what never came as Witten and
    Bell do."""
    size = len(PHONES)
    triples = np.zeros((size, size, size))
    ends = np.zeros((size, size))
    starts = np.zeros(size)
    draw = random.Random(0)
    for text in texts:
        row = [SIL] if draw.random() < EDGE_PAUSE else []
        for word in text:
            row += draw.choice(_forms(word, words))
            row += [SIL] if draw.random() < PAUSE else []
        if row[-1] != SIL and draw.random() < EDGE_PAUSE:
            row.append(SIL)
        padded = [SIL, *row]
        starts[row[0]] += 1
        for before, last, following in zip(padded, row, row[1:], strict=False):
            triples[before, last, following] += 1
        ends[padded[-2], row[-1]] += 1
    pairs = triples.sum(0)
    alone = pairs.sum(0) + 0.5
    pair = _smoothed(pairs, (alone / alone.sum())[None, :], ends.sum(0)[:, None])
    triple = _smoothed(triples, pair[0][None], ends[:, :, None])
    end_pair = pair[1][:, 0]
    contexts = triples.sum(2) + ends
    kinds = (triples > 0).sum(2) + (ends > 0)
    end = (ends + kinds * end_pair[None]) / np.maximum(contexts + kinds, 1e-9)
    end = np.where(contexts > 0, end, end_pair[None])
    starts += 0.1
    tensors = (starts / starts.sum(), triple[0], np.maximum(end, 1e-7))
    return PhoneChances(*(torch.tensor(np.log(one), dtype=torch.float32) for one in tensors))


def _smoothed(
    counts: np.ndarray[Any, Any], lower: np.ndarray[Any, Any], ends: np.ndarray[Any, Any]
) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
    """Chances of the last axis and of an end; a pause never follows a pause."""
    kinds = (counts > 0).sum(-1, keepdims=True) + (ends > 0)
    whole = counts.sum(-1, keepdims=True) + ends + kinds
    known = whole > 0
    chance = np.where(known, (counts + kinds * lower) / np.maximum(whole, 1e-9), lower)
    chance[..., SIL, SIL] = 0.0
    return np.maximum(chance, 1e-8), np.where(known, ends / np.maximum(whole, 1e-9), 1e-3)


_Tables = tuple[np.ndarray[Any, Any], ...]
_Steps = list[list[tuple[int, float]]]


def _graph(
    words: Sequence[tuple[tuple[int, ...], ...]], tables: _Tables
) -> tuple[list[int], _Steps, dict[int, float], dict[int, float]]:
    """Outputs of the nodes, steps into each, and where it may begin and end."""
    first, following, end = tables
    marks: list[int] = []
    into: _Steps = []
    begin: dict[int, float] = {}

    def node(before: int, phone: int, steps: list[tuple[int, float]]) -> int:
        marks.append(output(phone, before))
        into.append(steps)
        return len(marks) - 1

    # Open ends (before, last, node); an utterance begins after a pause, with or without its node.
    at = node(SIL, SIL, [])
    begin[at] = float(first[SIL])
    ends = [(SIL, SIL, at)]
    for number, forms in enumerate(words):
        reached: list[tuple[int, int, int]] = []
        heads = sorted({last for _, last, _ in ends})
        for form in forms:
            tips = []
            for last in heads:
                steps = [
                    (at, float(following[before, last, form[0]]))
                    for before, end_phone, at in ends
                    if end_phone == last
                ]
                tips.append((last, form[0], node(last, form[0], steps)))
            if number == 0:
                begin[tips[0][2]] = float(first[form[0]])
            for last, phone in pairwise(form):
                steps = [(at, float(following[before, last, phone])) for before, _, at in tips]
                tips = [(last, phone, node(last, phone, steps))]
            reached += tips
        ends = list(reached)
        for last in sorted({last for _, last, _ in reached}):
            steps = [
                (at, float(following[before, last, SIL]))
                for before, end_phone, at in reached
                if end_phone == last
            ]
            ends.append((last, SIL, node(last, SIL, steps)))
    return marks, into, begin, {at: float(end[before, last]) for before, last, at in ends}


def _forms(word: str, words: Pronunciations) -> tuple[tuple[int, ...], ...]:
    return ((SPN,),) if word == UNKNOWN else words[word]


def _turned(into: _Steps) -> _Steps:
    out: _Steps = [[] for _ in into]
    for at, steps in enumerate(into):
        for before, chance in steps:
            out[before].append((at, chance))
    return out


def _padded(
    graphs: Sequence[_Steps], nodes: int, width: int
) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
    index = np.zeros((len(graphs), nodes, width), np.int64)
    chance = np.full((len(graphs), nodes, width), NEVER, np.float32)
    for number, graph in enumerate(graphs):
        for at, steps in enumerate(graph):
            for place, (other, cost) in enumerate(steps):
                index[number, at, place] = other
                chance[number, at, place] = cost
    return index, chance


class _Gain(torch.autograd.Function):
    """Numerator less denominator; both gradients are posterior shares of the outputs."""

    @staticmethod
    def forward(
        context: Any, outputs: Tensor, lengths: Tensor, said: Said, chances: PhoneChances
    ) -> tuple[Tensor, Tensor]:
        scores = outputs.detach().float().clamp(-LIMIT, LIMIT)
        above, numerator = _numerator(scores, lengths, said)
        below, denominator = _denominator(scores, lengths, chances)
        context.save_for_backward((numerator - denominator).to(outputs.dtype))
        context.mark_non_differentiable(numerator)
        return above - below, numerator

    @staticmethod
    def backward(context: Any, gain: Tensor, _: Tensor) -> tuple[Tensor, None, None, None]:
        (shares,) = context.saved_tensors
        return gain[:, None, None] * shares, None, None, None


def _numerator(scores: Tensor, lengths: Tensor, said: Said) -> tuple[Tensor, Tensor]:
    """Log-likelihoods of the utterances, and shares of each output at each frame."""
    size, frames, _ = scores.shape
    nodes, width = said.into.shape[1:]
    where = said.outputs[:, None].expand(size, frames, nodes)
    begins = scores.gather(2, where).transpose(0, 1).contiguous()
    stays = scores.gather(2, where + 1).transpose(0, 1).contiguous()
    into = said.into.reshape(size, -1)
    out = said.out.reshape(size, -1)
    ahead, entered = torch.empty_like(begins), torch.empty_like(begins)
    alpha = entered[0] = ahead[0] = said.first + begins[0]
    for frame in range(1, frames):
        came = alpha.gather(1, into).view(size, nodes, width) + said.into_chance
        entered[frame] = came.logsumexp(2) + begins[frame]
        alpha = torch.logaddexp(entered[frame], alpha + stays[frame])
        ahead[frame] = alpha
    final = (lengths - 1)[None, :, None].expand(1, size, nodes)
    total = (ahead.gather(0, final)[0] + said.last).logsumexp(1)
    share_begin, share_stay = (torch.full_like(begins, NEVER) for _ in range(2))
    beta = torch.full_like(alpha, NEVER)
    for frame in range(frames - 1, -1, -1):
        beta = torch.where((lengths - 1 == frame)[:, None], said.last, beta)
        rest = beta - total[:, None]
        share_begin[frame] = entered[frame] + rest
        if frame:
            share_stay[frame] = ahead[frame - 1] + stays[frame] + rest
            leaves = (beta + begins[frame]).gather(1, out).view(size, nodes, -1)
            beta = torch.logaddexp((leaves + said.out_chance).logsumexp(2), beta + stays[frame])
    shares = torch.zeros_like(scores)
    shares.scatter_add_(2, where, share_begin.exp().transpose(0, 1))
    shares.scatter_add_(2, where + 1, share_stay.exp().transpose(0, 1))
    return total, shares


def _denominator(scores: Tensor, lengths: Tensor, chances: PhoneChances) -> tuple[Tensor, Tensor]:
    """The same over all rows of phones; the states are (last, before, utterance)."""
    size, frames, _ = scores.shape
    phones, kinds = len(PHONES), len(KINDS)
    device = scores.device
    kind = torch.tensor(KIND, device=device)
    top = scores.amax(2)
    level = (scores - top[..., None]).exp().view(size, frames, phones, kinds, 2)
    level = level.permute(1, 4, 2, 3, 0).contiguous()
    following = chances.following.exp()
    onward = following.permute(1, 2, 0).contiguous()
    """(last, next, before), so that a product with the states sums over before."""
    back = following.permute(1, 0, 2).contiguous()
    end = chances.end.exp().T[..., None]
    ahead = torch.empty((frames, phones, phones, size), device=device)
    entered = torch.empty_like(ahead)
    scale = torch.empty((frames, size), device=device)
    alpha = torch.zeros((phones, phones, size), device=device)
    alpha[:, SIL] = chances.first.exp()[:, None] * level[0, 0, :, KIND[SIL]]
    entered[0] = alpha
    for frame in range(frames):
        begin, stay = level[frame, 0][:, kind], level[frame, 1][:, kind]
        if frame:
            torch.mul(torch.bmm(onward, alpha).transpose(0, 1), begin, out=entered[frame])
            alpha = entered[frame] + alpha * stay
        scale[frame] = alpha.sum((0, 1)).clamp(min=1e-30)
        alpha = alpha / scale[frame]
        ahead[frame] = alpha
    known = torch.arange(frames, device=device)[:, None] < lengths[None]
    final = (
        ahead[lengths - 1, :, :, torch.arange(size, device=device)].permute(1, 2, 0) * end
    ).sum((0, 1))
    total = ((scale.log() + top.T) * known).sum(0) + final.log()
    shares = torch.zeros((frames, 2, phones, kinds, size), device=device)
    beta = torch.zeros_like(alpha)
    collect = torch.zeros((kinds, phones), device=device)
    collect[kind, torch.arange(phones, device=device)] = 1.0
    for frame in range(frames - 1, -1, -1):
        beta = torch.where(lengths - 1 == frame, end / final, beta)
        rest = beta / scale[frame]
        torch.matmul(collect, entered[frame] * rest, out=shares[frame, 0])
        if frame:
            stay = level[frame, 1][:, kind] * rest
            torch.matmul(collect, ahead[frame - 1] * stay, out=shares[frame, 1])
            begun = (level[frame, 0][:, kind] * rest).transpose(0, 1).contiguous()
            beta = torch.bmm(back, begun) + stay
    return total, shares.permute(4, 0, 2, 3, 1).reshape(size, frames, OUTPUTS)
