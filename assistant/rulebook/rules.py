"""Building sources, findings, advice, rules and the like from their declarations; what rules wait for and conclude."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from assistant.model.conditions import Concluded, Condition, leaves
from assistant.model.rules import (
    ADVICE,
    Advice,
    AfterNights,
    Caution,
    DayChoice,
    Disagreement,
    Finding,
    How,
    InDays,
    OnGardenDate,
    Rule,
    Side,
    Silenced,
    Source,
    WhenReached,
)
from assistant.rulebook.conditions import Conditions, counts_up
from assistant.rulebook.measures import is_garden_date
from assistant.rulebook.names import instead, listed, quoted
from assistant.rulebook.view import View
from assistant.rulebook.vocabulary import Vocabulary


def build_sources(words: Vocabulary) -> None:
    """Every source that is whole."""
    for name, view in words.declared["sources"].items():
        if view.whole:
            how = How(view.text("how"))
            title, year, grade, where = (view.text(key) for key in ("title", "year", "grade", "where"))
            words.sources[name] = Source(name, title, year, how, grade, where, view.place)


def build_disagreements(words: Vocabulary) -> None:
    """Every disagreement, its sides with their sources."""
    for name, view in words.declared["disagreements"].items():
        sides = view.within("sides")
        built = tuple(Side(side.text("says"), words.cited(side)) for side in sides.items()) if sides else ()
        words.disagreements[name] = Disagreement(name, view.text("about"), built, view.text("taken"), view.place)


def build_findings(words: Vocabulary) -> None:
    """Every finding whose values are whole."""
    for name, view in words.declared["findings"].items():
        values = view.get("values")
        if values is not None:
            meanings = {value: meaning.written for value, meaning in values.entries()}
            words.findings[name] = Finding(name, view.text("says"), meanings, view.place)


def build_advice(words: Vocabulary) -> None:
    """Every kind of advice, in the order in which they win."""
    for name, view in words.declared["advice"].items():
        steps = view.get("steps")
        texts = tuple(step.written for step in steps.items()) if steps else ()
        urgency = int(view.text("urgency")) if view.get("urgency") else None
        words.advice[name] = Advice(name, view.text("headline"), view.text("says"), texts, urgency, view.place)


def build_silenced(words: Vocabulary) -> None:
    """Every rule of a rulebook below that does not hold here, with the reason."""
    for name, view in words.declared["silences"].items():
        words.silenced[name] = Silenced(name, view.text("because"), words.cited(view), view.place)


def build_rules(words: Vocabulary) -> tuple[Rule, ...]:
    """Every rule in the order written; those with a problem are noted and must not be used."""
    return tuple(_rule(name, view, words) for name, view in words.declared["rules"].items())


def _rule(name: str, view: View, words: Vocabulary) -> Rule:
    concludes, value = _conclusion(view, words)
    for key in ("act_by", "look_again"):
        days = view.within(key)
        if days is not None and concludes not in (ADVICE, ""):
            message = f"{quoted(name)} concludes a finding, so it has no {key}."
            days.note("days-without-advice", message, f"Move {key} to the rule that gives the advice.", at_key=True)
    return Rule(
        name=name,
        says=view.text("says"),
        when=Conditions(words).read(view.within("when")),
        concludes=concludes,
        value=value,
        act_by=_days(view, "act_by", words),
        look_again=_days(view, "look_again", words),
        sources=words.cited(view),
        disputed=words.disputed(view),
        because=view.text("because"),
        place=view.place,
    )


def _conclusion(view: View, words: Vocabulary) -> tuple[str, str]:
    then = view.get("then")
    for name, value in then.entries() if then else ():
        if name == ADVICE:
            words.knows("advice", value.written, value)
        elif name not in words.declared["findings"]:
            if "findings" in words.unclear:
                return "", ""
            hint = instead(name, [ADVICE, *words.declared["findings"]])
            value.note("unknown-finding", f"No finding is called {quoted(name)}.", hint, at_key=True)
        elif name in words.findings and value.written not in words.findings[name].values:
            message = f"The finding {quoted(name)} has no value {quoted(value.written)}."
            value.note("unknown-value", message, instead(value.written, words.findings[name].values))
        return name, value.written
    return "", ""


def build_cautions(words: Vocabulary) -> dict[str, Caution]:
    """Every caution; those with a problem are noted and must not be used."""
    return {
        name: Caution(
            name=name,
            text=view.text("text"),
            when=Conditions(words, may_see_advice=True).read(view.within("when")),
            sources=words.cited(view),
            disputed=words.disputed(view),
            place=view.place,
        )
        for name, view in words.declared["cautions"].items()
    }


def _days(view: View, key: str, words: Vocabulary) -> tuple[DayChoice, ...]:
    listed_days = view.within(key)
    built = [_day(item, words) for item in listed_days.items() if item.whole] if listed_days else []
    return tuple(day for day in built if day is not None)


def _day(item: View, words: Vocabulary) -> DayChoice | None:
    nights, date, when, reaches = (item.get(key) for key in ("nights", "date", "when", "reaches"))
    days = int(item.text("days") or 0)
    if nights is not None:
        return AfterNights(nights.written) if _counts(nights, words) else None
    if date is not None:
        return OnGardenDate(date.written, days) if is_garden_date(date) else None
    if when is not None and reaches is not None:
        both = [_grows(when, words), _counts(reaches, words)]
        return WhenReached(when.written, reaches.written) if all(both) else None
    if days < 0:
        item.note("bad-value", f"{days} days after the visit is before it.", "Write {days: 14}.")
    return InDays(days)


def _counts(named: View, words: Vocabulary) -> bool:
    """Whether the name is of a sign or measure that counts days; where not, the problem is noted."""
    if named.written in words.numbers():
        return True
    known = named.written in words.declared["signs"] or named.written in words.declared["measures"]
    if not known and not words.unclear & {"signs", "measures"}:
        message = f"No sign or measure is called {quoted(named.written)}."
        named.note("unknown-measure", message, instead(named.written, words.numbers()) or "Write {days: 14}.")
    elif named.written in words.signs:
        message = f"{quoted(named.written)} is a {words.signs[named.written].kind.value} and counts no days."
        named.note("wrong-kind", message, instead(named.written, words.numbers()) or "Write {days: 14}.")
    return False


def _grows(named: View, words: Vocabulary) -> bool:
    if not _counts(named, words):
        return False
    measure = words.measures.get(named.written)
    if measure is not None and counts_up(measure):
        return True
    growing = [name for name, each in words.measures.items() if counts_up(each)]
    message = f"{quoted(named.written)} does not grow by one a day, so it reaches nothing."
    hint = f"Write a measure that has days_since: {listed(growing)}." if growing else "Write {days: 14}."
    named.note("wrong-kind", message, hint)
    return False


def _conditions(rules: Sequence[Rule], cautions: dict[str, Caution]) -> Iterator[tuple[str, str, Condition]]:
    for rule in rules:
        yield "rules", rule.name, rule.when
    for caution in cautions.values():
        yield "cautions", caution.name, caution.when


def check_findings(rules: Sequence[Rule], cautions: dict[str, Caution], words: Vocabulary) -> None:
    """A condition on what no rule concludes would stay open for ever."""
    concluded = {(rule.concludes, rule.value) for rule in rules}
    complete = all(rule.concludes for rule in rules)
    for section, name, condition in _conditions(rules, cautions):
        when = words.declared[section][name].within("when")
        for leaf in leaves(condition) if complete and when is not None else ():
            if isinstance(leaf, Concluded) and not any((leaf.finding, value) in concluded for value in leaf.values):
                assert when is not None
                what = "advice" if leaf.finding == ADVICE else f"the finding {quoted(leaf.finding)}"
                values = " or ".join(sorted(leaf.values))
                message = f"{quoted(name)} waits for {what} to be {values}, which no rule concludes."
                when.note("never-concluded", message, "Add a rule that concludes it, or take it out.", at_key=True)


def check_circles(rules: Sequence[Rule], words: Vocabulary) -> None:
    """Findings that rest on each other in a circle could never be concluded in order."""
    needs: dict[str, set[str]] = {}
    for rule in rules:
        below = needs.setdefault(rule.concludes, set())
        below.update(leaf.finding for leaf in leaves(rule.when) if isinstance(leaf, Concluded))
    in_circle = [name for name in needs if name in _reachable(name, needs)]
    for finding in in_circle[:1]:
        rule = next(rule for rule in rules if rule.concludes == finding and _rests_on(rule, in_circle))
        when = words.declared["rules"][rule.name].within("when")
        assert when is not None
        message = f"These findings rest on each other in a circle: {', '.join(sorted(in_circle))}."
        when.note("circular-findings", message, f"Let {quoted(rule.name)} rest on signs instead.", at_key=True)


def _rests_on(rule: Rule, findings: Sequence[str]) -> bool:
    return any(isinstance(leaf, Concluded) and leaf.finding in findings for leaf in leaves(rule.when))


def _reachable(start: str, needs: dict[str, set[str]]) -> set[str]:
    """Every finding that a finding rests on, directly or not."""
    found: set[str] = set()
    waiting = list(needs[start])
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += needs.get(name, ())
    return found
