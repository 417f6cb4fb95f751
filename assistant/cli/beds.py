"""`bed` and the plain list of beds: all that the garden's screen does, a line at a time."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.cli.commands import Run, add_command, takes_file, takes_json
from assistant.cli.failures import UsageError
from assistant.cli.output import BLANK, Line, say, say_json, write

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.garden.stages import BedNow
    from assistant.notebook import Notebook

EXAMPLES = """\
  digday bed add "North bed"                 write a bed down
  digday bed plant "North bed" "20 June, Beauregard"
  digday visit "North bed"                   the interview; --plain line by line
  digday bed frost 31F                       tonight's low, for every bed with roots in the ground
  digday bed dig "North bed" "96 lb"         the roots become a lot, and their cure begins
  digday bed air "North bed" "84 F 88 %"     a reading of the air where its roots lie
  digday bed store "North bed"               the cure is over
  digday bed note "North bed" "used 3 lb"    looked, used, given, sold, discarded or weighed
  digday bed show "North bed"                its story
  digday bed undo                            all back as before the last entry
"""
NO_BEDS = "No beds yet. Write the first one down with: digday bed add NAME"


def add_commands(commands: Commands) -> None:
    """Add `bed` and its ways to the command line."""
    command = add_command(commands, "bed", run_list, "the beds of your garden: what each needs, and entries", EXAMPLES)
    ways = command.add_subparsers(metavar="WAY", required=True)
    _way(ways, "list", run_list, "every bed and what it needs, the most pressing first")
    _way(ways, "show", run_show, "the story of a bed, the latest first", "name")
    _way(ways, "add", _writes(_add), "write a bed down", "name")
    _way(ways, "plant", _writes(_plant), "record a planting: a day, and after a comma the variety", "name", "text")
    _way(ways, "frost", _writes(_frost), "tonight's low for every bed with roots in the ground", "text")
    dig = _way(ways, "dig", _writes(_dig), "record that a bed was dug", "name")
    dig.add_argument("text", nargs="?", default="", metavar="WEIGHT", help="such as '96 lb'")
    _way(ways, "air", _writes(_air), "log a reading of the air where the roots lie", "name", "text")
    _way(ways, "note", _writes(_note), "note what was done with the lot", "name", "text")
    _way(ways, "store", _writes(_store), "put the lot into the store; its cure is over", "name")
    remove = _way(ways, "remove", _writes(_remove), "take a bed out with all that belongs to it", "name")
    remove.add_argument("--yes", action="store_true", help="do it; without, only what would go is told")
    _way(ways, "undo", _writes(_undo), "put all back as before the last entry")


def run_list(options: argparse.Namespace) -> int:
    """Every bed with its stage, what it needs and by when."""
    from assistant.garden.overview import beds_now

    on = _day(options)
    with _opened(options) as notebook:
        beds = beds_now(notebook, on)
    if options.json:
        say_json({"on": on.isoformat(), "beds": [_bed_data(now) for now in beds]})
    else:
        write(list_lines(beds, on))
    return 0


def run_show(options: argparse.Namespace) -> int:
    """The story of one bed."""
    from assistant.garden.entries import find_bed
    from assistant.garden.timeline import timeline

    on = _day(options)
    with _opened(options, new=False) as notebook:
        now = find_bed(notebook, options.name, on)
        events = timeline(notebook, now.bed)
    if options.json:
        story = [{"day": event.day.isoformat(), "what": event.words} for event in events]
        say_json({**_bed_data(now), "story": story})
        return 0
    write(list_lines([now], on))
    write([BLANK, *(Line(event.words, bullet=f"{event.day.isoformat()}  ") for event in events)])
    return 0


def plain_visit_to(options: argparse.Namespace) -> int:
    """The interview at a bed line by line, each answer in the notebook before the next question."""
    from assistant.cli.plain_visit import interview
    from assistant.garden.entries import find_bed
    from assistant.garden.visits import begin, keep_verdict, reopen

    on = _day(options)
    with _opened(options, new=False) as notebook:
        kept = begin(notebook, find_bed(notebook, options.bed, on), on)
        code = interview(kept.visit, notebook.path, save=kept.save)
        done = reopen(notebook, kept.row, kept.visit.rulebook)
        if done.visit.answered:
            keep_verdict(notebook, kept.row, done.visit.verdict())
    return code


def list_lines(beds: Iterable[BedNow], on: date) -> Iterator[Line]:
    """The beds as a plain list, a bed a paragraph."""
    number = 0
    for number, now in enumerate(beds, start=1):  # noqa: B007  (whether there was any)
        need = now.next
        by = f", by {need.by.isoformat()}" if need.by and need.by > on else ""
        due = f", due since {need.by.isoformat()}" if need.by and need.by < on else ""
        today = ", today" if need.by == on else ""
        yield Line(f"{now.bed.name} ({need.stage.value}): {need.words}{by}{due}{today}.")
        for other in now.needs[1:]:
            yield Line(f"also ({other.stage.value}): {other.words}{f', by {other.by}' if other.by else ''}.", indent=2)
    if not number:
        yield Line(NO_BEDS)


def demo_lines(path: Path) -> list[Line]:
    """The beds of the invented garden, in a scratch notebook at a path."""
    from assistant.garden import demo
    from assistant.garden.overview import beds_now
    from assistant.notebook import open_notebook

    with open_notebook(path) as notebook:
        demo.fill(notebook)
        beds = beds_now(notebook, demo.TODAY)
    head = Line(f"{demo.GARDEN}, an invented garden, on {demo.TODAY.isoformat()}.", "headline")
    return [head, *list_lines(beds, demo.TODAY), BLANK]


Act = Callable[["Notebook", argparse.Namespace, date], str]


def _writes(act: Act) -> Run:
    """A command that makes one entry and tells what was written."""

    def run(options: argparse.Namespace) -> int:
        with _opened(options) as notebook:
            told = act(notebook, options, _day(options))
        if options.json:
            say_json({"told": told})
        else:
            say(told)
        return 0

    return run


def _add(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries import add_bed

    return f"{add_bed(notebook, options.name).name} is in the notebook."


def _plant(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries import plant

    now = _find(notebook, options, on)
    return f"{now.bed.name} was planted on {plant(notebook, now.bed, options.text, on).planted_from}."


def _frost(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.visits import frost_tonight

    beds = [now for now in frost_tonight(notebook, options.text, on) if now.planting is not None]
    advised = [f"{now.bed.name}: {now.verdict.headline}." for now in beds if now.verdict]
    return "\n".join(advised)


def _dig(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries import record_dig

    return f"{record_dig(notebook, _find(notebook, options, on), options.text, on).name} is in the cure."


def _air(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries import log_air, moment_of

    row = log_air(notebook, _find(notebook, options, on), options.text, moment_of(on))
    return f"Read at {row.at.isoformat(sep=' ', timespec='minutes')}."


def _note(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries import note_lot

    return f"Noted: {note_lot(notebook, _find(notebook, options, on), options.text, on).what}."


def _store(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries import move_to_store

    return f"{move_to_store(notebook, _find(notebook, options, on), on).name} is in the store."


def _remove(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries import take_out, what_goes

    bed = _find(notebook, options, on).bed
    goes = what_goes(notebook, bed)
    if not options.yes:
        raise UsageError(f"with {bed.name} goes: {goes}; nothing is taken out without --yes.")
    return f"{take_out(notebook, bed).name} is out, and with it: {goes}. 'digday bed undo' brings it back."


def _undo(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    undone = notebook.undo_last()
    return f"Undone: {undone.says}." if undone else "There is nothing to undo."


def _find(notebook: Notebook, options: argparse.Namespace, on: date) -> BedNow:
    from assistant.garden.entries import find_bed

    return find_bed(notebook, options.name, on)


def _way(ways: Commands, name: str, run: Run, about: str, *takes: str) -> argparse.ArgumentParser:
    way = add_command(ways, name, run, about)
    for each in takes:
        way.add_argument(each, metavar={"name": "BED", "text": "WORDS"}[each])
    way.add_argument("--on", metavar="DATE", help="the day it happened, such as 2031-10-04 (default: today)")
    takes_file(way, "--notebook", metavar="FILE", help="another notebook than your own")
    takes_json(way)
    return way


def _opened(options: argparse.Namespace, new: bool = True) -> Notebook:
    from assistant.notebook import open_notebook

    return open_notebook(options.notebook, new)


def _day(options: argparse.Namespace) -> date:
    from assistant.model.quantities import NotAValue, parse_date

    try:
        return parse_date(options.on) if options.on else date.today()
    except NotAValue as error:
        raise UsageError(f"--on: {error}.") from None


def _bed_data(now: BedNow) -> dict[str, Any]:
    needs = [
        {"stage": need.stage.value, "what": need.words, "by": need.by.isoformat() if need.by else None}
        for need in now.needs
    ]
    return {"bed": now.bed.name, "stage": now.stage.value, "needs": needs}
