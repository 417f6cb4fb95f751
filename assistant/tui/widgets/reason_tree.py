"""The reasoning as a tree of wrapping lines, opened and closed with the arrows."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Static

from assistant.explain.reasoning import Reason
from assistant.tui.wording import REASON_WORDS

_INDENT = 2


@dataclass(frozen=True)
class Line:
    """One reason in the order drawn: how deep it lies, and the number of the line it hangs on."""

    reason: Reason
    depth: int
    parent: int | None


def lines_of(reasons: Iterable[Reason], depth: int = 0, parent: int | None = None, start: int = 0) -> Iterator[Line]:
    """The reasons and all they rest on, each before its own grounds; lines are numbered from `start`."""
    number = start
    for reason in reasons:
        yield Line(reason, depth, parent)
        below = list(lines_of(reason.children, depth + 1, number, number + 1))
        yield from below
        number += 1 + len(below)


class ReasonLine(Horizontal):
    """One reason; a click opens or closes what it rests on."""

    def __init__(self, number: int, line: Line, is_open: bool) -> None:
        super().__init__(classes="-section" if line.reason.kind == "section" else None)
        self.number, self.line = number, line
        self.is_open = is_open
        self._marker = Static(classes="marker", markup=False)
        self._words = Static(classes="words")

    def compose(self) -> ComposeResult:
        """Marker and words."""
        self.styles.padding = (0, 0, 0, max(self.line.depth - 1, 0) * _INDENT)
        yield self._marker
        yield self._words

    def draw(self, *, here: bool) -> None:
        """The marker tells open, closed, or nothing below; the arrow tells where the keyboard is."""
        marker = "·" if not self.line.reason.children else "▾" if self.is_open else "▸"
        self._marker.update(("›" if here else " ") + marker)
        self._words.update(self._drawn())
        self.set_class(here, "-here")

    def _drawn(self) -> Content:
        """The words; a detail stands below in a lesser ink, that of a closed reason waits until it is opened."""
        reason = self.line.reason
        words = Content.assemble((REASON_WORDS.get(reason.kind, ""), "$pencil"), reason.text)
        if reason.kind == "section" and not self.is_open:
            words += Content.styled(f" · {len(reason.children)}", "not bold $pencil")
        if reason.detail and (self.is_open or not reason.children):
            detail = f" ({reason.detail})" if reason.kind == "source" else f"\n{reason.detail}"
            words += Content.styled(detail, "not bold $pencil")
        return words


class ReasonTree(Vertical, can_focus=True):
    """Up and down move, right opens, left closes, Enter does either. `opened` names what is open at first."""

    def __init__(self, reasons: Iterable[Reason], opened: Collection[str] = ()) -> None:
        super().__init__()
        lines = enumerate(lines_of(reasons))
        self._lines = [ReasonLine(number, line, line.reason.text in opened) for number, line in lines]
        self._here = 0

    def compose(self) -> ComposeResult:
        """Every line; those below closed ones are not shown."""
        yield from self._lines

    def on_mount(self) -> None:
        """Draws the markers."""
        self._draw()

    def open_all(self) -> None:
        """Opens every line, or closes them again when all are open."""
        branches = [line for line in self._lines if line.line.reason.children]
        opened = not all(line.is_open for line in branches)
        for line in branches:
            line.is_open = opened
        if not opened:
            self._here = 0
        self._draw()

    def on_focus(self) -> None:
        """Shows where the keyboard is."""
        self._draw()
        if self._lines:
            self._lines[self._here].scroll_visible(animate=False, top=True)

    def on_blur(self) -> None:
        """Hides it."""
        self._draw()

    def on_key(self, event: events.Key) -> None:
        """Moves, opens and closes; at either end the page scrolls on."""
        here = self._lines[self._here] if self._lines else None
        if here is None or event.key not in ("up", "down", "left", "right", "enter", "space"):
            return
        if event.key in ("up", "down"):
            if not self._step(1 if event.key == "down" else -1):
                return
        elif event.key == "left" and not here.is_open and here.line.parent is not None:
            self._go_to(here.line.parent)
        else:
            self._set_open(here, {"left": False, "right": True}.get(event.key, not here.is_open))
        event.stop()

    def on_click(self, event: events.Click) -> None:
        """Opens or closes the line under the pointer."""
        clicked = event.widget
        while clicked is not None and not isinstance(clicked, ReasonLine):
            clicked = clicked.parent if clicked is not self else None  # type: ignore[assignment]
        if isinstance(clicked, ReasonLine):
            self._here = clicked.number
            self._set_open(clicked, not clicked.is_open)

    def _set_open(self, line: ReasonLine, is_open: bool) -> None:
        line.is_open = is_open
        self._draw()

    def _step(self, by: int) -> bool:
        shown = [line.number for line in self._lines if self._is_shown(line)]
        at = shown.index(self._here) + by
        if not 0 <= at < len(shown):
            return False
        self._go_to(shown[at])
        return True

    def _go_to(self, number: int) -> None:
        self._here = number
        self._draw()
        self._lines[number].scroll_visible(animate=False)

    def _is_shown(self, line: ReasonLine) -> bool:
        parent = line.line.parent
        return parent is None or (self._lines[parent].is_open and self._is_shown(self._lines[parent]))

    def _draw(self) -> None:
        above_is_open = True
        for line in self._lines:
            line.display = self._is_shown(line)
            line.draw(here=self.has_focus and line.number == self._here)
            if line.line.parent is None:
                line.set_class(line.is_open or above_is_open, "-apart")
                above_is_open = line.is_open
