"""Every garden a rulebook can meet, as decision diagrams: where each rule fires and how each garden ends.

A garden is a way of answering every sign, vague answers and *can't tell* included, and of having frost
dates of its own or not. Diagrams here are false for what no garden can be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from assistant.interview.diagrams import Diagram, Diagrams, Leaf
from assistant.interview.remainder import Ending, Remainder, remainder
from assistant.measures import domains, known_readings
from assistant.model.case import Case, Garden
from assistant.model.quantities import Kind
from assistant.model.readings import Known, Origin, Reading, Span
from assistant.model.rules import Rulebook
from assistant.proofs.answers import answer_of
from assistant.proofs.frosts import Frosts, frosts_of, widened

ON = date(2031, 10, 1)
"""The day of every example. Rules see days only as counts from the day of the visit, so one day stands for all."""

Ways = Mapping[str, int]
"""A garden, or all gardens alike in some answers: the option of each sign or frost measure that is looked at."""


@dataclass(frozen=True, eq=False)
class Gardens:
    """All gardens of a rulebook. `unasked` is the option of each question that nobody answered."""

    rulebook: Rulebook
    rest: Remainder
    unasked: Ways
    frosts: tuple[Frosts, ...]
    possible: Diagram

    @property
    def diagrams(self) -> Diagrams:
        """What the diagrams are combined with."""
        return self.rest.diagrams

    @property
    def nowhere(self) -> Diagram:
        """The diagram that is true of no garden."""
        return self.diagrams.leaf(False)

    def fires(self, rule: str) -> Diagram:
        """Where the rule of that name fires."""
        return self.both(self.possible, self.rest.fired[rule])

    def concluded(self, about: str, value: str) -> Diagram:
        """Where some rule gives a finding, or the advice, that value."""
        return self.both(self.possible, self.rest.concluded.get((about, value), self.nowhere))

    def both(self, *parts: Diagram) -> Diagram:
        """Where all the diagrams are true."""
        return self.diagrams.all_of(parts)

    def either(self, parts: Iterable[Diagram]) -> Diagram:
        """Where some diagram is true."""
        return self.diagrams.any_of(parts)

    def but_not(self, diagram: Diagram, other: Diagram) -> Diagram:
        """Where the one is true and the other is not."""
        return self.diagrams.choose(other, self.nowhere, diagram)

    def ending(self, wanted: Callable[[Ending], bool]) -> Diagram:
        """Where gardens end as wanted."""
        found: dict[int, Diagram] = {}

        def visit(current: Diagram) -> Diagram:
            if isinstance(current, Leaf):
                return self.diagrams.leaf(isinstance(current.value, Ending) and wanted(current.value))
            if id(current) not in found:
                found[id(current)] = self.diagrams.node(current.question, tuple(map(visit, current.children)))
            return found[id(current)]

        return visit(self.ends)

    @cached_property
    def ends(self) -> Diagram:
        """How each garden ends, and None for what no garden can be."""
        return self.diagrams.choose(self.possible, self.rest.root, self.diagrams.leaf(None))

    def exact(self, signs: Iterable[str]) -> Diagram:
        """Where these signs are answered with one exact value or choice each."""
        options = {name: self.rest.options[name].all for name in signs}
        exact = {name: [number for number, option in enumerate(all_) if option.exact] for name, all_ in options.items()}
        return self.diagrams.each_among({self.rest.questions.index(name): numbers for name, numbers in exact.items()})

    def alike(self, ways: Ways) -> Diagram:
        """The gardens with these options."""
        return _alike(self.rest, ways)

    def simplest(self, diagram: Diagram) -> dict[str, int] | None:
        """A garden where a diagram is true, of few answers and rather exact than vague ones; None if there is none."""
        best: dict[int, tuple[int, tuple[tuple[str, int], ...]] | None] = {}

        def visit(current: Diagram) -> tuple[int, tuple[tuple[str, int], ...]] | None:
            if isinstance(current, Leaf):
                return (0, ()) if current.value else None
            if id(current) not in best:
                name = self.rest.questions[current.question]
                found = ((self._effort(name, option), option, visit(child)) for option, child in
                         enumerate(current.children))  # fmt: skip
                ways = [(way[0] + effort, ((name, option), *way[1])) for effort, option, way in found if way]
                best[id(current)] = min(ways, key=lambda way: way[0], default=None)
            return best[id(current)]

        way = visit(diagram)
        return None if way is None else dict(way[1])

    def _effort(self, name: str, option: int) -> int:
        """What an answer adds to an example: nothing when it is left out, and more when it is vague."""
        if option == self.unasked[name]:
            return 0
        return 2 if self.rest.options[name].all[option].exact else 3

    def samples(self, diagram: Diagram, most: int = 3) -> Iterator[dict[str, int]]:
        """A few gardens where a diagram is true, each unlike the ones before."""
        for _ in range(most):
            ways = self.simplest(diagram)
            if ways is None:
                return
            yield ways
            telling = {name: option for name, option in ways.items() if option != self.unasked[name]}
            diagram = self.but_not(diagram, self.alike(telling or ways))

    def case(self, title: str, ways: Ways, every: bool = False) -> Case:
        """A case of such a garden. Answers that count as not asked are left out, but for `every`."""
        signs = [name for name in self.rulebook.signs if name in ways]
        asked = [name for name in signs if every or ways[name] != self.unasked[name]]
        dates = {frosts.name: frosts.dates(ways, ON) for frosts in self.frosts}
        return Case(
            title,
            self.rulebook.name,
            ON,
            garden=Garden({name: known for name, known in dates.items() if known}),
            answers={name: answer_of(self.rulebook.signs[name], self.rest, ways[name], ON) for name in asked},
        )

    def ways_of(self, case: Case) -> dict[str, int]:
        """The options that a case of this rulebook is at, on whatever day."""
        known = known_readings(self.rulebook, case)
        return {name: self.rest.option_for(name, self._on_our_day(name, known, case)) for name in self.rest.questions}

    def _on_our_day(self, name: str, known: Mapping[str, Known], case: Case) -> Reading:
        """A reading as it would be were the visit on the day of the examples: dates move with it."""
        reading, sign = known[name].reading, self.rulebook.signs.get(name)
        if sign is None:
            assert isinstance(reading, Span)
            return reading.meet(self.rulebook.measures[name].domain) or self.rulebook.measures[name].domain
        if sign.kind is Kind.DATE:
            assert isinstance(reading, Span)
            later = ON.toordinal() - case.on.toordinal()
            return Span(reading.low + later, reading.high + later)
        return reading

    def at(self, diagram: Diagram, ways: Ways) -> object:
        """What a diagram says of a garden."""
        while not isinstance(diagram, Leaf):
            diagram = diagram.children[ways[self.rest.questions[diagram.question]]]
        return diagram.value


def gardens_of(rulebook: Rulebook) -> Gardens:
    """All gardens of a rulebook. Raises `TooLarge`, `TooManyChoices` or `TooManyBranches`."""
    wide = widened(rulebook)
    whole: dict[str, Reading] = domains(wide, ON)
    rest = remainder(wide, {name: Known(domain, Origin.NOT_ASKED) for name, domain in whole.items()}, whole)
    unasked = {name: rest.option_for(name, whole[name]) for name in rest.questions}
    frosts = frosts_of(rulebook, rest, unasked)
    return Gardens(rulebook, rest, unasked, frosts, _possible(rest, frosts))


def _possible(rest: Remainder, frosts: tuple[Frosts, ...]) -> Diagram:
    """Where the frost dates are such as a garden can have."""
    return rest.diagrams.all_of(rest.diagrams.any_of(_alike(rest, ways) for ways in some.possible()) for some in frosts)


def _alike(rest: Remainder, ways: Ways) -> Diagram:
    return rest.diagrams.each_among({rest.questions.index(name): (option,) for name, option in ways.items()})
