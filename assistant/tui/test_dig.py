"""The test dig: hills are written in one by one, and the page shows what they say of the bed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from assistant.cases.typed_dig import hills_of, report_of, trouble_with, wanted_of, with_typed, without_last
from assistant.explain.digging import (
    confidence_words,
    middle_words,
    plan_words,
    share_words,
    wanted_words,
    weight_words,
)
from assistant.explain.histogram import size_words
from assistant.model.case import TestDig
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue, Units
from assistant.tui.sitting import Sitting
from assistant.tui.widgets.dig_plots import Gauge, Histogram
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.hill_line import HillLine

HOW_TO_WRITE = {
    Units.US: "Inches across each root at its widest: 2.1 1.2 3. To change the wanted sizes: 1.5..3.",
    Units.METRIC: "Centimetres across each root at its widest: 5.3 3 7.6. To change the wanted sizes: 4..7.5.",
}
KEYS = (
    ("Esc", "back"),
    ("Enter", "add the hill"),
    ("⌫", "take the last one back"),
    ("↑ ↓", "scroll"),
    ("F5", "bright/dusk"),
    ("F1", "keys"),
)


class TestDigScreen(Screen[None]):
    """Every hill is saved as it is written; the sitting's case keeps the diameters."""

    __test__ = False  # not a test class, whatever its name says to pytest
    CSS_PATH = "test_dig.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f7", "dismiss(None)", show=False),
        Binding("up", "scroll(-1)", show=False),
        Binding("down", "scroll(1)", show=False),
        Binding("pageup", "scroll(-10)", show=False),
        Binding("pagedown", "scroll(10)", show=False),
    ]

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting

    def compose(self) -> ComposeResult:
        """Head, the line to write on, the hills so far, what they say, keys."""
        with Page():
            yield Masthead("Test dig", self._wanted())
            with VerticalScroll(classes="leaf", can_focus=False):
                with Horizontal(id="line"):
                    yield Static("", id="next", markup=False)
                    yield HillLine()
                yield Static("", id="how", classes="pencil", markup=False)
                yield Static("", id="problem", classes="alarm", markup=False)
                yield Vertical(id="findings")
            yield KeyLine(KEYS)

    async def on_mount(self) -> None:
        """The keyboard goes to the line."""
        self.query_one(HillLine).focus()
        await self._show()

    async def on_input_submitted(self, submitted: HillLine.Submitted) -> None:
        """A hill, or the wanted sizes."""
        submitted.stop()
        text = submitted.value.strip()
        if not text:
            self._say("Write the diameters of one hill first.")
            return
        try:
            self.sitting.dig(with_typed(self._dig, text, self._units))
        except (NotAValue, BadInput) as error:
            self._say(trouble_with(error))
        else:
            submitted.input.clear()
            self._say(self.sitting.trouble)
            await self._show()

    async def on_hill_line_last_wanted_back(self) -> None:
        """The last hill comes back onto the line."""
        hills = hills_of(self._dig)
        if not hills:
            return
        self.query_one(HillLine).write(", ".join(size_words(root, self._units) for root in hills[-1]))
        self.sitting.dig(without_last(self._dig))
        await self._show()

    def action_scroll(self, lines: int) -> None:
        """Moves the page, since the keyboard stays on the line."""
        self.query_one(".leaf", VerticalScroll).scroll_relative(y=lines, animate=False)

    async def _show(self) -> None:
        """Brings the page in line with the hills."""
        self.query_one("#next", Static).update(f"Hill {len(hills_of(self._dig)) + 1}")
        self.query_one("#how", Static).update(HOW_TO_WRITE[self._units])
        self.query_one(Masthead).say_right(self._wanted())
        findings = self.query_one("#findings", Vertical)
        async with self.batch():
            await findings.remove_children()
            await findings.mount(*self._findings())

    def _findings(self) -> Iterator[Widget]:
        for number, hill in enumerate(hills_of(self._dig), start=1):
            sizes = ", ".join(size_words(root, self._units) for root in hill)
            yield _pair(f"{number}", sizes or "no roots")
        report = report_of(self._dig)
        if not report.root_count:
            yield Static("Nothing dug yet. Take hills from all over the bed, not the best ones.", classes="pencil")
            return
        yield Static(plan_words(report), id="plan", markup=False)
        yield _pair("At the size", share_words(report.share), wide=True)
        yield Gauge(report.share)
        yield Histogram(report, self._units)
        yield Static(middle_words(report, self._units), markup=False)
        if report.per_plant:
            yield Static(f"A plant: {weight_words(report.per_plant, self._units)}, by size.", markup=False)
        yield Static(confidence_words(report), classes="pencil", markup=False)

    def _say(self, text: str) -> None:
        problem = self.query_one("#problem", Static)
        problem.update(f"! {text}" if text else "")
        problem.display = bool(text)

    @property
    def _units(self) -> Units:
        return self.sitting.visit.case.units

    @property
    def _dig(self) -> TestDig | None:
        return self.sitting.visit.case.test_dig

    def _wanted(self) -> str:
        return f"wanted {wanted_words(wanted_of(self._dig), self._units)}"


def _pair(label: str, words: str, wide: bool = False) -> Horizontal:
    pair = Horizontal(
        Static(label, classes="label", markup=False), Static(words, classes="words", markup=False), classes="pair"
    )
    pair.set_class(wide, "-wide")
    return pair
