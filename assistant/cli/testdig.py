"""`testdig`: what a few hills say of the bed, and whether to dig another."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.failures import UsageError
from assistant.cli.layout_options import bed_of, takes_bed
from assistant.cli.output import say_json, write

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.model.quantities import Units
    from assistant.model.readings import Span
    from assistant.reckoning.dig_report import DigReport
    from assistant.reckoning.hills import Hill

US_NO_1 = "1.75..3.5 in"
EXAMPLES = """\
  digday testdig --hill "2.1 1.2 3.0" --hill "2.4 2.2"      diameters in inches, a hill at a time
  digday testdig --hill "5.3 3.0 cm" --wanted "4.5..9 cm"   in centimetres
  digday testdig --hill "2.1x6 3x7.5" --spacing 12          with lengths; pounds a foot of row
  digday testdig --hill "8 12 20 oz" --hill "0.5 lb"        only weighed
  digday testdig --hill "small:3 right:5 big:1"             only sorted and counted
  digday testdig dig.csv --earlier before.csv --days 14     growth between two digs
FILE is CSV: hill,diameter and, if you have them, length and weight (with its unit), a root a line;
or hill,small,right,big, a hill a line. A line with a hill alone is a hill without roots.
"""


def add_commands(commands: Commands) -> None:
    """Add `testdig` to the command line."""
    dig = add_command(commands, "testdig", run_testdig, "what a few hills dug up say of the bed", EXAMPLES)
    takes_file(dig, "file", nargs="?", metavar="FILE", help="the roots of the hills, as CSV")
    dig.add_argument("--hill", action="append", default=[], metavar="ROOTS", help="the roots of one hill; once a hill")
    dig.add_argument("--wanted", metavar="LOW..HIGH", help=f"the diameters wanted (default: {US_NO_1}, U.S. No. 1)")
    dig.add_argument("--units", choices=("us", "metric"), default="us", help="units of bare numbers (default: us)")
    takes_file(dig, "--earlier", metavar="FILE", help="an earlier dig of the same bed, for its growth")
    dig.add_argument("--earlier-hill", action="append", default=[], metavar="ROOTS", help="the same, a hill at a time")
    dig.add_argument("--days", type=int, metavar="N", help="days from the earlier dig to this one")
    takes_bed(dig)
    dig.add_argument("--within", type=int, default=10, metavar="POINTS", help="how well the share is to be known")
    takes_json(dig)


def run_testdig(options: argparse.Namespace) -> int:
    """Print what the dig says."""
    from assistant.explain.digging import hills_needed
    from assistant.model.quantities import Units

    units = Units(options.units)
    report, bed = _report(options, units), bed_of(options, units)
    growth = _growth(options, units, report.wanted)
    if not 0 < options.within <= 50:
        raise UsageError("--within is how many points the share may be off, 1 to 50.")
    needed = hills_needed(report, options.within / 100)
    if options.json:
        from assistant.explain.dig_json import dig_json

        say_json(dig_json(report, units, bed, growth, needed))
    else:
        from assistant.cli.testdig_text import dig_lines

        write(dig_lines(report, units, bed, growth, needed))
    return 0


def _report(options: argparse.Namespace, units: Units) -> DigReport:
    from assistant.cases.hills import parse_wanted
    from assistant.reckoning.dig_report import DigReport

    wanted = parse_wanted(options.wanted or US_NO_1, units)
    hills = _hills(options.file, options.hill, "--hill", units)
    if not hills:
        raise UsageError("there are no hills; name a FILE, or give --hill '2.1 1.2 3.0' once for each hill.")
    report = DigReport(hills, wanted)
    if not report.root_count:
        raise UsageError("no hill has a root, so there is no size to tell; dig further along the bed.")
    return report


def _growth(options: argparse.Namespace, units: Units, wanted: Span) -> tuple[DigReport, int] | None:
    """The earlier dig and the days since; None when there is none."""
    hills = _hills(options.earlier, options.earlier_hill, "--earlier-hill", units)
    if not hills and options.days is None:
        return None
    if not hills or not options.days or not 0 < options.days < 300:
        raise UsageError("growth takes an earlier dig (--earlier FILE or --earlier-hill ROOTS) and --days 1 to 299.")
    from assistant.reckoning.dig_report import DigReport

    earlier = DigReport(hills, wanted)
    if earlier.only_counted or not earlier.root_count:
        raise UsageError("growth takes roots that were measured or weighed in both digs.")
    return earlier, options.days


def _hills(file: Path | None, typed: list[str], option: str, units: Units) -> tuple[Hill, ...]:
    """The hills of a file and then those typed, numbered on."""
    from assistant.cases.hills import typed_hill
    from assistant.model.place import Place

    hills: tuple[Hill, ...] = ()
    if file is not None:
        from assistant.cases.hill_files import read_hills

        hills = read_hills(file, units)
    return hills + tuple(
        typed_hill(text, str(len(hills) + number), Place(option, number, 1), units)
        for number, text in enumerate(typed, start=1)
    )
