"""How the garden's pages put a bed into lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from assistant.garden.standing.stages import BedNow, InStore, Need
from assistant.garden.standing.urgency import TODAY, urgency
from assistant.garden.standing.words import weight_words
from assistant.tui.widgets.ledger import LedgerRow

NOTHING = "No beds yet. Press n to write the first one down."


def short_day(day: date | None, on: date) -> str:
    """A day by which something is due, in few letters."""
    if day is None:
        return ""
    if day == on:
        return "today"
    if day == on + timedelta(days=1):
        return "tomorrow"
    words = f"{day.day} {day:%b}{f' {day.year}' * (day.year != on.year)}"
    return f"since {words}" if day < on else f"{day:%a} {words}"


def ledger_rows(beds: Iterable[BedNow], on: date) -> Iterator[LedgerRow]:
    """The beds under headings of when they press; those of several gardens with the garden's name."""
    found, heading = tuple(beds), ""
    several = len({now.bed.garden for now in found}) > 1
    for now in found:
        due = urgency(now.next, on)
        if due != heading:
            if heading:
                yield LedgerRow("")
            yield LedgerRow(due)
            heading = due
        yield bed_row(now, on, several)


def bed_row(now: BedNow, on: date, several: bool = False) -> LedgerRow:
    """A bed as one line."""
    need = now.next
    pressing = urgency(need, on) == TODAY
    name = f"{now.bed.name} · {now.garden.name}" if several and now.garden else now.bed.name
    return LedgerRow(name, need.stage.value, need.words, short_day(need.by, on), now.bed.id, pressing)


def need_words(need: Need, on: date) -> str:
    """A need as a sentence with its day."""
    by = short_day(need.by, on)
    return f"{need.stage.value}: {need.words}{f' · {by}' if by else ''}"


def standing(now: BedNow, on: date) -> str:
    """What is known of the bed at the arrow, and what it needs besides the first."""
    return " · ".join((known(now, on), *(need_words(need, on) for need in now.needs[1:])))


def known(now: BedNow, on: date) -> str:
    """What grows in a bed, since when, where its roots lie, and its last visit."""
    parts = [now.bed.name]
    if now.planting:
        days = (on - now.planting.planted_from).days
        still = f", {now.left}" * bool(now.left)
        parts.append(f"{now.planting.variety or 'sweet potatoes'}, {days} days in the ground{still}")
    parts += [f"{store.lot.name} since {_day(store.stay.since)}{_left(store, now)}" for store in now.lots]
    if now.visit:
        parts.append(f"visited {_day(now.visit.day)}")
    return " · ".join(parts)


def how_many(beds: tuple[BedNow, ...], on: date) -> str:
    """How many beds there are, and how many press."""
    press = sum(urgency(now.next, on) == TODAY for now in beds)
    return f"{len(beds)} bed{'s' * (len(beds) != 1)} · {press or 'none'} for today"


def day_line(on: date) -> str:
    """A day as a head has it."""
    return f"{on:%A} {on.day} {on:%B}"


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"


def _left(store: InStore, now: BedNow) -> str:
    """How much of a lot is left, where it was weighed."""
    return f", {weight_words(store.account.left, now.garden.units)} left" if store.account and now.garden else ""
