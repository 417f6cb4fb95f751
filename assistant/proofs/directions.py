"""A promise of the author that does not hold: an answer that should press more, and the advice is less urgent.

Every two exact answers to the sign are tried, the nearest first, with all else equal and as vague as can
be. Gardens without advice or with advice in conflict have no urgency; they are passed over, being flaws
of their own.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from assistant.interview.diagrams import Diagram
from assistant.interview.remainder import Ending
from assistant.model.quantities import Kind
from assistant.model.readings import Span, one_of
from assistant.model.rules import Direction
from assistant.proofs.answers import answer_of
from assistant.proofs.gardens import ON, Gardens, Ways
from assistant.proofs.report import Check, Flaw


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """One flaw for each direction that is broken, with two gardens that show it."""
    urgencies = {name: advice.urgency for name, advice in gardens.rulebook.advice.items()}
    without = [name for name, urgency in urgencies.items() if urgency is None]
    if gardens.rulebook.directions and without:
        yield f"the advice {', '.join(without)} has no urgency"
        return
    levels = _levels(gardens, {name: urgency for name, urgency in urgencies.items() if urgency is not None})
    for direction in gardens.rulebook.directions.values():
        order = _order(gardens, direction)
        for step in sorted(combinations(range(len(order)), 2), key=lambda pair: pair[1] - pair[0]):
            mild, pressing = order[step[0]], order[step[1]]
            ways = gardens.simplest(_broken(gardens, levels, direction.sign, mild, pressing))
            if ways is not None:
                yield _flaw(gardens, direction, ways, mild, pressing)
                break


def _levels(gardens: Gardens, urgencies: dict[str, int]) -> list[tuple[Diagram, Diagram]]:
    """For each urgency but the least: where the advice is at least so urgent, and where it is less so."""

    def at_least(level: int) -> Diagram:
        return gardens.ending(lambda ending: _is_plain(ending) and urgencies[str(ending.advice)] >= level)

    def below(level: int) -> Diagram:
        return gardens.ending(lambda ending: _is_plain(ending) and urgencies[str(ending.advice)] < level)

    return [(at_least(level), below(level)) for level in sorted(set(urgencies.values()))[1:]]


def _is_plain(ending: Ending) -> bool:
    return ending.advice is not None and not ending.conflict


def _order(gardens: Gardens, direction: Direction) -> list[int]:
    """The exact options of the sign from the least to the most pressing."""
    sign = gardens.rulebook.signs[direction.sign]
    if sign.kind is Kind.CHOICE:
        chosen = [gardens.rest.option_for(sign.name, one_of(choice)) for choice in direction.order]
        return list(dict.fromkeys(chosen))
    options = gardens.rest.options[sign.name].all
    cells = {number: option.reading.low for number, option in enumerate(options)
             if option.exact and isinstance(option.reading, Span)}  # fmt: skip
    return sorted(cells, key=cells.__getitem__, reverse=direction.order == ("lower",))


def _broken(gardens: Gardens, levels: list[tuple[Diagram, Diagram]], sign: str, mild: int, pressing: int) -> Diagram:
    """Where the milder answer gives the more urgent advice."""
    question = gardens.rest.questions.index(sign)

    def given(diagram: Diagram, option: int) -> Diagram:
        return gardens.diagrams.restrict(diagram, {question: option})

    return gardens.either(gardens.both(given(at_least, mild), given(below, pressing)) for at_least, below in levels)


def _flaw(gardens: Gardens, direction: Direction, ways: Ways, mild: int, pressing: int) -> Flaw:
    sign = gardens.rulebook.signs[direction.sign]
    before, after = (answer_of(sign, gardens.rest, option, ON).written for option in (mild, pressing))
    advice = [_advice(gardens, {**ways, sign.name: option}) for option in (mild, pressing)]
    message = f"'{direction.name}' does not hold: {sign.name} {before} gives {advice[0]}, {after} gives {advice[1]}."
    hint = "Mend the rules that tell the two cases apart, or leave that answer out of the direction."
    titles = (f"{direction.name} is broken: {sign.name} {written}" for written in (before, after))
    examples = tuple(
        gardens.case(title, {**ways, sign.name: option}) for title, option in zip(titles, (mild, pressing), strict=True)
    )
    return Flaw("direction-broken", direction.name, direction.place, message, hint, examples)


def _advice(gardens: Gardens, ways: Ways) -> str:
    ending = gardens.at(gardens.rest.root, {**gardens.unasked, **ways})
    assert isinstance(ending, Ending)
    assert ending.advice is not None
    return f"{ending.advice} (urgency {gardens.rulebook.advice[ending.advice].urgency})"


CHECK = Check("Every declared direction holds for every two exact answers, all else equal.", find)
