"""The page so far: every answer and the test dig, each to be opened and changed."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import Static

from assistant.cases.typed_dig import report_of
from assistant.explain.digging import dug_words, middle_words
from assistant.explain.wording import format_reading, origin_words
from assistant.model.readings import Origin
from assistant.tui.sitting import DIG, Sitting
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.keyed_list import Columns, KeyedList, Row, row_keys
from assistant.tui.wording import CANT_TELL, progress

KEYS = (
    ("Esc", "back to the question"),
    ("↑ ↓", "move"),
    ("Enter", "open and change"),
    ("x", "rub out"),
    ("k", "keys"),
)


class AnswersScreen(Screen["str | None"]):
    """Comes back with the sign to open, `DIG` for the test dig, or None to go on with the interview."""

    CSS_PATH = "answers.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,p,P,upper_p,f3", "dismiss(None)", show=False),
        Binding("x,X,upper_x,delete", "rub_out", show=False),
    ]

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting

    def compose(self) -> ComposeResult:
        """Head, the answers in the order given, the test dig, the advice they carry, keys."""
        rows = self._rows()
        with Page():
            yield Masthead("The page so far", progress(self.sitting.visit))
            with VerticalScroll(classes="leaf", can_focus=False):
                if rows:
                    yield KeyedList(rows, columns=Columns(mark=3, bold_labels=True))
                else:
                    yield Static("Nothing answered yet.", classes="pencil")
            yield Static(self._advice(), classes="standing", markup=False)
            yield KeyLine(KEYS)

    def on_mount(self) -> None:
        """The keyboard goes to the list."""
        for answers in self.query(KeyedList):
            answers.focus()

    def on_keyed_list_picked(self, picked: KeyedList.Picked) -> None:
        """Opens the answer."""
        self.dismiss(picked.row.value)

    async def action_rub_out(self) -> None:
        """Forgets the answer that the arrow points at, or all hills of the test dig."""
        answers = self.query(KeyedList)
        row = answers.first().current if answers else None
        if row is None:
            return
        if row.value == DIG:
            self.sitting.dig(None)
        else:
            self.sitting.forget(row.value)
        await self.recompose()
        self.on_mount()

    def _rows(self) -> list[Row]:
        visit = self.sitting.visit
        told = [(self._words(name), visit.rulebook.signs[name].ask, name) for name in visit.answered]
        if visit.case.test_dig:
            report = report_of(visit.case.test_dig)
            words = f"{dug_words(report, visit.case.units)}. {middle_words(report, visit.case.units)}"
            told.append(("test dig", words, DIG))
        return [Row(key, *each) for key, each in zip(row_keys(), told, strict=False)]

    def _words(self, name: str) -> str:
        visit = self.sitting.visit
        known = visit.case.answers[name]
        if known.origin is Origin.CANT_TELL:
            return CANT_TELL
        words = format_reading(visit.rulebook, name, known.reading, visit.case.units)
        return words if known.origin is Origin.ANSWERED else f"{words} ({origin_words(known)})"

    def _advice(self) -> str:
        moved_from = self.sitting.moved_from
        lines = [f"So far: {self.sitting.now.verdict.headline}"]
        lines += [f"   Was: {moved_from}"] if moved_from else []
        lines += [f"! {self.sitting.trouble}"] if self.sitting.trouble else []
        return "\n".join(lines)
