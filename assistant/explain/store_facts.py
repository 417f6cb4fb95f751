"""What the log and the ledger of a store come to, in sentences, tables and series to draw."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from assistant.explain.log_plot import Series
from assistant.explain.room_air import KEEPING, air_series
from assistant.explain.sheet import Table
from assistant.explain.store_words import (
    degrees,
    number,
    percent,
    short_day_of_year,
    unit_of,
    weight,
    weights,
)
from assistant.measures.store import Store, Wanted
from assistant.model.quantities import Units, format_day
from assistant.model.room_log import RoomReading
from assistant.reckoning.chilling import BITTER_COLD, DANGER, MILD_COLD, Cold
from assistant.reckoning.keeping import SPROUTS_AFTER
from assistant.reckoning.lot_ledger import Account
from assistant.reckoning.weight_loss import MONTH, Cure

CURES = {Cure.FULL: "cured in full", Cure.SHORT: "cured a little, or as nobody knows", Cure.NONE: "not cured"}


def log_words(store: Store) -> Iterator[str]:
    """How far the log goes, and what it leaves out."""
    if store.log is None:
        return
    hours = sum(spell.hours for spell in store.spells)
    first, last = (format_day(end.date()) for end in (store.log.start, store.log.end))
    yield f"The log tells of {hours / 24:.1f} days, from {first} to {last}."
    if store.stored and store.log.start.date() > store.stored:
        yield f"Of the first {(store.log.start.date() - store.stored).days} days in store it tells nothing."
    if store.log.gaps:
        untold = sum(gap.length.total_seconds() for gap in store.log.gaps) / 3600
        gaps = "a gap" if len(store.log.gaps) == 1 else f"{len(store.log.gaps)} gaps"
        yield f"It has {gaps}, {untold:.0f} hours of which nothing is known."
    if store.log.set_aside:
        kinds = ", ".join(f"{count} {kind}" for kind, count in sorted(store.log.set_aside.items()))
        yield f"Set aside: {kinds}."
    if store.week is None:
        yield "It ended too long ago to tell how the place is now."


def place_words(store: Store) -> Iterator[str]:
    """The air of the past week."""
    week, units = store.week, store.case.units
    if week is None:
        return
    if week.usual is not None:
        coldest = f" and {degrees(week.low, units)} at the coldest" if week.low is not None else ""
        yield f"In the past week it was {degrees(week.usual, units)} on the whole{coldest}."
    if week.humidity is not None:
        yield f"Its air was {week.humidity:.0f} % damp."


def cold_words(store: Store) -> Iterator[str]:
    """Hours in the cold, and how much of what is known to harm they come to."""
    cold, units = store.cold, store.case.units
    if cold is None:
        return
    hours = [f"{_hours(cold, DANGER)} below {degrees(DANGER, units)}"]
    hours += [f"{_hours(cold, limit)} at {degrees(limit, units)} or below" for limit in (MILD_COLD, BITTER_COLD)]
    since = "Since it was stored" if store.stored else "While the log ran"
    yield f"{since} the lot has had {hours[0]}, {hours[1]} and {hours[2]}."
    if cold.freezing_hours:
        yield f"For {cold.freezing_hours:.0f} hours it was cold enough to freeze roots."
    yield from _dose_words(cold)


def _dose_words(cold: Cold) -> Iterator[str]:
    share, strictest = percent(cold.dose.likely), percent(cold.dose.high)
    yield f"That is {share} of the cold that is known to harm roots."
    if cold.dose.high > cold.dose.likely:
        yield f"By the strictest source, which counts from 55 °F (12.8 °C) down, it is {strictest}."
    if cold.harmed_at:
        yield f"It was enough on {format_day(cold.harmed_at.date())}. The harm shows weeks later."


def _hours(cold: Cold, limit: float) -> str:
    hours = cold.hours[limit]
    return "no hour" if not hours else f"{hours:.0f} hours" if hours >= 1.5 else "an hour"


def sprouting_words(store: Store) -> Iterator[str]:
    """How much warmth towards sprouting, and when that may do it."""
    if store.warmth is None:
        return
    share = percent(store.warmth / SPROUTS_AFTER.low)
    yield f"Of the warmth after which roots sprout at the soonest they have had {share}."
    if store.sprouting is not None:
        soonest, latest = (round(end) for end in (store.sprouting.low, store.sprouting.high))
        yield f"At this warmth they sprout in {soonest} to {latest} days." if latest else "They may sprout any day."


def loss_words(store: Store) -> Iterator[str]:
    """The weight they lose from now on, or why that is not told."""
    if store.loss_now is None:
        yield (
            "The weight they lose is not told: after cold it is more than the dryness of the air explains, and no "
            "source gives a figure. The plan counts none, so the roots last no longer than it says."
        )
        return
    monthly = [percent(1 - (1 - end) ** MONTH) for end in store.loss_now]
    between = f"{monthly[1]} of their weight a month ({monthly[0]} to {monthly[2]})"
    yield f"In this air roots that were {CURES[store.cure]} lose about {between}."


def lots_table(store: Store) -> Table:
    """A row a lot: dug, out, dried away, left by the scale and likely left now."""
    units = store.case.units
    unit = unit_of(units)
    headings = ("lot", f"dug, {unit}", "taken out", "dried away", "by scale", "likely now")
    return Table(headings, tuple(_lot(store, account, units) for account in store.accounts))


def _lot(store: Store, account: Account, units: Units) -> tuple[str, ...]:
    loss = store.losses[account.lot]
    pounds = (account.dug, sum(account.out.values()), account.shrunk, account.left)
    now = weights(loss.left.times(account.left), units)
    if loss.untold_from:
        now = f"{now}, to {short_day_of_year(loss.untold_from.date())}"
    return (account.lot, *(number(each, units) for each in pounds), now)


def turns_table(store: Store) -> Table:
    """What is eaten, in order."""
    assert store.using is not None
    units = store.case.units
    headings = ("eat", unit_of(units), "from", "gone by", "keeps to about")
    rows = [
        (
            f"{turn.portion.part}, {turn.portion.lot}",
            number(turn.portion.pounds, units),
            short_day_of_year(turn.begins),
            short_day_of_year(turn.gone) if turn.gone else "not in two years",
            _ends(turn.portion.keeps),
        )
        for turn in store.using.plan.turns
    ]
    return Table(headings, tuple(rows))


def end_words(store: Store, wanted: Wanted) -> Iterator[str]:
    """By when all is eaten, and how much is too much or too little."""
    using, units = store.using, store.case.units
    assert using is not None
    rate = weight(using.per_week, units)
    said = f"At {rate} a week" if wanted.per_week else f"To finish in time takes {rate} a week; then"
    yield f"{said} all is eaten by {_gone(using.plan.gone, using.gone)}."
    first, last = using.plan.too_much
    if last > 0.05:
        least = "" if round(first - last, 1) == 0 else f"{number(last, units)} to "
        yield f"That is too slow: {least}{weight(first, units)} will be left when its time is up."
    elif first > 0.05:
        yield f"That may be too slow: {weight(first, units)} will be left by the earlier dates, by the later ones none."
    else:
        yield "That is in time."
    overdue = sum(turn.portion.pounds for turn in using.plan.turns if turn.portion.keeps[0] <= store.case.on)
    if overdue > 0.05:
        yield f"{weight(overdue, units)} have had the time that can be counted on already; eat those first of all."
    if wanted.per_week and first > 0.05 and using.rates[0]:
        rate, surplus = weight(using.rates[0], units), weight(first, units)
        yield f"To be done by the earlier dates use {rate} a week, or give {surplus} away."
    if wanted.until and using.short > 0.05:
        yield f"For roots until {format_day(wanted.until)} it is {weight(using.short, units)} too little."


def life_words(store: Store) -> Iterator[str]:
    """How long the lot should last, and what limits it."""
    if store.life is None or store.stored is None:
        yield "The day they were stored is not known, so nothing is told of how long they keep."
        return
    stored, first, last = map(format_day, (store.stored, *store.life.dates(store.stored)))
    yield f"Stored on {stored}, they should keep to somewhere between {first} and {last}."
    yield f"What limits that: {', '.join(store.life.limits)}. Without a word on the place it counts as a home."


def series_of(store: Store) -> Iterator[Series]:
    """Warmth and damp over the log, or as noted, with the limits they should keep."""
    readings = store.spells or store.noted
    told = (RoomReading(spell.start, spell.temperature, spell.humidity) for spell in readings)
    return air_series(told, KEEPING, store.case.units)


def _gone(likely: date | None, between: tuple[date | None, date | None]) -> str:
    if likely is None:
        return "no day within two years"
    soonest, latest = between
    if soonest is None or latest is None or soonest == latest:
        return format_day(likely)
    return f"about {format_day(likely)} ({format_day(soonest)} to {format_day(latest)})"


def _ends(keeps: tuple[date, date]) -> str:
    first, last = keeps
    return short_day_of_year(first) if first == last else f"{short_day_of_year(first)} to {short_day_of_year(last)}"
