"""Case and scenario files: read into cases, written back, and run against what they expect."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

from assistant.interview import parse_answer
from assistant.model.case import Case, Expected, FrostDates, Garden, MonthDay, TestDig
from assistant.model.conditions import truth
from assistant.model.derivation import Verdict
from assistant.model.place import BadInput, Place, Problem
from assistant.model.quantities import Kind, NotAValue, Units, format_number, parse_date, parse_value, split_unit
from assistant.model.readings import Known, Span
from assistant.model.rules import Rulebook
from assistant.rulebook import check_case_shape, dump_yaml, near_name, read_document, read_rulebook, shipped_folder
from assistant.rulebook.documents import Document
from assistant.season import advise

_EXPECTED_LISTS = ("fired", "not_fired", "open", "cautions", "disagreements")
_EXPECTED_DAYS = ("act_by", "look_again")
_LARGEST_ROOT = 30.0
"""No root is taken to be wider than this, in inches (a slip of the unit, not a sweet potato; our own judgement)."""


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


@dataclass
class _CaseReader:
    """Turns a document of the right shape into a case, gathering problems as it goes."""

    document: Document
    problems: list[Problem]

    def read(self) -> Case:
        """The case, or `BadInput`."""
        data = self.document.data
        on = self._day(("on",)) or date.min
        shell = Case(str(data["case"]), str(data["rulebook"]), on, Units(data.get("units", "us")),
                     place=self.document.place(()))  # fmt: skip
        if self.problems:
            raise BadInput(self.problems)
        rulebook = rulebook_of(shell)
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
        return case

    def _answers(self, rulebook: Rulebook, shell: Case) -> Iterator[tuple[str, Known]]:
        for name, value in (self.document.data.get("signs") or {}).items():
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
        near = near_name(name, rulebook.signs)
        hint = f"Did you mean '{near}'?" if near else f"Signs are: {', '.join(rulebook.signs)}."
        message = f"{rulebook.name} has no sign '{name}'."
        self._add("unknown-sign", ("signs", name), message, hint, of_key=True)

    def _frost(self, name: str) -> FrostDates:
        dates = {}
        for part in ("p10", "p50", "p90"):
            dates[part] = self._month_day(("garden", name, part))
        return FrostDates(**dates)

    def _month_day(self, path: tuple[str, ...]) -> MonthDay:
        text = str(self._at(path))
        try:
            day = parse_date(f"2000-{text}")
            return MonthDay(day.month, day.day)
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
        data = self.document.data["test_dig"]
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
        data = self.document.data["expect"]
        lists = {key: tuple(map(str, data[key])) for key in _EXPECTED_LISTS if data.get(key) is not None}
        days = {key: self._day(("expect", key)) for key in _EXPECTED_DAYS if data.get(key) is not None}
        findings = {str(name): str(value) for name, value in data["findings"].items()} if data.get("findings") else None
        return Expected(data.get("advice"), data.get("outcome"), findings=findings, **lists, **days)

    def _at(self, path: tuple[str | int, ...]) -> Any:
        data: Any = self.document.data
        for step in path:
            data = data[step]
        return data

    def _add(
        self, code: str, path: tuple[str | int, ...], message: str, hint: str = "", of_key: bool = False
    ) -> None:
        place = self.document.place(path, of_key)
        self.problems.append(Problem(code, place, message, hint, self.document.excerpt(place)))


def _source_codes(written: object) -> tuple[str, ...]:
    return (written,) if isinstance(written, str) else tuple(map(str, written))  # type: ignore[call-overload]


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


def _expected_data(expected: Expected) -> dict[str, Any]:
    data: dict[str, Any] = {}
    for key in ("advice", "outcome", *_EXPECTED_LISTS, *_EXPECTED_DAYS, "findings"):
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

    Raises `OSError`.
    """
    descriptor, scratch = tempfile.mkstemp(prefix=f".{path.name}-", dir=path.parent)
    try:
        with os.fdopen(descriptor, "w", encoding="utf-8") as file:
            file.write(case_text(case))
            file.flush()
            os.fsync(file.fileno())
        os.replace(scratch, path)
    except BaseException:
        Path(scratch).unlink(missing_ok=True)
        raise


@dataclass(frozen=True)
class CaseResult:
    """A scenario run: what came of it, and each way in which that is not what it expects."""

    path: Path
    title: str
    failures: tuple[str, ...]
    verdict: Verdict


def find_scenarios(paths: Iterable[Path]) -> tuple[Path, ...]:
    """The case files at and below the given paths; with no path, the shipped scenarios. Raises `BadInput`."""
    given = list(paths) or [shipped_folder("scenarios")]
    found: list[Path] = []
    for path in given:
        files = sorted(path.rglob("*.yaml")) if path.is_dir() else [path]
        if not files:
            hint = "Name a case file, or a folder that holds some."
            raise BadInput([Problem("no-cases", Place(str(path)), "there is no case file (*.yaml) here.", hint)])
        found += files
    return tuple(found)


def run_case(path: Path) -> CaseResult:
    """Advise on a case and hold the verdict against what the case expects. Raises `BadInput`."""
    case = read_case(path)
    verdict = advise(rulebook_of(case), case)
    failures = tuple(_failures(case.expected, verdict)) if case.expected else ()
    return CaseResult(path, case.title, failures, verdict)


def _failures(expected: Expected, verdict: Verdict) -> Iterator[str]:
    for key in ("advice", "act_by", "look_again"):
        wanted, got = getattr(expected, key), getattr(verdict, key)
        if wanted not in (None, got):
            yield f"{key}: expected {wanted}, got {got}"
    if expected.outcome not in (None, verdict.outcome.value):
        yield f"outcome: expected {expected.outcome}, got {verdict.outcome.value}"
    yield from _rule_failures(expected, verdict)
    yield from _missing("cautions", expected.cautions, verdict.derivation.cautions)
    carried = [name for firing in verdict.derivation.firings for name in firing.rule.disputed]
    cautions = [verdict.derivation.rulebook.cautions[name] for name in verdict.derivation.cautions]
    carried += [name for caution in cautions for name in caution.disputed]
    yield from _missing("disagreements", expected.disagreements, carried)
    for finding, value in (expected.findings or {}).items():
        got = sorted(verdict.derivation.knowledge.concluded.get(finding, ()))
        if got != [value]:
            yield f"finding {finding}: expected {value}, got {' and '.join(got) or 'none'}"


def _rule_failures(expected: Expected, verdict: Verdict) -> Iterator[str]:
    derivation = verdict.derivation
    rules = {rule.name: rule for rule in derivation.rulebook.rules}
    wanted = {"fired": expected.fired, "not_fired": expected.not_fired, "open": expected.open}
    for key, names in wanted.items():
        for name in names or ():
            if name not in rules:
                yield f"{key}: there is no rule '{name}'"
                continue
            state = truth(rules[name].when, derivation.knowledge).value
            fired = name in derivation.fired
            right = {"fired": fired, "not_fired": not fired, "open": state == "open"}[key]
            if not right:
                yield f"{key}: rule {name} {'fired' if fired else f'did not fire, it is {state}'}"


def _missing(key: str, wanted: tuple[str, ...] | None, got: Iterable[str]) -> Iterator[str]:
    present = set(got)
    for name in wanted or ():
        if name not in present:
            yield f"{key}: {name} is missing"
