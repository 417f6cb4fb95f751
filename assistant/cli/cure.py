"""`cure`: how far a cure has come by its log, what to mend today, and a page to hang up beside the crates."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.failures import UsageError
from assistant.cli.output import say_json, write

if TYPE_CHECKING:
    from datetime import datetime

    from assistant.cli.commands import Commands
    from assistant.cli.cure_report import CureReport
    from assistant.model.case import Case
    from assistant.model.quantities import Units
    from assistant.model.room_log import RoomLog

EXAMPLES = """\
  digday cure --log room.csv --add "84 F 88 %"     write a reading down, and see where the cure stands
  digday cure --log room.csv --add "85 F wet 82 F" the same by two thermometers, one in a wet cloth
  digday cure --log logger.csv --roots "60 F"      by a logger's file; will cold roots sweat?
  digday cure cure.yaml --log room.csv             with what the case says of skins, wounds and sprouts
  digday cure --log room.csv --space "6x8x7 ft" --outside "55 F 85 %"   how much water the air takes
  digday cure cure.yaml --sheet                    a page to hang up; --sheet html for a browser
CASE is a case of the rulebook sweetpotato/curing. A log is CSV with a header that
names a time, a temperature and a humidity; one that --add begins has the header
time,temperature (F),humidity (%).
keys of --json: verdict (as of `advise`), progress {slow, quick: shares; days, cold,
disputed, hot, dry, unknown: days}, left {fewest, most: days or null},
recipes [{named, low, high: shares, sources}], air {temperature (°F), humidity, dew_point},
sweats, water {once, each_change: lb}, log {readings, start, end, set_aside, gaps}
"""


def add_commands(commands: Commands) -> None:
    """Add `cure` to the command line."""
    cure = add_command(commands, "cure", run_cure, "how far the cure has come, and what to mend today", EXAMPLES)
    takes_file(cure, "case", nargs="?", metavar="CASE", help="a case of the curing rulebook (YAML)")
    takes_file(cure, "--log", metavar="FILE", help="readings of the place, as CSV: a logger's, or one kept with --add")
    cure.add_argument("--add", metavar="READING", help="first write a reading into the log, such as '84 F 88 %%'")
    cure.add_argument("--at", metavar="TIME", help="when it was read, such as '2031-10-04 08:00' (default: now)")
    cure.add_argument("--roots", metavar="TEMPERATURE", help="how warm the roots are, to see whether they will sweat")
    cure.add_argument("--space", metavar="SIZE", help="how large the place is, such as '6x8x7 ft' or '10 m3'")
    cure.add_argument("--outside", metavar="READING", help="the air that comes in, such as '55 F 85 %%'")
    cure.add_argument("--units", choices=("us", "metric"), help="units of bare numbers and of the page (default: us)")
    cure.add_argument("--sheet", nargs="?", const="text", choices=("text", "html"), help="print a page to hang up")
    takes_json(cure)


def run_cure(options: argparse.Namespace) -> int:
    """Write the reading down where there is one, then print where the cure stands."""
    from assistant.cli.cure_report import Asked, CureReport

    _check(options)
    case = _case(options)
    units = _units(options, case)
    asked = Asked.of(options.roots, options.space, options.outside, units)
    if options.add:
        _add(options, units)
    _print(CureReport.of(case, _log(options, units), asked, units), options)
    return 0


def _print(report: CureReport, options: argparse.Namespace) -> None:
    if options.sheet:
        _print_sheet(report, options)
    elif options.json:
        from assistant.cli.cure_report import cure_json

        say_json(cure_json(report))
    else:
        from assistant.cli.cure_text import cure_lines

        write(cure_lines(report))


def _print_sheet(report: CureReport, options: argparse.Namespace) -> None:
    from assistant.cli.sheet_text import print_sheet
    from assistant.explain.cure_sheet import cure_sheet

    print_sheet(cure_sheet(report.verdict, report.cure, report.units), options)


def _check(options: argparse.Namespace) -> None:
    if not options.case and not options.log:
        raise UsageError("name a CASE, or a log with --log FILE.")
    if options.add and not options.log:
        raise UsageError("--add writes into a log; name it with --log FILE.")
    if options.at and not options.add:
        raise UsageError("--at is the time of a reading; give the reading with --add.")
    if options.outside and not options.space:
        raise UsageError("--outside needs to know how large the place is; add --space, such as '6x8x7 ft'.")


def _add(options: argparse.Namespace, units: Units) -> None:
    from assistant.cases.rooms import parse_reading
    from assistant.model.room_log import RoomReading
    from assistant.weather.logger_writing import add_reading

    add_reading(options.log, RoomReading(_time(options.at), *parse_reading(options.add, units)))


def _time(text: str | None) -> datetime:
    from datetime import datetime

    if text is None:
        return datetime.now().replace(second=0, microsecond=0)
    try:
        return datetime.fromisoformat(text.strip()).replace(tzinfo=None)
    except ValueError:
        raise UsageError(f"--at {text} is no time; write it as 2031-10-04 08:00.") from None


def _units(options: argparse.Namespace, case: Case | None) -> Units:
    from assistant.model.quantities import Units

    if options.units:
        return Units(options.units)
    return case.units if case else Units.US


def _log(options: argparse.Namespace, units: Units) -> RoomLog | None:
    if options.log is None:
        return None
    from assistant.weather.logger import read_log

    return read_log(options.log, units)


def _case(options: argparse.Namespace) -> Case | None:
    """The case in its file, where one is named. Raises `UsageError` for one of another question."""
    if options.case is None:
        return None
    from assistant.cases import read_case, rulebook_of
    from assistant.measures.curing import NEEDED_SIGNS, RULEBOOK

    case = read_case(options.case)
    if not set(NEEDED_SIGNS) <= set(rulebook_of(case).signs):
        raise UsageError(f"{options.case} is a case of {case.rulebook}; name one of {RULEBOOK}.")
    return case
