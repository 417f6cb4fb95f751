"""From a case to its file, so that saving never loses what was there."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from typing import Any

from assistant.model.case import Case, Expected, WeatherFiles
from assistant.model.quantities import Units, format_number
from assistant.rulebook import dump_yaml


def case_data(case: Case) -> dict[str, Any]:
    """The case as plain data in the order its file has."""
    data: dict[str, Any] = {
        "case": case.title,
        "rulebook": case.rulebook,
        "on": case.on.isoformat(),
        "units": case.units.value,
    }
    if case.garden.dates:
        data["garden"] = {
            name: {part: str(getattr(dates, part)) for part in ("p10", "p50", "p90")}
            for name, dates in case.garden.dates.items()
        }
    if case.weather_files:
        data["weather"] = _weather_data(case.weather_files)
    if case.answers:
        data["signs"] = {name: known.written for name, known in case.answers.items()}
    if case.test_dig:
        wanted = case.test_dig.wanted
        data["test_dig"] = {
            "wanted": f"{format_number(wanted.low)}..{format_number(wanted.high)} in",
            "hills": [[f"{format_number(root)} in" for root in hill] for hill in case.test_dig.hills],
        }
    if case.expected:
        data["expect"] = _expected_data(case.expected)
    if case.sources:
        data["sources"] = list(case.sources)
    return data


def _weather_data(files: WeatherFiles) -> dict[str, str]:
    named = {"record": files.record, "forecast": files.forecast, "lows": files.lows}
    metric = {"record_units": Units.METRIC.value} if files.record_units is Units.METRIC else {}
    typed = {"lows_on": files.lows_on.isoformat()} if files.lows_on else {}
    return {name: text for name, text in named.items() if text} | metric | typed


def _expected_data(expected: Expected) -> dict[str, Any]:
    data: dict[str, Any] = {}
    for key in expected._fields:
        value = getattr(expected, key)
        if isinstance(value, date):
            data[key] = value.isoformat()
        elif isinstance(value, tuple):
            data[key] = list(value)
        elif value is not None:
            data[key] = dict(value) if isinstance(value, Mapping) else value
    return data


def case_text(case: Case) -> str:
    """The case as the text of its file."""
    return dump_yaml(case_data(case))


def save_case(case: Case, path: Path) -> None:
    """Write a case so that the file holds either the old or the new text, whatever happens.

    The text goes into a scrap beside it first; one that a kill left there gives way to the next. Raises `OSError`.
    """
    scrap = path.with_name(f".{path.name}.new")
    with _alone_in(path.parent):
        scrap.unlink(missing_ok=True)
        try:
            with scrap.open("x", encoding="utf-8") as file:
                file.write(case_text(case))
                file.flush()
                os.fsync(file.fileno())
            os.replace(scrap, path)
        except BaseException:
            scrap.unlink(missing_ok=True)
            raise


@contextmanager
def _alone_in(folder: Path) -> Iterator[None]:
    """One program at a time, where the system can lock a folder; a lock ends with its program, also when killed."""
    try:
        import fcntl  # not on every system

        held = os.open(folder, os.O_RDONLY)
    except (ImportError, OSError):
        yield
        return
    try:
        with suppress(OSError):
            fcntl.flock(held, fcntl.LOCK_EX)
        yield
    finally:
        os.close(held)
