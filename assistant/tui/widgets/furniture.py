"""The head and the foot of every page."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Static

from assistant.tui.widgets.keyed_list import key_cap


class Page(Vertical):
    """The sheet that holds head, leaf and foot; on a wide screen it stands in the middle."""


class Masthead(Horizontal):
    """What this page is, and at the right how far along."""

    def __init__(self, left: str, right: str = "") -> None:
        super().__init__()
        self._left, self._right = left, right

    def compose(self) -> ComposeResult:
        """The two ends of the line."""
        yield Static(self._left, classes="left", markup=False)
        yield Static(self._right, classes="right", markup=False)

    def say_right(self, text: str) -> None:
        """Changes the right end."""
        self.query_one(".right", Static).update(Content(text))


class KeyLine(Static):
    """The keys that work on this page, and what each does."""

    def __init__(self, keys: Iterable[tuple[str, str]]) -> None:
        parts = [key_cap(key) + Content(word.replace(" ", "\N{NO-BREAK SPACE}")) for key, word in keys]
        super().__init__(Content(" ").join(parts))
