"""The reasoning as a tree any front can draw: verdict, rules, findings, answers, sources."""

from __future__ import annotations

from typing import NamedTuple

from assistant.explain.conditions import condition_words, first_obstacles
from assistant.explain.evidence import cautions, disagreements
from assistant.explain.unneeded import not_needed
from assistant.explain.wording import known_words, name_words, what_would_change
from assistant.model.conditions import Truth, truth
from assistant.model.derivation import Derivation, Firing, Verdict
from assistant.model.quantities import Units
from assistant.model.rules import ADVICE, COMMON_PRACTICE, Caution, Disagreement, Rule, Rulebook

WHY = "Why"
DECIDED = "What decided it"
WOULD_CHANGE = "What would change it"
NOT_NEEDED = "Not needed"
DISPUTED = "Where the handbooks disagree"
MIND = "Mind"
NEXT = "What to do next"


class Reason(NamedTuple):
    """One line of the reasoning and what it rests on.

    `kind` is verdict, section, rule, answer, finding, region, source, change, question, disagreement, caution or step.
    `place` is where a rule stands in its file.
    """

    kind: str
    text: str
    detail: str = ""
    children: tuple[Reason, ...] = ()
    place: str = ""


def reasoning(verdict: Verdict, units: Units = Units.US) -> Reason:
    """The whole reasoning behind a verdict, section by section, down to each answer and source."""
    derivation = verdict.derivation
    rulebook = derivation.rulebook
    advice = rulebook.advice.get(verdict.advice or "")
    sections = (
        Reason("section", WHY, children=_leading(verdict, units)),
        _decision(verdict, units),
        _section(WOULD_CHANGE, [Reason("change", words) for words in what_would_change(verdict)]),
        _not_needed(verdict),
        _section(DISPUTED, [_disagreement(rulebook, found) for found in disagreements(derivation)]),
        _section(MIND, [_caution(rulebook, found) for found in cautions(derivation)]),
        _section(NEXT, [Reason("step", step) for step in (advice.steps if advice else ())]),
    )
    says = advice.says if advice else ""
    return Reason("verdict", verdict.headline, says, tuple(section for section in sections if section.children))


def _section(title: str, reasons: list[Reason]) -> Reason:
    return Reason("section", title, children=tuple(reasons))


def _leading(verdict: Verdict, units: Units) -> tuple[Reason, ...]:
    """The rules that give the advice; where rules disagree over it, those of every side."""
    derivation = verdict.derivation
    speaking = (verdict.advice,) if verdict.advice else derivation.advice_given
    firings = [firing for advice in speaking for firing in derivation.firings_for(ADVICE, advice)]
    return tuple(_firing(derivation, firing, units) for firing in firings)


def why_not(verdict: Verdict, advice: str, units: Units = Units.US) -> Reason:
    """Why the verdict is not some other advice: for each rule that could give it, what stands in the way.

    Raises `KeyError` when the rulebook has no such advice.
    """
    derivation = verdict.derivation
    kind = derivation.rulebook.advice[advice]
    if advice == verdict.advice:
        return Reason("verdict", f"It is the advice: {verdict.headline}")
    rules = tuple(
        _rule_not_winning(derivation, rule, units) for rule in derivation.rulebook.rules_concluding(ADVICE, advice)
    )
    return Reason("verdict", f"Why not “{kind.headline}”?", kind.says, rules)


def _decision(verdict: Verdict, units: Units) -> Reason:
    """A smallest set of answers that alone forces the advice."""
    signs = verdict.decided_by if verdict.forced else ()
    alone = "This answer alone forces" if len(signs) == 1 else "These answers alone force"
    answers = tuple(_answer(verdict.derivation, sign, units)._replace(detail="") for sign in signs)
    return Reason("section", DECIDED, f"{alone} the advice, whatever else is true.", answers)


def _not_needed(verdict: Verdict) -> Reason:
    questions = tuple(Reason("question", sign.ask) for sign in not_needed(verdict))
    return Reason("section", NOT_NEEDED, "No answer to these can change the advice any more.", questions)


def _rule_not_winning(derivation: Derivation, rule: Rule, units: Units) -> Reason:
    state = truth(rule.when, derivation.knowledge)
    if state in (Truth.TRUE, Truth.DISPUTED):
        return Reason("rule", rule.says, f"it holds, but more pressing advice wins ({rule.name}, {rule.place})")
    word = "it cannot hold" if state is Truth.FALSE else "not enough is known"
    obstacles = tuple(
        _obstacle(derivation, name, words, units) for name, words in first_obstacles(derivation, rule.when, units)
    )
    return Reason("rule", rule.says, f"{word} ({rule.name}, {rule.place})", obstacles)


def _obstacle(derivation: Derivation, name: str, needs: str, units: Units) -> Reason:
    """What the rule needs there, and what is known instead."""
    if name in derivation.known:
        known = known_words(derivation.rulebook, name, derivation.known[name], units)
    else:
        known = " and ".join(sorted(derivation.knowledge.concluded.get(name, ()))) or "not concluded"
    return Reason("answer", f"needs {needs}", f"{name_words(derivation.rulebook, name)}: {known.replace('-', ' ')}")


def _firing(derivation: Derivation, firing: Firing, units: Units) -> Reason:
    children = [_answer(derivation, name, units) for name in firing.readings]
    children += [_finding(derivation, *found, units) for found in firing.findings]
    if firing.rule.because:
        children.append(Reason("region", f"Otherwise here: {firing.rule.because}"))
    children += _sources(derivation.rulebook, firing.rule.sources)
    words = condition_words(derivation.rulebook, firing.rule.when, units)
    detail = f"{firing.rule.name}: {words}"
    return Reason("rule", firing.rule.says, detail, tuple(children), str(firing.rule.place))


def _finding(derivation: Derivation, finding: str, value: str, units: Units) -> Reason:
    firings = derivation.firings_for(finding, value)
    found = derivation.rulebook.findings[finding]
    text = f"{found.says} {found.values[value].capitalize()}."
    detail = f"{name_words(derivation.rulebook, finding)}: {value.replace('-', ' ')}"
    return Reason("finding", text, detail, tuple(_firing(derivation, firing, units) for firing in firings))


def _answer(derivation: Derivation, name: str, units: Units) -> Reason:
    rulebook = derivation.rulebook
    text = f"{name_words(rulebook, name)}: {known_words(rulebook, name, derivation.known[name], units)}"
    measure = rulebook.measures.get(name)
    if measure and measure.sign:
        return Reason("answer", text, children=(_answer(derivation, measure.sign, units),))
    detail = rulebook.signs[name].ask if name in rulebook.signs else ""
    return Reason("answer", text, detail)


def _sources(rulebook: Rulebook, codes: tuple[str, ...]) -> list[Reason]:
    reasons = []
    for code in codes:
        if code == COMMON_PRACTICE:
            reasons.append(Reason("source", "common practice, no source"))
        else:
            source = rulebook.sources[code]
            reasons.append(Reason("source", f"{source.title}, {source.year}", f"{code}, {source.how.value}"))
    return reasons


def _disagreement(rulebook: Rulebook, found: Disagreement) -> Reason:
    sides = tuple(Reason("step", side.says, children=tuple(_sources(rulebook, side.sources))) for side in found.sides)
    return Reason("disagreement", found.about, f"Here: {found.taken}", sides)


def _caution(rulebook: Rulebook, found: Caution) -> Reason:
    return Reason("caution", found.text, children=tuple(_sources(rulebook, found.sources)))
