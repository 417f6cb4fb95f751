"""The line that an answer is written on."""

from __future__ import annotations

from dataclasses import dataclass

from textual import events
from textual.message import Message
from textual.widgets import Input

from assistant.tui.widgets.keyed_list import COMMAND_LETTERS, TAKES_KEYS
from assistant.tui.wording import toggle_about


class ValueLine(Input):
    """An input that leaves the command letters to the page until writing has begun.

    No value begins with one of those letters, but some hold them, such as "3 weeks ago". A day may begin with the
    letters of the outlook and the test dig, as in "October 20" and "today", which then need their function keys.
    """

    @dataclass
    class CantTellWanted(Message):
        """The key for *can't tell* was pressed."""

    def __init__(self, written: str = "", *, of_a_day: bool = False) -> None:
        super().__init__(value=written, select_on_focus=False, classes=TAKES_KEYS)
        self._written = written
        self._commands = COMMAND_LETTERS if of_a_day else COMMAND_LETTERS | {"o", "t"}

    def on_key(self, event: events.Key) -> None:
        """Takes the keys of its own, and hands command letters on while nothing is written."""
        if event.key in ("tab", "tilde") or event.character == "~":
            self.toggle_about()
        elif event.character == "?":
            self.post_message(self.CantTellWanted())
        elif self._is_command(event.character):
            # A key without a character is no writing, so the input lets it rise to the page's bindings.
            event.character = None
            return
        else:
            return
        event.prevent_default()
        event.stop()

    def toggle_about(self) -> None:
        """Puts "about" before what is written, or takes it away."""
        self.value = toggle_about(self.value)
        self.cursor_position = len(self.value)

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Whether a key is writing; the page's own letters are not, as long as nothing is written."""
        return not self._is_command(character) and super().check_consume_key(key, character)

    def _is_command(self, character: str | None) -> bool:
        untouched = self.value == self._written
        return untouched and (character or "").lower() in self._commands
