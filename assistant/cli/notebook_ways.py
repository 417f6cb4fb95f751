"""What the ways of `bed` and `garden` share: how they are named, and one entry made and told."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING

from assistant.cli.commands import Run, add_command, takes_file, takes_json
from assistant.cli.failures import value_of
from assistant.cli.output import say_json, say_lines

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.garden.standing.stages import BedNow
    from assistant.notebook import Notebook

Act = Callable[["Notebook", argparse.Namespace, date], "str | list[str]"]
"""Makes an entry and tells of it in one line, or in several."""
_CALLED = {"name": "BED", "text": "WORDS", "entry": "ENTRY", "to": "GARDEN", "new": "NAME", "which": "GARDEN"}


def writes(act: Act) -> Run:
    """A command that makes one entry and tells what was written."""

    def run(options: argparse.Namespace) -> int:
        with opened(options) as notebook:
            told = act(notebook, options, day(options))
        lines = [told] if isinstance(told, str) else told
        if options.json:
            say_json({"told": "\n".join(lines)})
        else:
            say_lines(lines)
        return 0

    return run


def find(notebook: Notebook, options: argparse.Namespace, on: date) -> BedNow:
    """The bed that is named."""
    from assistant.garden.standing.finding import find_bed

    return find_bed(notebook, options.name, on)


def add_way(ways: Commands, name: str, run: Run, about: str, *takes: str) -> argparse.ArgumentParser:
    """A way of `bed` or `garden` with its arguments, the day it happened and the notebook."""
    way = add_command(ways, name, run, about)
    for each in takes:
        way.add_argument(each, metavar=_CALLED[each])
    way.add_argument("--on", metavar="DATE", help="the day it happened, such as 2031-10-04 (default: today)")
    takes_file(way, "--notebook", metavar="FILE", help="another notebook than your own")
    takes_json(way)
    return way


def takes_garden(way: argparse.ArgumentParser) -> None:
    """The option `--garden`."""
    way.add_argument("--garden", metavar="NAME", help="of one garden (default: the one chosen, or all)")


def garden_of(notebook: Notebook, options: argparse.Namespace) -> int | None:
    """The garden that is named, or else the one that is shown; None for all."""
    from assistant.garden.standing.finding import find_garden

    return find_garden(notebook, options.garden).id if getattr(options, "garden", None) else notebook.shown


def opened(options: argparse.Namespace, new: bool = True) -> Notebook:
    """The notebook that is named, or the user's own."""
    from assistant.notebook import open_notebook

    return open_notebook(options.notebook, new)


def day(options: argparse.Namespace) -> date:
    """The day that is named, or today."""
    from assistant.model.quantities import parse_date

    with value_of("--on"):
        return parse_date(options.on) if options.on else date.today()
