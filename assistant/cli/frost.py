"""`frost`: when the first freeze of fall and the last of spring come at a weather station, and the odds by date."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.output import say_json, write

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.cli.frost_more import HeatSums
    from assistant.model.quantities import Units
    from assistant.model.weather import Forecast, StationRecord

EXAMPLES = """\
  digday frost --weather station.csv                     dates and odds at 36, 32 and 28 °F
  digday frost --weather USC00381770.dly --json          the same for other programs
  digday frost --weather station.csv --since 1991        of late years alone
  digday frost --weather station.csv --none-by 2031-10-25   the odds when there was none so far
  digday frost --weather station.csv --forecast "44 40 38 35"   with the nights ahead
  digday frost --weather station.csv --heat-since 2031-06-10    heat units since planting, by every method
  digday frost --dates 10-08 10-20 11-02                 from your own dates, without a record
  digday frost --evening 46 30                           how cold a clear night gets, from dew point and temperature
a record is a CSV file with a header holding DATE, TMIN and TMAX, or a file of
NOAA's GHCN-Daily (by station, or .dly, such as those of
www.ncei.noaa.gov/pub/data/ghcn/daily/all/), plain or gzipped; a forecast is the
US weather service's `forecast` (JSON), its MEX bulletin, or lows typed in,
tonight's first.
"""


def add_commands(commands: Commands) -> None:
    """Add `frost` to the command line."""
    summary = "first and last freezes of a weather station, and the odds by date"
    frost = add_command(commands, "frost", run_frost, summary, EXAMPLES)
    takes_file(frost, "--weather", metavar="FILE", help="a station's daily record")
    frost.add_argument("--units", choices=("us", "metric"), default="us", help="units of bare numbers (default: us)")
    frost.add_argument("--since", type=int, metavar="YEAR", help="leave the years before this one out")
    frost.add_argument("--dates", nargs=3, metavar="MM-DD", help="first frost in 1, 5 and 9 years of 10, no record")
    frost.add_argument("--none-by", metavar="DATE", help="there was none so far, up to and including this day")
    takes_file(frost, "--forecast", metavar="FILE", help="a forecast file, or lows such as '44 40 38'")
    frost.add_argument("--on", metavar="DATE", help="the day that the forecast is for (default: today)")
    frost.add_argument("--hemisphere", choices=("north", "south"), help="where summer is (default: by the record)")
    evening = "temperature and dew point two hours after sunset: how cold a clear, calm night gets"
    frost.add_argument("--evening", nargs=2, metavar=("TEMP", "DEW"), help=evening)
    frost.add_argument("--heat-since", metavar="DATE", help="add up heat units from this day to the record's end")
    takes_json(frost)


def run_frost(options: argparse.Namespace) -> int:
    """Print the dates and odds of a station, or the odds from three dates."""
    from assistant.cli.failures import UsageError

    if (options.weather and options.dates) or not (options.weather or options.dates or options.evening):
        raise UsageError("name a station's record with --weather FILE, or else three dates with --dates.")
    if not options.weather and (options.forecast or options.json or options.heat_since):
        raise UsageError("--forecast, --heat-since and --json need a station's record; name one with --weather FILE.")
    code = _from_record(options) if options.weather else _from_dates(options) if options.dates else 0
    if options.evening and not options.json:
        _say_evening(options)
    return code


def _say_evening(options: argparse.Namespace) -> None:
    from assistant.cli.frost_more import clear_night, clear_night_lines
    from assistant.model.quantities import Units

    units = Units(options.units)
    write(clear_night_lines(clear_night(options.evening, units), units))


def _from_record(options: argparse.Namespace) -> int:
    from assistant.cli.frost_json import frost_json
    from assistant.cli.frost_more import heat_lines, heat_sums
    from assistant.cli.frost_report import FrostReport
    from assistant.cli.frost_text import frost_lines
    from assistant.model.quantities import Units
    from assistant.reckoning.frost_odds import Hemisphere
    from assistant.weather import read_record

    units = Units(options.units)
    on = _day(options.on) or date.today()
    hemisphere = Hemisphere(options.hemisphere) if options.hemisphere else None
    record = _since(read_record(options.weather, units), options.since)
    forecast = _forecast(options.forecast, on, units)
    report = FrostReport.of(record, hemisphere, _day(options.none_by), forecast, on)
    heat_since = _day(options.heat_since)
    heat = heat_sums(record, heat_since) if heat_since else None
    if options.json:
        say_json(frost_json(report) | _more_json(options, heat, units))
    else:
        write([*frost_lines(report, units), *(heat_lines(heat) if heat else ())])
    return 0


def _more_json(options: argparse.Namespace, heat: HeatSums | None, units: Units) -> dict[str, object]:
    from assistant.cli.frost_more import clear_night

    told: dict[str, object] = {"heat": heat.as_json()} if heat else {}
    if options.evening:
        low = clear_night(options.evening, units)
        told["clear_night_low"] = {"low": round(low.low, 1), "high": round(low.high, 1)}
    return told


def _since(record: StationRecord, year: int | None) -> StationRecord:
    """The record from a year on. Raises `UsageError` when it ends before."""
    from dataclasses import replace

    from assistant.cli.failures import UsageError

    if year is None:
        return record
    days = tuple(day for day in record.days if day.on.year >= year)
    if not days:
        raise UsageError(f"the record ends in {record.days[-1].on.year}, before {year}.")
    return replace(record, days=days)


def _from_dates(options: argparse.Namespace) -> int:
    from assistant.cli.frost_text import dates_lines
    from assistant.model.case import FrostDates, MonthDay
    from assistant.reckoning.frost_odds import Odds

    odds = Odds.from_dates(FrostDates(*map(MonthDay.parse, options.dates)))
    none_by = _day(options.none_by)
    write(dates_lines(odds.after(none_by) if none_by else odds, none_by))
    return 0


def _forecast(path: Path | None, on: date, units: Units) -> Forecast | None:
    """The forecast in a file; where no file has that name, the lows that the name spells."""
    from assistant.model.quantities import NotAValue
    from assistant.weather import read_forecast, typed_forecast

    if path is None:
        return None
    if path.exists():
        return read_forecast(path, on)
    try:
        return typed_forecast(str(path), on, units)
    except NotAValue as error:
        raise NotAValue(f"there is no file '{path}', and {error}") from None


def _day(text: str | None) -> date | None:
    from assistant.model.quantities import parse_date

    return parse_date(text) if text else None
