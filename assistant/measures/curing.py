"""What a log, a root's temperature and a room say of a cure, and the signs of the rulebook that they answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import cached_property

from assistant.measures import known_readings
from assistant.model.case import Case
from assistant.model.readings import Known, Origin, Reading, Span, exactly, one_of
from assistant.model.room_log import RoomLog, RoomReading
from assistant.model.rules import Rulebook
from assistant.reckoning.curing import (
    ANY_HUMIDITY,
    ANY_TEMPERATURE,
    Pace,
    Progress,
    Recipe,
    Stretch,
    by_recipe,
    days_to_go,
    pace,
    progress,
    stretches,
)
from assistant.reckoning.moist_air import Air

RULEBOOK = "sweetpotato/curing"
PROGRESS, WARMTH, DAMP, DEW, BEGAN = "progress", "room_temperature", "humidity", "dew", "cure_began"
NEEDED_SIGNS = (PROGRESS, WARMTH, DAMP, DEW, BEGAN)
PERCENT = 100
FRESH = 1
"""Days for which a reading still tells of today (our own judgement)."""
LONGEST_CURE = 90
"""Days; a log that began earlier tells of more than a cure, and not when that began."""


@dataclass(frozen=True)
class Cure:
    """A cure as far as it is told: by its log, or else by what the grower says of days, warmth and damp."""

    stretches: tuple[Stretch, ...]
    now: Stretch
    log: RoomLog | None = None

    @cached_property
    def progress(self) -> Progress:
        """How far it is."""
        return progress(self.stretches)

    @property
    def pace(self) -> Pace:
        """How fast it goes in the air that was read last."""
        return pace(self.now.temperature, self.now.humidity)

    @property
    def days_left(self) -> tuple[float, float | None]:
        """The fewest and the most days that are left in such air."""
        return days_to_go(self.progress, self.pace)

    @property
    def air(self) -> Air | None:
        """The air that was read last; None when part of it was not."""
        temperature, humidity = self.now.temperature, self.now.humidity
        exact = temperature.low == temperature.high and humidity.low == humidity.high
        return Air(temperature.low, humidity.low) if exact else None

    def against(self, recipes: Sequence[Recipe]) -> list[tuple[Recipe, Span]]:
        """The share of each recipe that it has had."""
        return [(recipe, by_recipe(recipe, self.stretches)) for recipe in recipes]


def cure_by_log(log: RoomLog, on: date) -> Cure:
    """A cure by its log; after a last reading that is older than yesterday the air may have been anything."""
    told = tuple(stretches(log.readings))
    since = (on - log.end.date()).days
    if since <= FRESH:
        return Cure(told, _as_read(log.readings[-1]), log)
    unknown = Stretch(since, ANY_TEMPERATURE, ANY_HUMIDITY, known=False)
    return Cure((*told, unknown), unknown, log)


def cure_by_answers(rulebook: Rulebook, case: Case) -> Cure:
    """A cure without a log, taken to be as warm and damp from its first day as it is said to be; or one to be begun."""
    known = known_readings(rulebook, case)
    warm, damp, began = (_span(known[name].reading) for name in (WARMTH, DAMP, BEGAN))
    days = Span(case.on.toordinal() - began.high, case.on.toordinal() - began.low)
    now = Stretch(days.low, warm, damp, known=WARMTH in case.answers)
    if BEGAN not in case.answers or not now.known:
        return Cure((), now)
    return Cure((now, _perhaps(now, days.high - days.low)), now)


def recipes_of(rulebook: Rulebook) -> list[Recipe]:
    """The recipes that the rulebook lists."""
    table = rulebook.tables.get("recipes")
    rows = table.rows.values() if table else ()
    return [
        Recipe(row.named, row.values["temperature"], row.values["humidity"], row.values["days"], row.sources)
        for row in rows
    ]


def with_signs(case: Case, cure: Cure, roots: float | None = None) -> Case:
    """The case with the signs that the log and the roots' temperature (°F) answer; the grower's answers stand above."""
    found = dict(_signs(cure.log, cure)) if cure.log else {}
    if cure.log and (case.on - cure.log.start.date()).days > LONGEST_CURE:
        del found[BEGAN]
    dew = dew_on(cure.air, roots)
    if dew:
        found[DEW] = dew
    return replace(case, answers={**found, **case.answers})


def _signs(log: RoomLog, cure: Cure) -> Iterator[tuple[str, Known]]:
    yield PROGRESS, _told_progress(cure.progress)
    yield BEGAN, _began(log.start)
    if not cure.now.known:
        return
    last = log.readings[-1]
    if last.temperature is not None:
        yield WARMTH, _read(last.temperature, f"{last.temperature:g} F")
    if last.humidity is not None:
        yield DAMP, _read(last.humidity, f"{last.humidity:g}")


def dew_on(air: Air | None, roots: float | None) -> Known | None:
    """Whether roots this cold (°F) will sweat in the air; None when either is not known."""
    if air is None or roots is None:
        return None
    choice = "likely" if air.wets(roots) else "none"
    return Known(one_of(choice), Origin.RECKONED, choice)


def case_for(log: RoomLog) -> Case:
    """A case of which no more is known than its log."""
    return Case(f"Cure by the log {log.name}", RULEBOOK, log.end.date())


def _told_progress(so_far: Progress) -> Known:
    low, high = (round(min(share, 10) * PERCENT, 2) for share in (so_far.slow, so_far.quick))
    low, high = min(low, high), max(low, high)
    return Known(Span(low, high), Origin.RECKONED, f"{low:g}..{high:g}")


def _began(start: datetime) -> Known:
    return Known(exactly(start.date().toordinal()), Origin.RECKONED, start.date().isoformat())


def _read(value: float, written: str) -> Known:
    return Known(exactly(value), Origin.RECKONED, written)


def _as_read(reading: RoomReading) -> Stretch:
    warm = ANY_TEMPERATURE if reading.temperature is None else exactly(reading.temperature)
    damp = ANY_HUMIDITY if reading.humidity is None else exactly(reading.humidity)
    return Stretch(0.0, warm, damp)


def _span(reading: Reading) -> Span:
    assert isinstance(reading, Span)
    return reading


def _perhaps(now: Stretch, days: float) -> Stretch:
    """Days of which nobody is sure that they were part of the cure."""
    warm, damp = Span(ANY_TEMPERATURE.low, now.temperature.high), Span(ANY_HUMIDITY.low, now.humidity.high)
    return Stretch(days, warm, damp, known=False)
