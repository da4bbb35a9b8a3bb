"""Vosk without what it brings along to fetch models: merely loading that opens a network socket."""

from __future__ import annotations

import sys
from importlib import import_module
from threading import Lock
from types import ModuleType
from typing import Any

WEB = "requests"


def vosk(*, fetching: bool = False) -> Any:
    """The module; with `fetching` it can ask a network, and only then."""
    with _LOADING:
        put = WEB not in sys.modules and not fetching
        if put:
            sys.modules[WEB] = ModuleType(WEB)
        try:
            module: Any = import_module("vosk")
        finally:
            if put:
                del sys.modules[WEB]
    if fetching:
        module.requests = import_module(WEB)
    return module


_LOADING = Lock()
