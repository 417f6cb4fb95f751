"""`garden`: the gardens of a notebook, each with its units and frost dates, and which of them is shown."""

from __future__ import annotations

import argparse
from datetime import date
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command
from assistant.cli.failures import UsageError
from assistant.cli.notebook_ways import add_way, opened, writes
from assistant.cli.output import Line, say_json, write

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.model.notebook import GardenRow
    from assistant.notebook import Notebook

EXAMPLES = """\
  digday garden list                              the gardens of the notebook
  digday garden add Hill                          one more
  digday garden choose Hill                       show only its beds; without a name, those of all
  digday garden frost Hill "10-08 10-20 11-02"    a first frost has come by then in 1, 5 and 9 years of 10
  digday garden frost Hill "04-12 04-28 05-12" --last
  digday garden units Hill metric                 °C, cm and kg; or us
  digday garden rename Hill "Hill field"
  digday bed add "Hill/North bed"                 a bed in it
  digday bed move "North bed" Hill                a bed that belongs to it from now on
"""
NO_GARDENS = "No gardens yet. Write one down with: digday garden add NAME"


def add_commands(commands: Commands) -> None:
    """Add `garden` and its ways to the command line."""
    command = add_command(commands, "garden", run_list, "the gardens of your notebook: units, frost dates", EXAMPLES)
    ways = command.add_subparsers(metavar="WAY", required=True)
    add_way(ways, "list", run_list, "every garden with its units, frost dates and beds")
    add_way(ways, "add", writes(_add), "write a garden down", "new")
    choose = add_way(ways, "choose", writes(_choose), "show the beds of one garden, or of all")
    choose.add_argument("which", nargs="?", metavar="GARDEN", help="the garden (default: all)")
    add_way(ways, "rename", writes(_rename), "give a garden another name", "which", "new")
    units = add_way(ways, "units", writes(_units), "in which units it is told and bare numbers are read", "which")
    units.add_argument("text", choices=("us", "metric"), metavar="UNITS", help="us or metric")
    frost = add_way(ways, "frost", writes(_frost), "its three frost dates, or none", "which")
    frost.add_argument("text", metavar="DATES", help="of 1, 5 and 9 years in 10, such as '10-08 10-20 11-02'")
    frost.add_argument("--last", action="store_true", help="the last frost of spring instead of the first of autumn")
    remove = add_way(ways, "remove", writes(_remove), "take out a garden that has no beds", "which")
    remove.add_argument("--yes", action="store_true", help="do it; without, nothing is done")


def run_list(options: argparse.Namespace) -> int:
    """Every garden."""
    from assistant.garden.entries.gardens import frost_words
    from assistant.model.notebook import BedRow, GardenRow

    with opened(options) as notebook:
        shown = notebook.shown
        told = [
            (garden, len(notebook.all(BedRow, garden=garden.id)), frost_words(notebook, garden))
            for garden in notebook.all(GardenRow)
        ]
    if options.json:
        say_json({"gardens": [_data(*each, each[0].id == shown) for each in told]})
        return 0
    for garden, beds, frosts in told:
        mark = " (shown)" if garden.id == shown else ""
        write([Line(f"{garden.name}{mark}: {beds} bed{'s' * (beds != 1)}, {garden.units.value}, {frosts}.")])
    if not told:
        write([Line(NO_GARDENS)])
    return 0


def _add(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.gardens import add_garden

    return f"{add_garden(notebook, options.new).name} is in the notebook."


def _choose(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.standing.finding import find_garden

    garden = find_garden(notebook, options.which) if options.which else None
    notebook.show(garden.id if garden else None)
    return f"The beds of {garden.name if garden else 'all gardens'} are shown."


def _rename(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    return f"The garden is named {_changed(notebook, options, f'name {options.new}').name}."


def _units(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    garden = _changed(notebook, options, options.text)
    return f"{garden.name} is told in {garden.units.value} units."


def _frost(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.gardens import frost_words

    garden = _changed(notebook, options, f"{'last' if options.last else 'first'} frost {options.text}")
    return f"{garden.name}: {frost_words(notebook, garden)}."


def _remove(notebook: Notebook, options: argparse.Namespace, on: date) -> str:
    from assistant.garden.entries.taking_out import take_out_garden
    from assistant.garden.standing.finding import find_garden

    garden = find_garden(notebook, options.which)
    if not options.yes:
        raise UsageError(f"nothing is taken out without --yes; {garden.name} can only go when it has no beds.")
    return f"{take_out_garden(notebook, garden).name} is out. 'digday bed undo' brings it back."


def _changed(notebook: Notebook, options: argparse.Namespace, text: str) -> GardenRow:
    from assistant.garden.entries.gardens import change_garden
    from assistant.garden.standing.finding import find_garden

    return change_garden(notebook, find_garden(notebook, options.which), text)


def _data(garden: GardenRow, beds: int, frosts: str, shown: bool) -> dict[str, object]:
    return {"garden": garden.name, "units": garden.units.value, "frosts": frosts, "beds": beds, "shown": shown}
