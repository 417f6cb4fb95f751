"""One visit of the past: its answers, the verdict then, and what today's rules say; answers can be mended."""

from __future__ import annotations

from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen

from assistant.garden.telling.timeline import Told, visit_story
from assistant.model.notebook import AnswerRow, VisitRow
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.notebook import Notebook
from assistant.tui.garden_page import say_trouble
from assistant.tui.garden_words import day_line
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.keyed_list import Columns, KeyedList, Row

KEYS = (
    ("Esc", "back"),
    ("↑ ↓", "an answer"),
    ("c", "change it"),
    ("x", "rub it out"),
    ("b", "bright/dusk"),
    ("k", "keys"),
    ("q", "leave"),
)
STAYS = "the verdict stays as it was given"


class StoryScreen(Screen[None]):
    """The verdict of then stays, whatever is mended; what today's rules say follows the answers."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,left", "dismiss(None)", show=False),
        Binding("c,C,upper_c", "change", show=False),
        Binding("x,X,upper_x,delete", "rub_out", show=False),
    ]

    def __init__(self, notebook: Notebook, visit: VisitRow) -> None:
        super().__init__()
        self._notebook, self._visit = notebook, visit
        self._story = visit_story(notebook, visit)

    def compose(self) -> ComposeResult:
        """Head, the lines of the story, keys."""
        with Page():
            yield Masthead(f"{self._visit.title} · {day_line(self._visit.day)} {self._visit.day.year}")
            with VerticalScroll(classes="leaf", can_focus=False):
                rows = [Row("", told.label, told.words, told.sign) for told in self._story]
                yield KeyedList(rows, columns=Columns(mark=2, key=2, bold_labels=True))
            yield KeyLine(KEYS)

    def on_mount(self) -> None:
        """Arrows walk the answers."""
        self.query_one(KeyedList).focus()

    def on_keyed_list_picked(self, picked: KeyedList.Picked) -> None:
        """Enter and a click change an answer."""
        self._change(picked.row.value)

    def action_change(self) -> None:
        """Another answer than the one at the arrow."""
        self._change(self._sign)

    @property
    def _sign(self) -> str:
        """What the answer at the arrow is to; empty where advice stands."""
        row = self.query_one(KeyedList).current
        return row.value if row else ""

    def _told(self, sign: str) -> Told:
        return next(told for told in self._story if told.sign == sign)

    @work
    async def _change(self, sign: str) -> None:
        from assistant.garden.entries.corrections import change_answer
        from assistant.tui.writing import LineScreen

        if not sign:
            return

        def write(text: str) -> str:
            return f"{change_answer(self._notebook, self._visit, sign, text).written}; {STAYS}."

        [answer] = self._notebook.all(AnswerRow, visit=self._visit.id, sign=sign)
        how = f"As in the interview: a value, a range such as 40..44, a word, or ? for can't tell; {STAYS}."
        label = self._told(sign).label
        page = LineScreen(f"{self._visit.title} · {label}", f"{label}: what should it be?", how, write, answer.written)
        told = await self.app.push_screen_wait(page)
        if told:
            await self._show(f"{label}: {told}")

    @work
    async def action_rub_out(self) -> None:
        """The answer at the arrow goes, after a question."""
        from assistant.garden.entries.taking_out import take_out_answer
        from assistant.tui.writing import AskScreen

        sign = self._sign
        if not sign:
            return
        label = self._told(sign).label
        if not await self.app.push_screen_wait(AskScreen(f"Rub out the answer to: {label}?", f"nothing else; {STAYS}")):
            return
        try:
            take_out_answer(self._notebook, self._visit, sign)
        except (NotAValue, BadInput) as error:
            say_trouble(self, error)
            return
        await self._show(f"{label}: rubbed out; on the bed's page u brings it back.")

    async def _show(self, said: str) -> None:
        """The story as it is now, the arrow where it was."""
        here = self.query_one(KeyedList).here or 0
        self._story = visit_story(self._notebook, self._visit)
        await self.recompose()
        walked = self.query_one(KeyedList)
        walked.focus()
        walked.here = min(here, len(self._story) - 1)
        self.notify(said, timeout=4, markup=False)
