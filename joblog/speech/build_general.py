"""The general recognizer's model, put in its place while joblog is installed.

It comes inside the `moonshine-voice` wheel (MIT licence), whose own library is not needed and does
not exist for every system; its files are the same for all. They are fetched with pip, held against
their checksums, and kept beside this file, so that nothing is fetched when joblog is used.
"""

from __future__ import annotations

import hashlib
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

FOLDER = Path("joblog/speech/general-en")
WHEEL = "moonshine-voice==0.0.73"
"""The last version that carries a model."""
PLATFORM = "win_amd64"
"""The smallest of its wheels, 50 MB."""
WHEEL_SHA256 = "fd9895bec46f929ac3747fb83bede3826f7a32c3d0c9559b4b2840fa5e6d2bcd"
FILES = {
    "decoder_model_merged.ort": "cf524c4862d36e9e5ab032eddc73637efd822d70e868ac575cf1a46e1e4708a0",
    "encoder_model.ort": "94e90a4654fc45cdfedb77c4c08e1739f48862998e58fada384b25118134f221",
    "tokenizer.bin": "6884b35fd6377d4c4d32336a0bc152f36b64d1e45b6503683cdc238250a8472d",
}
"""What is taken out of it, with the SHA-256 of each."""


class GeneralModel(BuildHookInterface[Any]):
    """Called by hatchling before it builds a wheel or an editable install."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        folder = Path(self.root) / FOLDER
        if any(not _is(folder / name, digest) for name, digest in FILES.items()):
            folder.mkdir(exist_ok=True)
            with tempfile.TemporaryDirectory() as passing:
                _unpack(_fetched(Path(passing)), folder)


def _is(file: Path, digest: str) -> bool:
    return file.is_file() and hashlib.sha256(file.read_bytes()).hexdigest() == digest


def _fetched(folder: Path) -> Path:
    wanted = folder / "wanted.txt"
    wanted.write_text(f"{WHEEL} --hash=sha256:{WHEEL_SHA256}\n", "utf-8")
    pip = [sys.executable, "-m", "pip", "download", "--quiet", "--disable-pip-version-check"]
    which = ["--no-deps", "--only-binary=:all:", "--platform", PLATFORM, "--require-hashes"]
    done = subprocess.run([*pip, *which, "--dest", str(folder), "--requirement", str(wanted)])
    if done.returncode:
        raise SystemExit(
            f"The general speech model could not be fetched (it is inside {WHEEL}, 50 MB).\n"
            "See that there is a network, and install joblog again."
        )
    [wheel] = folder.glob("*.whl")
    return wheel


def _unpack(wheel: Path, folder: Path) -> None:
    with zipfile.ZipFile(wheel) as packed:
        for entry in packed.namelist():
            name = entry.rpartition("/")[2]
            if name == "LICENSE" or (name in FILES and "/tiny-en/" in entry):
                passing = folder / f"{name}.part"
                passing.write_bytes(packed.read(entry))
                passing.replace(folder / name)
