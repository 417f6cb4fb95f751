"""A page with one line to write on, and one that asks before something is taken out."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import Input, Static

from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page

Write = Callable[[str], str]
"""Writes a text down and tells what was written; raises `NotAValue` or `BadInput`."""


class LineScreen(Screen["str | None"]):
    """Comes back with what was written, or None. A text that cannot be used stays on the line with the reason."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", show=False)]

    def __init__(self, title: str, what: str, how: str, write: Write, begin: str = "") -> None:
        super().__init__()
        self._title, self._what, self._how, self._write, self._begin = title, what, how, write, begin

    def compose(self) -> ComposeResult:
        """Head, what is asked, the line, how to write, keys."""
        with Page():
            yield Masthead(self._title)
            with VerticalScroll(classes="leaf", can_focus=False):
                yield Static(self._what, id="what", markup=False)
                yield Input(self._begin, select_on_focus=False)
                yield Static("", id="problem", classes="alarm", markup=False)
                yield Static(self._how, id="how", markup=False)
            yield KeyLine((("Enter", "write it down"), ("Esc", "back, nothing written"), ("F1", "keys")))

    def on_mount(self) -> None:
        """The keyboard goes to the line."""
        self.query_one(Input).focus()

    def on_input_submitted(self, submitted: Input.Submitted) -> None:
        """Writes it down, or says why not."""
        submitted.stop()
        try:
            told = self._write(submitted.value)
        except NotAValue as error:
            self._say(f"{error}.")
        except BadInput as error:
            self._say(f"{error.problems[0].message} {error.problems[0].hint}".strip())
        else:
            self.dismiss(told)

    def _say(self, text: str) -> None:
        self.query_one("#problem", Static).update(f"! {text[:1].upper()}{text[1:]}")


class AskScreen(Screen[bool]):
    """Comes back with whether the grower said yes; any other way out is no."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y,Y,upper_y", "dismiss(True)", show=False),
        Binding("n,N,upper_n,escape,enter", "dismiss(False)", show=False),
    ]

    def __init__(self, what: str, goes: str) -> None:
        super().__init__()
        self._what, self._goes = what, goes

    def compose(self) -> ComposeResult:
        """What is asked, and what goes with it."""
        with Page():
            yield Masthead("Take out?")
            with VerticalScroll(classes="leaf"):
                yield Static(self._what, id="what", markup=False)
                yield Static(f"With it goes: {self._goes}. It can be undone.", id="how", markup=False)
            yield KeyLine((("y", "yes, take it out"), ("n", "no"), ("Esc", "no"), ("k", "keys")))
