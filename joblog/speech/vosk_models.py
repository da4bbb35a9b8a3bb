"""Vosk models other than our own: finding one, and fetching the general English one when asked."""

from __future__ import annotations

import contextlib
import io
import zipfile
from pathlib import Path
from typing import Any

from joblog.speech.recognizer import SpeechError


def find_model(model: Path | str) -> Path:
    """The folder of a Vosk model: a path, or a name where Vosk itself keeps models.

    Raises `SpeechError` when there is none.
    """
    folder = Path(model)
    if folder.is_dir():
        return folder
    places = _places()
    for place in places if folder.name == str(model) else ():
        if (place / folder).is_dir():
            return place / folder
    looked = ", ".join(str(place) for place in places)
    raise SpeechError(f"there is no speech model {model}; neither a folder here nor in {looked}")


def fetch_general_model() -> Path:
    """Downloads Vosk's small general English model with Vosk's own downloader; gives its folder.

    Only finds it when it is there already. Raises `SpeechError` when it cannot be fetched, such
    as without a network.
    """
    from joblog.speech.vosk_alone import vosk

    model: Any = vosk(fetching=True).Model

    class Finder(model):  # type: ignore[misc]
        """Vosk's search and download without loading what was found."""

        def __init__(self) -> None:
            pass

        def __del__(self) -> None:
            pass

    talk = io.StringIO()
    try:
        # Vosk prints what went wrong and leaves the program.
        with contextlib.redirect_stdout(talk):
            return Path(Finder().get_model_path(None, "en-us"))
    except (OSError, ValueError, zipfile.BadZipFile):
        raise SpeechError(
            "the general English model could not be fetched; see that there is a network, or copy"
            f" a model's folder into {_places()[-1]} by hand"
        ) from None
    except SystemExit:
        raise SpeechError(f"Vosk fetched no model: {talk.getvalue().strip()}") from None


def _places() -> list[Path]:
    """The folders in which Vosk keeps models, on this machine."""
    from joblog.speech.vosk_alone import vosk

    return [Path(place) for place in vosk().MODEL_DIRS if place is not None]
