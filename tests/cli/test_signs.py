"""What a terminal cannot show has a plain sign in its place."""

from __future__ import annotations

import subprocess
import sys

import pytest

from joblog.cli.signs import plain_signs


@pytest.mark.parametrize(
    ("shown", "plain"),
    [
        ("▸ ✓ × ▂", "> + x -"),
        ("→ 3 photos …", "> 3 photos ."),
        ("┌─┐", "+-+"),
        ("½ café", "1/2 cafe"),
        ("21,40 €", "21,40 EUR"),
        ("木", "?"),
    ],
)
def test_a_plain_sign_stands_for_each(shown: str, plain: str) -> None:
    assert plain_signs(shown) == plain


def test_all_that_is_drawn_on_screens_keeps_its_place() -> None:
    drawn = "▸▶›→◂‹←↑▲↓▼✓×…·•─━│┃┌┐└┘├┤┬┴┼█▇▆▅▄▃▂▁▀▌▐▏▕╺╸╻╹▊▎"
    assert len(plain_signs(drawn)) == len(drawn)
    assert "?" not in plain_signs(drawn)


ASCII = {"PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii", "LC_ALL": "C", "PYTHONCOERCECLOCALE": "0"}


@pytest.mark.parametrize("stream", ["stdout", "stderr"])
def test_a_terminal_without_utf_8_gets_them(stream: str, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in ASCII.items():
        monkeypatch.setenv(name, value)
    code = (
        "import sys; from joblog.cli.signs import write_what_it_can; write_what_it_can(); "
        f"print('\\u25b8 caf\\u00e9', file=sys.__{stream}__)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert getattr(ran, stream) == "> cafe\n"
