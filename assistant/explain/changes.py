"""What would change the advice, in words: the nearest change of each sign, and the fewest together."""

from __future__ import annotations

from typing import NamedTuple

from assistant.explain.wording import choice_words, value_words
from assistant.inference.branches import SCALE, hundredths
from assistant.interview.options import Option
from assistant.interview.remainder import Remainder
from assistant.model.quantities import Kind, Units, rounded
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
        return choice_words(rulebook, sign, option.reading)
    return run_words(rulebook, rest, sign, option.reading, units)


def run_words(rulebook: Rulebook, rest: Remainder, sign: str, span: Span, units: Units) -> str:
    """All values between the two ends, or told apart from neither by any rule, such as `above 32 °F`."""
    starts = sorted(o.reading.low for o in rest.options[sign].all if o.exact and isinstance(o.reading, Span))
    kind, unit = rulebook.signs[sign].kind, rulebook.signs[sign].unit
    end = next((start for start in starts if start > span.high), None)
    low = None if span.low <= starts[0] else _from(kind, span.low, unit, units)
    high = None if end is None else _up_to(kind, end, unit, units)
    if low and high:
        return _both(low, high)
    later, earlier = ("or later", "or earlier") if kind is Kind.DATE else ("or more", "or less")
    if low:
        return f"{low.value} {later}" if low.reached else f"above {low.value}"
    if high:
        return f"{high.value} {earlier}" if high.reached else f"below {high.value}"
    return "anything"


class _End(NamedTuple):
    """One end of a run in words, and whether the run reaches it or only comes close."""

    value: str
    reached: bool


def _both(low: _End, high: _End) -> str:
    if low.reached and high.reached:
        return low.value if low.value == high.value else f"{low.value} to {high.value}"
    if low.reached:
        return f"{low.value} or more, but below {high.value}"
    return f"above {low.value}, " + (f"up to {high.value}" if high.reached else f"but below {high.value}")


def _from(kind: Kind, start: float, unit: str, units: Units) -> _End:
    """The low end of a cell. One that starts a hundredth past a plain value comes from *above* or *at most*."""
    past = _is_past(kind, start)
    return _End(value_words(kind, rounded(start - 1 / SCALE) if past else start, unit, units), not past)


def _up_to(kind: Kind, next_start: float, unit: str, units: Units) -> _End:
    """The high end of a cell, by where the next one starts."""
    if kind is Kind.DATE:
        return _End(value_words(kind, next_start - 1, unit, units), True)
    past = _is_past(kind, next_start)
    return _End(value_words(kind, rounded(next_start - 1 / SCALE) if past else next_start, unit, units), past)


def _is_past(kind: Kind, start: float) -> bool:
    return kind is not Kind.DATE and hundredths(start) % 10 == 1
