"""LF-MMI against the same sums, written out."""

import pytest

torch = pytest.importorskip("torch", reason="needs the extra train")

from joblog.speech.training import lfmmi  # noqa: E402
from joblog.speech.training.lfmmi import NEVER, Said, mutual_information, said  # noqa: E402
from joblog.speech.training.units import KIND, KINDS, NUMBER, OUTPUTS, PHONES, SIL  # noqa: E402

WORDS = {
    "a": ((NUMBER["AH"],), (NUMBER["EY"],)),
    "cut": ((NUMBER["K"], NUMBER["AH"], NUMBER["T"]),),
}
TEXTS = [["a", "cut"], ["cut", "[unk]", "a"]]
CHANCES = lfmmi.phone_chances(TEXTS * 20, WORDS)
LENGTHS = torch.tensor([14, 11])


def outputs() -> torch.Tensor:
    scores = torch.randn(2, 14, OUTPUTS, generator=torch.Generator().manual_seed(3))
    return scores.requires_grad_()


def everything(scores: torch.Tensor) -> torch.Tensor:
    """Log-sum of all rows of phones."""
    levels = scores.view(-1, len(PHONES), len(KINDS), 2)[:, :, list(KIND)]
    begins, stays = levels[..., 0], levels[..., 1]
    alpha = torch.full((len(PHONES), len(PHONES)), NEVER)
    alpha[:, SIL] = CHANCES.first + begins[0][:, SIL]
    for begin, stay in zip(begins[1:], stays[1:], strict=True):
        entered = torch.logsumexp(alpha.T[:, :, None] + CHANCES.following, 0).T + begin
        alpha = torch.logaddexp(entered, alpha + stay)
    return torch.logsumexp((alpha + CHANCES.end.T).flatten(), 0)


def what_was_said(scores: torch.Tensor, graph: Said, number: int) -> torch.Tensor:
    """Log-sum of the rows of phones of one text."""
    begin = graph.outputs[number]
    alpha = graph.first[number] + scores[0, begin]
    for row in scores[1:]:
        came = torch.logsumexp(alpha[graph.into[number]] + graph.into_chance[number], 1)
        alpha = torch.logaddexp(came + row[begin], alpha + row[begin + 1])
    return torch.logsumexp(alpha + graph.last[number], 0)


def test_gain_and_gradient_are_those_of_the_plain_sums() -> None:
    graph = said(TEXTS, WORDS, CHANCES)
    ours, plain = outputs(), outputs()
    gain, _ = mutual_information(ours, LENGTHS, graph, CHANCES)
    gain.sum().backward()
    rows = [plain[number, : LENGTHS[number]] for number in range(2)]
    sums = [what_was_said(row, graph, number) - everything(row) for number, row in enumerate(rows)]
    sum(sums).backward()
    torch.testing.assert_close(gain, torch.stack(sums).detach(), atol=1e-3, rtol=0)
    torch.testing.assert_close(ours.grad, plain.grad, atol=1e-4, rtol=0)


def test_shares_of_a_frame_add_up_to_one() -> None:
    _, shares = mutual_information(outputs(), LENGTHS, said(TEXTS, WORDS, CHANCES), CHANCES)
    expected = (torch.arange(14)[None] < LENGTHS[:, None]).float()
    torch.testing.assert_close(shares.sum(2), expected, atol=1e-4, rtol=0)


def test_what_was_said_is_never_likelier_than_everything() -> None:
    gain, _ = mutual_information(outputs(), LENGTHS, said(TEXTS, WORDS, CHANCES), CHANCES)
    assert (gain < 0).all()


def test_chances_of_what_follows_two_phones_and_of_the_end_add_up_to_one() -> None:
    whole = CHANCES.following.exp().sum(2) + CHANCES.end.exp()
    said_somewhere = whole[NUMBER["K"], NUMBER["AH"]]
    assert float(said_somewhere) == pytest.approx(1.0, abs=0.01)
