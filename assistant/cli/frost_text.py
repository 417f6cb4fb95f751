"""A station's freezes as a page: by when, how likely, what was set aside, and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from assistant.cli.curves import MARGIN, drawn
from assistant.cli.frost_report import (
    PLAIN_YEAR,
    FrostReport,
    days_told,
    first_falls,
    last_springs,
    season_year,
)
from assistant.cli.output import BLANK, Line, listed, width
from assistant.model.quantities import Kind, Units, format_value, short_day
from assistant.reckoning.frost_odds import THRESHOLDS, Odds, SeasonDates

MARKS = dict(zip(THRESHOLDS, "+ox", strict=True))
FREEZING = 32
WIDE = 78
"""Columns that the tables need in full."""

ASSUMED = (
    "A day counts when its low, rounded to whole °F, is at or below the limit: 36 frost, 32 freeze, 28 hard freeze "
    "(US National Weather Service).",
    "The odds are the share of autumns with a freeze, times a normal curve through their dates (method of NOAA's "
    "1971-2000 freeze tables; Vestal 1971). Beside them: how many autumns on record, with Wilson's 95 % range.",
    "An autumn with 10 or more days missing where a freeze could have been is not counted (Utah Climate Center's "
    "rule; that days before the earliest freeze of all other autumns hide none is our choice).",
    "A thermometer in a shelter, 5 feet up. In a hollow and on grass it freezes earlier.",
)
BY_DATES = "A normal curve through the three dates, of one width before the middle date and another after it."


def frost_lines(report: FrostReport, units: Units) -> Iterator[Line]:
    """The whole page, section by section."""
    days = report.record.days
    yield Line(f"{report.record.name}: {_autumns(report.autumns)} known, {days[0].on.year} to {days[-1].on.year}")
    yield BLANK
    yield Line(_headline(report), "headline")
    yield from _season_table("First in fall", first_falls(report), units)
    yield from _chances(report, units)
    yield from _season_table("Last in spring", last_springs(report), units)
    yield from _forecast(report, units)
    yield from listed("Missing or set aside", _left_out(report))
    yield from listed("What this rests on", [*ASSUMED, *_trend(report)])


def dates_lines(odds: Odds, none_by: date | None) -> Iterator[Line]:
    """The odds from three dates of the grower's own."""
    yield Line("First frost, by your own dates", "headline")
    days = days_told({FREEZING: odds}, odds.season_of(none_by) if none_by else PLAIN_YEAR)
    yield from _plot({FREEZING: odds}, days)
    yield BLANK
    for day in days:
        yield Line(f"{short_day(day):>6}  {_percent(odds.by(day)):>6}", indent=2)
    yield from listed("What this rests on", [BY_DATES])


def _headline(report: FrostReport) -> str:
    odds = report.odds(FREEZING)
    if odds is None:
        return f"Too few for odds: {_autumns(report.autumns)}; below are the dates."
    by = [odds.quantile(chance, season_year(report)) for chance in (0.1, 0.5, 0.9)]
    if by[0] is None:
        return f"A freeze (32 °F) came in {odds.freezes} of {odds.seasons} autumns."
    often = ("1 year of 10", "half", "9 of 10")
    far = [f"by {short_day(day)} in {share}" for day, share in zip(by, often, strict=True) if day]
    none = f"With none by {short_day(report.none_by)}, a" if report.none_by else "A"
    return f"{none} first freeze (32 °F) comes {', '.join(far)}."


def _season_table(title: str, sides: Mapping[int, SeasonDates], units: Units) -> Iterator[Line]:
    heads = ["1 in 10 by", "half by", "9 in 10 by", "earliest", "latest", "none in"]
    yield BLANK
    yield Line(title, "section")
    yield Line(_row("", heads), indent=2)
    for threshold, seasons in sides.items():
        yield Line(_row(_limit(threshold, units), _season_cells(seasons)), indent=2)


def _row(name: str, cells: Sequence[str]) -> str:
    """A row of the table of seasons; on a narrow screen without the cells at its end."""
    widths = (14, 9, 14, 11, 9, 11) if width() >= WIDE else (11, 8, 11)
    return f"{name:8}" + "".join(f"{cell:>{wide}}" for cell, wide in zip(cells, widths, strict=False))


def _season_cells(seasons: SeasonDates) -> list[str]:
    odds = Odds.from_seasons(seasons)
    tenths = [_dated(odds, chance) if odds else "-" for chance in (0.1, 0.5, 0.9)]
    numbers = dict(zip(seasons.day_numbers, seasons.dates.values(), strict=True))
    ends = [short_day(numbers[end(numbers)]) if numbers else "-" for end in (min, max)]
    return [*tenths, *ends, f"{len(seasons.without)} of {seasons.number}"]


def _dated(odds: Odds, chance: float) -> str:
    """The date of a chance, at the ends with the days by which it may be off (one standard error)."""
    day, error = odds.quantile(chance, PLAIN_YEAR), odds.standard_error(chance)
    if day is None:
        return "-"
    return f"{short_day(day)} ± {error:.0f} d" if error and chance != 0.5 and width() >= WIDE else short_day(day)


def _chances(report: FrostReport, units: Units) -> Iterator[Line]:
    """The chance of a first freeze by some days, as a curve and a table."""
    odds = report.all_odds
    days = days_told(odds, season_year(report))
    if not days:
        return
    so_far = f", when there was none of its kind by {short_day(report.none_by)}" if report.none_by else ""
    yield BLANK
    yield Line(f"Chance that the first has come{so_far}", "section")
    yield from _plot(odds, days)
    yield Line("   ".join(f"{MARKS[at]} {_limit(at, units)}" for at in odds), indent=MARGIN)
    yield BLANK
    on_record = "     at 32 °F, on record" if width() >= WIDE else ""
    yield Line("by     " + "".join(f"{_limit(at, units):>9}" for at in odds) + on_record, indent=2)
    for day in days:
        cells = "".join(f"{_percent(each.by(day)):>9}" for each in odds.values())
        yield Line(f"{short_day(day):>6} {cells}{_on_record(report, day) if on_record else ''}", indent=2)


def _on_record(report: FrostReport, day: date) -> str:
    came, seasons, share = report.counted(FREEZING, day)
    return f"     {came} of {seasons} ({share.low * 100:.0f} to {share.high * 100:.0f} %)"


def _plot(odds: Mapping[int, Odds], days: Sequence[date]) -> Iterator[Line]:
    """The curves, as many days a column as the width asks for."""
    columns = max(10, width() - MARGIN - 3)
    step = -(-((days[-1] - days[0]).days + 1) // columns)
    shown = [days[0] + timedelta(days=at) for at in range(0, (days[-1] - days[0]).days + 1, step)]
    curves = {MARKS[at]: [each.by(day) for day in shown] for at, each in odds.items()}
    yield from (Line(line) for line in drawn(curves, shown))


def _forecast(report: FrostReport, units: Units) -> Iterator[Line]:
    """The nights that are forecast, each with its odds."""
    if report.forecast is None:
        return
    yield BLANK
    yield Line(f"The nights ahead ({report.forecast.source})", "section")
    yield Line(f"{'morning':8}{'low':>8}" + "".join(f"{_limit(at, units):>7}" for at in THRESHOLDS), indent=2)
    for night in report.forecast.nights:
        chances = report.night_chances(night.morning)
        cells = "".join(f"{_percent(chances[at]) if chances else '-':>7}" for at in THRESHOLDS)
        low = format_value(Kind.TEMPERATURE, night.low, units)
        yield Line(f"{short_day(night.morning):8}{low:>8}{cells}", indent=2)


def _trend(report: FrostReport) -> Iterator[str]:
    """How the dates have moved: the odds are those of all the years together."""
    trend = report.freezes[FREEZING].first_fall.trend()
    if trend:
        later = "later" if trend.days >= 0 else "earlier"
        moved = f"{abs(trend.days):.1f} days {later} a decade, give or take {2 * trend.error:.1f}"
        yield f"All years count alike. First freezes (32 °F) have come {moved}; --since leaves old years out."


def _left_out(report: FrostReport) -> list[str]:
    """What the record lacks and what of it was not used, by kind."""
    counts = sorted(report.record.set_aside.items())
    return [f"{kind}: {number}" for kind, number in counts] or ["Nothing; no day is missing."]


def _autumns(number: int) -> str:
    return "1 autumn" if number == 1 else f"{number} autumns"


def _limit(threshold: int, units: Units) -> str:
    return format_value(Kind.TEMPERATURE, threshold, units)


def _percent(chance: float) -> str:
    """A chance in words that never say never."""
    if 0 < chance < 0.005 or chance > 0.995:
        return "<1 %" if chance < 0.5 else ">99 %"
    return f"{chance * 100:.0f} %"
