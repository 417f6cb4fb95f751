"""The grammar of the command line; each command's module adds its own part."""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from importlib import import_module
from typing import Any, NoReturn

from assistant.cli.commands import HelpPage, takes_file
from assistant.cli.output import complain

# Which module adds and runs which command, in the order in which `--help` lists them.
MODULES = {
    "demo": "visiting",
    "bed": "beds",
    "garden": "gardens",
    "visit": "visiting",
    "advise": "advising",
    "why": "advising",
    "testdig": "testdig",
    "frost": "frost",
    "outlook": "outlook",
    "replay": "replay",
    "cure": "cure",
    "store": "store",
    "nextyear": "nextyear",
    "cases": "scenarios",
    "notebook": "notebook",
    "rulebook": "rulebooks",
    "completion": "completing",
}

EXAMPLES = """\
examples:
  digday                                 every bed of your garden, and what each needs
  digday --plain                         the same as a list
  digday demo                            the same on an invented garden
  digday bed add "North bed"             write a bed down; digday bed --help has the rest
  digday visit --plain                   the interview line by line, without a screen
  digday advise garden.yaml              the verdict on a written case
  digday why garden.yaml --not wait      why the advice is not to wait
  digday testdig --hill "2.1 1.2 3.0"    what a hill dug up says of the bed
  digday cases                           run every scenario that ships with digday
  digday rulebook check my-rulebook/     find what is wrong in a rulebook

exit codes: 0 done; 1 the answer is no (a case failed, problems were found);
2 the input or the command cannot be used.
"""


class Parser(argparse.ArgumentParser):
    """An argument parser that answers a mistake with one sentence and where to look."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong, with a near word when one is near, and leave with 2."""
        from assistant.rulebook.names import visible  # the rulebook's room is slow to load

        complain(visible(f"{self.prog}: {_in_words(message)} Try '{self.prog} --help'."))
        raise SystemExit(2)


class ShowVersion(argparse.Action):
    """Print the version of the installed program; looked up only when asked for."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: str | Sequence[Any] | None,
        option_string: str | None = None,
    ) -> NoReturn:
        """Print and leave."""
        from importlib.metadata import version

        print(f"digday {version('digday')}")
        raise SystemExit(0)


def build_parser(command: str | None = None) -> Parser:
    """The command line; parsed options carry `run`, the function that does the command.

    With the name of a command, only the part that this command needs, which is faster; none for a bare call ("").
    """
    parser = Parser(
        prog="digday",
        description="When to dig sweet potatoes: a short interview in the garden, then what to do, by when, and why.",
        epilog=EXAMPLES,
        formatter_class=HelpPage,
    )
    parser.add_argument("--version", action=ShowVersion, nargs=0, help="print the version and leave")
    parser.add_argument("--debug", action="store_true", help="show the traceback when something goes wrong inside")
    takes_file(parser, "--notebook", metavar="FILE", help="another notebook than your own")
    parser.add_argument("--plain", action="store_true", help="the beds and what each needs as a list")
    parser.add_argument("--json", action="store_true", help="the same as JSON for other programs")
    parser.set_defaults(run=_run_bare)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", parser_class=Parser)
    needed = [MODULES[command]] if command in MODULES else dict.fromkeys(MODULES.values()) if command != "" else ()
    for module in needed:
        import_module(f"assistant.cli.{module}").add_commands(commands)
    return parser


def _run_bare(options: argparse.Namespace) -> int:
    from assistant.cli.visiting import run_bare

    return run_bare(options)


def _in_words(message: str) -> str:
    """The parser's complaint as a sentence; for a misspelt word, with the one that was probably meant."""
    match = re.search(r"invalid choice: '(.*?)' \(choose from (.*)\)", message, re.DOTALL)
    if match is None:
        return f"{message}."
    import difflib

    choices = re.findall(r"[\w-]+", match[2])
    near = difflib.get_close_matches(match[1], choices, n=1)
    return f"'{match[1]}' is none of {', '.join(choices)}{f'; did you mean {near[0]}?' if near else '.'}"
