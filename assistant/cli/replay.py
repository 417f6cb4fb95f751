"""`replay`: the rulebook in every autumn of a station's record, beside rules of thumb and perfect hindsight."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.output import say_json, write

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.model.rules import Rulebook
    from assistant.outlook.replay import Planting

EXAMPLES = """\
  digday replay --weather station.csv --planted 06-10
  digday replay --weather station.csv --planted 06-10 --variety covington --weekends
  digday replay --weather station.csv --planted 06-10 --rulebook sweetpotato/short-season
  digday replay --weather station.csv --planted 06-10 --seed 7 --json
keys of --json: autumns (how many), years, skipped: {year: why}, planted, variety, seed,
  rulebook; views: [{frost: harmless or hurts, policies: [{name, value_mean, value_p10,
  crops_hurt, crops_lost, day_dug_median, visits_mean, hills_mean}]}], values as shares of
  hindsight (null where no autumn bore anything), days after planting; weekends: the same
  for growers who can dig at weekends only, or null; assumptions: [{says, sources}]
"""

RULEBOOK = "sweetpotato/when-to-dig"


def add_commands(commands: Commands) -> None:
    """Add `replay` to the command line."""
    summary = "the rulebook in every autumn on record, beside rules of thumb and hindsight"
    command = add_command(commands, "replay", run_replay, summary, EXAMPLES)
    takes_file(command, "--weather", metavar="FILE", required=True, help="a station's daily record")
    command.add_argument("--planted", metavar="MM-DD", required=True, help="the day the slips went in, each year")
    command.add_argument("--variety", default="beauregard", help="a variety of the rulebook (default: beauregard)")
    command.add_argument("--seed", type=int, default=1, help="where everything drawn by lot comes from (default: 1)")
    command.add_argument("--weekends", action="store_true", help="also for growers who can dig at weekends only")
    command.add_argument("--rulebook", default=RULEBOOK, metavar="RULEBOOK", help=f"(default: {RULEBOOK})")
    command.add_argument("--units", choices=("us", "metric"), default="us", help="units of a CSV record (default: us)")
    takes_json(command)


def run_replay(options: argparse.Namespace) -> int:
    """Print how each policy would have done."""
    from assistant.cli.replay_report import replay_json, replay_lines
    from assistant.model.quantities import Units
    from assistant.outlook.replay import replay
    from assistant.rulebook import read_rulebook
    from assistant.weather import read_record

    rulebook = read_rulebook(options.rulebook)
    planting = _planting(options, rulebook)
    record = read_record(options.weather, Units(options.units))
    played = replay(record, rulebook, planting, options.weekends)
    if not played.years:
        raise _no_autumn(played.skipped)
    if options.json:
        say_json(replay_json(played, rulebook))
    else:
        write(replay_lines(played, rulebook))
    return 0


def _planting(options: argparse.Namespace, rulebook: Rulebook) -> Planting:
    """What is planted. Raises `UsageError` for a date or a variety that there is not."""
    from assistant.cli.failures import UsageError, value_of
    from assistant.model.case import MonthDay
    from assistant.outlook.replay import Planting
    from assistant.rulebook.names import instead

    varieties = rulebook.tables.get("varieties")
    if varieties is None or any("days" not in row.values for row in varieties.rows.values()):
        raise UsageError(f"{rulebook.name} has no table of varieties with their days; a replay needs one.")
    if options.variety not in varieties.rows:
        raise UsageError(
            f"--variety {options.variety} is not in {rulebook.name}. {instead(options.variety, varieties.rows)}"
        )
    with value_of("--planted"):
        return Planting(MonthDay.parse(options.planted), options.variety, seed=options.seed)


def _no_autumn(skipped: object) -> Exception:
    from assistant.cli.failures import UsageError

    assert isinstance(skipped, dict)
    why = "; ".join(f"{year}: {reason}" for year, reason in list(skipped.items())[:3])
    return UsageError(
        f"no autumn of this record can be followed from planting to the end ({why}). "
        "A replay needs the lows and highs of every day, but for a few."
    )
