"""Random rulebooks and readings for tests: every kind of sign, condition and layer, and rules that clash."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from random import Random

from assistant.model.conditions import (
    ALWAYS,
    All,
    AnyOf,
    CantTell,
    Compare,
    CompareTo,
    Concluded,
    Condition,
    Could,
    Not,
    OneOf,
    Op,
)
from assistant.model.quantities import Kind
from assistant.model.readings import Choices, Known, Origin, Reading, Span, hull
from assistant.model.rules import ADVICE, Advice, Caution, Finding, Rule, Rulebook, Several
from assistant.model.signs import DaysSince, Effort, Lookup, Measure, Row, Sign, Table

ON = date(2031, 10, 4)
VARIETY_DAYS = {"early": (85, 95), "middle": (90, 110), "late": (105, 125.5), "slow": (110, 140)}


@dataclass
class Maker:
    """Makes rulebooks and readings; `plain` leaves out *could* and *can't tell*."""

    random: Random
    plain: bool = False

    def rulebook(self, rules: int = 12, several: Several | None = None) -> Rulebook:
        """A rulebook of signs, a lookup, findings in layers, advice and cautions."""
        signs = {sign.name: sign for sign in self._signs()}
        table = _variety_table()
        findings = {name: Finding(name, name, dict.fromkeys(("a", "b", "c"), "")) for name in ("one", "two", "three")}
        advice = {name: Advice(name, name, name) for name in ("go", "wait", "stop")}
        blank = Rulebook(
            name="random",
            title="",
            version="1",
            about="",
            signs=signs,
            measures={measure.name: measure for measure in _measures(table)},
            tables={table.name: table},
            findings=findings,
            advice=advice,
            several=several or self.random.choice(list(Several)),
            rules=(),
            cautions={},
            disagreements={},
            sources={},
        )
        return replace(blank, rules=tuple(self.rules(blank, rules)), cautions=self._cautions(blank))

    def _signs(self) -> Iterator[Sign]:
        for number in range(self.random.randint(1, 3)):
            yield Sign(f"number {number}", Kind.NUMBER, "", "", Effort.GLANCE, low=-3, high=12)
        yield Sign("warmth", Kind.TEMPERATURE, "", "", Effort.STOOP, low=-20, high=100)
        yield Sign("planted", Kind.DATE, "", "", Effort.LOOK_UP, low=0, high=300)
        yield Sign("variety", Kind.CHOICE, "", "", Effort.GLANCE, choices=dict.fromkeys(VARIETY_DAYS, ""))
        for number in range(self.random.randint(1, 3)):
            size = self.random.randint(1, 4)
            choices = dict.fromkeys(("low", "kind", "sid", "frost-blackened")[:size], "")
            yield Sign(f"choice {number}", Kind.CHOICE, "", "", Effort.DIG, choices=choices)

    def rules(self, rulebook: Rulebook, count: int) -> Iterator[Rule]:
        """Rules that conclude findings and advice, each resting only on findings below its own."""
        names = list(rulebook.findings)
        for number in range(count):
            level = self.random.randint(0, len(names))
            concludes = [*names, ADVICE][level]
            values = rulebook.advice if concludes == ADVICE else rulebook.findings[concludes].values
            value = self.random.choice(list(values))
            when = self.condition(rulebook, tuple(names[:level]), depth=3)
            yield Rule(f"rule {number}", "", when, concludes, value)

    def _cautions(self, rulebook: Rulebook) -> dict[str, Caution]:
        names = (*rulebook.findings, ADVICE)
        return {
            name: Caution(name, "", self.condition(rulebook, names, depth=2)) for name in ("rule 0", "mind", "beware")
        }

    def condition(self, rulebook: Rulebook, findings: tuple[str, ...], depth: int) -> Condition:
        """A condition over the rulebook's readings and the given findings."""
        if depth == 0 or self.random.random() < 0.35:
            return self._leaf(rulebook, findings)
        parts = tuple(
            self.condition(rulebook, findings, depth - 1) for _ in range(self.random.choice((0, 1, 2, 2, 2, 3)))
        )
        forms: list[Condition] = [All(parts), AnyOf(parts)]
        if parts:
            forms += [Not(parts[0]), *([] if self.plain else [Could(parts[0])])]
        return self.random.choice(forms) if parts or self.random.random() < 0.3 else ALWAYS

    def _leaf(self, rulebook: Rulebook, findings: tuple[str, ...]) -> Condition:
        if findings and self.random.random() < 0.5:
            finding = self.random.choice(findings)
            values = tuple(rulebook.advice if finding == ADVICE else rulebook.findings[finding].values)
            return Concluded(finding, frozenset(self.random.sample(values, self.random.randint(1, len(values)))))
        sign = self.random.choice(list(rulebook.signs.values()))
        if not self.plain and self.random.random() < 0.1:
            return CantTell(sign.name)
        if sign.kind is Kind.CHOICE:
            choices = list(sign.choices)
            return OneOf(sign.name, frozenset(self.random.sample(choices, self.random.randint(1, len(choices)))))
        op = self.random.choice(list(Op))
        if sign.kind is Kind.DATE and self.random.random() < 0.7:
            return CompareTo("days in ground", op, "days needed")
        name = "days in ground" if sign.kind is Kind.DATE else sign.name
        domain = rulebook.measures[name].domain if name in rulebook.measures else sign.domain(ON)
        assert isinstance(domain, Span)
        return Compare(name, op, self._value(domain))

    def readings(self, rulebook: Rulebook) -> dict[str, Reading]:
        """A reading of every sign, from exact to unknown, and the measures that follow from them."""
        return with_measures(rulebook, {name: self._reading(sign) for name, sign in rulebook.signs.items()})

    def _reading(self, sign: Sign) -> Reading:
        domain = sign.domain(ON)
        return domain if self.random.random() < 0.2 else self.narrowed(domain)

    def narrowed(self, reading: Reading) -> Reading:
        """A reading that says at least as much."""
        if isinstance(reading, Choices):
            choices = sorted(reading.possible)
            return Choices(frozenset(self.random.sample(choices, self.random.randint(1, len(choices)))))
        ends = sorted((self._value(reading), self._value(reading)))
        return Span(ends[0], ends[0] if self.random.random() < 0.4 else ends[1])

    def _value(self, domain: Span) -> float:
        """A value of a coarse grid most of the time, so that bounds are met exactly; both ends included."""
        if self.random.random() < 0.1:
            return self.random.choice((domain.low, domain.high))
        value = self.random.uniform(domain.low, domain.high)
        coarse = round(value) if self.random.random() < 0.7 else round(value, 2)
        return min(max(coarse, domain.low), domain.high)


def domains(rulebook: Rulebook) -> dict[str, Reading]:
    """The whole domain of every sign and measure."""
    signs: dict[str, Reading] = {name: sign.domain(ON) for name, sign in rulebook.signs.items()}
    return {**signs, **{name: measure.domain for name, measure in rulebook.measures.items()}}


def with_measures(rulebook: Rulebook, signs: Mapping[str, Reading]) -> dict[str, Reading]:
    """Readings of the signs with those of the measures reckoned from them."""
    planted, variety = signs["planted"], signs["variety"]
    assert isinstance(planted, Span)
    assert isinstance(variety, Choices)
    days = Span(ON.toordinal() - planted.high, ON.toordinal() - planted.low)
    column = rulebook.tables["varieties"].column("days")
    return {**signs, "days in ground": days, "days needed": hull(column[name] for name in variety.possible)}


def known(readings: Mapping[str, Reading]) -> dict[str, Known]:
    """Readings as if a grower had answered them all."""
    return {name: Known(reading, Origin.ANSWERED) for name, reading in readings.items()}


def _variety_table() -> Table:
    rows = {name: Row(name, name, {"days": Span(*days)}, ()) for name, days in VARIETY_DAYS.items()}
    return Table("varieties", rows)


def _measures(table: Table) -> tuple[Measure, Measure]:
    whole = hull(table.column("days").values())
    return (
        Measure("days in ground", "", DaysSince("planted"), 0, 300),
        Measure("days needed", "", Lookup("variety", "varieties", "days"), whole.low, whole.high),
    )
