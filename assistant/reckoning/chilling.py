"""Cold that harms stored roots: how much of it a log holds, and when it became enough.

Two published examples give a time: hard centres are possible after three days at 50 °F (10 °C) and after one day at
35 °F (1.7 °C) (Meyers, Mississippi State 2015; read). Between them the time is taken to change evenly, and spells
are taken to add up (our own reckoning; common for chilling injury, from memory). Recovery is not counted: cured
Centennial recovered from cold in November and hardly in March (Daines and others 1976, abstract; read).
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import NamedTuple

from assistant.reckoning.ranges import Range
from assistant.reckoning.spells import Spell

MILD_COLD, MILD_HOURS = 50.0, 72.0
BITTER_COLD, BITTER_HOURS = 35.0, 24.0
"""°F and hours of the two published examples."""
DANGER, SEVERE, SEVERE_HOURS = 55.0, 40.0, 12.0
"""°F: harm begins below 55 within several hours, and below 40 overnight is severe (North Carolina SweetPotato
Commission; read). A night is taken as twelve hours."""
FREEZING = 30.0
"""°F at which roots freeze (Georgia, read; others give -1.3 to -1.9 °C)."""
DELAY = timedelta(days=52)
"""After a week in cold soil, rot was seen to jump at 52 days in store (HortScience 15:261, 1980, abstract; read)."""
LOOK_AFTER = timedelta(weeks=7)
"""When to look through a chilled lot hardest: the last whole week before those 52 days."""
_PER_DEGREE = (MILD_HOURS - BITTER_HOURS) / (MILD_COLD - BITTER_COLD)


class Cold(NamedTuple):
    """What a log holds of cold: hours below 55, at or below 50, 40 and 35 °F, hours freezing, and the share of the
    harmful amount, 1 being all of it. Its low and likely end count as the published times do; the high end as the
    strictest source does, from 55 °F down."""

    hours: dict[float, float]
    freezing_hours: float
    dose: Range
    harmed_at: datetime | None

    @property
    def is_harmful(self) -> bool:
        """Whether it is as much as is known to harm."""
        return self.dose.likely >= 1


def hours_to_harm(temperature: float) -> float | None:
    """Hours at a temperature (°F) after which hard centres are possible; None above 50 °F, where no time is known.

    Below 35 °F, where no time is published either, as at 35.
    """
    if temperature > MILD_COLD:
        return None
    return BITTER_HOURS + max(temperature - BITTER_COLD, 0) * _PER_DEGREE


def strict_hours_to_harm(temperature: float) -> float | None:
    """The same as the strictest sources have it: from below 55 °F on, and in one night below 40 °F."""
    if temperature >= DANGER:
        return None
    if temperature < SEVERE:
        return SEVERE_HOURS
    return BITTER_HOURS + (temperature - BITTER_COLD) * _PER_DEGREE


def cold_in(spells: Iterable[Spell]) -> Cold:
    """What the spells hold of cold, those without a temperature left out."""
    hours = dict.fromkeys((DANGER, MILD_COLD, SEVERE, BITTER_COLD), 0.0)
    freezing = dose = strict = 0.0
    harmed_at = None
    for spell in spells:
        if spell.temperature is None:
            continue
        for limit in hours:
            below = spell.temperature < limit if limit == DANGER else spell.temperature <= limit
            hours[limit] += spell.hours * below
        freezing += spell.hours * (spell.temperature <= FREEZING)
        strict += _share(spell.hours, strict_hours_to_harm(spell.temperature))
        before, dose = dose, dose + _share(spell.hours, hours_to_harm(spell.temperature))
        if before < 1 <= dose + 1e-9 and harmed_at is None:
            harmed_at = spell.start + timedelta(hours=spell.hours * (1 - before) / (dose - before))
    dose = round(dose, 9)
    return Cold(hours, freezing, Range(dose, dose, max(dose, strict)), harmed_at)


def _share(hours: float, to_harm: float | None) -> float:
    return hours / to_harm if to_harm else 0.0
