"""`visit`, `demo` and bare `digday`: the garden and the interview, on a screen or line by line."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.commands import add_command, takes_file
from assistant.cli.failures import UsageError
from assistant.cli.output import complain
from assistant.cli.weather_options import takes_weather

if TYPE_CHECKING:
    from assistant.cli.commands import Commands

SHIPPED = "sweetpotato/when-to-dig"

VISIT_EXAMPLES = """\
  digday visit "North bed"                  today's visit to a bed of the notebook
  digday visit                              a new visit today, in a file of its own
  digday visit --case garden.yaml           go on with a case; answers are saved to it
  digday visit --plain --units metric       line by line, in °C and cm
  digday visit --plain --save monday.yaml   say where the answers are kept
at each question: a number or a word, 'about 100', '90..110', '?' for can't tell,
and back, why, done or quit; record goes on once nothing can change the advice.
--plain takes the hills of a test dig too: 'dig 2.1 1.2 3.0 / 2.4 2.2', a hill between strokes.
"""
DEMO_EXAMPLES = """\
  digday demo            an invented garden to try everything on; nothing of yours is touched
  digday demo --plain    line by line, also where there is no terminal
"""


def add_commands(commands: Commands) -> None:
    """Add `demo` and `visit` to the command line."""
    demo = add_command(commands, "demo", run_demo, "try everything on an invented garden", DEMO_EXAMPLES)
    demo.add_argument("--plain", action="store_true", help="line by line, without a screen")
    visit = add_command(commands, "visit", run_visit, "the interview, then the verdict", VISIT_EXAMPLES)
    visit.add_argument("bed", nargs="?", metavar="BED", help="a bed of the notebook, by its name or how that begins")
    takes_file(visit, "--notebook", metavar="FILE", help="another notebook than your own")
    takes_file(visit, "--case", metavar="FILE", help="start from this case and save to it")
    takes_file(visit, "--save", metavar="FILE", help="save the answers here instead")
    visit.add_argument("--plain", action="store_true", help="line by line, without a screen")
    visit.add_argument("--rulebook", metavar="NAME", help=f"a name or a folder (default: {SHIPPED})")
    visit.add_argument("--on", metavar="DATE", help="the day of the visit, such as 2031-10-04 (default: today)")
    takes_weather(visit)
    visit.add_argument("--units", choices=("us", "metric"), help="units of bare numbers (default: the case's, or us)")


def run_bare(options: argparse.Namespace) -> int:
    """Every bed and what it needs, on the screen or as a list."""
    if options.plain or options.json:
        from assistant.cli.beds import run_list

        options.on = None
        return run_list(options)
    _need_terminal("digday --plain")
    _open_screen("open_garden", options.notebook)
    return 0


def run_demo(options: argparse.Namespace) -> int:
    """An invented garden, kept nowhere that lasts: its beds and an interview."""
    if not (options.plain or _has_terminal()):
        complain("There is no terminal to open a screen in, so this is the plain demo, line by line.")
    if not options.plain and _has_terminal():
        _open_screen("open_demo")
        return 0
    import tempfile

    from assistant.cli.beds import demo_lines
    from assistant.cli.output import write
    from assistant.cli.plain_visit import interview
    from assistant.cli.starting import demo_visit

    with tempfile.TemporaryDirectory(prefix="digday-demo-") as folder:
        write(demo_lines(Path(folder) / "notebook.sqlite"))
        return interview(demo_visit(), Path(folder) / "demo.yaml", lasting=False)


def run_visit(options: argparse.Namespace) -> int:
    """The interview from a case or from nothing, saved after every answer."""
    if not options.plain:
        _need_terminal("digday visit --plain")
    if options.bed is not None:
        return _visit_bed(options)
    from assistant.cli.starting import start

    visit, save_to = start(options)
    if options.plain:
        from assistant.cli.plain_visit import interview

        return interview(visit, save_to)
    _open_screen("open_visit", visit, save_to)
    return 0


def _visit_bed(options: argparse.Namespace) -> int:
    """Today's visit to a bed of the notebook."""
    taken = [name for name in ("case", "save", "rulebook") if getattr(options, name)]
    if taken:
        raise UsageError(f"a visit to a bed is kept in the notebook; leave --{taken[0]} out.")
    if options.plain:
        from assistant.cli.beds import plain_visit_to

        return plain_visit_to(options)
    _open_screen("open_bed", options.notebook, options.bed, options.on)
    return 0


def _open_screen(which: str, *what: object) -> None:
    """The one door to the terminal UI."""
    from assistant import tui

    getattr(tui, which)(*what)


def _has_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()


def _need_terminal(instead: str) -> None:
    if not _has_terminal():
        raise UsageError(f"the screen needs a terminal, and this is none; use '{instead}'.")
