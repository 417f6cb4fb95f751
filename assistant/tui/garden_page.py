"""What a grower can do with a bed from any page of the garden: one key each."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any, ClassVar, NamedTuple

from textual import work
from textual.binding import Binding, BindingType
from textual.screen import Screen

from assistant.explain.sheet import Sheet
from assistant.garden.standing.stages import BedNow
from assistant.model.notebook import BedRow
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.notebook import Entry, Notebook


class Garden(NamedTuple):
    """The notebook that is open, and the day that counts as today."""

    notebook: Notebook
    on: date


class Line(NamedTuple):
    """A task that takes one line: its name, what is asked, how it is written, and what writes it down."""

    name: str
    what: str
    how: str
    write: Callable[[Garden, BedNow, str], str]


class GardenPage(Screen[None]):
    """A page of the garden; `bed` is the one that the keys are about."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("v,V,upper_v,f4", "visit", show=False),
        Binding("d,D,upper_d", "line('dig')", show=False),
        Binding("r,R,upper_r", "line('air')", show=False),
        Binding("l,L,upper_l", "line('lot')", show=False),
        Binding("p,P,upper_p", "line('plant')", show=False),
        Binding("f,F,upper_f", "line('frost')", show=False),
        Binding("n,N,upper_n", "line('bed')", show=False),
        Binding("m,M,upper_m", "store", show=False),
        Binding("u,U,upper_u", "undo", show=False),
        Binding("c,C,upper_c", "change", show=False),
        Binding("g,G,upper_g", "gardens", show=False),
        Binding("x,X,upper_x,delete", "take_out", show=False),
        Binding("s,S,upper_s", "sheet", show=False),
        Binding("colon,ctrl+p", "app.command_palette", show=False),
    ]

    def __init__(self, garden: Garden) -> None:
        super().__init__()
        self.garden = garden
        self._last: Entry | None = garden.notebook.last_entry

    def _is_behind(self) -> bool:
        """Whether the notebook's last entry is another than when the page was brought in line with it."""
        before, self._last = self._last, self.garden.notebook.last_entry
        return before != self._last

    @property
    def bed(self) -> BedNow | None:
        """The bed that the keys are about."""
        raise NotImplementedError

    def sheet(self) -> Sheet:
        """The page that can be printed from here. Raises `NotAValue` or `BadInput`."""
        raise NotImplementedError

    def show(self) -> None:
        """Brings the page in line with the notebook."""
        raise NotImplementedError

    def on_screen_resume(self) -> None:
        """Another page, or another program, may have written something."""
        if self.is_mounted and self._is_behind():
            self.show()

    def action_visit(self) -> None:
        """The interview at today's visit to the bed."""
        if self.bed is not None:
            self.visit(self.bed.bed)

    @work
    async def visit(self, bed: BedRow) -> None:
        """Today's visit to any bed, also one that is not shown."""
        from assistant.garden.entries.visits import go_on_with
        from assistant.tui.bed_visit import BedVisitScreen

        try:
            kept = go_on_with(self.garden.notebook, bed, self.garden.on)
        except (NotAValue, BadInput) as error:
            self.say_trouble(error)
            return
        told = await self.app.push_screen_wait(BedVisitScreen(kept))
        if told:
            self.say(told)

    @work
    async def action_line(self, name: str) -> None:
        """A task that takes one line, written on a page of its own."""
        from assistant.tui.garden_lines import LINES, needs_bed
        from assistant.tui.writing import LineScreen

        line, now = LINES[name], self.bed
        if now is None and needs_bed(name):
            return
        title = f"{line.name} · {now.bed.name}" if now and needs_bed(name) else line.name
        page = LineScreen(title, line.what, line.how, lambda text: line.write(self.garden, now, text))  # type: ignore[arg-type]
        told = await self.app.push_screen_wait(page)
        if told:
            self.say(told)

    @work
    async def action_change(self) -> None:
        """The bed's name, length or garden."""
        self.action_line("change")

    @work
    async def action_gardens(self) -> None:
        """The gardens of the notebook, and which of them is shown."""
        from assistant.tui.gardens import GardensScreen

        await self.app.push_screen_wait(GardensScreen(self.garden.notebook))
        self.show()

    def action_store(self) -> None:
        """The cure is over; the lot goes into the store."""
        from assistant.garden.entries.rooms import move_to_store

        self._at_once(lambda now: f"{move_to_store(self.garden.notebook, now, self.garden.on).name} is in the store.")

    def action_undo(self) -> None:
        """All back as it was before the last entry."""
        try:
            undone = self.garden.notebook.undo_last()
        except BadInput as error:
            self.say_trouble(error)
            return
        self.show()
        self.say(f"Undone: {undone.says}." if undone else "There is nothing to undo.")

    @work
    async def action_take_out(self) -> None:
        """The bed and all that belongs to it, after a question."""
        if self.bed is None:
            return
        from assistant.garden.entries.taking_out import take_out, what_goes
        from assistant.tui.writing import AskScreen

        bed = self.bed.bed
        what = f"Take the bed {bed.name} out of the notebook?"
        if await self.app.push_screen_wait(AskScreen(what, what_goes(self.garden.notebook, bed))):
            self._at_once(lambda _: f"{take_out(self.garden.notebook, bed).name} is out; u brings it back.")

    def action_sheet(self) -> None:
        """A page to print, in a new file where the program was begun."""
        from assistant.garden.telling.sheets import save_sheet

        try:
            path = save_sheet(self.sheet(), Path(), self.garden.on)
        except (NotAValue, BadInput) as error:
            self.say_trouble(error)
            return
        self.notify(str(path), title="To print", timeout=10, markup=False)

    def say(self, words: str) -> None:
        """What was done, for a moment, in the place of what was said before."""
        self.app.clear_notifications()
        self.notify(words, timeout=4, markup=False)

    def say_trouble(self, error: NotAValue | BadInput) -> None:
        """What could not be done, and why."""
        say_trouble(self, error)

    def _at_once(self, do: Callable[[BedNow], str]) -> None:
        """Something that asks for nothing more."""
        if self.bed is None:
            return
        try:
            told = do(self.bed)
        except (NotAValue, BadInput) as error:
            self.say_trouble(error)
            return
        self.show()
        self.say(told)


def say_trouble(page: Screen[Any], error: NotAValue | BadInput) -> None:
    """What could not be done, and why, for a moment."""
    words = error.problems[0].message if isinstance(error, BadInput) else f"{error}."
    page.app.clear_notifications()
    page.notify(words[:1].upper() + words[1:], title="Nothing written", severity="error", markup=False)
