"""`nextyear`: the bed after the dig: its rest, what can follow, when to plant, and the slips for so many pounds."""

from __future__ import annotations

import argparse
from datetime import date
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.failures import UsageError, value_of
from assistant.cli.output import say, say_json, write
from assistant.cli.weather_options import takes_units, takes_weather, with_weather_of

if TYPE_CHECKING:
    from assistant.cases.beds import Beds
    from assistant.cases.next_year import NextYear, OwnDates, Wanted
    from assistant.cli.commands import Commands
    from assistant.model.case import Case, MonthDay
    from assistant.model.quantities import Units
    from assistant.reckoning.ranges import Range

EXAMPLES = """\
  digday nextyear --grew "2031 sweet potatoes black-rot" --grew "2030 garlic"
  digday nextyear --history beds.csv --weather station.csv --pounds "100 lb"
  digday nextyear --last-frost 04-20 05-05 05-20 --soil-warm 05-25 --ground-freezes 12-01
  digday nextyear --pounds "200 lb" --sold --spacing 10 --row-width 40 --fertilizer 5
  digday nextyear bed.yaml --pounds "50 kg" --html plan.html   to print and hang up
years are those of the dig. A history is CSV: year,crop,disease and, for several
beds, bed; diseases are none, other-rot, root-knot, scurf, black-rot, wilt.
keys of --json (lb, ft, chances from 0 to 1; a range is {low, likely, high};
null where nothing is known):
  verdict: as of advise --json; signs: {name: as written}; year: of the dig to come
  beds: [{bed, ready, rested, not_before, because: {year, crop, disease}}]; bed: the one meant
  ground_freezes: {on, weeks, winters, frozen}; takers: [{name, fit}]
  planting: {last_freeze, last_freeze_p90, frost_is_past, soil_warm, plant_out,
    season_days: {p10, p50} to the first freeze, wake, bed: [first, last],
    later_freeze: chance of one in 1, 2, 5, 10, 20, 30 years}
  slips: {pounds, use, months, dug, row_feet, plants, slips, seed_roots, seed_pounds, boxes,
    most_nitrogen_lb}
"""
MOST_MONTHS = 12
YEARS = range(1900, 2200)


def add_commands(commands: Commands) -> None:
    """Add `nextyear` to the command line."""
    summary = "the bed after the dig: rest, what can follow, planting dates, slips for so many pounds"
    plan = add_command(commands, "nextyear", run_nextyear, summary, EXAMPLES)
    takes_file(plan, "case", nargs="?", metavar="CASE", help="a case file of sweetpotato/next-year")
    takes_file(plan, "--history", metavar="FILE", help="what the beds grew (CSV)")
    plan.add_argument("--grew", action="append", default=[], metavar="SEASON", help="the same, a season at a time")
    plan.add_argument("--bed", metavar="NAME", help="the bed meant for next year (default: the one rested longest)")
    _takes_wanted(plan)
    _takes_dates(plan)
    takes_weather(plan)
    takes_units(plan)
    takes_file(plan, "--html", metavar="FILE", help="write the page as HTML")
    takes_file(plan, "--save", metavar="FILE", help="save the case with what was reckoned, for `digday visit --case`")
    takes_json(plan)


def _takes_wanted(plan: argparse.ArgumentParser) -> None:
    plan.add_argument("--pounds", metavar="WEIGHT", help="how much is wanted, such as '100 lb' or '50 kg'")
    plan.add_argument("--sold", action="store_true", help="to be sold as No. 1, not eaten at home")
    plan.add_argument("--months", default="3", metavar="N", help="months in store on the average (default: 3)")
    plan.add_argument("--spacing", metavar="LENGTH", help="from plant to plant (default: 12 in)")
    plan.add_argument("--row-width", metavar="LENGTH", help="from row to row (default: 36 in)")
    plan.add_argument("--yield", dest="per_foot", metavar="LOW..HIGH", help="your own lb a foot of row, or kg a metre")
    plan.add_argument("--presprouted", action="store_true", help="seed roots are warmed before they are bedded")
    plan.add_argument("--fertilizer", metavar="PERCENT", help="nitrogen of a fertilizer, its first number")


def _takes_dates(plan: argparse.ArgumentParser) -> None:
    plan.add_argument("--on", metavar="DATE", help="the day it is for (default: the case's, or today)")
    plan.add_argument("--last-frost", nargs=3, metavar="MM-DD", help="by when the last frost is past in 1, 5, 9 of 10")
    plan.add_argument("--soil-warm", metavar="MM-DD", help="when the soil usually reaches 65 °F (18.3 °C)")
    plan.add_argument("--ground-freezes", metavar="MM-DD", help="when the ground usually freezes to stay, or never")
    plan.add_argument("--hemisphere", choices=("north", "south"), help="where summer is (default: by the record)")


def run_nextyear(options: argparse.Namespace) -> int:
    """Print the plan of the next year."""
    plan = _plan(options)
    if options.save:
        from assistant.cases import save_case

        save_case(plan.case, options.save)
    if options.json:
        from assistant.cli.nextyear_json import next_year_json

        say_json(next_year_json(plan))
        return 0
    from assistant.cli.nextyear_sheet import next_year_sheet

    sheet = next_year_sheet(plan)
    if options.html:
        from assistant.explain.sheet_html import sheet_html

        options.html.write_text(sheet_html(sheet), encoding="utf-8")
        say(f"The page is in {options.html}.")
        return 0
    from assistant.cli.sheet_text import sheet_lines

    write(sheet_lines(sheet))
    return 0


def _plan(options: argparse.Namespace) -> NextYear:
    from assistant.cases import rulebook_of
    from assistant.cases.next_year import next_year

    case = with_weather_of(_case(options), options)
    beds = _beds(options)
    if options.bed and options.bed not in beds:
        raise UsageError(f"the history has no bed '{options.bed}'; it has {', '.join(beds) or 'none'}.")
    return next_year(rulebook_of(case), case, beds, options.bed, _wanted(options, case.units), _own_dates(options))


def _case(options: argparse.Namespace) -> Case:
    """The case named, or one of which nothing is said, with the day, units and frost dates asked for."""
    from dataclasses import replace

    from assistant.cases import read_case
    from assistant.cases.next_year import RULEBOOK, own_case
    from assistant.model.case import FrostDates, Garden
    from assistant.model.quantities import Units, parse_date

    on = parse_date(options.on) if options.on else None
    units = Units(options.units) if options.units else None
    if options.case:
        case = read_case(options.case)
        if case.rulebook.rpartition("/")[2] != RULEBOOK.rpartition("/")[2]:
            raise UsageError(f"{options.case} is a case of {case.rulebook}; nextyear takes one of {RULEBOOK}.")
        case = replace(case, on=on or case.on, units=units or case.units)
    else:
        case = own_case(on or date.today(), units or Units.US)
    if case.on.year not in YEARS:
        raise UsageError(f"{case.on} is out of this plan's calendar; choose a day of {YEARS[0]} to {YEARS[-1]}.")
    if options.last_frost:
        dates = FrostDates(*(_month_day("--last-frost", text) for text in options.last_frost))
        case = replace(case, garden=Garden({**case.garden.dates, "last_frost": dates}))
    return case


def _beds(options: argparse.Namespace) -> Beds:
    from assistant.cases.beds import THE_BED, read_beds, typed_seasons

    beds = dict(read_beds(options.history)) if options.history else {}
    if options.grew:
        with value_of("--grew"):
            beds[options.bed or THE_BED] = beds.get(options.bed or THE_BED, ()) + typed_seasons(options.grew)
    return beds


def _wanted(options: argparse.Namespace, units: Units) -> Wanted:
    from assistant.cases.hills import bed_length
    from assistant.cases.ledger import pounds_of
    from assistant.cases.next_year import Wanted
    from assistant.model.quantities import Units
    from assistant.reckoning.slips import POUNDS_PER_FOOT, Layout

    small = "in" if units is Units.US else "cm"
    usual = Layout()
    layout = Layout(
        bed_length(options.spacing, small) if options.spacing else usual.spacing,
        bed_length(options.row_width, small) if options.row_width else usual.row_width,
    )
    return Wanted(
        pounds_of(options.pounds, units) if options.pounds else None,
        "sold" if options.sold else "eaten",
        _number("--months", options.months, 0, MOST_MONTHS),
        layout,
        _per_foot(options.per_foot, units) if options.per_foot else POUNDS_PER_FOOT,
        options.presprouted,
        _number("--fertilizer", options.fertilizer, 0.1, 100) if options.fertilizer else None,
    )


def _per_foot(text: str, units: Units) -> Range:
    """The grower's own yield in pounds a foot of row; one number alone is taken as it is."""
    from math import sqrt

    from assistant.cases.ledger import pounds_of
    from assistant.model.quantities import Units
    from assistant.reckoning.ranges import Range
    from assistant.reckoning.slips import METRES_PER_FOOT

    low, dots, high = text.partition("..")
    first, last = pounds_of(low, units), pounds_of(high if dots else low, units)
    if first > last:
        raise UsageError(f"--yield {text} runs backwards; write LOW..HIGH, such as 1..2.")
    metric = units is Units.METRIC
    return Range(first, sqrt(first * last), last).times(METRES_PER_FOOT if metric else 1)


def _own_dates(options: argparse.Namespace) -> OwnDates:
    from assistant.cases.next_year import OwnDates
    from assistant.reckoning.frost_odds import Hemisphere

    never = options.ground_freezes == "never"
    freezes = _month_day("--ground-freezes", options.ground_freezes) if options.ground_freezes and not never else None
    return OwnDates(
        _month_day("--soil-warm", options.soil_warm) if options.soil_warm else None,
        freezes,
        never,
        Hemisphere(options.hemisphere) if options.hemisphere else None,
    )


def _month_day(option: str, text: str) -> MonthDay:
    from assistant.model.case import MonthDay as Day

    with value_of(option):
        return Day.parse(text)


def _number(option: str, text: str, low: float, high: float) -> float:
    try:
        number = float(text)
    except ValueError:
        number = low - 1
    if not low <= number <= high:
        raise UsageError(f"{option} {text} is no number from {low:g} to {high:g}.")
    return number
