"""Scenarios: cases that say what must come of them, run against the rulebook."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from assistant.cases.reading import read_case, rulebook_of
from assistant.explain.evidence import disagreements
from assistant.model.case import Expected
from assistant.model.conditions import truth
from assistant.model.derivation import Verdict
from assistant.model.place import BadInput, Place, Problem
from assistant.rulebook import shipped_folder
from assistant.season import advise


class CaseResult(NamedTuple):
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
    shown = [found.name for found in disagreements(verdict.derivation)]
    yield from _missing("disagreements", expected.disagreements, shown)
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
