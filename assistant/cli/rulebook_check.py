"""`rulebook check`: what is wrong in a rulebook, what was proved of it and what was not; as text, lines or JSON."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from assistant.cli.output import BLANK, Line, say, say_json, write
from assistant.model.place import NOWHERE, BadInput, Place, Problem

if TYPE_CHECKING:
    from assistant.model.case import Case
    from assistant.model.rules import Rulebook
    from assistant.proofs import Flaw, Report

_COVERED = (
    "Proved for every way of answering, vague answers and can't tell included, and for gardens without frost dates "
    "or with dates in their order and within half a year of the visit."
)
_MORE = "digday rulebook check --explain CODE tells what a code means; --examples FOLDER writes the examples as cases."


@dataclass(frozen=True)
class Found:
    """One problem of a rulebook, with the cases that show it and, where they were written, their files."""

    problem: Problem
    examples: tuple[Case, ...] = ()
    files: tuple[Path, ...] = ()


@dataclass
class Checked:
    """One rulebook checked. With problems of reading it, nothing more was tried."""

    name: str
    found: list[Found]
    unproved: tuple[tuple[str, str], ...] = ()
    proved: tuple[str, ...] = ()
    place: Place = field(default=NOWHERE)


def run_check(options: argparse.Namespace) -> int:
    """Check one rulebook, or all that ship; 1 when something is wrong. Raises `BadInput` for a name that none has."""
    from assistant.rulebook import shipped_rulebooks

    if options.explain:
        from assistant.proofs import page

        say(page(options.explain).rstrip())
        return 0
    names = (options.rulebook,) if options.rulebook else shipped_rulebooks()
    checked = _without_repeats([_check(name, options.examples) for name in names])
    if options.json:
        say_json(_json(checked))
    elif options.lines:
        _say_lines(checked)
    else:
        _say_text(checked)
    return 1 if any(book.found for book in checked) else 0


def _check(name: str, examples: Path | None) -> Checked:
    from assistant.rulebook import read_rulebook
    from assistant.rulebook.shipped import NO_RULEBOOK

    try:
        rulebook = read_rulebook(name)
    except BadInput as error:
        if error.problems[0].code in NO_RULEBOOK:
            raise
        return Checked(name, [Found(problem) for problem in error.problems])
    return _proved(name, rulebook, examples)


def _proved(name: str, rulebook: Rulebook, examples: Path | None) -> Checked:
    from assistant.proofs import prove

    report: Report = prove(rulebook)
    found = [Found(_problem(flaw), flaw.examples, _written(flaw, rulebook, examples)) for flaw in report.flaws]
    unproved = tuple((item.what, item.why) for item in report.unproved)
    return Checked(name, found, unproved, report.proved, rulebook.place)


def _problem(flaw: Flaw) -> Problem:
    return Problem(flaw.code, flaw.place, flaw.message, flaw.hint, _excerpt(flaw.place))


def _excerpt(place: Place) -> tuple[str, ...]:
    """The line at fault and the one above it."""
    lines = Path(place.file).read_text(encoding="utf-8").splitlines() if place.line else []
    return tuple(lines[max(0, place.line - 2) : place.line])


def _written(flaw: Flaw, rulebook: Rulebook, folder: Path | None) -> tuple[Path, ...]:
    """Write the examples as case files that `digday advise` runs, and say where."""
    if folder is None:
        return ()
    from assistant.cases import save_case

    folder.mkdir(parents=True, exist_ok=True)
    stem = "-".join(word for word in (flaw.code, flaw.about) if word)
    numbers = [""] if len(flaw.examples) == 1 else [f"-{number + 1}" for number in range(len(flaw.examples))]
    paths = tuple(folder / f"{stem}{number}.yaml" for number in numbers)
    for path, case in zip(paths, flaw.examples, strict=True):
        save_case(replace(case, rulebook=_rulebook_from(folder, rulebook)), path)
    return paths


def _rulebook_from(folder: Path, rulebook: Rulebook) -> str:
    """How a case in that folder names the rulebook: a shipped one by its name, another by the way to its folder."""
    from assistant.rulebook import shipped_folder

    home = Path(rulebook.place.file).parent.resolve()
    shipped = shipped_folder("rulebooks") / rulebook.name
    return rulebook.name if home == shipped.resolve() else os.path.relpath(home, folder.resolve())


def _without_repeats(checked: list[Checked]) -> list[Checked]:
    """Each problem once: rulebooks that share a file share its problems."""
    seen: set[Problem] = set()
    for book in checked:
        book.found = [found for found in book.found if found.problem not in seen]
        seen.update(found.problem for found in book.found)
    return checked


def _say_lines(checked: Iterable[Checked]) -> None:
    for book in checked:
        for found in book.found:
            say(found.problem.one_line())
        for what, why in book.unproved:
            say(f"{book.place}: Not proved: {what} {_sentence(why)} [not-proved]")


def _say_text(checked: Iterable[Checked]) -> None:
    from assistant.rulebook import render_problem

    for book in checked:
        for found in book.found:
            say(render_problem(found.problem))
            write(_example_lines(found))
        write(_summary(book))


def _example_lines(found: Found) -> Iterator[Line]:
    for number, case in enumerate(found.examples):
        where = f" ({found.files[number]})" if found.files else ""
        yield Line(f"For example, {_in_short(case)}{where}", indent=2)


def _in_short(case: Case) -> str:
    """A case in one line: its answers, and its frost dates where it has any."""
    parts = [f"{name}: {known.written}" for name, known in case.answers.items()]
    parts += [f"{name}: {', '.join(map(str, dates))}" for name, dates in case.garden.dates.items()]
    return "; ".join(parts) or "with nothing answered"


def _summary(book: Checked) -> Iterator[Line]:
    problems = {0: "no problems", 1: "1 problem"}.get(len(book.found), f"{len(book.found)} problems")
    yield Line(f"{book.name}: {problems}.", "headline")
    for what in book.proved:
        yield Line(what, indent=2, bullet="proved: ")
    for what, why in book.unproved:
        yield Line(f"{what} {_sentence(why)}", indent=2, bullet="not proved: ")
    if book.proved:
        yield Line(_COVERED, "quiet", indent=2)
    if any(found.examples for found in book.found):
        yield Line(_MORE, "quiet", indent=2)
    yield BLANK


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('.') else '.'}"


def _json(checked: Iterable[Checked]) -> dict[str, Any]:
    from assistant.cases import case_data

    books = list(checked)
    return {
        "problems": [
            {
                **_problem_json(found.problem),
                "examples": [case_data(case) for case in found.examples],
                "files": [str(path) for path in found.files],
            }
            for book in books
            for found in book.found
        ],
        "unproved": [
            {"rulebook": book.name, "what": what, "why": why} for book in books for what, why in book.unproved
        ],
        "proved": [{"rulebook": book.name, "what": what} for book in books for what in book.proved],
    }


def _problem_json(problem: Problem) -> dict[str, Any]:
    return {
        "code": problem.code,
        "file": problem.place.file,
        "line": problem.place.line,
        "column": problem.place.column,
        "message": problem.message,
        "hint": problem.hint,
    }
