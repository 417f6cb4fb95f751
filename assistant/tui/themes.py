"""Our two themes: `sunlight` for glare, dark ink on white paper, and `dusk` for the end of the day.

Every pair of text and ground reaches a contrast of 7 to 1 in sunlight and 4.5 to 1 at dusk (WCAG 2.1). A terminal of
16 colours shows the nearest it has, each terminal its own, so there the themes keep to pairs that are far apart on all
of them: 4.5 to 1 at least with the colours of xterm and of the Linux console, which has no bright grounds.
"""

from __future__ import annotations

from collections.abc import Mapping

from textual.theme import Theme

SUNLIGHT = "sunlight"
DUSK = "dusk"


def _theme(name: str, *, dark: bool, ink: str, paper: str, colours: dict[str, str]) -> Theme:
    """`colours`: pencil (lesser text), margin (the margin line), stamp (headlines), alarm, rule (lines); and grounds:
    tab (keys, and where the keyboard is), chosen (what is marked on a line to write on)."""
    return Theme(
        name=name,
        dark=dark,
        primary=colours["stamp"],
        accent=colours["margin"],
        error=colours["alarm"],
        foreground=ink,
        background=paper,
        surface=paper,
        panel=paper,
        variables={
            **colours,
            "ink": ink,
            "paper": paper,
            "input-cursor-background": ink,
            "input-cursor-foreground": paper,
            "input-selection-background": colours["chosen"],
            "input-selection-foreground": ink,
            "scrollbar": colours["rule"],
            "scrollbar-hover": colours["pencil"],
            "scrollbar-active": colours["pencil"],
            "scrollbar-background": paper,
            "scrollbar-background-hover": paper,
            "scrollbar-background-active": paper,
        },
    )


MANY_COLOURS = (
    _theme(
        SUNLIGHT,
        dark=False,
        ink="#0d0d0d",
        paper="#ffffff",
        colours={
            "pencil": "#3c3c3c",
            "margin": "#9c1c1c",
            "stamp": "#123f2a",
            "alarm": "#8a1212",
            "tab": "#e6e2d3",
            "chosen": "#e6e2d3",
            "rule": "#8a8574",
        },
    ),
    _theme(
        DUSK,
        dark=True,
        ink="#ece4d4",
        paper="#1d1a17",
        colours={
            "pencil": "#b9ad99",
            "margin": "#c8674f",
            "stamp": "#a9d3a0",
            "alarm": "#f0a08c",
            "tab": "#3d362e",
            "chosen": "#3d362e",
            "rule": "#7d7263",
        },
    ),
)
BLACK, BLUE, GREY, LIGHT_GREY = "#000000", "#0000aa", "#555555", "#aaaaaa"
RED, BRIGHT_RED, BRIGHT_GREEN, WHITE = "#aa0000", "#ff5555", "#55ff55", "#ffffff"
"""Some of the 16, as they are named to the library that sends them."""
FEW_COLOURS = (
    _theme(
        SUNLIGHT,
        dark=False,
        ink=BLACK,
        paper=WHITE,
        colours={
            "pencil": BLACK,
            "margin": RED,
            "stamp": BLUE,
            "alarm": BLACK,
            "tab": WHITE,
            "chosen": LIGHT_GREY,
            "rule": GREY,
        },
    ),
    _theme(
        DUSK,
        dark=True,
        ink=WHITE,
        paper=BLACK,
        colours={
            "pencil": LIGHT_GREY,
            "margin": BRIGHT_RED,
            "stamp": BRIGHT_GREEN,
            "alarm": BRIGHT_RED,
            "tab": BLACK,
            "chosen": BLUE,
            "rule": LIGHT_GREY,
        },
    ),
)


_MANY, _FEW = ({theme.name: theme for theme in themes} for themes in (MANY_COLOURS, FEW_COLOURS))


def themes_for(colours: str | None) -> Mapping[str, Theme]:
    """Both themes for what a terminal can show, by their names; `standard` stands for 16 colours."""
    return _FEW if colours == "standard" else _MANY


def other(name: str) -> str:
    """The theme that is not this one."""
    return DUSK if name == SUNLIGHT else SUNLIGHT
