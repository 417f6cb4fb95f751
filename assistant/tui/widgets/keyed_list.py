"""A list whose every row has one key; arrows and Enter work too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, repeat, zip_longest
from string import ascii_lowercase
from textwrap import wrap

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

COMMAND_LETTERS = frozenset("bkpqvwx")
_ROW_KEYS = "123456789" + "".join(letter for letter in ascii_lowercase if letter not in COMMAND_LETTERS)
TAKES_KEYS = "takes-keys"
_WIDEST_LABEL = 30


@dataclass(frozen=True)
class Row:
    """One row: its key, a short label, and more words beside it. `value` comes back when it is picked.

    A row set apart has some room above it.
    """

    key: str
    label: str
    words: str
    value: str
    ticked: bool = False
    apart: bool = False


@dataclass(frozen=True)
class Columns:
    """How wide mark, key and label are, in letters."""

    mark: int = 4
    key: int = 5
    label: int = 0
    bold_labels: bool = False


def row_keys() -> Iterator[str]:
    """Keys for rows in order; a list longer than the keyboard goes on without, to be walked with the arrows."""
    return chain(_ROW_KEYS, repeat(""))


def key_cap(key: str) -> Content:
    """A key as it is drawn everywhere; nothing for no key."""
    if not key:
        return Content("  ")
    return Content.styled(f" {key} ".replace(" ", "\N{NO-BREAK SPACE}"), "bold $ink on $tab")


class KeyedRow(Widget):
    """A row on the page, words wrapped under themselves; a click picks it. One widget, since a page holds many."""

    @dataclass
    class Clicked(Message):
        """The row was clicked."""

        row: Row

    def __init__(self, row: Row, columns: Columns) -> None:
        super().__init__(classes="-apart" if row.apart else None)
        self.row = row
        self._columns = columns
        self._mark = ""
        self._label_style = ""

    def show_mark(self, *, here: bool, ticked: bool | None) -> None:
        """The arrow for the row that Enter takes, and a tick or a dot for what is marked or not."""
        self._mark = ("›" if here else " ") + (" " if ticked is None else "✓" if ticked else "·")
        self._label_style = "bold underline" if here else "bold" if ticked or self._columns.bold_labels else ""
        self.refresh()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the words take beside the other columns."""
        return len(self._cells(width))

    def render(self) -> Content:
        """The row line by line."""
        first = Content.styled(self._mark.ljust(self._columns.mark)[: self._columns.mark], "bold $stamp") + key_cap(
            self.row.key
        )
        first += Content(" " * (self._columns.key - len(self.row.key) - 2))
        rest = Content(" " * (self._columns.mark + self._columns.key))
        lines = [
            (rest if number else first) + Content.styled(label, self._label_style) + Content(f"{gap}{words}")
            for number, (label, gap, words) in enumerate(self._cells(self.size.width))
        ]
        return Content("\n").join(lines)

    def on_click(self) -> None:
        """A click is as good as the key."""
        self.post_message(self.Clicked(self.row))

    def _cells(self, width: int) -> list[tuple[str, str, str]]:
        """Label, the gap after it, and words of each line."""
        room = max(width - self._columns.mark - self._columns.key, 10)
        if not self.row.words:
            return [(line, "", "") for line in wrap(self.row.label, room)]
        labels = wrap(self.row.label, self._columns.label) or [""]
        words = wrap(self.row.words, max(room - self._columns.label - 2, 10))
        return [
            (label, " " * (self._columns.label + 2 - len(label)), line)
            for label, line in zip_longest(labels, words, fillvalue="")
        ]


class KeyedList(Vertical, can_focus=True):
    """Rows picked by their key, by arrows and Enter, or by a click."""

    here: reactive[int | None] = reactive(None, init=False)

    @dataclass
    class Picked(Message):
        """A row was picked."""

        sender: KeyedList
        row: Row

    def __init__(
        self, rows: Sequence[Row], *, marking: bool = False, focusable: bool = True, columns: Columns | None = None
    ) -> None:
        super().__init__(classes=TAKES_KEYS if focusable else None)
        self.can_focus = focusable
        self.rows = tuple(rows)
        self._marking = marking
        width = max((len(row.label) for row in self.rows if row.words), default=0)
        columns = replace(columns or Columns(), label=min(width, _WIDEST_LABEL))
        self._widgets = tuple(KeyedRow(row, columns) for row in self.rows)
        self._marked = {row.value for row in self.rows if row.ticked}

    def compose(self) -> ComposeResult:
        """The rows in order."""
        yield from self._widgets

    def on_mount(self) -> None:
        """Starts at the first ticked row, so that Enter keeps an earlier answer."""
        ticked = [index for index, row in enumerate(self.rows) if row.ticked]
        self.set_reactive(KeyedList.here, ticked[0] if ticked else None)
        self._show_marks()

    @property
    def current(self) -> Row | None:
        """The row that Enter takes."""
        return None if self.here is None else self.rows[self.here]

    @property
    def marked(self) -> tuple[str, ...]:
        """The values of the marked rows, in order."""
        return tuple(row.value for row in self.rows if row.value in self._marked)

    def mark(self, value: str) -> None:
        """Marks a row, or takes the mark away."""
        self._marked ^= {value}
        self._show_marks()

    def on_key(self, event: events.Key) -> None:
        """A row's own key picks it; arrows move, Enter picks the row that the arrow points at."""
        if event.key in ("up", "down"):
            self._step(1 if event.key == "down" else -1)
        elif event.key == "enter" and self.current is not None and not self._marking:
            self.post_message(self.Picked(self, self.current))
        elif not self._pick_by_key(event.character or event.key):
            return
        event.stop()

    def on_keyed_row_clicked(self, clicked: KeyedRow.Clicked) -> None:
        """Passes a click on."""
        clicked.stop()
        self.post_message(self.Picked(self, clicked.row))

    def watch_here(self) -> None:
        """Moves the arrow."""
        self._show_marks()
        if self.here is not None:
            self._widgets[self.here].scroll_visible(animate=False)

    def _pick_by_key(self, key: str) -> bool:
        for row in self.rows:
            if key == row.key or (key.isalpha() and key.lower() == row.key):
                self.post_message(self.Picked(self, row))
                return True
        if key == "space" or key == " ":
            if self.current is not None:
                self.post_message(self.Picked(self, self.current))
            return True
        return False

    def _step(self, by: int) -> None:
        last = len(self.rows) - 1
        if self.here is None:
            self.here = 0 if by > 0 else last
        else:
            self.here = min(max(self.here + by, 0), last)

    def _show_marks(self) -> None:
        for index, (row, widget) in enumerate(zip(self.rows, self._widgets, strict=True)):
            ticked = row.value in self._marked
            widget.show_mark(here=index == self.here, ticked=ticked if self._marking or ticked else None)
