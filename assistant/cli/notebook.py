"""`notebook`: the whole notebook as text and back, a copy of it, and whether it is sound."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.failures import UsageError
from assistant.cli.notebook_ways import opened
from assistant.cli.output import complain, say, say_json, say_lines

if TYPE_CHECKING:
    from assistant.cli.commands import Commands

EXAMPLES = """\
  digday notebook check                     whether the notebook is sound
  digday notebook backup                    a copy beside it, named after the day
  digday notebook export garden.yaml        everything in one text file; .json is written as JSON
  digday notebook import garden.yaml --notebook again.sqlite
  digday notebook export --csv answer       one table, for a spreadsheet
"""


def add_commands(commands: Commands) -> None:
    """Add `notebook` and what it does to the command line."""
    command = add_command(commands, "notebook", run_check, "export, import, back up or check what is kept", EXAMPLES)
    ways = command.add_subparsers(metavar="WAY", required=True)
    export = add_command(ways, "export", run_export, "write the whole notebook as YAML or JSON, or a table as CSV")
    takes_file(export, "file", nargs="?", metavar="FILE", help="a new file (default: standard output)")
    export.add_argument("--csv", metavar="TABLE", help="one table only, as CSV")
    into = add_command(ways, "import", run_import, "make a new notebook of an exported file")
    takes_file(into, "file", metavar="FILE", help="what `export` wrote, YAML or JSON")
    backup = add_command(ways, "backup", run_backup, "copy the notebook, also while it is in use")
    takes_file(backup, "file", nargs="?", metavar="FILE", help="a new file (default: beside the notebook)")
    check = add_command(ways, "check", run_check, "find out whether the notebook is sound")
    for way in (export, into, backup, check):
        takes_file(way, "--notebook", metavar="FILE", help="another notebook than your own")
        takes_json(way)


def run_export(options: argparse.Namespace) -> int:
    """Write everything, or one table, as text."""
    from assistant.cases.notebooks import notebook_text, table_csv, write_new
    from assistant.model.notebook import TABLES

    if options.csv and options.csv not in TABLES:
        raise UsageError(f"'{options.csv}' is no table; the tables are {', '.join(TABLES)}.")
    with opened(options, new=False) as notebook:
        as_json = options.json or (options.file is not None and options.file.suffix.lower() == ".json")
        text = table_csv(notebook, options.csv) if options.csv else notebook_text(notebook, as_json)
    if options.file is None:
        print(text, end="")
        return 0
    try:
        write_new(options.file, text)
    except FileExistsError:
        raise UsageError(f"{options.file} is there already; name a new file.") from None
    complain(f"Written to {options.file}.")
    return 0


def run_import(options: argparse.Namespace) -> int:
    """Make a new notebook of an exported one."""
    from assistant.cases.notebooks import import_notebook

    to = _path(options)
    records = import_notebook(options.file, to)
    if options.json:
        say_json({"notebook": str(to), "records": records})
    else:
        say(f"{records} records are now in {to}.")
    return 0


def run_backup(options: argparse.Namespace) -> int:
    """Copy the notebook."""
    from assistant.notebook import backup_name

    with opened(options, new=False) as notebook:
        to = options.file or backup_name(notebook.path, date.today())
        notebook.backup(to)
    if options.json:
        say_json({"backup": str(to)})
    else:
        say(f"Copied to {to}.")
    return 0


def run_check(options: argparse.Namespace) -> int:
    """Say whether the notebook is sound, and how much is in it; 1 when it is not."""
    from assistant.model.notebook import TABLES
    from assistant.notebook import BACKUP

    with opened(options, new=False) as notebook:
        found = notebook.check()
        counts = {table: len(notebook.rows(table)) for table in TABLES} if not found else {}
        steps = notebook.steps
    if options.json:
        say_json({"notebook": str(notebook.path), "problems": found, "records": counts, "steps": steps})
    elif found:
        say_lines([*found, BACKUP])
    else:
        kept = ", ".join(f"{count} {table}" for table, count in counts.items() if count)
        say(f"{notebook.path} is sound. It holds: {kept or 'nothing yet'}.")
    return 1 if found else 0


def _path(options: argparse.Namespace) -> Path:
    """The file that a new notebook is to have."""
    from assistant.notebook import default_path

    path: Path = options.notebook or default_path()
    if options.notebook is None:
        path.parent.mkdir(parents=True, exist_ok=True)
    return path
