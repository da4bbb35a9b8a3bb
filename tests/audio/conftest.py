"""Kinds of recordings that this PyAV cannot write are left out; `tone.amr` and `tone.3gp` are kept
as files, so that reading them is tested with every PyAV."""

import sys

import av
import pytest
from sound_cards import Plugs, SoundCards

from fixtures.voices import CODECS

UNWRITABLE = {
    ending for ending, (_, codec, *_) in CODECS.items() if codec not in av.codecs_available
}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        given = getattr(getattr(item, "callspec", None), "params", {}).values()
        endings = {f".{text.rpartition('.')[2]}" for text in given if isinstance(text, str)}
        if endings & UNWRITABLE:
            item.add_marker(pytest.mark.skip(reason=f"PyAV {av.__version__} cannot write it"))


@pytest.fixture
def plug(monkeypatch: pytest.MonkeyPatch) -> Plugs:
    def plugged(*names: str, **how: object) -> SoundCards:
        cards = SoundCards(*names, **how)  # type: ignore[arg-type]
        monkeypatch.setitem(sys.modules, "sounddevice", cards)
        monkeypatch.setattr("joblog.audio.portaudio._STREAMS", [])
        return cards

    return plugged
