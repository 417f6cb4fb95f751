"""The tasks that take one line: what each asks and what it writes down."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.garden.entries import digs, gardens, lots, plantings, rooms
from assistant.garden.entries.visits import frost_tonight
from assistant.garden.standing.stages import BedNow
from assistant.tui.garden_page import Garden, Line


def needs_bed(name: str) -> bool:
    """Whether the task is about one bed; the others are about the garden."""
    return name not in ("frost", "bed")


def _dig(garden: Garden, now: BedNow, text: str) -> str:
    lot = digs.record_dig(garden.notebook, now, text, garden.on)
    return f"{lot.name} is in the cure."


def _air(garden: Garden, now: BedNow, text: str) -> str:
    row = rooms.log_air(garden.notebook, now, text, rooms.moment_of(garden.on))
    return f"Read at {row.at:%H:%M}."


def _lot(garden: Garden, now: BedNow, text: str) -> str:
    return f"Noted: {lots.note_lot(garden.notebook, now, text, garden.on).what}."


def _plant(garden: Garden, now: BedNow, text: str) -> str:
    return f"{now.bed.name} planted {plantings.plant(garden.notebook, now.bed, text, garden.on).planted_from}."


def _frost(garden: Garden, now: BedNow, text: str) -> str:
    beds = [now for now in frost_tonight(garden.notebook, text, garden.on, garden.notebook.shown) if now.planting]
    digs = sum(now.stage.value == "dig" for now in beds)
    return f"Tonight's low is in {len(beds)} visits; {digs or 'none'} to dig."


def _bed(garden: Garden, now: BedNow, text: str) -> str:
    return f"{gardens.add_bed(garden.notebook, text).name} is in the notebook."


def _change(garden: Garden, now: BedNow, text: str) -> str:
    return f"{gardens.change_bed(garden.notebook, now.bed, text).name} is changed; u brings it back."


LINES: Mapping[str, Line] = {
    "dig": Line(
        "Record a dig",
        "How much was it?",
        "Such as 96 lb or 40 kg; leave it empty when nothing was weighed. All that was left in the bed is dug, today, "
        "and its roots begin their cure. Of a part of it: 12 ft, 30 lb or 20 hills, 30 lb or part, 30 lb. On "
        "another day: 2031-10-05, 96 lb.",
        _dig,
    ),
    "air": Line(
        "Log a reading",
        "What is the air like where the roots lie?",
        "Temperature and humidity, such as 84 F 88 %; or by two thermometers, 84 F wet 80 F.",
        _air,
    ),
    "lot": Line(
        "The lot in store",
        "What was done with it?",
        "looked, used 3 lb, given 2 lb, sold 10 lb, discarded 1 lb, apart 5 lb nicked, or weighed 80 lb; of several "
        "lots after a comma which. On another day: 2031-11-01, used 3 lb.",
        _lot,
    ),
    "plant": Line(
        "Record a planting",
        "When were the slips set?",
        "Such as 20 June, mid June or 2031-06-20; after commas the variety and how many slips: 20 June, Beauregard, "
        "40 slips.",
        _plant,
    ),
    "frost": Line(
        "Frost tonight",
        "How cold does tonight get?",
        "Such as 31 F, or 29..33. It goes to every bed with roots in the ground, and each is advised anew.",
        _frost,
    ),
    "bed": Line("A new bed", "What is it called?", "A name such as North bed; in another garden Hill/North bed.", _bed),
    "change": Line(
        "Change",
        "What of the bed should be otherwise?",
        "name North end, or length 40 ft (of all its rows together), or garden Hill.",
        _change,
    ),
}
