"""`rulebook`: list, show and check rulebooks, and the grammar that editors use."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.output import say, say_json, write

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.model.rules import Rulebook

EXAMPLES = """\
  digday rulebook list
  digday rulebook show sweetpotato/when-to-dig
  digday rulebook check my-rulebook/           problems at file:line:column, and what was proved
  digday rulebook check my-rulebook/ --lines   one problem a line, for editors
  digday rulebook check my-rulebook/ --examples out/   a case file for each problem
  digday rulebook check --explain no-advice    what a code means, with the lines mended
  digday rulebook schema case                  the JSON Schema of case files
"""
SCHEMAS = ("rulebook", "sources", "case")


def add_commands(commands: Commands) -> None:
    """Add `rulebook` and its own commands to the command line."""
    group = add_command(commands, "rulebook", run_list, "list, show and check rulebooks", EXAMPLES)
    takes_json(group)
    actions = group.add_subparsers(title="commands", metavar="COMMAND")
    takes_json(add_command(actions, "list", run_list, "the rulebooks that ship with digday"))
    show = add_command(actions, "show", run_show, "what a rulebook asks, says and rests on")
    show.add_argument("rulebook", metavar="RULEBOOK", help="a name from the list, or a folder")
    takes_json(show)
    _add_schema(actions)
    _add_check(actions)


def _add_schema(actions: Commands) -> None:
    schema = add_command(actions, "schema", run_schema, "the JSON Schema that editors complete and explain by")
    schema.add_argument("which", nargs="?", choices=SCHEMAS, default="rulebook")
    schema.add_argument("--write", action="store_true", help="write all three beside the shipped rulebooks instead")


def _add_check(actions: Commands) -> None:
    check = add_command(actions, "check", run_check, "prove a rulebook, or find what is wrong; exit 1 then")
    check.add_argument("rulebook", nargs="?", metavar="RULEBOOK", help="a name or a folder (default: all shipped)")
    form = check.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print JSON for other programs")
    form.add_argument("--lines", action="store_true", help="print one problem a line, for editors")
    takes_file(check, "--examples", metavar="FOLDER", help="write a case for each problem that has one")
    check.add_argument("--explain", metavar="CODE", help="print the page of the manual on a problem's code")


def run_list(options: argparse.Namespace) -> int:
    """Print the shipped rulebooks with their titles."""
    from assistant.rulebook import read_rulebook, shipped_rulebooks

    books = [read_rulebook(name) for name in shipped_rulebooks()]
    if options.json:
        say_json([{"name": book.name, "title": book.title, "version": book.version} for book in books])
    else:
        for book in books:
            say(f"{book.name}  {book.version}  {book.title}")
    return 0


def run_show(options: argparse.Namespace) -> int:
    """Print a whole rulebook in words."""
    from assistant.cli.rulebook_text import rulebook_json, rulebook_lines
    from assistant.rulebook import read_rulebook

    book: Rulebook = read_rulebook(options.rulebook)
    if options.json:
        say_json(rulebook_json(book))
    else:
        write(rulebook_lines(book))
    return 0


def run_schema(options: argparse.Namespace) -> int:
    """Print one JSON Schema, or write all of them where the rulebooks name them."""
    from assistant.rulebook import schema_text, write_schemas

    if options.write:
        for path in write_schemas():
            say(f"wrote {path}")
    else:
        print(schema_text(options.which), end="")
    return 0


def run_check(options: argparse.Namespace) -> int:
    """Print what is wrong in a rulebook and what was proved of it; 1 when something is wrong."""
    from assistant.cli.rulebook_check import run_check as check

    return check(options)
