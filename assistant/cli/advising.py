"""`advise` and `why`: the verdict on a written case, and the reasoning behind it."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.layout_options import takes_bed
from assistant.cli.output import say_json, write
from assistant.cli.weather_options import case_of, takes_units, takes_weather

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.model.derivation import Verdict
    from assistant.model.quantities import Units

ADVISE_EXAMPLES = """\
  digday advise garden.yaml
  digday advise garden.yaml --json | python3 -m json.tool
  digday advise garden.yaml --sheet --spacing "12 in" --row-length "100 ft"   the page for dig day
a case as small as a case can be:
  case: Green vines in mild nights
  rulebook: sweetpotato/when-to-dig
  on: 2031-10-04
  signs: {vines: green, recent_nights: 54 F}
"""
WHY_EXAMPLES = """\
  digday why garden.yaml               every rule, answer and source behind the advice
  digday why garden.yaml --not wait    what kept the advice from being to wait
"""


def add_commands(commands: Commands) -> None:
    """Add `advise` and `why` to the command line."""
    summary = "the verdict on a written case, asking nothing"
    advise = add_command(commands, "advise", run_advise, summary, ADVISE_EXAMPLES)
    takes_file(advise, "case", metavar="CASE", help="a case file (YAML)")
    takes_weather(advise)
    takes_units(advise)
    takes_bed(advise)
    sheet = "print a page for dig day, once the advice is to dig; --spacing and --row-length tell what to expect"
    advise.add_argument("--sheet", nargs="?", const="text", choices=("text", "html"), help=sheet)
    takes_json(advise)
    why = add_command(commands, "why", run_why, "the whole reasoning behind a verdict", WHY_EXAMPLES)
    takes_file(why, "case", metavar="CASE", help="a case file (YAML)")
    why.add_argument("--not", dest="other", metavar="ADVICE", help="ask why it is not this advice")
    takes_weather(why)
    takes_units(why)
    takes_json(why)


def run_advise(options: argparse.Namespace) -> int:
    """Print the verdict on a case."""
    if options.sheet:
        return _print_sheet(options)
    verdict, units = verdict_on(options, fully=options.json)
    if options.json:
        from assistant.explain.verdict_json import verdict_json

        say_json(verdict_json(verdict))
    else:
        from assistant.cli.verdict_text import verdict_lines

        write(verdict_lines(verdict, units))
    return 0


def _print_sheet(options: argparse.Namespace) -> int:
    from assistant.cases import rulebook_of
    from assistant.cli.dig_day import print_dig_sheet
    from assistant.season import advise

    case = case_of(options)
    return print_dig_sheet(advise(rulebook_of(case), case), case, options)


def run_why(options: argparse.Namespace) -> int:
    """Print the reasoning behind a verdict, or why it is not another."""
    from assistant.cli.reason_text import reason_json, reason_lines
    from assistant.explain.reasoning import reasoning, why_not

    verdict, units = verdict_on(options, fully=True)
    if options.other:
        _check_advice(verdict, options.other)
    reason = why_not(verdict, options.other, units) if options.other else reasoning(verdict, units)
    if options.json:
        say_json(reason_json(reason))
    else:
        write(reason_lines(reason))
    return 0


def verdict_on(options: argparse.Namespace, fully: bool) -> tuple[Verdict, Units]:
    """The verdict on the case in a file, with the units its grower uses; fully with what would change it."""
    from assistant.cases import rulebook_of
    from assistant.season import advise

    case = case_of(options)
    if not fully:
        return advise(rulebook_of(case), case), case.units
    from assistant.whatif import advise_fully

    return advise_fully(rulebook_of(case), case), case.units


def _check_advice(verdict: Verdict, wanted: str) -> None:
    """Refuse a piece of advice that the rulebook does not have."""
    known = verdict.derivation.rulebook.advice
    if wanted not in known:
        from assistant.cli.failures import UsageError

        raise UsageError(f"the rulebook gives no advice '{wanted}'; it gives {', '.join(known)}.")
