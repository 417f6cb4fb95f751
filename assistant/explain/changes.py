"""What would change the advice, in words: the nearest change of each sign, and the fewest together."""

from __future__ import annotations

from assistant.inference.branches import SCALE, hundredths
from assistant.interview.options import Option
from assistant.interview.questions import endings
from assistant.interview.remainder import Ending, Remainder
from assistant.model.quantities import Kind, Units, format_value, rounded
from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import Rulebook


def nearest(rest: Remainder, sign: str, options: list[int], reading: Reading) -> int:
    """The option among the given ones that departs least from a reading; exact answers before vague ones."""
    return min(options, key=lambda number: _distance(rest.options[sign].all[number], reading))


def _distance(option: Option, reading: Reading) -> tuple[bool, float, float]:
    if isinstance(option.reading, Choices) and isinstance(reading, Choices):
        apart = len(option.reading.possible ^ reading.possible)
        return not option.exact, apart, 0
    assert isinstance(option.reading, Span)
    assert isinstance(reading, Span)
    gap = max(0.0, option.reading.low - reading.high, reading.low - option.reading.high)
    return not option.exact, gap, abs(option.reading.low - reading.low) + abs(option.reading.high - reading.high)


def option_words(rulebook: Rulebook, rest: Remainder, sign: str, number: int, units: Units) -> str:
    """An option as every answer it stands for, such as `37 °F or more`."""
    option = rest.options[sign].all[number]
    if option.whole and not option.exact:
        return "can't tell"
    if isinstance(option.reading, Choices):
        return " or ".join(choice for choice in rulebook.signs[sign].choices if choice in option.reading.possible)
    starts = sorted(o.reading.low for o in rest.options[sign].all if o.exact and isinstance(o.reading, Span))
    return _run_words(rulebook, sign, option.reading, starts, units)


def _run_words(rulebook: Rulebook, sign: str, span: Span, starts: list[float], units: Units) -> str:
    """A run of cells from where its first one starts to where the one after its last does."""
    kind, unit = rulebook.signs[sign].kind, rulebook.signs[sign].unit
    end = next((start for start in starts if start > span.high), None)
    from_words = None if span.low <= starts[0] else _bound_words(kind, span.low, unit, units, ("above", "or more"))
    to_words = None if end is None else _bound_words(kind, end, unit, units, ("or less", "below"))
    return ", but ".join(words for words in (from_words, to_words) if words) or "anything"


def _bound_words(kind: Kind, start: float, unit: str, units: Units, words: tuple[str, str]) -> str:
    """Where a cell starts. One that starts a hundredth past a plain value comes from *above* or *at most*."""
    past = kind is not Kind.DATE and hundredths(start) % 10 == 1
    value = format_value(kind, rounded(start - 1 / SCALE) if past else start, units) + (f" {unit}" if unit else "")
    word = words[0] if past else words[1]
    if kind is Kind.DATE:
        word = {"or more": "or later", "below": "before"}[word]
    return f"{value} {word}" if word.startswith("or") else f"{word} {value}"


def stake_words(rulebook: Rulebook, rest: Remainder, sign: str, units: Units) -> str:
    """What each answer to a question leaves possible, answers of one consequence together."""
    by_consequence: dict[frozenset[Ending], list[str]] = {}
    for number, option in enumerate(rest.options[sign].all):
        if option.exact:
            follows = endings(rest.after(rest.root, {sign: number}))
            by_consequence.setdefault(follows, []).append(option_words(rulebook, rest, sign, number, units))
    return " ".join(
        f"{_sentence('; '.join(answers))}: {_consequence(rulebook, follows)}."
        for follows, answers in by_consequence.items()
    )


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def _consequence(rulebook: Rulebook, follows: frozenset[Ending]) -> str:
    given = {ending.advice for ending in follows}
    headlines = [f"“{kind.headline}”" for name, kind in rulebook.advice.items() if name in given]
    if len(follows) == 1:
        return f"settled, {headlines[0] if headlines else 'without advice'}"
    return f"still open between {' and '.join(headlines)}" if headlines else "still open"
