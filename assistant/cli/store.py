"""`store`: a lot after the cure: what it needs today, a ledger of every pound, and a plan of what to eat when."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.commands import Run, add_command, takes_file, takes_json
from assistant.cli.failures import UsageError, value_of
from assistant.cli.output import say, say_json, width, write

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.explain.sheet import Sheet
    from assistant.measures.store import Store, Wanted
    from assistant.model.case import Case
    from assistant.model.quantities import Units

EXAMPLES = """\
  digday store status lot.yaml                         by a case of sweetpotato/keeping
  digday store status lot.yaml --log logger.csv        with the air of the place as a logger told it
  digday store status --ledger lots.csv --use "3 lb"   with a ledger, at 3 lb a week
  digday store plan --ledger lots.csv --use "3 lb" --html plan.html     to print and hang up
  digday store note lots.csv dug "120 lb" --lot north  begin a ledger, or add to it
  digday store note lots.csv used "3 lb" --part nicked
  digday store note lots.csv looked --temperature "56 F" --humidity 85
  digday store story lots.csv                          a lot from bed to kitchen
what can be noted: dug, stored, weighed, apart (set apart from the sound), looked,
used, given, sold, seed, discarded; of the parts nicked, chilled, sprouting, small,
sound. A ledger is CSV: date,lot,what,part,weight,temperature,humidity,note.
"""
KEYS = """\
keys of --json (temperatures in °F; weights in lb, or kg with metric units; a range is
{low, likely, high}; null where nothing is known):
  verdict: as of advise --json; signs: {name: as written}; next_look
  place: {low, usual, humidity} of the past week; log: {from, to, hours, gaps, set_aside}
  cold: {hours: {"55" (below), "50", "40", "35" (at or below)}, freezing_hours, dose, harmed_on}
  sprouting: {degree_days, soonest, latest}; life: {from, to, limits}
  lots: [{lot, dug, out, shrunk, left, parts, weighed, now, untold_from}]
  loss_per_day; plan: {per_week, turns: [{lot, part, weight, begins, gone, keeps_from,
    keeps_to, left_then}], gone: {soonest, likely, latest}, too_much: {by_first, by_last},
    too_little, per_week_to_finish: {by_first, by_last}}
"""


def add_commands(commands: Commands) -> None:
    """Add `store` to the command line."""
    store = add_command(commands, "store", run_store, "roots in store: cold, rot, ledger, what to eat first", EXAMPLES)
    parts = store.add_subparsers(title="what to do", metavar="WHAT")
    for name, run, summary in (
        ("status", run_status, "how the lot and the place are, and what to do"),
        ("plan", run_plan, "what to eat first, by when, and when to look, to print and hang up"),
    ):
        _takes_store(add_command(parts, name, run, summary, KEYS if name == "status" else ""))
    _add_note(parts)
    story = _with_ledger(parts, "story", run_story, "a lot from bed to kitchen, every pound accounted for")
    story.add_argument("--lot", metavar="NAME", help="only this lot")
    takes_json(story)


def _takes_store(command: argparse.ArgumentParser) -> None:
    takes_file(command, "case", nargs="?", metavar="CASE", help="a case file of sweetpotato/keeping")
    takes_file(command, "--ledger", metavar="FILE", help="the ledger of the lots in store")
    takes_file(command, "--log", metavar="FILE", help="a logger's CSV: time, temperature, humidity")
    command.add_argument("--on", metavar="DATE", help="the day it is for (default: the case's, or today)")
    command.add_argument("--use", metavar="WEIGHT", help="how much is used in a week, such as '3 lb'")
    command.add_argument("--until", metavar="DATE", help="until when there should be roots")
    command.add_argument("--left", metavar="WEIGHT", help="what is left, where there is no ledger")
    takes_file(command, "--html", metavar="FILE", help="write the page as HTML")
    takes_file(command, "--save", metavar="FILE", help="save the case with what the log and ledger tell")
    command.add_argument("--units", choices=("us", "metric"), help="units of bare numbers and of the page")
    takes_json(command)


def _add_note(parts: Commands) -> None:
    note = _with_ledger(parts, "note", run_note, "write a line into a ledger, made where it is not there")
    note.add_argument("what", metavar="WHAT", help="dug, stored, weighed, apart, looked, used, given, sold, ...")
    note.add_argument("weight", nargs="?", metavar="WEIGHT", help="such as '3 lb' or '1.5 kg'")
    note.add_argument("--lot", metavar="NAME", help="the lot (default: the only one of the ledger)")
    for name, what in (("part", "nicked, chilled, sprouting, small or sound"), ("note", "a word about it")):
        note.add_argument(f"--{name}", default="", help=what)
    note.add_argument("--on", metavar="DATE", help="the day (default: today)")
    note.add_argument("--temperature", default="", metavar="DEGREES", help="of the place, such as '56 F'")
    note.add_argument("--humidity", default="", metavar="PERCENT", help="of the place")


def _with_ledger(parts: Commands, name: str, run: Run, summary: str) -> argparse.ArgumentParser:
    command = add_command(parts, name, run, summary)
    takes_file(command, "ledger", metavar="LEDGER", help="the ledger (CSV)")
    command.add_argument("--units", choices=("us", "metric"), default="us", help="units of bare numbers (default: us)")
    return command


def run_store(options: argparse.Namespace) -> int:
    """Without more words, say which there are."""
    raise UsageError("say what to do: store status, store plan, store note or store story.")


def run_status(options: argparse.Namespace) -> int:
    """Print how the store is."""
    from assistant.explain.store_sheet import status_sheet

    store, wanted = _store(options)
    if options.json:
        from assistant.cli.store_json import store_json

        say_json(store_json(store, wanted))
        return 0
    return _show(status_sheet(store, wanted, width() - 2), options.html)


def run_plan(options: argparse.Namespace) -> int:
    """Print the plan to hang up by the store."""
    from assistant.explain.store_sheet import plan_sheet

    store, wanted = _store(options)
    sheet = plan_sheet(store, wanted)
    if options.json:
        from assistant.explain.sheet import sheet_data

        say_json(sheet_data(sheet))
        return 0
    return _show(sheet, options.html)


def run_note(options: argparse.Namespace) -> int:
    """Write one line into the ledger and say what is left."""
    from assistant.cases.ledger import add_entry
    from assistant.explain.store_words import left_after
    from assistant.model.quantities import Units

    units = Units(options.units)
    cells = {name: getattr(options, name) for name in ("what", "part", "temperature", "humidity", "note")}
    cells |= {"weight": options.weight or "", "lot": options.lot or _only_lot(options.ledger, units)}
    cells["date"] = _day("--on", options.on, date.today()).isoformat()
    account = add_entry(options.ledger, {name: text for name, text in cells.items() if text}, units)
    say(left_after(account, units))
    if cells["what"].lower() == "discarded":
        say("Look at the neighbours of what was thrown out; whole roots, never trimmed, and never to livestock.")
    return 0


def run_story(options: argparse.Namespace) -> int:
    """Print the story of the lots of a ledger."""
    from assistant.cases.ledger import read_accounts
    from assistant.cli.store_story import story_json, story_lines
    from assistant.model.quantities import Units

    units = Units(options.units)
    accounts = read_accounts(options.ledger, units)
    if options.lot is not None and options.lot not in accounts:
        raise UsageError(f"the ledger has no lot '{options.lot}'; it has {', '.join(accounts)}.")
    chosen = [account for lot, account in accounts.items() if options.lot in (None, lot)]
    if options.json:
        say_json(story_json(chosen, units))
    else:
        write(story_lines(chosen, units))
    return 0


def _show(sheet: Sheet, html: Path | None) -> int:
    if html is not None:
        from assistant.explain.sheet_html import sheet_html

        html.write_text(sheet_html(sheet), encoding="utf-8")
        say(f"The page is in {html}.")
        return 0
    from assistant.cli.sheet_text import sheet_lines

    write(sheet_lines(sheet))
    return 0


def _store(options: argparse.Namespace) -> tuple[Store, Wanted]:
    from assistant.cases import rulebook_of, save_case
    from assistant.cases.ledger import read_accounts
    from assistant.cases.store import store_of
    from assistant.weather.logger import read_log

    case = _case(options)
    log = read_log(options.log, case.units) if options.log else None
    accounts = read_accounts(options.ledger, case.units, case.on).values() if options.ledger else ()
    wanted = _wanted(options, case)
    store = store_of(rulebook_of(case), case, log, accounts, wanted)
    if options.save:
        save_case(store.case, options.save)
    return store, wanted


def _case(options: argparse.Namespace) -> Case:
    """The case named, or one of which nothing is said, on the day and in the units asked for."""
    from dataclasses import replace

    from assistant.cases import read_case
    from assistant.cases.store import RULEBOOK, own_case
    from assistant.model.quantities import Units

    if not (options.case or options.ledger or options.log):
        raise UsageError("name a CASE of sweetpotato/keeping, a --ledger, a --log, or some of them.")
    if options.case is None:
        return own_case(_day("--on", options.on, date.today()), Units(options.units or "us"))
    case = read_case(options.case)
    if case.rulebook.rpartition("/")[2] != RULEBOOK.rpartition("/")[2]:
        raise UsageError(f"{options.case} is a case of {case.rulebook}; store takes one of {RULEBOOK}.")
    on = _day("--on", options.on, case.on)
    return replace(case, on=on, units=Units(options.units) if options.units else case.units)


def _wanted(options: argparse.Namespace, case: Case) -> Wanted:
    from assistant.measures.store import Wanted

    until = _day("--until", options.until, case.on) if options.until else None
    if until and until < case.on:
        raise UsageError(f"--until {until} has passed; choose a later day.")
    return Wanted(_pounds("--use", options.use, case.units), until, _pounds("--left", options.left, case.units))


def _pounds(option: str, text: str | None, units: Units) -> float | None:
    from assistant.cases.ledger import pounds_of

    with value_of(option):
        return pounds_of(text, units) if text else None


def _only_lot(ledger: Path, units: Units) -> str:
    from assistant.cases.ledger import is_begun, last_lot, read_ledger

    lot = last_lot(read_ledger(ledger, units)) if is_begun(ledger) else None
    if lot is None:
        raise UsageError("name the lot with --lot; the ledger does not have just one.")
    return lot


def _day(option: str, text: str | None, otherwise: date) -> date:
    from assistant.model.quantities import parse_date

    with value_of(option):
        return parse_date(text) if text else otherwise
