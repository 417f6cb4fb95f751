"""A ruled list drawn line by line, so that hundreds of lines take no longer than a screenful."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from assistant.tui.widgets.keyed_list import TAKES_KEYS

MARK, KEY, GAP = 2, 4, 2
NARROWEST = 20
NARROW = 64
"""Columns below which the word of a line's kind gives its room to the other words."""


STYLES = {
    "heading": "bold underline {ink} on {paper}",
    "mark": "bold {ink} on {ground}",
    "key": "bold {ink} on {tab}",
    "words": "{ink} on {ground}",
    "kind": "{pencil} on {ground}",
    "pressing": "bold {alarm} on {ground}",
}
"""Each part in the theme's colours; the ground of the line at the arrow is that of keys. A style sheet takes longer."""


@lru_cache(maxsize=64)
def _style(part: str, ink: str, paper: str, pencil: str, alarm: str, tab: str, here: bool) -> Style:
    colours = {"ink": ink, "paper": paper, "pencil": pencil, "alarm": alarm, "tab": tab}
    return Style.parse(STYLES[part].format(ground=tab if here else paper, **colours))


class LedgerRow(NamedTuple):
    """One line: a name, a word of its kind, more words, and at the right end a day. A heading has no value."""

    name: str
    kind: str = ""
    words: str = ""
    day: str = ""
    value: int | None = None
    pressing: bool = False


class Ledger(ScrollView, can_focus=True):
    """Lines walked with arrows and opened with Enter; the first nine also with their number."""

    here: reactive[int] = reactive(0, init=False)

    @dataclass
    class Picked(Message):
        """A line was opened."""

        value: int

    @dataclass
    class Moved(Message):
        """The arrow stands at another line."""

        value: int

    def __init__(self, rows: Sequence[LedgerRow] = (), *, id: str | None = None) -> None:
        super().__init__(id=id, classes=TAKES_KEYS)
        self.lines: list[LedgerRow] = []
        self._stops: list[int] = []
        self._widths = (0, 0, 0)
        self.fill(rows)

    def fill(self, rows: Sequence[LedgerRow]) -> None:
        """Other lines; the arrow stays with its line where that is still there."""
        value = self.value
        self.lines = list(rows)
        self._stops = [at for at, row in enumerate(self.lines) if row.value is not None]
        values = [self.lines[at].value for at in self._stops]
        self.set_reactive(Ledger.here, values.index(value) if value in values else 0)
        parts = zip(*((row.name, row.kind, row.day) for row in self.lines if row.value is not None), strict=True)
        self._widths = tuple(max(map(cell_len, part)) for part in parts) or (0, 0, 0)  # type: ignore[assignment]
        self.virtual_size = Size(0, len(self.lines))
        self.refresh()

    @property
    def value(self) -> int | None:
        """The value of the line at the arrow; None where there is no line."""
        return self.lines[self._stops[self.here]].value if self._stops else None

    def point_at(self, value: int) -> None:
        """Moves the arrow to the line of a value, where there is one."""
        values = [self.lines[at].value for at in self._stops]
        if value in values:
            self.here = values.index(value)

    def render_line(self, y: int) -> Strip:
        """One line of the list, or an empty one below its end."""
        at, width = y + self.scroll_offset.y, self.scrollable_content_region.width
        if at >= len(self.lines):
            return Strip.blank(width, self.rich_style)
        row = self.lines[at]
        if row.value is None:
            return Strip([Segment(set_cell_size(row.name, width), self._style("heading", False))])
        return Strip(self._cells(row, at, width))

    def _cells(self, row: LedgerRow, at: int, width: int) -> list[Segment]:
        here = bool(self._stops) and self._stops[self.here] == at
        name, kind, day = self._widths
        kind = 0 if width < NARROW else kind
        name = min(name, max(width // 4, NARROWEST))
        room = width - MARK - KEY - name - kind - day - (GAP * 3 if kind else GAP * 2)
        number = self._stops.index(at) + 1 if at in self._stops[:9] else 0
        parts = (
            ("mark", "› " if here else "  "),
            ("key" if number else "words", f" {number} " if number else "   "),
            ("words", " "),
            ("mark", _fit(row.name, name) + " " * GAP),
            ("kind", (_fit(row.kind, kind) + " " * GAP) if kind else ""),
            ("words", _fit(row.words, max(room, 0)) + " " * GAP),
            ("pressing" if row.pressing else "kind", row.day.rjust(day)),
        )
        return [Segment(text, self._style(part, here)) for part, text in parts]

    def _style(self, part: str, here: bool) -> Style:
        colours = self.app.theme_variables
        return _style(part, *(colours[name] for name in ("ink", "paper", "pencil", "alarm", "tab")), here)

    def on_key(self, event: events.Key) -> None:
        """Arrows and pages move, Enter and numbers open."""
        page = max(self.size.height - 1, 1)
        steps = {
            "up": -1,
            "down": 1,
            "pageup": -page,
            "pagedown": page,
            "home": -len(self.lines),
            "end": len(self.lines),
        }
        if not self._stops:
            return
        if event.key in steps:
            self.here = min(max(self.here + steps[event.key], 0), len(self._stops) - 1)
        elif event.key == "enter":
            self._open(self.here)
        elif event.character in set("123456789") and int(event.character) <= len(self._stops):
            self._open(int(event.character) - 1)
        else:
            return
        event.stop()
        event.prevent_default()

    def on_click(self, event: events.Click) -> None:
        """A click opens its line."""
        at = event.y + self.scroll_offset.y
        if at in self._stops:
            self._open(self._stops.index(at))

    def watch_here(self) -> None:
        """Keeps the arrow in sight, its heading as well."""
        if not self._stops:
            return
        at = self._stops[self.here]
        above = at - 1 if at and self.lines[at - 1].value is None else at
        self.scroll_to_region(Region(0, above, 1, at - above + 1), animate=False, force=True)
        self.refresh()
        self.post_message(self.Moved(self.value or 0))

    def _open(self, stop: int) -> None:
        self.here = stop
        self.post_message(self.Picked(self.value or 0))


def _fit(text: str, width: int) -> str:
    """The text in just so many cells, its end cut off with an ellipsis."""
    return set_cell_size(text if cell_len(text) <= width else f"{set_cell_size(text, max(width - 1, 0))}…", width)
