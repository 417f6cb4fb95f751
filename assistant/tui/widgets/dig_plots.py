"""The pictures of a test dig: its histogram, and the share with its range on a line."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from assistant.explain.histogram import AXIS, OTHER, WANTED, gauge, histogram_lines
from assistant.model.quantities import Units
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.ranges import Range

LEGEND = f"{WANTED} the wanted size   {OTHER} smaller or bigger   {AXIS[True]} sizes that are wanted"


class Histogram(Widget):
    """The roots by size, as wide as the page; shapes tell what is wanted, colour only helps."""

    def __init__(self, report: DigReport, units: Units) -> None:
        super().__init__()
        self._report, self._units = report, units

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """A line for each step of size, the heading and the legend."""
        return len(self._lines(width)) + 1

    def render(self) -> Content:
        """Heading, rows, legend."""
        heading, *rows = self._lines(self.size.width)
        drawn = [Content.styled(heading, "$pencil"), *map(_row, rows), Content.styled(LEGEND, "$pencil")]
        return Content("\n").join(drawn)

    def _lines(self, width: int) -> list[str]:
        return histogram_lines(self._report, self._units, max(width, 30))


def _row(text: str) -> Content:
    """A row with its sizes in bold where they are wanted, and its bar in the colour of stamps."""
    label, axis, rest = next(text.partition(axis) for axis in AXIS.values() if axis in text)
    wanted = axis == AXIS[True]
    row = Content.styled(label, "bold $ink" if wanted else "$ink") + Content.styled(axis, "$margin")
    return row + Content("").join(
        Content.styled(letter, "$stamp" if letter == WANTED else "$pencil" if letter == OTHER else "$ink")
        for letter in rest
    )


class Gauge(Widget):
    """A share from none to all, its range and its likely value."""

    def __init__(self, share: Range) -> None:
        super().__init__()
        self._share = share

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """One line."""
        return 1

    def render(self) -> Content:
        """None, the line, all."""
        line = gauge(self._share, max(self.size.width - 10, 10))
        return Content.styled("none ", "$pencil") + Content.styled(line, "$ink") + Content.styled(" all", "$pencil")
