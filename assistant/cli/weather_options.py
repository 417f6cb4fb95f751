"""The options that give a case its weather, shared by the commands that take a case."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.cli.commands import takes_file

if TYPE_CHECKING:
    from assistant.model.case import Case, WeatherFiles


def takes_weather(command: argparse.ArgumentParser) -> None:
    """The options `--weather`, `--forecast` and `--lows`."""
    takes_file(command, "--weather", metavar="FILE", help="the daily record of a station near the garden")
    takes_file(command, "--forecast", metavar="FILE", help="a forecast: the weather service's JSON, or a MEX bulletin")
    command.add_argument("--lows", metavar="LOWS", help="lows of the coming nights instead, such as '44 40 38'")


def takes_units(command: argparse.ArgumentParser) -> None:
    """The option `--units`, where it also says in which units a record is."""
    command.add_argument(
        "--units", choices=("us", "metric"), help="units of the record, of bare numbers and of the page"
    )


def case_of(options: argparse.Namespace) -> Case:
    """The case that the options name, in their units and with their weather. Raises `BadInput`, `UsageError`."""
    from assistant.cases import read_case

    case = read_case(options.case)
    if options.units:
        from dataclasses import replace

        from assistant.model.quantities import Units

        case = replace(case, units=Units(options.units))
    return with_weather_of(case, options)


def with_weather_of(case: Case, options: argparse.Namespace) -> Case:
    """The case with the weather that the options name in place of its own. Raises `BadInput`, `UsageError`."""
    if not (options.weather or options.forecast or options.lows is not None):
        return case
    from assistant.cases.weather import with_weather
    from assistant.cli.failures import UsageError, value_of

    if options.lows is not None and not options.lows.strip():
        raise UsageError("--lows holds no low; write one low a night, tonight's first, such as '44 40 38'.")
    if options.forecast and options.lows:
        raise UsageError("give the coming nights once: --forecast FILE or --lows, not both.")
    with value_of("--lows"):
        return with_weather(case, _files(case, options))


def _files(case: Case, options: argparse.Namespace) -> WeatherFiles:
    from assistant.model.case import WeatherFiles as Files
    from assistant.model.quantities import Units

    named = case.weather_files or Files()
    if options.weather:
        units = Units(options.units or Units.US.value)
        named = named._replace(record=_absolute(options.weather), record_units=units)
    if options.forecast or options.lows:
        named = named._replace(forecast=_absolute(options.forecast), lows=options.lows or "", lows_on=None)
    return named


def _absolute(path: Path | None) -> str:
    """A path that means the same from the folder of the case."""
    return str(path.absolute()) if path else ""
