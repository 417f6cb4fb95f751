"""The head and the foot of every page."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap

from textual.containers import Vertical
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from assistant.tui.widgets.keyed_list import key_cap


class Page(Vertical):
    """The sheet that holds head, leaf and foot; on a wide screen it stands in the middle."""


class Masthead(Widget):
    """What this page is, and at the right how far along."""

    def __init__(self, left: str, right: str = "") -> None:
        super().__init__()
        self._left, self.right = left, right

    def say_left(self, text: str) -> None:
        """Changes the left end."""
        self._left = text
        self.refresh(layout=True)

    def say_right(self, text: str) -> None:
        """Changes the right end."""
        self.right = text
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the left end takes beside the right one."""
        return len(self._lines(width))

    def render(self) -> Content:
        """The left end in bold, wrapped; the right end on the first line."""
        first, *more = self._lines(self.size.width)
        gap = " " * max(self.size.width - len(first) - len(self.right), 1)
        head = Content.styled(first, "bold $ink") + Content(gap + self.right)
        return Content("\n").join([head, *(Content.styled(line, "bold $ink") for line in more)])

    def _lines(self, width: int) -> list[str]:
        return wrap(self._left, max(width - len(self.right) - 2, 10)) or [""]


class KeyLine(Widget):
    """The keys that work on this page, and what each does; a key and its words stay on one line."""

    def __init__(self, keys: Iterable[tuple[str, str]]) -> None:
        super().__init__()
        self.keys = tuple(keys)

    def say(self, keys: Iterable[tuple[str, str]]) -> None:
        """Shows other keys."""
        self.keys = tuple(keys)
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the keys take."""
        return len(self._lines(width))

    def render(self) -> Content:
        """The keys line by line."""
        return Content("\n").join(self._lines(self.size.width))

    def _lines(self, width: int) -> list[Content]:
        lines: list[Content] = []
        for key, word in self.keys:
            part = key_cap(key) + Content(word.replace(" ", "\N{NO-BREAK SPACE}"))
            if lines and lines[-1].cell_length + 1 + part.cell_length <= width:
                lines[-1] += Content(" ") + part
            else:
                lines.append(part)
        return lines
