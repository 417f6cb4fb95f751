"""What would change the advice, in words: the nearest change of each sign, and the fewest together."""

from __future__ import annotations

from assistant.inference.branches import SCALE, hundredths
from assistant.interview.options import Option
from assistant.interview.remainder import Remainder
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
    return run_words(rulebook, rest, sign, option.reading, units)


def run_words(rulebook: Rulebook, rest: Remainder, sign: str, span: Span, units: Units) -> str:
    """All values between the two ends, or told apart from neither by any rule, such as `above 32 °F`."""
    starts = sorted(o.reading.low for o in rest.options[sign].all if o.exact and isinstance(o.reading, Span))
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
