"""A rulebook as a page of text, or as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from assistant.cli.output import BLANK, Line
from assistant.model.rules import ADVICE, Rule, Rulebook


def rulebook_lines(book: Rulebook) -> Iterator[Line]:
    """The rulebook in reading order: what it is for, what it asks, what it may say, by which rules."""
    yield Line(f"{book.title} ({book.name}, version {book.version})", "headline")
    yield Line(book.about.strip())
    yield from _differences(book)
    yield from _heading("Signs it may ask for")
    for sign in book.signs.values():
        yield Line(f"{sign.name}: {sign.ask}", indent=2, bullet="- ")
    yield from _heading("Measures it reckons")
    for measure in book.measures.values():
        yield Line(f"{measure.name}: {measure.says}", indent=2, bullet="- ")
    yield from _heading("Findings on the way")
    for finding in book.findings.values():
        yield Line(f"{finding.name}: {finding.says} {', '.join(finding.values)}.", indent=2, bullet="- ")
    yield from _heading(f"Advice, in this order ({book.several.value})")
    for advice in book.advice.values():
        yield Line(f"{advice.name}: {advice.headline}", indent=2, bullet="- ")
    yield from _rules(book)
    yield from _disputes_and_sources(book)


def _differences(book: Rulebook) -> Iterator[Line]:
    """The rules that are otherwise than in the rulebook built on, and those that do not hold, each with its reason."""
    if not book.builds_on:
        return
    yield from _heading(f"Otherwise than in {book.builds_on}")
    for rule in book.rules:
        if rule.because:
            yield Line(f"{rule.name}: {rule.because}", indent=2, bullet="- ")
            yield Line(", ".join(rule.sources), "quiet", 4)
    for silenced in book.silenced.values():
        yield Line(f"{silenced.name} does not hold: {silenced.because}", indent=2, bullet="- ")
        yield Line(", ".join(silenced.sources), "quiet", 4)


def _rules(book: Rulebook) -> Iterator[Line]:
    yield from _heading("Rules")
    for rule in book.rules:
        yield Line(f"{rule.name}: {rule.says}", indent=2, bullet="- ")
        yield Line(f"gives {_gives(rule)}; {', '.join(rule.sources)}; {rule.place}", "quiet", 4)


def _disputes_and_sources(book: Rulebook) -> Iterator[Line]:
    yield from _heading("Where handbooks disagree")
    for disagreement in book.disagreements.values():
        yield Line(f"{disagreement.about} Taken here: {disagreement.taken}", indent=2, bullet="- ")
    yield from _heading("Sources")
    for source in book.sources.values():
        yield Line(f"{source.id}: {source.title}, {source.year} ({source.how.value})", indent=2, bullet="- ")


def _gives(rule: Rule) -> str:
    return rule.value if rule.concludes == ADVICE else f"{rule.concludes} = {rule.value}"


def _heading(text: str) -> Iterator[Line]:
    yield BLANK
    yield Line(text, "section")


def rulebook_json(book: Rulebook) -> dict[str, Any]:
    """The same for other programs."""
    return {
        "name": book.name,
        "title": book.title,
        "version": book.version,
        "digest": book.digest,
        "about": book.about,
        "builds_on": book.builds_on,
        "silenced": [
            {"name": rule.name, "because": rule.because, "sources": list(rule.sources)}
            for rule in book.silenced.values()
        ],
        "signs": [
            {"name": sign.name, "kind": sign.kind.value, "ask": sign.ask, "choices": list(sign.choices)}
            for sign in book.signs.values()
        ],
        "measures": [{"name": measure.name, "says": measure.says} for measure in book.measures.values()],
        "findings": [{"name": finding.name, "values": list(finding.values)} for finding in book.findings.values()],
        "advice": [{"name": advice.name, "headline": advice.headline} for advice in book.advice.values()],
        "rules": [_rule_json(rule) for rule in book.rules],
        "disagreements": [
            {"name": item.name, "about": item.about, "taken": item.taken} for item in book.disagreements.values()
        ],
        "sources": [
            {"id": source.id, "title": source.title, "year": source.year, "how": source.how.value}
            for source in book.sources.values()
        ],
    }


def _rule_json(rule: Rule) -> dict[str, Any]:
    return {
        "name": rule.name,
        "says": rule.says,
        "concludes": rule.concludes,
        "value": rule.value,
        "because": rule.because,
        "sources": list(rule.sources),
        "file": rule.place.file,
        "line": rule.place.line,
    }
