"""What an outlook comes to, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from assistant.explain.wording import day_words
from assistant.model.quantities import Kind, Units, format_value
from assistant.outlook.ahead import DIGGING, MOST, End, LatestSafe, Outlook, View
from assistant.reckoning.grades import OUNCE
from assistant.reckoning.ranges import Range

VIEW_WORDS = {
    View.HARMLESS: "if a frost on the vines does no harm to roots dug promptly",
    View.HURTS: "if any frost on the vines hurts keeping",
}


def headline(outlook: Outlook) -> str:
    """When to dig, in one line."""
    good = outlook.first_good_day
    if good is None:
        return "First good day: none that can be told from here"
    return f"First good day: {'today, ' if good == outlook.case.on else ''}{day_words(good)}"


def good_day_words(outlook: Outlook) -> str:
    """What makes the first good day one, or what to do for want of one."""
    good, look = outlook.first_good_day, outlook.first_look
    if good is None:
        return f"The rules would have you dig up a hill and look {_when(outlook, look)}." if look else ""
    why = _because(outlook, good)
    safe = outlook.latest_safe(View.HURTS)
    if safe and safe.end is End.RISK and good > safe.on:
        return f"{why} At your risk the cold may come first: the latest safe day below counts before size."
    return why


def safe_day_words(outlook: Outlook, view: View) -> str:
    """The latest safe day in a view, and what ends it."""
    safe = outlook.latest_safe(view)
    if safe is None:
        return "Not known; nothing tells of the coming nights."
    limit = degrees(view.limit, outlook.case.units)
    harm = f"{limit} or cold soil does" if view is View.HARMLESS else f"{limit} on them or cold soil is too much"
    return f"{_safe(outlook, safe)}, {VIEW_WORDS[view]}; {harm}."


def safe_days_words(outlook: Outlook) -> list[str]:
    """The same in both views, once where they agree that nothing is known."""
    return list(dict.fromkeys(safe_day_words(outlook, view) for view in View))


def _safe(outlook: Outlook, safe: LatestSafe) -> str:
    if safe.end is End.HORIZON:
        return f"past {day_words(safe.on)}, where this outlook ends"
    if safe.end is End.UNKNOWN:
        return f"{day_words(safe.on)}, after which nothing is known of the nights"
    return f"today, {day_words(safe.on)}" if safe.on == outlook.case.on else day_words(safe.on)


def week_words(outlook: Outlook) -> Iterator[str]:
    """What waiting a week gains and risks."""
    week, now = outlook.week, outlook.days[0].roots
    grams = week.grams
    if not grams.high:
        yield "A week's wait gains nothing: the roots no longer grow."
    else:
        most, usual = (_weight(end, outlook.case.units) for end in (grams.high, grams.likely))
        yield (
            f"A week's wait may gain nothing, and at the most {most} a plant; {usual} would be usual. Trials found the "
            "gain from waiting inconsistent (R03)."
        )
    if week.share and now:
        yield f"At the wanted size now {shares(now.share)}, then {shares(week.share)} of the roots."
    if None in week.risk.values():
        yield "What it risks is not known."
    else:
        yield "It risks " + "; ".join(f"{percent(week.risk[view])} % {VIEW_WORDS[view]}" for view in View) + "."


def _weight(grams: float, units: Units) -> str:
    return f"{grams:.0f} g" if units is Units.METRIC else f"{grams / OUNCE:.1f} oz"


def shares(share: Range) -> str:
    """A share with its range."""
    low, likely, high = (f"{end * 100:.0f}" for end in share)
    return f"{likely} % ({low} to {high})"


def percent(chance: float | None) -> str:
    """A chance in whole percent that never says never; a dash where nothing is known."""
    if chance is None:
        return "-"
    if 0 < chance < 0.005:
        return "<1"
    return ">99" if 0.995 < chance < 1 else f"{chance * 100:.0f}"


def odds_words(risk: float) -> str:
    """An accepted risk, such as `1 in 10`."""
    often = 1 / risk
    return f"1 in {often:.0f}" if abs(often - round(often)) < 0.01 else f"{percent(risk)} %"


def degrees(value: float, units: Units) -> str:
    """A temperature in the grower's units."""
    return format_value(Kind.TEMPERATURE, value, units)


def is_cold_known(outlook: Outlook) -> bool:
    """Whether anything tells of the coming nights."""
    return any(chance is not None for day in outlook.days[1:] for chance in day.by.values())


def short_day(day: date) -> str:
    """A day as `4 Oct`."""
    return f"{day.day} {day:%b}"


def _because(outlook: Outlook, good: date) -> str:
    day = outlook.days[(good - outlook.case.on).days]
    if day.advice in DIGGING and day.advice:
        return f"The rules say so: {outlook.rulebook.advice[day.advice].headline.lower()}."
    soonest = next(each.on for each in outlook.days if each.roots and each.roots.share.high >= MOST)
    when = _when(outlook, soonest)
    return (
        f"At the usual growth half the roots are at the wanted size by then; at the fastest {when}, at the slowest "
        "never. Dig up a hill and look."
    )


def _when(outlook: Outlook, day: date) -> str:
    return "today" if day == outlook.case.on else f"on {day_words(day)}"
