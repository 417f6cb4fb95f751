"""`outlook`: the six weeks ahead of a garden, day by day: when to dig, and how late is safe."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.output import say_json, write
from assistant.cli.weather_options import case_of, takes_units, takes_weather

if TYPE_CHECKING:
    from assistant.cli.commands import Commands

EXAMPLES = """\
  digday outlook garden.yaml --weather station.csv                     with a station's record
  digday outlook garden.yaml --weather station.csv --lows "44 40 38"   and lows typed in
  digday outlook garden.yaml --weather station.csv --forecast nws.json --risk 0.05
  digday outlook garden.yaml              by the case's own weather or frost dates alone
  digday outlook garden.yaml --plain      without the plot
keys of --json (temperatures in °F, widths in inches, chances and shares from 0 to 1;
a range is {low, likely, high}; null where nothing is known):
  case, on, risk; first_good_day, first_look: dates or null
  latest_safe_day, latest_safe_because: {harmless, hurts}, the two views of a frost
  week: {gain: {grams_per_plant, share_now, share_then}, risk: {harmless, hurts}}
  days: [{on, low (of the night after the day), chance: {"36", "32", "28"} of that
    night, by: the same of all nights before the day, counted: {came, seasons} at 32 °F
    on record, soil, share, width (of the mean root), harm: {harmless, hurts}, advice}]
  missing: [what is not known]; assumptions: [{says, sources}]
"""


def add_commands(commands: Commands) -> None:
    """Add `outlook` to the command line."""
    summary = "the six weeks ahead: odds of cold, soil, size, advice, and how late is safe"
    outlook = add_command(commands, "outlook", run_outlook, summary, EXAMPLES)
    takes_file(outlook, "case", metavar="CASE", help="a case file (YAML)")
    takes_weather(outlook)
    takes_units(outlook)
    outlook.add_argument("--risk", default="0.1", metavar="CHANCE", help="the risk you accept (default: 0.1, 1 in 10)")
    outlook.add_argument("--plain", action="store_true", help="without the plot")
    takes_json(outlook)


def run_outlook(options: argparse.Namespace) -> int:
    """Print the outlook for a case."""
    from assistant.cases import rulebook_of
    from assistant.outlook.ahead import outlook

    risk = _risk(options.risk)
    case = case_of(options)
    ahead = outlook(rulebook_of(case), case, risk)
    if options.json:
        from assistant.cli.outlook_json import outlook_json

        say_json(outlook_json(ahead))
        return 0
    from assistant.cli.outlook_text import outlook_lines

    write(outlook_lines(ahead, options.plain))
    return 0


def _risk(text: str) -> float:
    """A chance between 0 and 1, or in percent. Raises `UsageError`."""
    from assistant.cli.failures import UsageError

    try:
        number = text.strip().rstrip("%")
        risk = float(number) / (100 if text.strip().endswith("%") else 1)
    except ValueError:
        risk = 0.0
    if not 0 < risk < 1:
        raise UsageError(f"--risk {text} is no chance; write one between 0 and 1, such as 0.1 or 10%.")
    return risk
