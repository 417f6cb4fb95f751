"""How long a stored lot lasts, whether it sprouts, and when to look through it next.

Temperatures are in °F, times in days from the day the roots went into the store.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import NamedTuple

from assistant.model.readings import Span
from assistant.reckoning.chilling import DELAY, LOOK_AFTER
from assistant.reckoning.spells import Spell
from assistant.reckoning.weight_loss import Cure

SPROUT_LINE = 60.0
"""°F above which roots sprout sooner (Iowa State, California at 59; read)."""
SPROUTS_AFTER = Span(210.0, 700.0)
"""Degree days above 60 °F until roots sprout: seed roots do in 2 to 4 weeks at 75 to 85 °F (North Carolina SweetPotato
Commission; read). Fourteen days at 75, and 28 at 85; that warmth and time may be traded is our own reckoning."""
UNCURED_LIFE = Span(60.0, 150.0)
"""Days in which uncured roots lose a tenth of their weight at 5 and 2 % a month; no source gives their months (our
arithmetic; that a tenth is wrinkled enough is our judgement). Cured ones take 156 to 314 days by the same measure."""
LOOK_EVERY = timedelta(days=28)
"""Between two looks at a sound lot (common practice is 'all winter long'; the interval is our judgement)."""


class Life(NamedTuple):
    """The days a lot should last, from the first to be wary to the last that is hoped for, and what limits it."""

    days: Span
    limits: tuple[str, ...]

    def dates(self, stored: date) -> tuple[date, date]:
        """The same as calendar days."""
        return stored + timedelta(days=int(self.days.low)), stored + timedelta(days=int(self.days.high))


def degree_days(spells: Iterable[Spell]) -> float:
    """Degree days above 60 °F, the warmth that makes roots sprout."""
    return sum(
        spell.days * max(spell.temperature - SPROUT_LINE, 0.0) for spell in spells if spell.temperature is not None
    )


def sprouting_in(so_far: float, temperature: float) -> Span | None:
    """Days until roots sprout from warmth, at this temperature from now on; None when it will not make them."""
    rate = temperature - SPROUT_LINE
    if rate <= 0:
        return None
    soonest, latest = (max(limit - so_far, 0.0) / rate for limit in (SPROUTS_AFTER.low, SPROUTS_AFTER.high))
    return Span(soonest, latest)


def life_of(
    place: Span,
    variety: Span | None,
    cure: Cure,
    stored: date,
    sprouting: tuple[date, date] | None = None,
    harmed_at: datetime | None = None,
) -> Life:
    """How long a lot lasts: as its place allows, and no longer than its variety, cure, sprouts and chilling do."""
    bounds = [("place", place)]
    if variety is not None:
        bounds.append(("variety", variety))
    if cure is Cure.NONE:
        bounds.append(("no cure", UNCURED_LIFE))
    if sprouting is not None:
        bounds.append(("warmth", Span(*((day - stored).days for day in sprouting))))
    if harmed_at is not None:
        last = float((harmed_at.date() + DELAY - stored).days)
        bounds.append(("cold", Span(last, last)))
    low, high = (min(getattr(span, end) for _, span in bounds) for end in ("low", "high"))
    limiting = tuple(name for name, span in bounds if low == span.low or high == span.high)
    return Life(Span(max(low, 0.0), max(high, 0.0)), limiting)


def next_look(on: date, last: date | None, advised: date | None, harmed_at: datetime | None) -> date:
    """The day of the next look: as advised, four weeks after the last, and in the seventh week after harmful cold.

    Whichever comes first, and not before today.
    """
    days = [advised, last + LOOK_EVERY if last else on]
    if harmed_at is not None and harmed_at.date() + LOOK_AFTER >= on:
        days.append(harmed_at.date() + LOOK_AFTER)
    return max(min(day for day in days if day is not None), on)
