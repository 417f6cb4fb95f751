"""The outlook: when to dig, how late is safe, and the six weeks ahead as a plot and day by day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from assistant.outlook.ahead import RISK, Outlook, View, outlook
from assistant.outlook.assumptions import assumptions, missing
from assistant.outlook.picture import letters_meaning, picture
from assistant.outlook.table import table
from assistant.outlook.wording import (
    good_day_words,
    headline,
    is_cold_known,
    odds_words,
    safe_day_words,
    week_words,
)
from assistant.tui.sitting import Sitting
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page

KEYS = (("Esc", "back"), ("↑ ↓", "scroll"), ("r", "another risk"), ("b", "bright/dusk"), ("k", "keys"), ("q", "leave"))
RISKS = (0.05, RISK, 0.2, 1 / 3)
"""The risks that a grower can choose between: 1 in 20, 10, 5 and 3."""
VIEW_LABELS = {View.HARMLESS: "Frost harmless", View.HURTS: "Frost hurts"}
MARGINS = 8  # columns of the leaf's line, room to either side and scrollbar


class OutlookScreen(Screen[None]):
    """The days ahead of the case as it stands."""

    CSS_PATH = "outlook.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,o,O,upper_o,f6", "dismiss(None)", show=False),
        Binding("r,R,upper_r", "another_risk", show=False),
    ]

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting
        self.ahead: Outlook | None = None

    def compose(self) -> ComposeResult:
        """Head, the page of the outlook, keys."""
        with Page():
            yield Masthead(f"Outlook · {self.sitting.visit.case.title}")
            with VerticalScroll(classes="leaf"):
                if self.ahead is None:
                    yield Static("Reckoning six weeks…", classes="pencil")
                else:
                    yield from self._parts(self.ahead)
            yield KeyLine(KEYS)

    def on_mount(self) -> None:
        """The page stands before the days are reckoned, which takes half a second."""
        self.call_after_refresh(self._reckon)

    async def on_resize(self) -> None:
        """The plot and the table go by the room there is."""
        if self.ahead is not None:
            await self._show(self.ahead)

    async def action_another_risk(self) -> None:
        """The same days at the next of the risks."""
        if self.ahead is not None:
            at = min(range(len(RISKS)), key=lambda place: abs(RISKS[place] - self._risk))
            await self._show(replace(self.ahead, risk=RISKS[(at + 1) % len(RISKS)]))

    @property
    def _risk(self) -> float:
        return self.ahead.risk if self.ahead else RISK

    async def _reckon(self) -> None:
        visit = self.sitting.visit
        await self._show(outlook(visit.rulebook, visit.case))

    async def _show(self, ahead: Outlook) -> None:
        self.ahead = ahead
        place = self.query_one(VerticalScroll).scroll_offset
        await self.recompose()
        leaf = self.query_one(VerticalScroll)
        leaf.focus()
        leaf.scroll_to(y=place.y, animate=False)

    def _parts(self, ahead: Outlook) -> Iterator[Widget]:
        """The page, from what to do to what it rests on."""
        yield Static(headline(ahead), id="headline", markup=False)
        yield Static(good_day_words(ahead), id="because", markup=False)
        yield Static(f"Latest safe day, at a risk of {odds_words(ahead.risk)}", classes="heading", markup=False)
        for view in View:
            yield _pair(VIEW_LABELS[view], safe_day_words(ahead, view))
        yield from _section("Waiting a week", list(week_words(ahead)))
        yield from self._drawn(ahead)
        yield from _section("Not known", missing(ahead))
        credited = [f"{says} ({'; '.join(sources)})" for says, sources in assumptions(ahead)]
        yield from _section("What this rests on", credited)

    def _drawn(self, ahead: Outlook) -> Iterator[Widget]:
        """The plot and the table, in letters of one width."""
        room = min(self.size.width, 92) - MARGINS
        if is_cold_known(ahead):
            yield Static("The six weeks at a glance", classes="heading")
            yield Static("\n".join(picture(ahead, room)), classes="drawn", markup=False)
            yield Static(letters_meaning(ahead), markup=False)
        yield Static("Day by day: % chance of a low down to 36, 32, 28 °F", classes="heading")
        yield Static("\n".join(table(ahead, room)), classes="drawn", markup=False)


def _section(title: str, sentences: list[str]) -> Iterator[Widget]:
    if sentences:
        yield Static(title, classes="heading")
        yield from (_pair("·", words) for words in sentences)


def _pair(label: str, words: str) -> Horizontal:
    pair = Horizontal(
        Static(label, classes="label", markup=False), Static(words, classes="words", markup=False), classes="pair"
    )
    pair.set_class(label == "·", "-point")
    return pair
