"""What a store's log and ledger tell of the signs of keeping, so that nobody is asked for them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from assistant.model.quantities import format_number
from assistant.model.readings import Choices, Known, Origin, exactly, one_of
from assistant.reckoning.chilling import BITTER_COLD, MILD_COLD, Cold
from assistant.reckoning.lot_ledger import Account
from assistant.reckoning.spells import Spell, mean_of

WEEK = timedelta(days=7)
STALE = timedelta(days=3)
"""A log that ended longer ago tells nothing of how the place is now (our own choice)."""
MOST_DOSE, MOST_DAYS = 10_000, 400
"""The most that the signs can be."""


class PastWeek(NamedTuple):
    """The lowest and the usual temperature (°F) and the usual humidity (percent) of a week; None where not measured."""

    low: float | None
    usual: float | None
    humidity: float | None


def past_week(spells: tuple[Spell, ...], on: date, stale: timedelta = STALE) -> PastWeek | None:
    """The last seven days of the log; None when it ended too long before the day, or holds nothing."""
    told = [spell for spell in spells if spell.start.date() <= on]
    if not told or on - told[-1].start.date() > stale:
        return None
    since = told[-1].start - WEEK
    week = [spell for spell in told if spell.start > since]
    low = min((spell.temperature for spell in week if spell.temperature is not None), default=None)
    usual = mean_of((spell.hours, spell.temperature) for spell in week)
    return PastWeek(low, usual, mean_of((spell.hours, spell.humidity) for spell in week))


def noted_in(accounts: tuple[Account, ...]) -> tuple[Spell, ...]:
    """The readings written into the ledger, as moments at noon that tell of no time."""
    noted = [
        Spell(datetime.combine(entry.on, time(12)), 0.0, entry.temperature, entry.humidity)
        for entry in (stage.entry for account in accounts for stage in account.stages)
        if entry.temperature is not None or entry.humidity is not None
    ]
    return tuple(sorted(noted, key=lambda spell: spell.start))


def noted_week(noted: tuple[Spell, ...], on: date) -> PastWeek | None:
    """What was noted within a week of the day; a thermometer that was looked at once tells nothing of the lowest."""
    week = past_week(noted, on, WEEK)
    return week._replace(low=None) if week else None


def told_by_log(week: PastWeek | None, cold: Cold | None, since_look: Cold | None) -> Iterator[tuple[str, Known]]:
    """The signs of cold, warmth and damp; `since_look` is the cold since the lot was last looked through."""
    if week is not None:
        for name, value in (("store_low", week.low), ("store_usual", week.usual)):
            if value is not None:
                yield name, _reckoned(round(value, 1), " F")
        if week.humidity is not None:
            yield "humidity", _reckoned(round(week.humidity))
    if since_look is not None:
        yield "froze", _said("yes" if since_look.freezing_hours else "no")
    if cold is not None:
        for name, limit in (("cold_days", MILD_COLD), ("bitter_days", BITTER_COLD)):
            yield name, _reckoned(min(int(cold.hours[limit] / 24), MOST_DAYS))
        yield "chill_dose", _reckoned(min(int(cold.dose.likely * 100), MOST_DOSE))


def told_by_ledger(accounts: tuple[Account, ...], on: date) -> Iterator[tuple[str, Known]]:
    """The signs of age, of looks and of wounds; of several lots by the oldest, since one store keeps them all."""
    kept = [account for account in accounts if account.left > 0]
    if not kept:
        return
    stored = min(account.stored for account in kept)
    yield "stored_on", Known(exactly(stored.toordinal()), Origin.RECKONED, stored.isoformat())
    yield "looked_days_ago", _reckoned(min((on - min(account.looked for account in kept)).days, MOST_DAYS))
    if any("nicked" in account.parts for account in kept):
        yield "nicked", _said("yes")


def told_by_plan(too_much: tuple[float, float]) -> Known:
    """Whether the roots are eaten in time: for sure, for sure not, or as it turns out."""
    possible = ["too-slow"] * (too_much[0] > 0) + ["in-time"] * (too_much[1] <= 0)
    return Known(Choices(frozenset(possible)), Origin.RECKONED, ", ".join(possible))


def _said(choice: str) -> Known:
    return Known(one_of(choice), Origin.RECKONED, choice)


def _reckoned(value: float, unit: str = "") -> Known:
    return Known(exactly(value), Origin.RECKONED, f"{format_number(value)}{unit}")


def since(spells: tuple[Spell, ...], stored: date | None) -> tuple[Spell, ...]:
    """The spells from the day the roots came into the place on; all of them when that is not known."""
    if stored is None:
        return spells
    start = datetime.combine(stored, time())
    return tuple(spell for spell in spells if spell.start >= start)
