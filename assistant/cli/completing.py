"""`completion`: the script that lets a shell complete digday's commands."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command

if TYPE_CHECKING:
    from assistant.cli.commands import Commands

EXAMPLES = """\
  digday completion bash > ~/.local/share/bash-completion/completions/digday
  digday completion zsh > ~/.zfunc/_digday
"""


def add_commands(commands: Commands) -> None:
    """Add `completion` to the command line."""
    completion = add_command(commands, "completion", run_completion, "print a shell's completion script", EXAMPLES)
    completion.add_argument("shell", choices=("bash", "zsh", "tcsh"))


def run_completion(options: argparse.Namespace) -> int:
    """Print the script for one shell."""
    import shtab

    from assistant.cli.parser import build_parser

    print(shtab.complete(build_parser(), options.shell))
    return 0
