"""The page that explains the keys and how answers are written."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import Static

from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.keyed_list import Columns, KeyedList, Row

ANSWER_KEYS = (
    ("1", "", "Each choice has the key that stands before it; arrows and Enter work too."),
    ("?", "", "Can't tell. That is an answer: the rules never guess in its place."),
    ("~", "Tab", "About. Gives a value some room to either side; on a list it lets you mark all it could be."),
)
WRITING = (
    "A value may be a range: 50..58. Temperatures take F or C, lengths in or cm, whatever the case is kept in. "
    "A day may be 2031-06-20, 20 June, mid June or 3 weeks ago."
)
PLACE_KEYS = (
    ("Esc", "", "A step back. What you answered stays until you answer anew."),
    ("w", "F2 ", "Why this is asked; once more hides it."),
    ("p", "F3 ", "The page so far: all answers, each to be opened and changed."),
    ("v", "F4 ", "The verdict as it stands, with every reason and source."),
    ("r", "", "On a settled verdict: answer what it did not need, for the record. There x leaves a question out."),
    ("t", "F7 ", "A test dig: write in the roots of each hill, and see what they say of the bed."),
    ("o", "F6 ", "The six weeks ahead and how late is safe, where weather or frost dates are known."),
    ("b", "F5 ", "Bright paper for the sun, dusk for the evening."),
    ("k", "F1 ", "This page."),
    ("q", "", "Leave. Every answer is in the file already."),
)
COLUMNS = Columns(mark=0, key=7)
ON_THE_LINE = "While you write on a line, letters are letters; the function keys still work."


class HelpScreen(Screen[None]):
    """Any of its keys leads back."""

    CSS_PATH = "help.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,k,K,upper_k,f1,enter", "dismiss", show=False)]

    def compose(self) -> ComposeResult:
        """Keys for answers, how to write them, keys for places."""
        with Page():
            yield Masthead("Keys")
            with VerticalScroll(classes="leaf"):
                yield Static("To answer", classes="heading")
                yield KeyedList(
                    [Row(key, also, words, key) for key, also, words in ANSWER_KEYS], focusable=False, columns=COLUMNS
                )
                yield Static(WRITING, classes="prose", markup=False)
                yield Static("To find your way", classes="heading")
                yield KeyedList(
                    [Row(key, also, words, key) for key, also, words in PLACE_KEYS], focusable=False, columns=COLUMNS
                )
                yield Static(ON_THE_LINE, classes="prose", markup=False)
            yield KeyLine((("Esc", "back"), ("↑ ↓", "scroll")))

    def on_mount(self) -> None:
        """Arrows scroll the page."""
        self.query_one(VerticalScroll).focus()
