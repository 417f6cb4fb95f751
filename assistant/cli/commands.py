"""What the commands' parsers share."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.output import width

if TYPE_CHECKING:
    from typing import TypeAlias

    Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"

Run = Callable[[argparse.Namespace], int]

# The completion writer reads the attribute `complete`; these are its own words for "a file goes here".
_A_FILE = {"bash": "_shtab_compgen_files", "zsh": "_files", "tcsh": "f"}


class HelpPage(argparse.RawDescriptionHelpFormatter):
    """Help as wide as all else; argparse on its own would load `shutil` to learn how wide, at every start."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=width())


def add_command(commands: Commands, name: str, run: Run, summary: str, examples: str = "") -> argparse.ArgumentParser:
    """A command with its one-line summary and worked examples; it takes `--debug` as well."""
    command = commands.add_parser(
        name,
        help=summary,
        description=summary[0].upper() + summary[1:] + ".",
        epilog=f"examples:\n{examples}" if examples else None,
        formatter_class=HelpPage,
    )
    command.add_argument("--debug", action="store_true", default=argparse.SUPPRESS, help=argparse.SUPPRESS)
    command.set_defaults(run=run)
    return command


def takes_file(command: argparse.ArgumentParser, *names: str, **details: object) -> None:
    """An argument that is a path, completed as one."""
    action = command.add_argument(*names, type=Path, **details)  # type: ignore[arg-type]
    action.complete = _A_FILE  # type: ignore[attr-defined]


def takes_json(command: argparse.ArgumentParser) -> None:
    """The option that every reporting command has."""
    command.add_argument("--json", action="store_true", help="print JSON for other programs")
