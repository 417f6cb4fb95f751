"""How a visit starts: from which case, on which day, saved in which file."""

from __future__ import annotations

import argparse
from dataclasses import replace
from datetime import date
from pathlib import Path

from assistant.cases import read_case, rulebook_of
from assistant.cli.failures import UsageError
from assistant.cli.visiting import SHIPPED
from assistant.cli.weather_options import with_weather_of
from assistant.model.case import Case
from assistant.model.quantities import Kind, NotAValue, Units, parse_date
from assistant.model.readings import Span
from assistant.model.rules import Rulebook
from assistant.rulebook import read_rulebook, shipped_folder
from assistant.season import Visit

DEMO_CASE = Path(__file__).parents[1] / "tui" / "demo-garden.yaml"


def start(options: argparse.Namespace) -> tuple[Visit, Path]:
    """The visit that the options ask for and the file it is saved to."""
    if options.save and not options.save.absolute().parent.is_dir():
        raise UsageError(f"the folder of --save {options.save} is not there; make it first.")
    if options.case:
        return _from_case(options)
    on = _day(options.on) or date.today()
    save_to = options.save or new_file(on)
    if options.save and options.save.exists():
        raise UsageError(f"{options.save} is there already; to go on with it, give it as --case {options.save}.")
    visit = new_visit(options.rulebook or SHIPPED, on, options.units)
    return replace(visit, case=with_weather_of(visit.case, options)), save_to


def new_visit(rulebook: str, on: date, units: str | None) -> Visit:
    """A visit of which nothing is known yet. Without `units`, those the program is written in (°F, in)."""
    book = read_rulebook(rulebook)
    case = Case(title=f"Visit of {on.isoformat()}", rulebook=rulebook, on=on, units=Units(units or Units.US.value))
    return Visit(book, case)


def demo_visit() -> Visit:
    """The invented garden that the demo on the screen shows as well."""
    case = read_case(DEMO_CASE)
    return Visit(rulebook_of(case), case)


def new_file(on: date) -> Path:
    """A file that is not there yet in the user's data folder, named after the day."""
    from platformdirs import user_data_path

    folder = user_data_path("digday") / "visits"
    folder.mkdir(parents=True, exist_ok=True)
    path, again = folder / f"{on.isoformat()}.yaml", 2
    while path.exists():
        path, again = folder / f"{on.isoformat()}-{again}.yaml", again + 1
    return path


def _from_case(options: argparse.Namespace) -> tuple[Visit, Path]:
    if options.rulebook:
        raise UsageError("a case names its own rulebook; leave --rulebook out, or start without --case.")
    case = read_case(options.case)
    if options.units:
        case = replace(case, units=Units(options.units))
    book = rulebook_of(case)
    if options.on:
        case = replace(case, on=_day(options.on) or case.on)
        _check_dates(book, case)
    return Visit(book, with_weather_of(case, options)), options.save or _own_file(options.case, case.on)


def _own_file(path: Path, on: date) -> Path:
    """The case's own file, unless it is one that ships with the program."""
    shipped = shipped_folder("scenarios").resolve()
    return new_file(on) if path.resolve().is_relative_to(shipped) else path


def _check_dates(book: Rulebook, case: Case) -> None:
    """Refuse a day of visit that lies before a date the case already holds."""
    for name, known in case.answers.items():
        after = isinstance(known.reading, Span) and known.reading.high > case.on.toordinal()
        if after and book.signs[name].kind is Kind.DATE:
            raise UsageError(f"--on {case.on} is before {name} in the case; choose a later day.")


def _day(text: str | None) -> date | None:
    try:
        return parse_date(text) if text else None
    except NotAValue as reason:
        raise UsageError(f"--on: {reason}.") from None
