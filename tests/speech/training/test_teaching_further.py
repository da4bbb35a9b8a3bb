"""Going on from a model that is trained."""

import json

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="needs the extra train")

from joblog.speech.training.export import export  # noqa: E402
from joblog.speech.training.net import Net  # noqa: E402
from joblog.speech.training.restore import restore  # noqa: E402
from joblog.speech.training.train import train, trained  # noqa: E402
from joblog.speech.training.units import NUMBER  # noqa: E402

RATE = 16_000
WORDS = {"two": ((NUMBER["T"], NUMBER["UW"]),)}


@pytest.fixture
def packs(tmp_path):
    """A second of noise, four times, said by two voices."""
    folder = tmp_path / "packs"
    folder.mkdir()
    noise = np.random.default_rng(1).standard_normal(4 * RATE) * 3000
    noise.astype("<i2").tofile(folder / "p.s16")
    rows = [
        {
            "pack": "p.s16", "start": at * RATE, "length": RATE, "voice": f"an4/{at % 2}",
            "kind": "digits", "text": "two cucumetto",
        }
        for at in range(4)
    ]  # fmt: skip
    (folder / "p.jsonl").write_text("".join(json.dumps(row) + "\n" for row in rows))
    return folder


@pytest.fixture
def model(tmp_path):
    torch.manual_seed(5)
    net = Net(entry=24, width=40, narrow=16, layers=2, last=20)
    torch.nn.init.normal_(net.scores.weight, std=0.1)
    export(net, tmp_path / "final.mdl")
    return tmp_path / "final.mdl"


def hears(net: Net) -> torch.Tensor:
    cepstra = 10 * torch.randn((1, 50, 40), generator=torch.Generator().manual_seed(3))
    with torch.no_grad():
        scores: torch.Tensor = net.eval()(cepstra)[0]
    return scores


def test_what_is_kept_at_first_hears_as_the_model_does(tmp_path, packs, model):
    train(tmp_path / "kept", WORDS, [packs], whole=0, minutes=0.1, model=model)
    one, other = hears(trained(tmp_path / "kept")), hears(restore(model))
    assert float((one - other).std() / other.std()) < 1e-4


def test_a_model_that_is_kept_already_is_not_begun_anew(tmp_path, packs, model):
    train(tmp_path / "kept", WORDS, [packs], whole=0, minutes=0.1, model=model)
    model.unlink()
    train(tmp_path / "kept", WORDS, [packs], whole=0, minutes=0.1, model=model)
    assert json.loads((tmp_path / "kept" / "progress.json").read_text())["steps"] == 1
