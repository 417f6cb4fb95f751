"""The days ahead as a plot in plain characters, a column a day: told by shape and place, never by colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from textwrap import wrap
from typing import NamedTuple

from assistant.explain.nights import NAMES
from assistant.model.quantities import Units
from assistant.outlook.ahead import DayAhead, Outlook, View
from assistant.outlook.wording import degrees, odds_words, short_day
from assistant.reckoning.frost_odds import THRESHOLDS

MARKS = dict(zip(THRESHOLDS, "+ox", strict=True))
ROWS = 10  # one for each tenth of the chance, and one for none
MARGIN = 7  # columns for the scale at the left
GAP = 3
WEEK = 7
RISK_LINE, SAFE, DISPUTED, UNSAFE, UNKNOWN = ".", "=", "-", " ", "?"
COLD_SOIL, COOL_SOIL, WARM_SOIL = 50, 55, "w"


class _Row(NamedTuple):
    """One line of the plot, and what it is a line of."""

    text: str
    note: str = ""
    name: str = ""


def picture(outlook: Outlook, room: int) -> list[str]:
    """The curves, and below them strips that go by the same days.

    What the marks mean stands beside them where there is room (letters), else below.
    """
    rows = [*_curves(outlook), *_axis(outlook.days), *_strips(outlook)]
    widest = max(len(row.text) for row in rows if row.note)
    if widest + GAP + max(len(row.note) for row in rows) <= room:
        return [f"{row.text:<{widest + GAP}}{row.note}".rstrip() for row in rows]
    notes = "; ".join(f"{row.name}{row.note}" for row in rows if row.note)
    return [*(row.text.rstrip() for row in rows), *wrap(notes, room)]


def _curves(outlook: Outlook) -> Iterator[_Row]:
    days, notes = outlook.days, _notes(outlook)
    for row in range(ROWS, -1, -1):
        marks = [RISK_LINE if row == round(outlook.risk * ROWS) else " "] * len(days)
        for limit, mark in MARKS.items():
            for column, day in enumerate(days):
                chance = day.by[limit]
                if chance is not None and round(chance * ROWS) == row:
                    marks[column] = mark
        scale = f"{row * 100 // ROWS:3d} %" if row % 2 == 0 else ""
        yield _Row(f"{scale:<{MARGIN - 1}}|{''.join(marks)}", next(notes, ""))


def _notes(outlook: Outlook) -> Iterator[str]:
    """What the marks of the curves mean."""
    yield "chance by then of a low to"
    for limit, mark in MARKS.items():
        yield f"{mark} {degrees(limit, outlook.case.units)}, {NAMES[limit]}"
    yield f"{RISK_LINE} your risk, {odds_words(outlook.risk)}"


def _axis(days: Sequence[DayAhead]) -> Iterator[_Row]:
    yield _Row(" " * (MARGIN - 1) + "+" + "".join("'" if at % WEEK == 0 else "-" for at in range(len(days))))
    dates = "".join(f"{short_day(days[at].on):<{WEEK}}" for at in range(0, len(days) - WEEK + 1, WEEK))
    yield _Row(" " * MARGIN + dates.rstrip())


def _strips(outlook: Outlook) -> Iterator[_Row]:
    """Below the dates: whether a day is safe, the advice, the soil and the roots."""
    days = outlook.days
    letters = advice_letters(day.advice for day in days)
    yield _strip("safe", "".join(_safe(outlook, day) for day in days), "= both views, - one view")
    yield _strip("advice", "".join(letters[day.advice] for day in days), "letters below")
    if days[0].soil:
        yield _strip("soil", "".join(map(_soil, days)), _soil_words(outlook.case.units))
    if days[0].roots:
        yield _strip("size", "".join(map(_tenths, days)), "likely, in tenths")


def _strip(name: str, letters: str, note: str) -> _Row:
    return _Row(f"{name:<{MARGIN}}{letters}", note, f"{name}: ")


def letters_meaning(outlook: Outlook) -> str:
    """What each letter of the strip of advice stands for, in the order in which they come."""
    letters = advice_letters(day.advice for day in outlook.days)
    return ", ".join(f"{letter} {advice or 'no advice'}" for advice, letter in letters.items())


def advice_letters(advised: Iterable[str | None]) -> Mapping[str | None, str]:
    """A letter for each piece of advice: the first of its words that is not taken yet."""
    letters: dict[str | None, str] = {None: "."}
    used = []
    for advice in dict.fromkeys(advised):
        used.append(advice)
        if advice is not None:
            initials = [word[0] for word in advice.split("-")] + list(advice.replace("-", ""))
            letters[advice] = next(each.upper() for each in initials if each.upper() not in letters.values())
    return {advice: letters[advice] for advice in used}


def _safe(outlook: Outlook, day: DayAhead) -> str:
    harmless, hurts = (day.harm[view] for view in (View.HARMLESS, View.HURTS))
    if harmless is None or hurts is None:
        return UNKNOWN
    return SAFE if hurts <= outlook.risk else DISPUTED if harmless <= outlook.risk else UNSAFE


def _soil_words(units: Units) -> str:
    cold, cool = (degrees(limit, units) for limit in (COLD_SOIL, COOL_SOIL))
    return f"w {cool} up, ! below {cold.split()[0]}"


def _soil(day: DayAhead) -> str:
    if day.soil is None:
        return "?"
    return "!" if day.soil.likely < COLD_SOIL else "c" if day.soil.likely < COOL_SOIL else WARM_SOIL


def _tenths(day: DayAhead) -> str:
    return "?" if day.roots is None else f"{min(int(day.roots.share.likely * 10), 9)}"
