"""How well text stands out, by the published formula, and whether it has its room, on what is really drawn."""

from __future__ import annotations

from collections.abc import Iterator

from rich.segment import Segment
from textual.app import App
from textual.widget import Widget
from textual.widgets import Static

LINES_AND_BLOCKS = range(0x2500, 0x25A0)


def luminance(rgb: tuple[int, int, int]) -> float:
    """Relative luminance, WCAG 2.1, https://www.w3.org/TR/WCAG21/#dfn-relative-luminance"""
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in (part / 255 for part in rgb)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    """Contrast ratio, WCAG 2.1, https://www.w3.org/TR/WCAG21/#dfn-contrast-ratio"""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def drawn(app: App[None]) -> Iterator[Segment]:
    for strip in app.screen._compositor.render_strips(app.size):
        yield from strip


def is_text(segment: Segment) -> bool:
    return any(not letter.isspace() and ord(letter) not in LINES_AND_BLOCKS for letter in segment.text)


def ratio_of(segment: Segment) -> float:
    style = segment.style
    assert style is not None
    assert style.color is not None
    assert style.bgcolor is not None
    assert not style.dim, "a dim text has a contrast that only the terminal knows"
    pair = style.color.get_truecolor(), style.bgcolor.get_truecolor()
    return contrast(*(pair if not style.reverse else pair[::-1]))


def clipped(app: App[None]) -> list[str]:
    """The widgets of the open page that have less room than their words take, or stand over the right edge."""
    shown = [widget for widget in app.screen.walk_children(Widget) if widget.display and widget.region.area]
    too_wide = [f"{widget!r} is {widget.region.right} wide" for widget in shown if widget.region.right > app.size.width]
    too_high = [
        f"{widget!r} has {widget.size.height} rows"
        for widget in shown
        if isinstance(widget, Static)
        and widget.size.height < widget.get_content_height(widget.size, app.size, widget.size.width)
    ]
    return too_wide + too_high
