"""Rulebooks that a stranger could share to use up time or memory; each fits into the files that are read."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import product
from pathlib import Path

HEADING = """\
rulebook: crop/question
title: A rulebook from a stranger
version: "1"
format: 1
about: Made to use up time.
advice:
  several: the first listed wins
  kinds: {dig: {headline: Dig, says: Dig now.}, wait: {headline: Wait, says: Wait a while.}}
"""
CHOICE = "{kind: choice, ask: Which?, look: Look., effort: glance, choices: {a: first, b: second, c: third}}"
NUMBER = "{kind: number, ask: How much?, look: Look., effort: glance, range: 0..1000000}"
YES_NO = "{kind: yes-no, ask: Is it?, look: Look., effort: glance}"

Section = Mapping[str, str]


def rulebook(signs: Section, rules: Section, **sections: Section) -> str:
    """A rulebook's text; each section's entries by name, as they stand after the colon."""
    parts = {"signs": signs, "rules": rules, **sections}
    return HEADING + "".join(f"{name}:\n{_lines(entries)}" for name, entries in parts.items())


def _lines(entries: Section) -> str:
    return "".join(f"  {name}: {text}\n" for name, text in entries.items())


def rule(when: str, then: str = "advice: dig") -> str:
    """A rule of a condition."""
    return f"{{says: So., when: {when}, then: {{{then}}}, sources: common practice}}"


def names(prefix: str, count: int) -> list[str]:
    """So many names."""
    return [f"{prefix}-{number}" for number in range(count)]


def _all_of(parts: Iterable[str]) -> str:
    return f"{{all: [{', '.join(parts)}]}}"


def _any_of(parts: Iterable[str]) -> str:
    return f"{{any: [{', '.join(parts)}]}}"


def _pairs(first: str, second: str, count: int) -> str:
    """All of many either-ors, which multiply out to two to the power of as many."""
    return _all_of(_any_of((f"{{{first}-{n}: a}}", f"{{{second}-{n}: b}}")) for n in range(count))


def many_alternatives(count: int = 20) -> str:
    """One rule that falls apart into a million alternatives."""
    signs = [*names("x", count), *names("y", count)]
    return rulebook(dict.fromkeys(signs, CHOICE), {"bomb": rule(_pairs("x", "y", count))})


def many_rules_of_alternatives(count: int = 120) -> str:
    """Rules, each of which falls apart into a hundred alternatives of its own."""
    either = [_any_of(f"{{{name}: {choice}}}" for name in names(f"g{group}", 5) for choice in "ab") for group in (0, 1)]
    signs = dict.fromkeys([*names("g0", 5), *names("g1", 5), "n"], CHOICE) | {"n": NUMBER}
    rules = {f"r-{n}": rule(_all_of([*either, f"{{n: {{at_least: {n}}}}}"])) for n in range(count)}
    return rulebook(signs, rules)


def deep_negations() -> str:
    """Negations inside each other as deep as files are read."""
    when = "{x: a}"
    for _ in range(30):
        when = f"{{not: {when}}}"
    return rulebook({"x": CHOICE}, {"bomb": rule(when)})


def many_signs(count: int = 400) -> str:
    """Hundreds of questions, each with a rule."""
    signs = names("x", count)
    return rulebook(dict.fromkeys(signs, YES_NO), {f"r-{name}": rule(f"{{{name}: 'yes'}}") for name in signs})


def many_choices(count: int = 300) -> str:
    """A question of hundreds of choices that the rules all tell apart."""
    choices = names("c", count)
    sign = f"{{kind: choice, ask: Which?, look: Look., effort: glance, choices: {{{': x, '.join(choices)}: x}}}}"
    return rulebook({"x": sign}, {f"r-{name}": rule(f"{{x: {name}}}") for name in choices})


def many_thresholds(count: int = 200) -> str:
    """A number that rules compare with hundreds of bounds."""
    return rulebook({"n": NUMBER}, {f"r-{n}": rule(f"{{n: {{at_least: {n}}}}}") for n in range(count)})


def long_chain(count: int = 400) -> str:
    """Hundreds of findings, each resting on the one before."""
    rules = {"r-0": rule("{x: 'yes'}", "f-0: high")}
    rules |= {f"r-{n}": rule(f"{{f-{n - 1}: high}}", f"f-{n}: high") for n in range(1, count)}
    rules["last"] = rule(f"{{f-{count - 1}: high}}")
    return rulebook({"x": YES_NO}, rules, findings=dict.fromkeys(names("f", count), "{says: F., values: {high: h}}"))


def wide_findings(count: int = 150) -> str:
    """A finding that many rules conclude, and many look at."""
    concluding = {f"a-{n}": rule(f"{{n: {{at_least: {n}}}}}", "f: high") for n in range(count)}
    looking = {f"b-{n}": rule(f"{{f: high, n: {{below: {n}}}}}") for n in range(count)}
    return rulebook({"n": NUMBER}, concluding | looking, findings={"f": "{says: F., values: {high: h, low: l}}"})


def giant_table(count: int = 300) -> str:
    """A table of hundreds of rows, a choice for each."""
    rows = "".join(f"    t-{n}: {{named: t, days: {n}..{n + 9}, sources: common practice}}\n" for n in range(count))
    sign = "{kind: choice, ask: Which?, look: Look., effort: glance, choices_from: kinds}"
    days = "{kind: date, ask: When?, look: Look., effort: look-up, days_ago: 0..300}"
    measures = {
        "grown": "{says: Days., days_since: planted, range: 0..300}",
        "needed": "{says: Days., look_up: kind, in: kinds, column: days, range: 0..9999}",
    }
    text = rulebook({"kind": sign, "planted": days}, {"r": rule("{grown: {at_least: needed}}")}, measures=measures)
    return f"{text}tables:\n  kinds:\n{rows}"


def misspelt_everywhere() -> str:
    """Names that are not there, each nearly one of hundreds that are."""
    signs = dict.fromkeys(names("long-name-of-a-sign", 290), YES_NO)
    return rulebook(signs, {f"r-{n}": rule(f"{{long-name-of-a-sing-{n}: 'yes'}}") for n in range(900)})


def long_range() -> str:
    """A range of half a million letters, nearly one to the pattern of a range."""
    return rulebook({"n": NUMBER.replace("0..1000000", '"' + "1." * 250_000 + 'x"')}, {"r": rule("{n: {at_least: 1}}")})


def long_words() -> str:
    """A question, a headline and a rule of hundreds of thousands of letters."""
    told = rule("{x: 'yes'}").replace("So.", "s " * 99_999)
    text = rulebook({"x": YES_NO.replace("Is it?", "w" * 300_000)}, {"r": told})
    return text.replace("headline: Dig", f"headline: {'h' * 300_000}")


def huge_numbers() -> str:
    """Numbers of thousands of digits, and days beyond the calendar, wherever a number can stand."""
    digits = "9" * 5000
    signs = {
        "n": NUMBER.replace("1000000", digits),
        "d": "{kind: date, ask: When?, look: Look., effort: glance, days_ago: 0..999999999}",
        "m": NUMBER.replace("}", f", about: {digits}}}"),
    }
    told = rule(f"{{n: {{at_least: 1e{digits}}}}}").replace(
        "says:", "act_by: [{days: 999999999}], look_again: [{days: 999999999999999}], says:"
    )
    return rulebook(signs, {"r": told})


def all_combinations(count: int = 10) -> str:
    """A rule for each of the ways in which ten questions can be answered."""
    signs = names("x", count)
    ways = product("ab", repeat=len(signs))
    rules = {
        f"r-{n}": rule(f"{{{', '.join(f'{name}: {choice}' for name, choice in zip(signs, way, strict=True))}}}")
        for n, way in enumerate(ways)
    }
    return rulebook(dict.fromkeys(signs, CHOICE), rules)


def many_problems() -> str:
    """A problem on each of ten thousand of lines."""
    return HEADING + "signs:\n" + "".join(f"  X{n}: 1\n" for n in range(10_000))


BOMBS: Mapping[str, Callable[[], str]] = {
    bomb.__name__.replace("_", " "): bomb
    for bomb in (
        many_alternatives,
        many_rules_of_alternatives,
        deep_negations,
        many_signs,
        many_choices,
        many_thresholds,
        long_chain,
        wide_findings,
        giant_table,
        misspelt_everywhere,
        long_range,
        long_words,
        huge_numbers,
        all_combinations,
        many_problems,
    )
}


def write(folder: Path, text: str) -> Path:
    """A rulebook of one file in a folder, and a case of it beside; the case."""
    (folder / "question").mkdir(parents=True)
    (folder / "question" / "rulebook.yaml").write_text(text, encoding="utf-8")
    case = folder / "case.yaml"
    case.write_text("case: A bed\nrulebook: question\non: 2031-10-04\n", encoding="utf-8")
    return case
