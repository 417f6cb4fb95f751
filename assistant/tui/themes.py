"""Our two themes: `sunlight` for glare, dark ink on white paper, and `dusk` for the end of the day.

Every pair of text and ground reaches a contrast of 7 to 1 in sunlight and 4.5 to 1 at dusk (WCAG 2.1).
"""

from __future__ import annotations

from textual.theme import Theme

SUNLIGHT = "sunlight"
DUSK = "dusk"


def _theme(name: str, *, dark: bool, ink: str, paper: str, colours: dict[str, str]) -> Theme:
    """`colours`: pencil (lesser text), margin (the margin line), stamp (headlines), alarm, tab, rule (lines)."""
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
            "input-selection-background": colours["tab"],
            "input-selection-foreground": ink,
            "scrollbar": colours["rule"],
            "scrollbar-hover": colours["pencil"],
            "scrollbar-active": colours["pencil"],
            "scrollbar-background": paper,
            "scrollbar-background-hover": paper,
            "scrollbar-background-active": paper,
        },
    )


THEMES = (
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
            "rule": "#7d7263",
        },
    ),
)


def other(name: str) -> str:
    """The theme that is not this one."""
    return DUSK if name == SUNLIGHT else SUNLIGHT
