"""One bed: what it needs, its pictures, and its story with every visit to be opened and every entry to be mended."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import Static

from assistant.explain.sheet import Sheet
from assistant.garden.standing.overview import bed_now
from assistant.garden.standing.stages import BedNow
from assistant.garden.telling.pictures import Picture, pictures
from assistant.garden.telling.timeline import Event, timeline
from assistant.model.notebook import HistoryRow, VisitRow
from assistant.model.place import BadInput
from assistant.tui.bed_entries import EntriesPage
from assistant.tui.garden_page import Garden
from assistant.tui.garden_words import known, need_words
from assistant.tui.past_visit import StoryScreen
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.ledger import Ledger, LedgerRow
from assistant.tui.widgets.panels import Panels

KEYS = (
    ("Esc", "garden"),
    ("Enter", "open a visit"),
    ("i", "pictures"),
    ("v", "visit"),
    ("d", "dig"),
    ("r", "reading"),
    ("l", "lot"),
    ("m", "to the store"),
    ("s", "sheet to print"),
    ("c", "change"),
    ("x", "take out"),
    ("u", "undo"),
    ("k", "keys"),
    ("q", "leave"),
)


class BedScreen(EntriesPage):
    """The story of a bed, below its pictures."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,left", "dismiss(None)", show=False),
        Binding("i,I,upper_i", "pictures", show=False),
    ]

    def __init__(self, garden: Garden, now: BedNow) -> None:
        super().__init__(garden)
        self._now = now
        self.events: tuple[Event, ...] = timeline(garden.notebook, now.bed)
        self.pictures: tuple[Picture, ...] = pictures(garden.notebook, now, garden.on)

    def compose(self) -> ComposeResult:
        """Head, what the bed needs, its pictures, its story, more about it, keys."""
        with Page():
            yield Masthead(self._now.bed.name, self._now.stage.value)
            yield Static(self._needs(), id="needs", markup=False)
            yield Panels(self.pictures)
            yield Ledger(self._rows())
            yield Static(known(self._now, self.garden.on), classes="standing", markup=False)
            yield KeyLine(KEYS)

    def on_mount(self) -> None:
        """The keyboard goes to the story."""
        self.query_one(Ledger).focus()

    @property
    def bed(self) -> BedNow:
        """This one."""
        return self._now

    @property
    def entry(self) -> Event | None:
        """The entry at the arrow."""
        value = self.query_one(Ledger).value
        return None if value is None else self.events[value]

    def sheet(self) -> Sheet:
        """For dig day, the cure or the store."""
        from assistant.garden.telling.sheets import bed_sheet

        return bed_sheet(self.garden.notebook, self._now, self.garden.on)

    def show(self) -> None:
        """Reads the bed anew; when it was taken out, back to the garden."""
        try:
            self._now = bed_now(self.garden.notebook, self._now.bed.id, self.garden.on)
            self.events = timeline(self.garden.notebook, self._now.bed)
            self.pictures = pictures(self.garden.notebook, self._now, self.garden.on)
        except BadInput:
            self.dismiss(None)
            return
        self.query_one(Masthead).say_right(self._now.stage.value)
        self.query_one("#needs", Static).update(self._needs())
        self.query_one(Panels).show(self.pictures)
        self.query_one(Ledger).fill(self._rows())
        self.query_one(".standing", Static).update(known(self._now, self.garden.on))

    def on_ledger_picked(self, picked: Ledger.Picked) -> None:
        """A visit opens; other lines say all there is."""
        record = self.events[picked.value].record
        if not isinstance(record, VisitRow):
            return
        try:
            self.app.push_screen(StoryScreen(self.garden.notebook, record))
        except BadInput as error:
            self.say_trouble(error)

    def action_pictures(self) -> None:
        """All pictures on a page of their own, each with its words."""
        if self.pictures:
            self.app.push_screen(PicturesScreen(self._now.bed.name, self.pictures))
        else:
            self.say("There is nothing to draw of this bed yet.")

    def _needs(self) -> str:
        return "\n".join(need_words(need, self.garden.on) for need in self._now.needs)

    def _rows(self) -> list[LedgerRow]:
        return [LedgerRow(_day_of(event), "", event.words, "", number) for number, event in enumerate(self.events)]


def _day_of(event: Event) -> str:
    """The day of an entry; of a crop grown before only the year is known."""
    return f"{event.day.year}" if isinstance(event.record, HistoryRow) else f"{event.day.day} {event.day:%b %Y}"


class PicturesScreen(Screen[None]):
    """Every picture of a bed as large as it likes, and what it shows in words."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,left,i,I,upper_i", "dismiss(None)", show=False)]

    def __init__(self, bed: str, pictures: tuple[Picture, ...]) -> None:
        super().__init__()
        self._bed, self._pictures = bed, pictures

    def compose(self) -> ComposeResult:
        """Head, the pictures under each other, keys."""
        with Page():
            yield Masthead(f"{self._bed} · pictures")
            with VerticalScroll(classes="leaf"):
                for picture in self._pictures:
                    if picture.of:
                        yield Static(picture.of, classes="pencil", markup=False)
                    yield Panels((picture,), all_of_them=True)
                    yield Static("\n".join(picture.tell()), classes="told", markup=False)
            yield KeyLine((("Esc", "back"), ("↑ ↓", "scroll"), ("b", "bright/dusk"), ("k", "keys"), ("q", "leave")))

    def on_mount(self) -> None:
        """Arrows scroll the page."""
        self.query_one(VerticalScroll).focus()
