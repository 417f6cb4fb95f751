"""A rulebook as a page of text, or as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from assistant.cli.output import BLANK, Line
from assistant.model.rules import ADVICE, Rule, Rulebook
from assistant.model.signs import Row, Sign


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
        urgency = "" if advice.urgency is None else f" (urgency {advice.urgency})"
        yield Line(f"{advice.name}: {advice.headline}{urgency}", indent=2, bullet="- ")
    yield from _directions(book)
    yield from _rules(book)
    yield from _disputes_and_sources(book)


def _differences(book: Rulebook) -> Iterator[Line]:
    """What is otherwise than in the rulebook built on, and the rules that do not hold, each with its reason."""
    if not book.builds_on:
        return
    yield from _heading(f"Otherwise than in {book.builds_on}")
    for name, entry in _changed(book):
        yield Line(f"{name}: {entry.because}", indent=2, bullet="- ")
        yield Line(f"{', '.join(entry.sources)}; {entry.place}", "quiet", 4)
    for silenced in book.silenced.values():
        yield Line(f"{silenced.name} does not hold: {silenced.because}", indent=2, bullet="- ")
        yield Line(f"{', '.join(silenced.sources)}; {silenced.place}", "quiet", 4)


def _changed(book: Rulebook) -> Iterator[tuple[str, Rule | Sign | Row]]:
    """The rules, signs and rows of tables that have a reason to be otherwise, by what they are called."""
    yield from ((rule.name, rule) for rule in book.rules if rule.because)
    yield from ((sign.name, sign) for sign in book.signs.values() if sign.because)
    for table in book.tables.values():
        yield from ((f"{row.named} in {table.name}", row) for row in table.rows.values() if row.because)


def _directions(book: Rulebook) -> Iterator[Line]:
    if book.directions:
        yield from _heading("What it promises, all else being equal")
    for direction in book.directions.values():
        yield Line(f"{direction.name}: {direction.says}", indent=2, bullet="- ")
        way = " < ".join(direction.order)
        yield Line(f"{direction.sign}: {way}; {', '.join(direction.sources)}", "quiet", 4)


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
        "changed": [
            {"name": name, "because": entry.because, "sources": list(entry.sources)} for name, entry in _changed(book)
        ],
        "signs": [
            {"name": sign.name, "kind": sign.kind.value, "ask": sign.ask, "choices": list(sign.choices)}
            for sign in book.signs.values()
        ],
        "measures": [{"name": measure.name, "says": measure.says} for measure in book.measures.values()],
        "findings": [{"name": finding.name, "values": list(finding.values)} for finding in book.findings.values()],
        "advice": [
            {"name": advice.name, "headline": advice.headline, "urgency": advice.urgency}
            for advice in book.advice.values()
        ],
        "directions": [
            {"name": each.name, "says": each.says, "sign": each.sign, "presses": list(each.order)}
            for each in book.directions.values()
        ],
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
