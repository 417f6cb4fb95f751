"""The garden: every bed with its stage, what it needs next and by when, the most pressing first."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.widgets import Static

from assistant.explain.sheet import Sheet
from assistant.garden.standing.overview import beds_now
from assistant.garden.standing.stages import BedNow
from assistant.model.notebook import GardenRow
from assistant.model.place import BadInput
from assistant.tui.garden_page import Garden, GardenPage
from assistant.tui.garden_words import NOTHING, day_line, how_many, ledger_rows, standing
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.ledger import Ledger

KEYS = (
    ("Enter", "open"),
    ("v", "visit"),
    ("d", "dig"),
    ("r", "reading"),
    ("l", "lot"),
    ("f", "frost tonight"),
    ("p", "plant"),
    ("n", "new bed"),
    ("c", "change"),
    ("g", "gardens"),
    ("s", "sheet to print"),
    ("u", "undo"),
    (":", "all it can do"),
    ("k", "keys"),
    ("q", "leave"),
)


class GardenScreen(GardenPage):
    """The first page."""

    def __init__(self, garden: Garden) -> None:
        super().__init__(garden)
        self.beds: tuple[BedNow, ...] = ()

    def compose(self) -> ComposeResult:
        """Head, the beds, more of the one at the arrow, keys."""
        self._read()
        with Page():
            yield Masthead(self._head(), how_many(self.beds, self.garden.on))
            yield Ledger(list(ledger_rows(self.beds, self.garden.on)))
            yield Static(self._standing(self.beds[0] if self.beds else None), classes="standing", markup=False)
            yield KeyLine(KEYS)

    def on_mount(self) -> None:
        """The keyboard goes to the list."""
        self.query_one(Ledger).focus()

    @property
    def bed(self) -> BedNow | None:
        """The bed at the arrow."""
        value = self.query_one(Ledger).value
        return next((now for now in self.beds if now.bed.id == value), None)

    def sheet(self) -> Sheet:
        """Every bed with what it needs."""
        from assistant.garden.telling.sheets import garden_sheet

        return garden_sheet(self._head().partition(" · ")[0], self.beds, self.garden.on)

    def point_at(self, bed: int) -> None:
        """Moves the arrow to a bed."""
        self.query_one(Ledger).point_at(bed)

    def show(self) -> None:
        """Reads the beds anew."""
        self._read()
        self.query_one(Ledger).fill(list(ledger_rows(self.beds, self.garden.on)))
        self.query_one(Masthead).say_left(self._head())
        self.query_one(Masthead).say_right(how_many(self.beds, self.garden.on))
        self._show_standing()

    def on_ledger_moved(self, moved: Ledger.Moved) -> None:
        """More of another bed."""
        self._show_standing()

    def on_ledger_picked(self, picked: Ledger.Picked) -> None:
        """The story of the bed."""
        from assistant.tui.bed import BedScreen

        if self.bed is not None:
            self.app.push_screen(BedScreen(self.garden, self.bed))

    def _show_standing(self) -> None:
        words, standing_at = self._standing(self.bed), self.query_one(".standing", Static)
        lines = -(-len(words) // max(standing_at.size.width, 1))
        standing_at.update(words, layout=lines != standing_at.size.height)

    def _standing(self, now: BedNow | None) -> str:
        return standing(now, self.garden.on) if now else NOTHING

    def _read(self) -> None:
        try:
            self.beds = beds_now(self.garden.notebook, self.garden.on, self.garden.notebook.shown)
        except BadInput as error:
            self.say_trouble(error)

    def _head(self) -> str:
        gardens, shown = self.garden.notebook.all(GardenRow), self.garden.notebook.shown
        names = [garden.name for garden in gardens if shown in (garden.id, None)] or ["The garden"]
        return f"{names[0] if len(names) == 1 else 'All gardens'} · {day_line(self.garden.on)}"
