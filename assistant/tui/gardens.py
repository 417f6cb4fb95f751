"""The gardens of the notebook: which is shown, and each with its units and frost dates."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Static

from assistant.garden.entries.gardens import HOW, add_garden, change_garden, frost_words
from assistant.garden.standing.words import count_words
from assistant.model.notebook import BedRow, GardenRow
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.notebook import Notebook
from assistant.tui.garden_page import say_trouble
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.ledger import Ledger, LedgerRow

KEYS = (
    ("Esc", "back"),
    ("Enter", "show its beds"),
    ("n", "new garden"),
    ("c", "change"),
    ("u", "undo"),
    ("x", "take out"),
    ("k", "keys"),
    ("q", "leave"),
)
ALL = 0
"""In place of a garden's number."""
ALL_GARDENS = "All gardens"


class GardensScreen(Screen[bool]):
    """Comes back with whether another garden was chosen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,left", "dismiss(False)", show=False),
        Binding("n,N,upper_n", "new", show=False),
        Binding("c,C,upper_c", "change", show=False),
        Binding("x,X,upper_x,delete", "take_out", show=False),
        Binding("u,U,upper_u", "undo", show=False),
    ]

    def __init__(self, notebook: Notebook) -> None:
        super().__init__()
        self._notebook = notebook

    def compose(self) -> ComposeResult:
        """Head, all gardens and each of them, more of the one at the arrow, keys."""
        with Page():
            yield Masthead("Gardens")
            yield Ledger(self._rows())
            yield Static("", classes="standing", markup=False)
            yield KeyLine(KEYS)

    def on_mount(self) -> None:
        """The arrow stands at what is shown."""
        walked = self.query_one(Ledger)
        walked.focus()
        walked.point_at(self._notebook.shown or ALL)
        self._show_standing()

    @property
    def garden(self) -> GardenRow | None:
        """The garden at the arrow; None for all."""
        value = self.query_one(Ledger).value
        return next(iter(self._notebook.all(GardenRow, id=value)), None) if value else None

    def on_ledger_moved(self, moved: Ledger.Moved) -> None:
        """More of another garden."""
        self._show_standing()

    def on_ledger_picked(self, picked: Ledger.Picked) -> None:
        """Its beds are shown from now on."""
        try:
            self._notebook.show(picked.value or None)
        except BadInput as error:
            say_trouble(self, error)
            return
        self.dismiss(True)

    def action_new(self) -> None:
        """One more garden."""
        self._line(
            "A new garden",
            "What is it called?",
            "A name such as Hill. Its beds are then written as Hill/North bed where it matters.",
            lambda text: f"{add_garden(self._notebook, text).name} is in the notebook.",
        )

    def action_change(self) -> None:
        """Name, units or frost dates."""
        garden = self.garden
        if garden is None:
            return
        how = f"{HOW[0].upper()}{HOW[1:]}."
        self._line(
            f"Garden · {garden.name}",
            "What should be otherwise?",
            how,
            lambda text: f"{change_garden(self._notebook, garden, text).name} is changed; u brings it back.",
        )

    @work
    async def action_take_out(self) -> None:
        """A garden without beds, after a question."""
        from assistant.garden.entries.taking_out import take_out_garden, what_goes
        from assistant.tui.writing import AskScreen

        garden = self.garden
        if garden is None:
            return
        what = f"Take the garden {garden.name} out of the notebook?"
        if await self.app.push_screen_wait(AskScreen(what, what_goes(self._notebook, garden))):
            try:
                take_out_garden(self._notebook, garden)
            except (NotAValue, BadInput) as error:
                say_trouble(self, error)
                return
            self._show(f"{garden.name} is out; u brings it back.")

    def action_undo(self) -> None:
        """All back as it was before the last entry."""
        try:
            undone = self._notebook.undo_last()
        except BadInput as error:
            say_trouble(self, error)
            return
        self._show(f"Undone: {undone.says}." if undone else "There is nothing to undo.")

    @work
    async def _line(self, title: str, what: str, how: str, write: Callable[[str], str]) -> None:
        from assistant.tui.writing import LineScreen

        told = await self.app.push_screen_wait(LineScreen(title, what, how, write))
        if told:
            self._show(told)

    def _show(self, said: str) -> None:
        self.query_one(Ledger).fill(self._rows())
        self._show_standing()
        self.app.clear_notifications()
        self.notify(said, timeout=4, markup=False)

    def _show_standing(self) -> None:
        garden = self.garden
        words = frost_words(self._notebook, garden) if garden else "The beds of every garden, the most pressing first."
        self.query_one(".standing", Static).update(f"{garden.name} · {words}" if garden else words)

    def _rows(self) -> list[LedgerRow]:
        beds = self._notebook.all(BedRow)
        rows = [LedgerRow(ALL_GARDENS, "", "", count_words(len(beds), "bed"), ALL)]
        for garden in self._notebook.all(GardenRow):
            own = sum(bed.garden == garden.id for bed in beds)
            words = frost_words(self._notebook, garden)
            rows.append(LedgerRow(garden.name, garden.units.value, words, count_words(own, "bed"), garden.id))
        return rows
