"""The days ahead as a plot in plain characters, a column a day: told by shape and place, never by colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from assistant.model.quantities import Units
from assistant.outlook.ahead import DayAhead, Outlook, View
from assistant.outlook.wording import degrees, odds_words, short_day
from assistant.reckoning.frost_odds import THRESHOLDS

MARKS = dict(zip(THRESHOLDS, "+ox", strict=True))
NAMES = dict(zip(THRESHOLDS, ("frost", "freeze", "killing freeze"), strict=True))
ROWS = 10  # one for each tenth of the chance, and one for none
MARGIN = 7  # columns for the scale at the left
WEEK = 7
RISK_LINE, SAFE, DISPUTED, UNSAFE, UNKNOWN = ".", "=", "-", " ", "?"
COLD_SOIL, COOL_SOIL, WARM_SOIL = 50, 55, "w"


def picture(outlook: Outlook) -> list[str]:
    """The curves, the strips below them that go by the same days, and what the letters mean."""
    days = outlook.days
    curves = [line + legend for line, legend in zip(_curves(outlook), _legends(outlook), strict=True)]
    strips = [f"{name:<{MARGIN}}{strip}   {meaning}".rstrip() for name, strip, meaning in _strips(outlook)]
    return [line.rstrip() for line in [*curves, *_axis(days), *strips]]


def _curves(outlook: Outlook) -> Iterator[str]:
    days = outlook.days
    for row in range(ROWS, -1, -1):
        marks = [RISK_LINE if row == round(outlook.risk * ROWS) else " "] * len(days)
        for limit, mark in MARKS.items():
            for column, day in enumerate(days):
                chance = day.by[limit]
                if chance is not None and round(chance * ROWS) == row:
                    marks[column] = mark
        scale = f"{row * 100 // ROWS:3d} %" if row % 2 == 0 else ""
        yield f"{scale:<{MARGIN - 1}}|{''.join(marks)}"


def _legends(outlook: Outlook) -> list[str]:
    """What the marks mean, at the right of the rows."""
    legends = ["", "   chance that by that morning", "   there has been a low of"]
    legends += [f"   {mark} {degrees(limit, outlook.case.units)}, {NAMES[limit]}" for limit, mark in MARKS.items()]
    legends += [f"   {RISK_LINE} your risk, {odds_words(outlook.risk)}"]
    return legends + [""] * (ROWS + 1 - len(legends))


def _axis(days: Sequence[DayAhead]) -> Iterator[str]:
    yield " " * (MARGIN - 1) + "+" + "".join("'" if at % WEEK == 0 else "-" for at in range(len(days)))
    yield " " * MARGIN + "".join(f"{short_day(days[at].on):<{WEEK}}" for at in range(0, len(days), WEEK))


def _strips(outlook: Outlook) -> Iterator[tuple[str, str, str]]:
    """Name, letters and meaning of each strip."""
    days = outlook.days
    letters = advice_letters(day.advice for day in days)
    yield "safe", "".join(_safe(outlook, day) for day in days), "= both views, - one view"
    yield "advice", "".join(letters[day.advice] for day in days), "letters below"
    if days[0].soil:
        yield "soil", "".join(map(_soil, days)), _soil_words(outlook.case.units)
    if days[0].roots:
        yield "size", "".join(map(_tenths, days)), "likely, in tenths"


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
