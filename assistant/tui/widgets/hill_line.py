"""The line that the roots of a hill are written on."""

from __future__ import annotations

from dataclasses import dataclass

from textual import events
from textual.message import Message
from textual.widgets import Input

from assistant.tui.widgets.keyed_list import TAKES_KEYS


class HillLine(Input):
    """An input whose backspace, while nothing is written, asks for the last hill back."""

    @dataclass
    class LastWantedBack(Message):
        """Backspace on the empty line."""

    def __init__(self) -> None:
        super().__init__(select_on_focus=False, classes=TAKES_KEYS)

    def on_key(self, event: events.Key) -> None:
        """Takes backspace on the empty line."""
        if event.key == "backspace" and not self.value:
            self.post_message(self.LastWantedBack())
            event.prevent_default()
            event.stop()

    def write(self, text: str) -> None:
        """Puts text on the line, to be mended."""
        self.value = text
        self.cursor_position = len(text)
