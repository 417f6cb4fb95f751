"""Large rulebooks made up to look like real ones, and gardens to hold against them.

Signs stand in groups of three, each group under a finding; findings are gathered into findings above
them until at most five are left, and these are what the advice rests on. The rules of a finding are
the rows of a decision table, so no two of them disagree: they look at one to four names, at
thresholds of a sign, sets of choices, values of findings, with *could* and *can't tell* as cautious
authors write them. Advice rules overlap, and the first listed wins. `tangle` is how often a rule
looks at a name that does not belong to its group.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from random import Random
from typing import NamedTuple

from assistant.measures import known_readings
from assistant.model.case import Case
from assistant.model.conditions import (
    All,
    CantTell,
    Compare,
    Concluded,
    Condition,
    Could,
    Not,
    OneOf,
    Op,
)
from assistant.model.quantities import Kind
from assistant.model.readings import Choices, Known, Origin, Reading, Span, exactly
from assistant.model.rules import ADVICE, Advice, Finding, Rule, Rulebook, Several
from assistant.model.signs import DaysSince, Effort, Measure, Sign

ON = date(2031, 10, 4)
GROUP = 3
MOST_NAMES = 4
MOST_AT_THE_TOP = 5
SHARE_OF_FINDINGS = 0.85
ADVICE_KINDS = tuple(f"advice-{number}" for number in range(1, 9))
VALUES = ("poor", "fair", "good", "fine")
CANT_TELL_SHARE, VAGUE_SHARE = 0.1, 0.15


class Size(NamedTuple):
    """How large a rulebook is, how often a rule looks outside its group, and how many groups away at most."""

    signs: int
    rules: int
    tangle: float = 0.3
    reach: int = 1


SIZES = tuple(Size(*size) for size in ((10, 40), (20, 100), (40, 200), (60, 300), (80, 400), (100, 500), (120, 600)))


class Band(NamedTuple):
    """A part of what a name can be: how a rule asks for it, and how good it is from 0 to 1."""

    condition: Condition
    goodness: float


class Row(NamedTuple):
    """One row of a decision table, as the bands it asks for by name."""

    bands: Mapping[str, Band]

    @property
    def when(self) -> Condition:
        """The condition of the rule."""
        return All(tuple(band.condition for band in self.bands.values()))

    @property
    def goodness(self) -> float:
        """How good things are when all the bands hold."""
        return sum(band.goodness for band in self.bands.values()) / len(self.bands)


def large_rulebook(size: Size, seed: int = 1) -> Rulebook:
    """A rulebook of that many signs and rules."""
    return _Maker(size, Random(f"{size} {seed}")).rulebook()


class _Maker:
    def __init__(self, size: Size, random: Random) -> None:
        self.size = size
        self.random = random
        self.signs = {sign.name: sign for sign in map(self._sign, range(1, size.signs + 1))}
        self.cuts = {name: self._cuts(sign) for name, sign in self.signs.items()}
        self.habits = {name: random.choice(("plain", "could", "could", "asks")) for name in self.signs}
        self.levels = self._levels()
        self.uses: Counter[str] = Counter()

    def rulebook(self) -> Rulebook:
        names = [name for level in self.levels[1:] for name in level]
        findings = {name: Finding(name, "", dict.fromkeys(VALUES, "")) for name in names}
        rules = tuple(self._rules())
        return Rulebook(
            name="large",
            title="",
            version="1",
            about="",
            signs=self.signs,
            measures={_since(sign): _measure(sign) for sign in self.signs.values() if sign.kind is Kind.DATE},
            tables={},
            findings=findings,
            advice={name: Advice(name, name, "") for name in ADVICE_KINDS},
            several=Several.FIRST_WINS,
            rules=rules,
            cautions={},
            disagreements={},
            sources={},
        )

    def _sign(self, number: int) -> Sign:
        effort = self.random.choice(list(Effort))
        kind = self.random.choice((Kind.NUMBER, Kind.TEMPERATURE, Kind.CHOICE, Kind.CHOICE, Kind.DATE))
        name = f"sign-{number}"
        if kind is Kind.CHOICE:
            choices = {f"choice-{letter}": "" for letter in "abcde"[: self.random.choice((2, 3, 3, 4, 5))]}
            return Sign(name, kind, "", "", effort, choices=choices)
        low, high = {Kind.NUMBER: (0, 100), Kind.TEMPERATURE: (0, 100), Kind.DATE: (0, 200)}[kind]
        return Sign(name, kind, "", "", effort, low=low, high=high)

    def _cuts(self, sign: Sign) -> tuple[int, ...]:
        """Where a sign falls apart into bands: at thresholds, or between neighbouring choices."""
        if sign.choices:
            return tuple(range(1, len(sign.choices)))
        return tuple(sorted(self.random.sample(range(10, int(sign.high), 5), self.random.choice((1, 2, 2, 3)))))

    def _levels(self) -> list[list[str]]:
        """The names of the signs, then of the findings level by level."""
        levels = [list(self.signs)]
        while len(levels) == 1 or len(levels[-1]) > MOST_AT_THE_TOP:
            groups = -(-len(levels[-1]) // GROUP)
            levels.append([f"finding-{len(levels)}-{number}" for number in range(1, groups + 1)])
        return levels

    def _rules(self) -> Iterator[Rule]:
        findings = sum(map(len, self.levels[1:]))
        left = round(self.size.rules * SHARE_OF_FINDINGS)
        for depth, level in enumerate(self.levels[1:], start=1):
            for number, finding in enumerate(level):
                rows = max(2, round(left / findings))
                members = self.levels[depth - 1][number * GROUP : (number + 1) * GROUP]
                for row_number, row in enumerate(self._table(rows, members, depth), start=1):
                    yield Rule(f"{finding}-{row_number}", "", row.when, finding, self._value(row))
                left, findings = left - rows, findings - 1
        yield from self._advice_rules(self.size.rules - round(self.size.rules * SHARE_OF_FINDINGS) + left)

    def _value(self, row: Row) -> str:
        goodness = min(max(row.goodness + self.random.gauss(0, 0.1), 0), 0.999)
        return VALUES[int(goodness * len(VALUES))]

    def _table(self, rows: int, members: list[str], depth: int) -> list[Row]:
        """Rows that exclude each other: a row is split by one more name until there are enough."""
        table = [Row({})]
        while len(table) < rows:
            short = [row for row in table if len(row.bands) < MOST_NAMES]
            row = min(self.random.sample(short, min(2, len(short))), key=lambda row: len(row.bands))
            name = self._name(members, depth, row)
            self.uses[name] += 1
            table.remove(row)
            table += [Row({**row.bands, name: band}) for band in self._bands(name, rows - len(table))]
        return table

    def _name(self, members: list[str], depth: int, row: Row) -> str:
        """A name of the group that the row does not look at yet; at times, or when there is none, one from nearby."""
        own = [name for name in members if name not in row.bands]
        if own and self.random.random() >= self.size.tangle:
            return min(self.random.sample(own, len(own)), key=self.uses.__getitem__)
        near = [name for name in self._nearby(members, depth) if name not in row.bands]
        return self.random.choice(near)

    def _nearby(self, members: list[str], depth: int) -> list[str]:
        """The names of the neighbouring groups, and of what the findings of these groups rest on."""
        level, reach = self.levels[depth - 1], GROUP * self.size.reach
        start, end = max(0, level.index(members[0]) - reach), level.index(members[-1]) + 1 + reach
        below = self.levels[depth - 2][start * GROUP : end * GROUP] if depth > 1 else []
        return level[start:end] + below

    def _bands(self, name: str, most: int) -> list[Band]:
        """A name's parts, at least two and at most so many, side by side from bad to good."""
        if name not in self.signs:
            return self._finding_bands(name, most)
        sign, cuts = self.signs[name], self.cuts[name]
        asks = self.habits[name] == "asks" and most > 2
        kept = sorted(self.random.sample(cuts, min(len(cuts), max(1, most - 1 - asks))))
        bands = [
            _band(sign, self.habits[name], start, end) for start, end in zip((None, *kept), (*kept, None), strict=True)
        ]
        told = [
            Band(All((Not(CantTell(name)), band)) if asks else band, number / len(kept))
            for number, band in enumerate(bands)
        ]
        return [*told, Band(CantTell(name), 0.4)] if asks else told

    def _finding_bands(self, name: str, most: int) -> list[Band]:
        cuts = sorted(self.random.sample(range(1, len(VALUES)), min(len(VALUES) - 1, max(1, most - 1))))
        parts = [VALUES[start:end] for start, end in zip((0, *cuts), (*cuts, len(VALUES)), strict=True)]
        return [Band(Concluded(name, frozenset(part)), number / len(cuts)) for number, part in enumerate(parts)]

    def _advice_rules(self, count: int) -> Iterator[Rule]:
        """From the most pressing to the least; the more pressing, the more has to come together."""
        for number in range(count):
            goodness, bands = number / count, dict[str, Band]()
            for _ in range(self.random.choice((2, 3, 4) if goodness < 0.6 else (1, 2, 3))):
                name = self._name(self.levels[-1], len(self.levels), Row(bands))
                wanted = goodness + self.random.gauss(0, 0.3)
                bands[name] = min(self._bands(name, 3), key=lambda band: abs(band.goodness - wanted))
            advice = ADVICE_KINDS[int(goodness * len(ADVICE_KINDS))]
            yield Rule(f"advice-rule-{number + 1}", "", Row(bands).when, ADVICE, advice)


def _band(sign: Sign, habit: str, start: int | None, end: int | None) -> Condition:
    """From one cut to the next. Cautious authors write *could* for the worse end, so vague readings count as bad."""
    if sign.choices:
        return _choice_band(sign, habit, start, end)
    name = _since(sign) if sign.kind is Kind.DATE else sign.name
    above = () if start is None else (Compare(name, Op.AT_LEAST, start),)
    below = () if end is None else (Compare(name, Op.BELOW, end),)
    return All(above + (below if habit == "plain" else tuple(map(Could, below))))


def _choice_band(sign: Sign, habit: str, start: int | None, end: int | None) -> Condition:
    choices = list(sign.choices)
    band, better = frozenset(choices[start:end]), frozenset(choices[start:])
    if habit == "plain" or band == better:
        return OneOf(sign.name, band)
    within = (OneOf(sign.name, better),) if start else ()
    return All((*within, Could(OneOf(sign.name, band))))


def _since(sign: Sign) -> str:
    return f"days-since-{sign.name}"


def _measure(sign: Sign) -> Measure:
    return Measure(_since(sign), "", DaysSince(sign.name), sign.low, sign.high)


def garden(rulebook: Rulebook, random: Random) -> dict[str, Known]:
    """Every sign answered: mostly exactly, at times vaguely or with can't tell; and the measures that follow."""
    return known_with(rulebook, {name: _answer(sign, random) for name, sign in rulebook.signs.items()})


def known_with(rulebook: Rulebook, answers: Mapping[str, Known]) -> dict[str, Known]:
    """What is known with these answers given and all else not asked."""
    return known_readings(rulebook, Case("", rulebook.name, ON, answers=answers))


def _answer(sign: Sign, random: Random) -> Known:
    domain, chance = sign.domain(ON), random.random()
    if chance < CANT_TELL_SHARE:
        return Known(domain, Origin.CANT_TELL)
    return Known(_reading(domain, random, vague=chance < CANT_TELL_SHARE + VAGUE_SHARE), Origin.ANSWERED)


def _reading(domain: Reading, random: Random, vague: bool) -> Reading:
    if isinstance(domain, Choices):
        return Choices(frozenset(random.sample(sorted(domain.possible), 2 if vague else 1)))
    first, last = sorted(random.randint(int(domain.low), int(domain.high)) for _ in range(2))
    return Span(first, last) if vague else exactly(first)
