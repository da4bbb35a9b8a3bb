"""Other Vosk models: where they are looked for and how the general one is fetched."""

from pathlib import Path
from types import SimpleNamespace

import pytest
import requests
import vosk

from joblog.speech import SpeechError, fetch_general_model
from joblog.speech.vosk_models import find_model


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder in which alone Vosk keeps its models."""
    monkeypatch.setattr(vosk, "MODEL_DIRS", [None, tmp_path])
    return tmp_path


def test_a_folder_is_taken_as_it_is(tmp_path: Path) -> None:
    assert find_model(tmp_path) == tmp_path


def test_a_name_is_looked_for_where_vosk_keeps_models(home: Path) -> None:
    (home / "vosk-model-of-mine").mkdir()
    assert find_model("vosk-model-of-mine") == home / "vosk-model-of-mine"


def test_a_name_that_is_nowhere_is_told_with_the_places_looked_in(home: Path) -> None:
    with pytest.raises(SpeechError, match="there is no speech model nobody") as failure:
        find_model("nobody")
    assert str(home) in str(failure.value)


def test_a_general_model_that_is_there_already_is_not_fetched(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(requests, "get", None)
    (home / "vosk-model-small-en-us-9.9").mkdir()
    assert fetch_general_model() == home / "vosk-model-small-en-us-9.9"


def test_without_a_network_one_plain_line_says_so(
    home: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def unreachable(*_: object, **__: object) -> None:
        raise requests.ConnectionError("no route")

    monkeypatch.setattr(requests, "get", unreachable)
    with pytest.raises(SpeechError, match="could not be fetched") as failure:
        fetch_general_model()
    assert "\n" not in str(failure.value)
    assert capfd.readouterr() == ("", "")


def test_vosk_leaving_the_program_becomes_an_error(
    home: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(requests, "get", lambda *_, **__: SimpleNamespace(json=list))
    with pytest.raises(SpeechError, match="Vosk fetched no model"):
        fetch_general_model()
    assert capfd.readouterr() == ("", "")
