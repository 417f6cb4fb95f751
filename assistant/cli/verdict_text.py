"""The verdict as a page of text: what to do, by when, how, why, and what is disputed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from assistant.cli.output import BLANK, Line
from assistant.explain.evidence import cautions, disagreements, sources
from assistant.explain.unneeded import not_needed, not_needed_words
from assistant.explain.wording import known_words, name_words, what_would_change
from assistant.model.derivation import Firing, Outcome, Verdict
from assistant.model.quantities import Units
from assistant.model.rules import ADVICE


def verdict_lines(verdict: Verdict, units: Units) -> Iterator[Line]:
    """The whole page, section by section."""
    yield Line(f"{verdict.title}, {_day(verdict.on)}")
    yield BLANK
    yield from _what_to_do(verdict)
    yield from _next_steps(verdict)
    yield from _section("Mind", [caution.text for caution in cautions(verdict.derivation)])
    yield from _because(verdict, units)
    yield from _decided(verdict, units)
    yield from _section("What would change this", what_would_change(verdict))
    yield from _disputed(verdict)
    yield from _section(*_questions_left(verdict))
    yield from _sources(verdict)


def _what_to_do(verdict: Verdict) -> Iterator[Line]:
    """The headline, which holds the days, and how firm it is."""
    yield Line(f"{verdict.headline}.", "headline")
    advice = verdict.derivation.rulebook.advice.get(verdict.advice or "")
    if advice and advice.says:
        yield Line(advice.says)
    if verdict.outcome is Outcome.OPEN:
        yield Line("Not settled: the questions still open, below, could change this.")
    if not_needed(verdict):
        yield Line(f"Settled. {not_needed_words(verdict)}")
    for conflict in verdict.derivation.conflicts:
        name = name_words(verdict.derivation.rulebook, conflict.about)
        yield Line(f"The rules disagree over the {name}: {' against '.join(conflict.values)}.", "warning")


def _because(verdict: Verdict, units: Units) -> Iterator[Line]:
    """The rules that lead to the advice; for want of advice, every rule that fired."""
    derivation = verdict.derivation
    leading = derivation.firings
    if verdict.advice:
        leading = derivation.firings_for(ADVICE, verdict.advice)
    if not leading:
        return
    yield BLANK
    yield Line("Because", "section")
    told: set[str] = set()
    for firing in leading:
        yield from _firing(verdict, firing, units, 0, told)


def _firing(verdict: Verdict, firing: Firing, units: Units, depth: int, told: set[str]) -> Iterator[Line]:
    """A rule with what it looked at, and below it the rules it rests on; each rule is told once."""
    if firing.rule.name in told:
        return
    told.add(firing.rule.name)
    indent = 2 + depth * 2
    yield Line(firing.rule.says, indent=indent, bullet="- ")
    looked_at = [_reading(verdict, name, units) for name in firing.readings]
    if looked_at:
        yield Line("; ".join(looked_at) + ".", indent=indent + 2)
    if firing.rule.because:
        yield Line(f"Otherwise here: {firing.rule.because}", indent=indent + 2)
    yield Line(_credit(firing), "quiet", indent + 2)
    for finding, value in firing.findings:
        for earlier in verdict.derivation.firings_for(finding, value):
            yield from _firing(verdict, earlier, units, depth + 1, told)


def _reading(verdict: Verdict, name: str, units: Units) -> str:
    derivation = verdict.derivation
    told = known_words(derivation.rulebook, name, derivation.known[name], units)
    return f"{name_words(derivation.rulebook, name)}: {told}"


def _credit(firing: Firing) -> str:
    said_by = ", ".join(firing.rule.sources)
    return f"rule {firing.rule.name}; {said_by}" if said_by else f"rule {firing.rule.name}"


def _disputed(verdict: Verdict) -> Iterator[Line]:
    found = disagreements(verdict.derivation)
    if not found:
        return
    yield BLANK
    yield Line("Disputed", "section")
    for disagreement in found:
        yield Line(disagreement.about, indent=2, bullet="- ")
        for side in disagreement.sides:
            yield Line(f"{side.says} ({', '.join(side.sources)})", indent=4, bullet="- ")
        yield Line(f"Taken here: {disagreement.taken}", indent=4)


def _next_steps(verdict: Verdict) -> Iterator[Line]:
    advice = verdict.derivation.rulebook.advice.get(verdict.advice or "")
    if advice and advice.steps:
        yield BLANK
        yield Line("What to do next", "section")
        for number, step in enumerate(advice.steps, start=1):
            yield Line(step, indent=2, bullet=f"{number}. ")


def _decided(verdict: Verdict, units: Units) -> Iterator[Line]:
    """The fewest answers that alone force the advice; known for full verdicts only."""
    if verdict.forced:
        decided = [_reading(verdict, sign, units) for sign in verdict.decided_by]
        yield from _section("What decided this, whatever else is true", decided)


def _questions_left(verdict: Verdict) -> tuple[str, list[str]]:
    """The questions that still matter: for the advice, or once that is settled for its day."""
    signs = verdict.derivation.rulebook.signs
    asks = [signs[name].ask for name in verdict.questions_left]
    settled = verdict.outcome is Outcome.SETTLED
    return ("Still open, for the day alone" if settled else "Still open, and could change the advice"), asks


def _sources(verdict: Verdict) -> Iterator[Line]:
    """Those that the page cites; the warnings are cited in `why`."""
    cited = sources(verdict.derivation, of_cautions=False)
    yield from _section(
        "Sources", [f"{source.id}: {source.title}, {source.year} ({source.how.value})" for source in cited]
    )


def _section(title: str, items: list[str]) -> Iterator[Line]:
    """A headed list; nothing at all when it is empty."""
    if not items:
        return
    yield BLANK
    yield Line(title, "section")
    for item in items:
        yield Line(item, indent=2, bullet="- ")


def _day(day: date) -> str:
    return f"{day:%A} {day.day} {day:%B} {day.year}"
