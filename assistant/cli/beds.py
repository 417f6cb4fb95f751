"""`bed` and the plain list of beds: all that the garden's screen does, a line at a time."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.cli.bed_changes import add_changes, run_entry
from assistant.cli.bed_pages import picture_data, picture_lines, print_bed_sheet, print_garden_sheet
from assistant.cli.commands import add_command
from assistant.cli.notebook_ways import add_way, day, find, garden_of, opened, takes_garden, writes
from assistant.cli.output import BLANK, Line, say_json, write
from assistant.cli.sheet_text import takes_sheet

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.garden.standing.stages import BedNow, InStore
    from assistant.notebook import Notebook

EXAMPLES = """\
  digday bed add "North bed"                 write a bed down; in another garden: "Hill/North bed"
  digday bed size "North bed" "40 ft"        how long its rows are together
  digday bed plant "North bed" "20 June, Beauregard, 40 slips"
  digday visit "North bed"                   the interview; --plain line by line
  digday bed frost 31F                       tonight's low, for every bed with roots in the ground
  digday bed dig "North bed" "96 lb"         the roots become a lot, and their cure begins
  digday bed dig "North bed" "12 ft, 30 lb"  only a part; or "20 hills, 30 lb" or "part, 30 lb"
  digday bed air "North bed" "84 F 88 %"     a reading of the air where its roots lie
  digday bed store "North bed"               the cure is over
  digday bed note "North bed" "used 3 lb"    looked, used, given, sold, discarded, apart or weighed
  digday bed show "North bed"                its story, each entry with its number
  digday bed show "North bed" 2              one entry; of a visit its answers, then and now
  digday bed change "North bed" 2 "2031-10-06, 96 lb"    entry 2 as it should be
  digday bed change "North bed" 3.vines yellowing        an answer of the visit that is entry 3
  digday bed remove "North bed" 2 --yes      entry 2 and what rests on it; without a number, the bed
  digday bed list --sheet                    a page to walk round with; --sheet html for a browser
  digday bed show "North bed" --sheet        its page for dig day, the cure or the store
  digday bed undo                            all back as before the last entry
"""
NO_BEDS = "No beds yet. Write the first one down with: digday bed add NAME"


def add_commands(commands: Commands) -> None:
    """Add `bed` and its ways to the command line."""
    command = add_command(commands, "bed", run_list, "the beds of your garden: what each needs, and entries", EXAMPLES)
    ways = command.add_subparsers(metavar="WAY", required=True)
    beds = add_way(ways, "list", run_list, "every bed and what it needs, the most pressing first")
    takes_garden(beds)
    takes_sheet(beds, "print a page to walk round the garden with, and to write on")
    show = add_way(ways, "show", run_show, "the story of a bed, the latest first", "name")
    show.add_argument("entry", nargs="?", metavar="ENTRY", help="the number of one entry")
    takes_sheet(show, "print the page that its stage asks for: for dig day, the cure or the store")
    add_way(ways, "add", writes(_add), "write a bed down", "name")
    add_way(ways, "plant", writes(_plant), "record a planting: a day, the variety, how many slips", "name", "text")
    takes_garden(add_way(ways, "frost", writes(_frost), "tonight's low for every bed with roots in the ground", "text"))
    dig = add_way(ways, "dig", writes(_dig), "record that a bed was dug, or a part of it", "name")
    dig.add_argument("text", nargs="?", default="", metavar="WEIGHT", help="such as '96 lb'; of a part '12 ft, 30 lb'")
    add_way(ways, "air", writes(_air), "log a reading of the air where the roots lie", "name", "text")
    add_way(ways, "note", writes(_note), "note what was done with the lot", "name", "text")
    add_way(ways, "store", writes(_store), "put the lot into the store; its cure is over", "name")
    add_changes(ways)
    add_way(ways, "undo", writes(_undo), "put all back as before the last entry")


def run_list(options: argparse.Namespace) -> int:
    """Every bed with its stage, what it needs and by when."""
    from assistant.garden.standing.finding import gardens_by_number
    from assistant.garden.standing.overview import beds_now

    on = day(options)
    with opened(options) as notebook:
        garden, gardens = garden_of(notebook, options), gardens_by_number(notebook)
        beds = beds_now(notebook, on, garden)
    shown = gardens[garden].name if garden is not None else None
    if getattr(options, "sheet", None):
        return print_garden_sheet(shown or ", ".join(each.name for each in gardens.values()), beds, on, options)
    if options.json:
        say_json({"on": on.isoformat(), "garden": shown, "beds": [_bed_data(now) for now in beds]})
        return 0
    if shown and len(gardens) > 1:
        write([Line(f"{shown}, one of {len(gardens)} gardens:")])
    write(list_lines(beds, on))
    return 0


def run_show(options: argparse.Namespace) -> int:
    """The story of one bed."""
    from assistant.garden.entries.soundness import faults
    from assistant.garden.standing.accounts import account_words
    from assistant.garden.telling.pictures import pictures
    from assistant.garden.telling.timeline import timeline

    if options.entry is not None:
        return run_entry(options)
    on = day(options)
    with opened(options, new=False) as notebook:
        now = find(notebook, options, on)
        if options.sheet:
            return print_bed_sheet(notebook, now, on, options)
        drawn = pictures(notebook, now, on)
        events, wrong = timeline(notebook, now.bed), [fault.says for fault in faults(notebook, now.bed)]
    if options.json:
        story = [{"day": event.day.isoformat(), "what": event.words} for event in events]
        say_json({**_bed_data(now), "story": story, "lots": [*map(_lot_data, now.lots)], "wrong": wrong,
                  "pictures": [*map(picture_data, drawn)]})  # fmt: skip
        return 0
    write(list_lines([now], on))
    assert now.garden is not None
    units = now.garden.units
    write(Line(f"{lot.lot.name}: {account_words(lot.account, units)}.") for lot in now.lots if lot.account)
    write(Line(f"This cannot be: {says}.") for says in wrong)
    write(picture_lines(drawn))
    numbered = (Line(event.words, bullet=f"{n:>3}  {event.day.isoformat()}  ") for n, event in enumerate(events, 1))
    write([BLANK, *numbered])
    return 0


def plain_visit_to(options: argparse.Namespace) -> int:
    """The interview at a bed line by line, each answer in the notebook before the next question."""
    from assistant.cli.plain_visit import interview
    from assistant.garden.entries.visits import begin, keep_verdict, reopen
    from assistant.garden.standing.finding import find_bed

    on = day(options)
    with opened(options, new=False) as notebook:
        kept = begin(notebook, find_bed(notebook, options.bed, on), on)
        code = interview(kept.visit, notebook.path, save=kept.save)
        done = reopen(notebook, kept.row, kept.visit.rulebook)
        if done.visit.answered:
            keep_verdict(notebook, kept.row, done.visit.verdict())
    return code


def list_lines(beds: Iterable[BedNow], on: date) -> Iterator[Line]:
    """The beds as a plain list, a bed a paragraph."""
    found = tuple(beds)
    several = len({now.bed.garden for now in found}) > 1
    for now in found:
        need = now.next
        by = f", by {need.by.isoformat()}" if need.by and need.by > on else ""
        due = f", due since {need.by.isoformat()}" if need.by and need.by < on else ""
        today = ", today" if need.by == on else ""
        yield Line(f"{_name(now, several)} ({need.stage.value}): {need.words}{by}{due}{today}.")
        for other in now.needs[1:]:
            yield Line(f"also ({other.stage.value}): {other.words}{f', by {other.by}' if other.by else ''}.", indent=2)
    if not found:
        yield Line(NO_BEDS)


def demo_lines(path: Path) -> list[Line]:
    """The beds of the invented garden, in a scratch notebook at a path."""
    from assistant.garden import demo
    from assistant.garden.standing.overview import beds_now
    from assistant.notebook import open_notebook

    with open_notebook(path) as notebook:
        demo.fill(notebook)
        beds = beds_now(notebook, demo.TODAY)
    head = Line(f"{demo.GARDEN}, an invented garden, on {demo.TODAY.isoformat()}.", "headline")
    return [head, *list_lines(beds, demo.TODAY), BLANK]


def _add(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.gardens import add_bed

    return f"{add_bed(notebook, options.name).name} is in the notebook."


def _plant(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.plantings import plant

    now = find(notebook, options, on)
    return f"{now.bed.name} was planted on {plant(notebook, now.bed, options.text, on).planted_from}."


def _frost(notebook: Notebook, options: argparse.Namespace, on: date) -> list[str]:
    from assistant.garden.entries.visits import frost_tonight

    beds = frost_tonight(notebook, options.text, on, garden_of(notebook, options))
    several = len({now.bed.garden for now in beds}) > 1
    return [f"{_name(now, several)}: {now.verdict.headline}." for now in beds if now.planting and now.verdict]


def _dig(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.digs import record_dig

    return f"{record_dig(notebook, find(notebook, options, on), options.text, on).name} is in the cure."


def _air(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.rooms import log_air, moment_of

    row = log_air(notebook, find(notebook, options, on), options.text, moment_of(on))
    return f"Read at {row.at.isoformat(sep=' ', timespec='minutes')}."


def _note(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.lots import note_lot

    return f"Noted: {note_lot(notebook, find(notebook, options, on), options.text, on).what}."


def _store(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.rooms import move_to_store

    return f"{move_to_store(notebook, find(notebook, options, on), on).name} is in the store."


def _undo(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    undone = notebook.undo_last()
    return f"Undone: {undone.says}." if undone else "There is nothing to undo."


def _name(now: BedNow, several: bool) -> str:
    return f"{now.bed.name} in {now.garden.name}" if several and now.garden else now.bed.name


def _bed_data(now: BedNow) -> dict[str, Any]:
    needs = [
        {"stage": need.stage.value, "what": need.words, "by": need.by.isoformat() if need.by else None}
        for need in now.needs
    ]
    garden = now.garden.name if now.garden else None
    return {"bed": now.bed.name, "garden": garden, "stage": now.stage.value, "needs": needs}


def _lot_data(store: InStore) -> dict[str, Any]:
    account = store.account
    pounds = {"dug": account.dug, "out": account.out, "shrunk": account.shrunk, "left": account.left} if account else {}
    return {"lot": store.lot.name, "pounds": {**pounds}}
