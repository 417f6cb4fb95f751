"""`cases`: run scenario files against their rulebooks and say which fail, and how."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.cli.commands import add_command, takes_file, takes_json
from assistant.cli.failures import problems_text
from assistant.cli.output import Line, complain, say_json, write
from assistant.model.place import BadInput

if TYPE_CHECKING:
    from assistant.cases import CaseResult
    from assistant.cli.commands import Commands

EXAMPLES = """\
  digday cases                          every scenario that ships with digday
  digday cases my-cases/ frost.yaml     the files given, and all in the folders given
  digday cases --json                   the same for other programs
"""


def add_commands(commands: Commands) -> None:
    """Add `cases` to the command line."""
    cases = add_command(commands, "cases", run_cases, "run scenario files; exit 1 when one fails", EXAMPLES)
    takes_file(cases, "paths", nargs="*", metavar="PATH", help="scenario files or folders of them")
    takes_json(cases)


def run_cases(options: argparse.Namespace) -> int:
    """Run the scenarios; 1 when one fails, 2 when one cannot be read (the others run all the same)."""
    from assistant.cases import find_scenarios

    results, unreadable = _run_each(find_scenarios(options.paths))
    if options.json:
        say_json(_report(results, unreadable))
    else:
        write(_lines(results, len(unreadable)))
    if unreadable:
        return 2
    return 1 if any(result.failures for result in results) else 0


def _run_each(paths: tuple[Path, ...]) -> tuple[list[CaseResult], list[BadInput]]:
    """The results, and what could not be read; the latter is told at once."""
    from assistant.cases import run_case

    results, unreadable = [], []
    for path in paths:
        try:
            results.append(run_case(path))
        except BadInput as bad:
            unreadable.append(bad)
            complain(problems_text(bad))
    return results, unreadable


def _lines(results: list[CaseResult], unreadable: int) -> Iterator[Line]:
    failed = [result for result in results if result.failures]
    for result in failed:
        yield Line(f"{result.path}: {result.title}", "warning")
        for failure in result.failures:
            yield Line(failure, indent=2, bullet="- ")
    could_not = f", {unreadable} could not be read" if unreadable else ""
    yield Line(f"{_counted(len(results))} run, {len(failed)} failed{could_not}.")


def _counted(number: int) -> str:
    return "1 case" if number == 1 else f"{number} cases"


def _report(results: list[CaseResult], unreadable: list[BadInput]) -> dict[str, Any]:
    return {
        "run": len(results),
        "failed": sum(bool(result.failures) for result in results),
        "unreadable": [problem.one_line() for bad in unreadable for problem in bad.problems],
        "cases": [
            {
                "path": str(result.path),
                "title": result.title,
                "advice": result.verdict.advice,
                "outcome": result.verdict.outcome.value,
                "failures": list(result.failures),
            }
            for result in results
        ],
    }
