"""From a case file to a case, with every problem at its place."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from assistant.interview.answers import parse_answer
from assistant.model.case import Case, Expected, FrostDates, Garden, MonthDay, TestDig, WeatherFiles
from assistant.model.place import BadInput, Problem
from assistant.model.quantities import Kind, NotAValue, Units, parse_date, parse_value, split_unit
from assistant.model.readings import Known, Span
from assistant.model.rules import Rulebook
from assistant.rulebook import check_case_shape, read_document, read_rulebook
from assistant.rulebook.documents import Document
from assistant.rulebook.names import instead, quoted
from assistant.rulebook.shipped import NO_RULEBOOK

_LARGEST_ROOT = 30.0
"""No root is taken to be wider than this, in inches (a slip of the unit, not a sweet potato; our own judgement)."""
_LEAP_YEAR = 2000
"""A year that has every day."""


@lru_cache(maxsize=8)
def _rulebook(name: str) -> Rulebook:
    return read_rulebook(name)


def rulebook_of(case: Case) -> Rulebook:
    """The rulebook a case names: a shipped one, or a folder beside the case file. Raises `BadInput`."""
    beside = Path(case.place.file).parent / case.rulebook
    return _rulebook(str(beside) if beside.is_dir() else case.rulebook)


def read_case(path: Path) -> Case:
    """The case in a file. Raises `BadInput` with every problem found."""
    document = read_document(path)
    problems = list(check_case_shape(document))
    if problems:
        raise BadInput(problems)
    return _CaseReader(document, problems).read()


class _CaseReader(NamedTuple):
    """Turns a document of the right shape into a case, gathering problems as it goes."""

    document: Document
    problems: list[Problem]

    def read(self) -> Case:
        """The case, or `BadInput`."""
        data: Any = self.document.data
        on = self._day(("on",)) or date.min
        shell = Case(str(data["case"]), str(data["rulebook"]), on, Units(data.get("units", "us")),
                     place=self.document.place(()))  # fmt: skip
        if self.problems:
            raise BadInput(self.problems)
        rulebook = self._rulebook(shell)
        case = Case(
            shell.title,
            shell.rulebook,
            on,
            shell.units,
            Garden({name: self._frost(name) for name in data.get("garden") or {}}),
            dict(self._answers(rulebook, shell)),
            self._test_dig(shell.units) if data.get("test_dig") else None,
            self._expected() if data.get("expect") is not None else None,
            _source_codes(data.get("sources", ())),
            shell.place,
        )
        if self.problems:
            raise BadInput(self.problems)
        return self._with_weather(case) if data.get("weather") else case

    def _rulebook(self, shell: Case) -> Rulebook:
        """The rulebook named; where there is none of that name, the case's own line is at fault."""
        try:
            return rulebook_of(shell)
        except BadInput as bad:
            problem = bad.problems[0]
            if problem.code not in NO_RULEBOOK:
                raise
            self._add(problem.code, ("rulebook",), problem.message, problem.hint)
        raise BadInput(self.problems)

    def _with_weather(self, case: Case) -> Case:
        from assistant.cases.weather import with_weather  # few cases have any

        written = self._at(("weather",))
        files = WeatherFiles(
            str(written.get("record", "")),
            Units(written.get("record_units", "us")),
            str(written.get("forecast", "")),
            str(written.get("lows", "")),
            self._day(("weather", "lows_on")) if written.get("lows_on") else None,
        )
        try:
            return with_weather(case, files)
        except NotAValue as error:
            self._add("bad-value", ("weather", "lows"), f"{error}.")
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            self._add(
                "no-file", ("weather",), f"{error.filename} cannot be read: {reason}.", "Name a file that is there."
            )
        raise BadInput(self.problems)

    def _answers(self, rulebook: Rulebook, shell: Case) -> Iterator[tuple[str, Known]]:
        for name, value in (self._at(()).get("signs") or {}).items():
            sign = rulebook.signs.get(name)
            if sign is None:
                self._unknown_sign(rulebook, name)
                continue
            text = ", ".join(map(str, value)) if isinstance(value, list) else str(value)
            try:
                yield name, parse_answer(sign, text, shell.on, shell.units)
            except NotAValue as error:
                self._add("bad-value", ("signs", name), f"{name}: {error}")

    def _unknown_sign(self, rulebook: Rulebook, name: str) -> None:
        message = f"{rulebook.name} has no sign {quoted(name)}."
        self._add("unknown-sign", ("signs", name), message, instead(name, rulebook.signs), of_key=True)

    def _frost(self, name: str) -> FrostDates:
        known = len(self.problems)
        dates = FrostDates(*(self._month_day(("garden", name, part)) for part in FrostDates._fields))
        middle = dates.p50.in_year(_LEAP_YEAR)
        if len(self.problems) == known and not dates.p10.nearest(middle) < middle < dates.p90.nearest(middle):
            message = f"The dates of {quoted(name)} do not follow one another."
            self._add("bad-value", ("garden", name), message, "Write {p10: 10-08, p50: 10-20, p90: 11-02}.")
        return dates

    def _month_day(self, path: tuple[str, ...]) -> MonthDay:
        text = str(self._at(path))
        try:
            return MonthDay.parse(text)
        except NotAValue:
            self._add("bad-value", path, f"'{text}' is not a day of the year.", "Write month-day, such as 10-08.")
            return MonthDay(1, 1)

    def _day(self, path: tuple[str, ...]) -> date | None:
        try:
            return parse_date(str(self._at(path)))
        except NotAValue as error:
            self._add("bad-value", path, f"{error}.")
            return None

    def _test_dig(self, units: Units) -> TestDig:
        data = self._at(("test_dig",))
        hills = tuple(
            tuple(self._diameter(("test_dig", "hills", row, at), root, units) for at, root in enumerate(hill))
            for row, hill in enumerate(data["hills"])
        )
        return TestDig(self._wanted(str(data["wanted"]), units), hills)

    def _wanted(self, text: str, units: Units) -> Span:
        try:
            low, _, high = text.partition("..")
            unit = split_unit(Kind.LENGTH, high)[1] or units
            return Span(parse_value(Kind.LENGTH, low, unit), parse_value(Kind.LENGTH, high, unit))
        except (NotAValue, ValueError):
            hint = "Write LOW..HIGH, such as 1.75..3.5 in."
            self._add("bad-value", ("test_dig", "wanted"), f"'{text}' is no range of diameters.", hint)
            return Span(0, 0)

    def _diameter(self, path: tuple[str | int, ...], value: object, units: Units) -> float:
        try:
            diameter = parse_value(Kind.LENGTH, str(value), units)
        except NotAValue as error:
            self._add("bad-value", path, f"{error}.")
            return 1.0
        if not 0 < diameter <= _LARGEST_ROOT:
            self._add("bad-value", path, f"{value} is no diameter of a root.", "Check the number and `units`.")
        return diameter

    def _expected(self) -> Expected:
        data = self._at(("expect",))
        findings = {str(name): str(value) for name, value in data["findings"].items()} if data.get("findings") else None
        return Expected(
            data.get("advice"),
            data.get("outcome"),
            fired=_names(data.get("fired")),
            not_fired=_names(data.get("not_fired")),
            open=_names(data.get("open")),
            cautions=_names(data.get("cautions")),
            disagreements=_names(data.get("disagreements")),
            act_by=self._day(("expect", "act_by")) if data.get("act_by") else None,
            look_again=self._day(("expect", "look_again")) if data.get("look_again") else None,
            findings=findings,
        )

    def _at(self, path: tuple[str | int, ...]) -> Any:  # noqa: ANN401  (any YAML value)
        data: Any = self.document.data
        for step in path:
            data = data[step]
        return data

    def _add(self, code: str, path: tuple[str | int, ...], message: str, hint: str = "", of_key: bool = False) -> None:
        place = self.document.place(path, of_key)
        self.problems.append(self.document.problem(code, place, message, hint))


def _names(written: list[Any] | None) -> tuple[str, ...] | None:
    return None if written is None else tuple(map(str, written))


def _source_codes(written: object) -> tuple[str, ...]:
    return (written,) if isinstance(written, str) else tuple(map(str, written))  # type: ignore[call-overload]
