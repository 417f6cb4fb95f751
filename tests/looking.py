"""How well text stands out, by the published formula, and whether it has its room, on what is really drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rich.color import ColorSystem
from rich.segment import Segment
from textual.app import App
from textual.pilot import Pilot
from textual.widget import Widget
from textual.widgets import Static

from assistant.tui import themes

LINES_AND_BLOCKS = range(0x2500, 0x25A0)
Colour = tuple[int, int, int]
XTERM: tuple[Colour, ...] = (
    (0, 0, 0), (205, 0, 0), (0, 205, 0), (205, 205, 0), (0, 0, 238), (205, 0, 205), (0, 205, 205), (229, 229, 229),
    (127, 127, 127), (255, 0, 0), (0, 255, 0), (255, 255, 0), (92, 92, 255), (255, 0, 255), (0, 255, 255),
    (255, 255, 255),
)  # fmt: skip
"""The 16 colours of xterm: color0 to color15 of its resources (XTerm-col.ad), their names as in X11's rgb.txt."""
CONSOLE: tuple[Colour, ...] = (
    (0, 0, 0), (170, 0, 0), (0, 170, 0), (170, 85, 0), (0, 0, 170), (170, 0, 170), (0, 170, 170), (170, 170, 170),
    (85, 85, 85), (255, 85, 85), (85, 255, 85), (255, 255, 85), (85, 85, 255), (255, 85, 255), (85, 255, 255),
    (255, 255, 255),
)  # fmt: skip
"""Those of the Linux console: default_red, default_grn and default_blu of drivers/tty/vt/vt.c. It draws the bright
grounds 100 to 107 as 40 to 47 (console_codes(4))."""
_CODES_OR_TEXT = re.compile("\x1b\\[([0-9;]*)m|([^\x1b]+)")


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


async def faint_in_any_theme(pilot: Pilot[None]) -> dict[str, float]:
    """The texts of the open page that stand out too little, and how little: in both themes, of many colours and few."""
    app = pilot.app
    faint: dict[str, float] = {}
    for theme, least in ((themes.SUNLIGHT, 7.0), (themes.DUSK, 4.5)):
        await show_in(pilot, theme)
        texts = [segment for segment in drawn(app) if is_text(segment)]
        assert len(texts) > 8
        faint |= {segment.text.strip(): ratio_of(segment) for segment in texts if ratio_of(segment) < least}
    app.console._color_system = ColorSystem.STANDARD
    for theme in (themes.SUNLIGHT, themes.DUSK):
        await show_in(pilot, theme)
        told = list(sent(app))
        assert len(told) > 8
        faint |= {text: ratio for text, ratio in told if ratio < 4.5}
    return faint


async def show_in(pilot: Pilot[None], theme: str) -> None:
    pilot.app.theme = themes.other(theme)
    pilot.app.theme = theme
    await pilot.pause()


def sent(app: App[None]) -> Iterator[tuple[str, float]]:
    """Each text as a terminal of 16 colours gets it, with its contrast on the worse of two such terminals."""
    for strip in app.screen._compositor.render_strips(app.size):
        ink = ground = 0
        for codes, text in _CODES_OR_TEXT.findall(strip.render(app.console)):
            for code in map(int, filter(None, codes.split(";"))):
                assert code not in (2, 38, 39, 48, 49), "a colour that only the terminal knows, or one of more than 16"
                ink = code - 30 if 30 <= code <= 37 else code - 82 if 90 <= code <= 97 else ink
                ground = code - 40 if 40 <= code <= 47 else code - 92 if 100 <= code <= 107 else ground
                ink, ground = (ground, ink) if code == 7 else (ink, ground)
            if is_text(Segment(text)):
                on_xterm = contrast(XTERM[ink], XTERM[ground])
                yield text.strip(), min(on_xterm, contrast(CONSOLE[ink], CONSOLE[ground % 8]))


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
