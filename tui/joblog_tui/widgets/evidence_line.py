"""What is played, or where something was, on a line that is there only while there is any."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static


class EvidenceLine(Static):
    DEFAULT_CSS = """
    EvidenceLine { height: auto; max-height: 2; padding: 0 1; display: none;
                &.-shown { display: block; } }
    """

    def __init__(self) -> None:
        super().__init__(markup=False)

    def say(self, line: Content | str) -> None:
        """Shows a line; "" takes it away."""
        self.update(line)
        self.set_class(bool(line), "-shown")
