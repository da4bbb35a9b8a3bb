"""A network out to Kaldi's file and in again."""

from pathlib import Path

import pytest

torch = pytest.importorskip("torch", reason="needs the extra train")

from joblog.speech.trade import _shipped  # noqa: E402
from joblog.speech.training.export import export  # noqa: E402
from joblog.speech.training.net import Net  # noqa: E402
from joblog.speech.training.restore import normalised, restore  # noqa: E402


def net() -> Net:
    """A network with weights and statistics that are nowhere zero or one."""
    torch.manual_seed(2)
    made = Net(entry=24, width=40, narrow=16, layers=3, last=20)
    for name, part in made.state_dict().items():
        if part.is_floating_point():
            broad = "var" in name or "spread" in name
            part.copy_(torch.rand_like(part) + 0.5 if broad else torch.randn_like(part) * 0.3)
    return made.eval()


def outputs(one: Net) -> torch.Tensor:
    cepstra = torch.randn((2, 60, 40), generator=torch.Generator().manual_seed(3))
    with torch.no_grad():
        scores: torch.Tensor = one.eval()(cepstra)[0]
    return scores


def apart(one: torch.Tensor, other: torch.Tensor) -> float:
    """How far apart outputs are, against how far they swing."""
    return float((one - other).std() / other.std())


def test_what_goes_out_comes_in_again_within_sixteen_bits(tmp_path: Path) -> None:
    export(net(), tmp_path / "final.mdl")
    back = restore(tmp_path / "final.mdl")
    assert back.shape == net().shape
    raw = normalised(net(), torch.zeros(40), torch.ones(40)).state_dict()
    for name, part in back.state_dict().items():
        if "chances" not in name and "tracked" not in name:
            # Kaldi's matrices have 65,536 values between the smallest and the largest.
            step = float(raw[name].max() - raw[name].min()) / 65535
            torch.testing.assert_close(part, raw[name], rtol=1e-5, atol=0.51 * step)
    assert apart(outputs(back), outputs(net())) < 1e-3


def test_the_second_way_out_writes_the_same_file_but_for_rounding(tmp_path: Path) -> None:
    export(net(), tmp_path / "one.mdl")
    export(restore(tmp_path / "one.mdl"), tmp_path / "two.mdl")
    one, two = (restore(tmp_path / name).state_dict() for name in ("one.mdl", "two.mdl"))
    for name, part in one.items():
        torch.testing.assert_close(two[name], part, rtol=1e-4, atol=1e-4)


def test_other_statistics_of_the_features_leave_the_outputs_as_they_are() -> None:
    before = outputs(net())
    after = normalised(net(), torch.arange(40.0), torch.arange(1.0, 41.0))
    assert after.mean[3] == 3
    assert apart(outputs(after), before) < 1e-5


def test_the_model_that_ships_can_be_taught_further() -> None:
    shipped = restore(_shipped() / "am" / "final.mdl")
    # What its card says.
    count = sum(part.numel() for part in shipped.parameters())
    assert count == pytest.approx(3.3e6, rel=0.02)


def test_a_file_of_another_program_is_refused(tmp_path: Path) -> None:
    (tmp_path / "final.mdl").write_bytes(b"\0B<Nnet3> ")
    with pytest.raises(ValueError, match="no network"):
        restore(tmp_path / "final.mdl")
