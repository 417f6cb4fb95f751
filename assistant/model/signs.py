"""Field signs the grower is asked for, and the measures reckoned from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import Enum
from typing import NamedTuple

from assistant.model.place import NOWHERE, Place
from assistant.model.quantities import Kind
from assistant.model.readings import Choices, Reading, Span


class Effort(str, Enum):
    """What an answer costs the grower, from a look across the bed to a hill dug up."""

    GLANCE = "glance"
    STOOP = "stoop"
    LOOK_UP = "look-up"
    DIG = "dig"

    @property
    def cost(self) -> int:
        """Effort as a number, in looks across the bed (our own judgement, no source)."""
        return _COSTS[self]


_COSTS = {Effort.GLANCE: 1, Effort.STOOP: 2, Effort.LOOK_UP: 4, Effort.DIG: 12}


CHANCE = "chance"
WEATHER_QUANTITIES: Mapping[str, str] = {
    CHANCE: "The percent chance of a low at or below a temperature on some of the coming nights.",
    "soil": "The temperature of the soil at 4 in so many days on, as a range (°F).",
}
"""What a rulebook can reckon with from a station's record and a forecast, by the name authors write."""


class FromWeather(NamedTuple):
    """A quantity of the weather: a chance with its threshold (°F) and nights, or the soil so many days on."""

    quantity: str
    at_or_below: float = 0
    nights: int = 0


@dataclass(frozen=True, eq=False)
class Sign:
    """One thing to look for, with its question and the values it can take.

    `low` and `high` bound the domain on the program's scale; for a date they count days before
    the day of the visit. `choices` maps each choice, in order, to its meaning. `about` is how far
    "about VALUE" reaches to either side; with `about_share` it is a share of the value. `called` is
    what the grower calls it in a sentence, after "the". `usual` says how often each choice is met, as
    weights; `usual_spans` the same of ranges on the scale of `low` and `high`, which in order cover
    all of it, so that each weighs as a whole. `because` is why a rulebook that builds on another has
    the sign otherwise. A sign that is `told` by the weather is never asked.
    """

    name: str
    kind: Kind
    ask: str
    look: str
    effort: Effort
    low: float = 0
    high: float = 0
    choices: Mapping[str, str] = field(default_factory=dict)
    unit: str = ""
    about: float = 0
    about_share: float = 0
    usual: Mapping[str, float] = field(default_factory=dict)
    sources: tuple[str, ...] = ()
    called: str = ""
    usual_spans: tuple[tuple[Span, float], ...] = ()
    because: str = ""
    told: FromWeather | None = None
    place: Place = NOWHERE

    def domain(self, on: date) -> Reading:
        """Everything the sign can be on the day of the visit; this is *can't tell*."""
        if self.kind is Kind.CHOICE:
            return Choices(frozenset(self.choices))
        if self.kind is Kind.DATE:
            return Span(on.toordinal() - self.high, on.toordinal() - self.low)
        return Span(self.low, self.high)

    def margin(self, value: float) -> float:
        """How far "about this value" reaches to either side."""
        return self.about or abs(value) * self.about_share


class DaysSince(NamedTuple):
    """Whole days from a date sign to the day of the visit."""

    sign: str


class DaysUntil(NamedTuple):
    """Days from the visit to one of the garden's own dates, such as `first_frost.p10`; below zero once past."""

    garden_date: str


class Lookup(NamedTuple):
    """A range read off a table for each choice of a sign that is still possible."""

    sign: str
    table: str
    column: str


class GrownBy(NamedTuple):
    """What a count of days will be when the roots of a test dig may have grown to the wanted size.

    It names a day to look again, and nothing is compared with it.
    """

    days: str


class Measure(NamedTuple):
    """A number reckoned from a sign, a table, the garden's dates or a test dig; to the rules a reading like any other.

    `low` and `high` bound it when nothing is known.
    """

    name: str
    says: str
    how: DaysSince | DaysUntil | Lookup | GrownBy
    low: float
    high: float
    unit: str = "days"
    place: Place = NOWHERE

    @property
    def domain(self) -> Span:
        """Everything the measure can be when nothing is known."""
        return Span(self.low, self.high)

    @property
    def sign(self) -> str | None:
        """The sign it is reckoned from, if any."""
        return self.how.sign if isinstance(self.how, (DaysSince, Lookup)) else None


class Row(NamedTuple):
    """One row of a table: what people call it, its ranges by column, and who says so.

    `because` is why a rulebook that builds on another has the row otherwise, or at all.
    """

    name: str
    named: str
    values: Mapping[str, Span]
    sources: tuple[str, ...]
    note: str = ""
    because: str = ""
    place: Place = NOWHERE


class Table(NamedTuple):
    """Ranges by row and column, such as the days each variety takes."""

    name: str
    rows: Mapping[str, Row]

    def column(self, column: str) -> dict[str, Span]:
        """The column's range in each row."""
        return {name: row.values[column] for name, row in self.rows.items()}
