"""Pictures of a bed beside and below each other, as many as there is room for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import groupby

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from assistant.explain.histogram import AXIS, WANTED
from assistant.explain.log_plot import LIMITS
from assistant.explain.range_plot import LINE
from assistant.garden.telling.pictures import Picture

NARROWEST, LOWEST, HIGHEST = 36, 9, 14
"""Columns and lines that a picture takes at least, and lines at most."""
GAP = 3
LEAST_SCREEN = Size(60, 24)
"""On a smaller screen pictures leave the page to words; they have a page of their own."""
_INKS = {WANTED: "$stamp", "●": "bold $stamp", "○": "bold $ink", LINE: "$margin", LIMITS: "$pencil", "░": "$pencil"}


class Panels(Widget):
    """The first of the pictures, in two fifths of the screen; or all of them as high as they like."""

    def __init__(self, pictures: Sequence[Picture], *, all_of_them: bool = False) -> None:
        super().__init__()
        self.pictures = tuple(pictures)
        self._all = all_of_them

    def show(self, pictures: Sequence[Picture]) -> None:
        """Other pictures."""
        self.pictures = tuple(pictures)
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The lines of all rows of pictures."""
        return len(panel_lines(self.pictures, width, self._room(viewport)))

    def render(self) -> Content:
        """The pictures, each in inks that only help to see what its letters say."""
        return Content("\n").join(panel_lines(self.pictures, self.size.width, self._room(self.app.size)))

    def _room(self, screen: Size) -> int:
        """The lines that the pictures may take on a screen."""
        if self._all:
            return HIGHEST * len(self.pictures)
        is_small = screen.width < LEAST_SCREEN.width or screen.height < LEAST_SCREEN.height
        return 0 if is_small else max(screen.height * 2 // 5, LOWEST)


@lru_cache(maxsize=4)
def panel_lines(pictures: tuple[Picture, ...], width: int, height: int) -> tuple[Content, ...]:
    """As many pictures as have room, in rows, from the left; drawn once, though asked for at every step of a layout."""
    if not height or not pictures:
        return ()
    columns = _columns(pictures, width)
    rows = max(min(-(-len(pictures) // columns), height // LOWEST), 1)
    each, high = (width - GAP * (columns - 1)) // columns, min(height // rows, HIGHEST)
    lines: list[Content] = []
    for row in range(rows):
        drawn = [_drawn(picture, each, high) for picture in pictures[row * columns : (row + 1) * columns]]
        for at in range(max(map(len, drawn))):
            parts = (panel[at] if at < len(panel) else Content(" " * each) for panel in drawn)
            lines.append(Content(" " * GAP).join(parts))
    return tuple(lines)


def _columns(pictures: Sequence[Picture], width: int) -> int:
    return max(min(len(pictures), (width + GAP) // (NARROWEST + GAP)), 1)


def _drawn(picture: Picture, width: int, height: int) -> list[Content]:
    heading, *lines = picture.draw(width, height)
    return [
        Content.styled(heading[:width].ljust(width), "bold $ink"),
        *(Content("").join(_inked(line[:width].ljust(width), picture.alarming)) for line in lines),
    ]


def _inked(line: str, alarming: str) -> Iterator[Content]:
    """A line with its scale in pencil, its axis in the colour of the margin, and its marks each in their own."""
    axis = next((at for at, letter in enumerate(line) if letter in AXIS.values()), len(line))
    yield Content.styled(line[:axis], "$pencil")
    yield Content.styled(line[axis : axis + 1], "$margin")
    inks = {**_INKS, **dict.fromkeys(alarming, "bold $alarm")}
    for ink, letters in groupby(line[axis + 1 :], key=lambda letter: inks.get(letter, "$ink")):
        yield Content.styled("".join(letters), ink)
