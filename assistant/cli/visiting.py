"""`visit`, `demo` and bare `digday`: the interview, on a screen or line by line."""

from __future__ import annotations

import argparse
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file
from assistant.cli.failures import UsageError
from assistant.cli.output import complain
from assistant.cli.weather_options import takes_weather

if TYPE_CHECKING:
    from assistant.cli.commands import Commands
    from assistant.season import Visit

SHIPPED = "sweetpotato/when-to-dig"

VISIT_EXAMPLES = """\
  digday visit                              a new visit today
  digday visit --case garden.yaml           go on with a case; answers are saved to it
  digday visit --plain --units metric       line by line, in °C and cm
  digday visit --plain --save monday.yaml   say where the answers are kept
at each question: a number or a word, 'about 100', '90..110', '?' for can't tell,
and back, why, done or quit; record goes on once nothing can change the advice.
"""
DEMO_EXAMPLES = """\
  digday demo            the interview on an invented garden; nothing of yours is touched
  digday demo --plain    line by line, also where there is no terminal
"""


def add_commands(commands: Commands) -> None:
    """Add `demo` and `visit` to the command line."""
    demo = add_command(commands, "demo", run_demo, "try the interview on an invented garden", DEMO_EXAMPLES)
    demo.add_argument("--plain", action="store_true", help="line by line, without a screen")
    visit = add_command(commands, "visit", run_visit, "the interview, then the verdict", VISIT_EXAMPLES)
    takes_file(visit, "--case", metavar="FILE", help="start from this case and save to it")
    takes_file(visit, "--save", metavar="FILE", help="save the answers here instead")
    visit.add_argument("--plain", action="store_true", help="line by line, without a screen")
    visit.add_argument("--rulebook", metavar="NAME", help=f"a name or a folder (default: {SHIPPED})")
    visit.add_argument("--on", metavar="DATE", help="the day of the visit, such as 2031-10-04 (default: today)")
    takes_weather(visit)
    visit.add_argument("--units", choices=("us", "metric"), help="units of bare numbers (default: the case's, or us)")


def run_bare(options: argparse.Namespace) -> int:
    """A new visit today on the shipped rulebook, saved in the user's data folder."""
    _need_terminal("digday visit --plain")
    from assistant.cli.starting import new_file, new_visit

    on = date.today()
    _open_screen(new_visit(SHIPPED, on, None), new_file(on))
    return 0


def run_demo(options: argparse.Namespace) -> int:
    """The interview on an invented garden, saved nowhere that lasts."""
    if not (options.plain or _has_terminal()):
        complain("There is no terminal to open a screen in, so this is the plain demo, line by line.")
    if not options.plain and _has_terminal():
        _open_screen(None, None)
        return 0
    import tempfile

    from assistant.cli.plain_visit import interview
    from assistant.cli.starting import demo_visit

    with tempfile.TemporaryDirectory(prefix="digday-demo-") as folder:
        return interview(demo_visit(), Path(folder) / "demo.yaml", lasting=False)


def run_visit(options: argparse.Namespace) -> int:
    """The interview from a case or from nothing, saved after every answer."""
    if not options.plain:
        _need_terminal("digday visit --plain")
    from assistant.cli.starting import start

    visit, save_to = start(options)
    if options.plain:
        from assistant.cli.plain_visit import interview

        return interview(visit, save_to)
    _open_screen(visit, save_to)
    return 0


def _open_screen(visit: Visit | None, save_to: Path | None) -> None:
    """The one door to the terminal UI; without a visit it opens the demo."""
    from assistant import tui

    if visit is None or save_to is None:
        tui.open_demo()
    else:
        tui.open_visit(visit, save_to)


def _has_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()


def _need_terminal(instead: str) -> None:
    if not _has_terminal():
        raise UsageError(f"the screen needs a terminal, and this is none; use '{instead}'.")
