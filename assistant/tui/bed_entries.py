"""A bed's page with an arrow at one entry of its story, which is changed or taken out by a key."""

from __future__ import annotations

from collections.abc import Mapping

from textual import work

from assistant.garden.telling.timeline import Event
from assistant.model.notebook import (
    AirRow,
    DigRow,
    HistoryRow,
    LotEntryRow,
    PlantingRow,
    Record,
    StayRow,
    TrialRow,
    VisitRow,
)
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.tui.garden_page import GardenPage

HOW: Mapping[type[Record], str] = {
    PlantingRow: "The day, the variety and how many slips, such as 2031-06-20, Beauregard, 40 slips.",
    VisitRow: "The day of the visit. Its answers are changed on its own page, which Enter opens.",
    TrialRow: "The day, and the roots of each hill up to a semicolon: 2031-10-04, 2.1 1.6 3; 2.5 1.9.",
    DigRow: "The day and what was dug: 2031-10-05, 96 lb; only a part: 12 ft, 30 lb or 20 hills or part, 30 lb. Or bed "
    "and the one that was dug: bed South bed. The lot and the beginning of its cure go with it.",
    LotEntryRow: "The day and what was done: 2031-11-01, used 3 lb.",
    StayRow: "The day on which the roots came there.",
    AirRow: "The day and the hour, and the reading: 2031-10-09 08:30, 84 F 88 %.",
    HistoryRow: "The year, the crop and what ailed it: 2030 garlic, or 2029 sweet potatoes black-rot.",
}


class EntriesPage(GardenPage):
    """Where `change` and `take out` are about an entry."""

    @property
    def entry(self) -> Event | None:
        """The entry at the arrow."""
        raise NotImplementedError

    @work
    async def action_change(self) -> None:
        """The entry as it should be, begun with as it is."""
        from assistant.garden.entries.corrections import WAYS, change, written
        from assistant.tui.writing import LineScreen

        event, now = self.entry, self.bed
        if event is None or now is None:
            return
        kind, notebook = type(event.record), self.garden.notebook

        def write(text: str) -> str:
            return f"The {change(notebook, now.bed, event.record, text)} is changed; u brings it back."

        title, what = f"{now.bed.name} · the {WAYS[kind].name}", f"{event.words}: how should it be?"
        page = LineScreen(title, what, HOW[kind], write, written(notebook, now.bed, event.record))
        told = await self.app.push_screen_wait(page)
        if told:
            self.say(told)

    @work
    async def action_take_out(self) -> None:
        """The entry and what rests on it, after a question."""
        from assistant.garden.entries.taking_out import take_out_entry, what_goes
        from assistant.tui.writing import AskScreen

        event, now = self.entry, self.bed
        if event is None or now is None:
            return
        what = f"Take this out: {event.words} ({event.day.isoformat()})?"
        if not await self.app.push_screen_wait(AskScreen(what, what_goes(self.garden.notebook, event.record))):
            return
        try:
            name = take_out_entry(self.garden.notebook, now.bed, event.record)
        except (NotAValue, BadInput) as error:
            self.say_trouble(error)
            return
        self.show()
        self.say(f"The {name} is out; u brings it back.")
