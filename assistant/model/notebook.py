"""What the notebook keeps, a class a table and a field a column: plain records that refer to each other by number.

Lengths are in inches, weights in pounds unless named otherwise, temperatures in °F, humidity in percent. `id` is
0 until the notebook has given a record its number. Numbers are kept to a millionth.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any, NamedTuple, Protocol

from assistant.model.case import FrostDates, Garden, MonthDay, WeatherFiles
from assistant.model.derivation import Outcome
from assistant.model.quantities import Units
from assistant.model.readings import Choices, Known, Origin, Reading, Span


class Record(Protocol):
    """Any of the classes below."""

    @property
    def id(self) -> int:
        """The number the notebook gave it."""


class GardenRow(NamedTuple):
    """A garden, and where its weather is read from; empty where nothing is given."""

    name: str
    units: Units = Units.US
    record: str = ""
    record_units: Units = Units.US
    forecast: str = ""
    note: str = ""
    id: int = 0

    @property
    def weather_files(self) -> WeatherFiles | None:
        """The same as a case has it; None without any."""
        files = WeatherFiles(self.record, self.record_units, self.forecast)
        return files if self.record or self.forecast else None


class FrostRow(NamedTuple):
    """When the first or the last frost comes to a garden; `which` is first_frost or last_frost."""

    garden: int
    which: str
    p10: MonthDay
    p50: MonthDay
    p90: MonthDay
    id: int = 0


class BedRow(NamedTuple):
    """A bed; its length is that of all its rows together."""

    garden: int
    name: str
    length: float | None = None
    row_width: float | None = None
    note: str = ""
    id: int = 0


class HistoryRow(NamedTuple):
    """What grew in a bed in a year, the disease seen in it, and the soil's pH where it was tested."""

    bed: int
    year: int
    crop: str
    disease: str = ""
    ph: float | None = None
    note: str = ""
    id: int = 0


class PlantingRow(NamedTuple):
    """Slips set in a bed, on one day or at some time from one day to another; over once `ended` is told."""

    bed: int
    planted_from: date
    planted_to: date
    variety: str = ""
    slips: int | None = None
    spacing: float | None = None
    ended: date | None = None
    note: str = ""
    id: int = 0


class RoomRow(NamedTuple):
    """A place where roots are cured or kept, and how large it is in cubic feet."""

    garden: int
    name: str
    size: float | None = None
    note: str = ""
    id: int = 0


class VisitRow(NamedTuple):
    """One walk to a bed or a room with a rulebook, on the day the advice is for."""

    garden: int
    day: date
    rulebook: str
    title: str
    units: Units = Units.US
    bed: int | None = None
    planting: int | None = None
    room: int | None = None
    note: str = ""
    id: int = 0


class AnswerRow(NamedTuple):
    """What is known of one sign since a visit: a range from low to high, or the choices still possible."""

    visit: int
    sign: str
    origin: Origin
    written: str = ""
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] | None = None
    id: int = 0

    @property
    def known(self) -> Known:
        """The same as a case has it."""
        reading: Reading
        if self.choices is not None:
            reading = Choices(frozenset(self.choices))
        else:
            assert self.low is not None
            assert self.high is not None
            reading = Span(self.low, self.high)
        return Known(reading, self.origin, self.written)


class VerdictRow(NamedTuple):
    """The advice of a visit, by which rules exactly, and how it was derived, in plain data."""

    visit: int
    day: date
    rulebook: str
    version: str
    digest: str
    outcome: Outcome
    headline: str
    derivation: Mapping[str, Any]
    advice: str | None = None
    act_by: date | None = None
    look_again: date | None = None
    id: int = 0


class TrialRow(NamedTuple):
    """A test dig: hills dug up to look, and the diameters wanted."""

    planting: int
    day: date
    wanted_low: float
    wanted_high: float
    visit: int | None = None
    note: str = ""
    id: int = 0


class HillRow(NamedTuple):
    """One hill of a test dig; the counts by size only where its roots were sorted and not measured."""

    test_dig: int
    name: str
    small: int | None = None
    wanted: int | None = None
    big: int | None = None
    id: int = 0


class RootRow(NamedTuple):
    """One root of a hill: what was measured of it, its weight in grams."""

    hill: int
    diameter: float | None = None
    length: float | None = None
    grams: float | None = None
    id: int = 0


class DigRow(NamedTuple):
    """A day of digging: all that was still in the ground (`rest`), or a `part` of it, so long or so many hills."""

    planting: int
    day: date
    note: str = ""
    what: str = "rest"
    length: float | None = None
    hills: int | None = None
    id: int = 0


class LotRow(NamedTuple):
    """Roots that are kept and counted together; of no dig of the notebook's when they came from elsewhere."""

    garden: int
    name: str
    dig: int | None = None
    note: str = ""
    id: int = 0


class StayRow(NamedTuple):
    """A lot in a room, to `cure` or to `keep`; `until` is open as long as it is there."""

    lot: int
    room: int
    purpose: str
    since: date
    until: date | None = None
    id: int = 0


class AirRow(NamedTuple):
    """The air of a room at one moment on the clock of the place; None for what was not measured."""

    room: int
    at: datetime
    temperature: float | None = None
    humidity: float | None = None
    source: str = ""
    id: int = 0


class LotEntryRow(NamedTuple):
    """One line of a lot's ledger: dug, weighed, looked through, used, given, sold or thrown out, and which part."""

    lot: int
    day: date
    what: str
    part: str = ""
    pounds: float | None = None
    temperature: float | None = None
    humidity: float | None = None
    note: str = ""
    id: int = 0


TABLES: Mapping[str, type[Record]] = {
    "garden": GardenRow,
    "frost": FrostRow,
    "bed": BedRow,
    "history": HistoryRow,
    "planting": PlantingRow,
    "room": RoomRow,
    "visit": VisitRow,
    "answer": AnswerRow,
    "verdict": VerdictRow,
    "test_dig": TrialRow,
    "hill": HillRow,
    "root": RootRow,
    "dig": DigRow,
    "lot": LotRow,
    "stay": StayRow,
    "air": AirRow,
    "lot_entry": LotEntryRow,
}
"""Each table with its class, those that are referred to before those that refer to them."""


def answer_row(visit: int, sign: str, known: Known) -> AnswerRow:
    """What is known of a sign, as the notebook keeps it."""
    reading = known.reading
    if isinstance(reading, Choices):
        return AnswerRow(visit, sign, known.origin, known.written, choices=tuple(sorted(reading.possible)))
    return AnswerRow(visit, sign, known.origin, known.written, reading.low, reading.high)


def garden_of(rows: Iterable[FrostRow]) -> Garden:
    """A garden's frost dates as a case has them."""
    return Garden({row.which: FrostDates(row.p10, row.p50, row.p90) for row in rows})
