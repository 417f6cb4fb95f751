"""What decided and what would change the advice, read off the remainder with nothing asked.

Each function takes `actual`, the option each question was answered with; a question that was not
asked stands at its whole domain.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import count

from assistant.interview.diagrams import Diagram, Leaf
from assistant.interview.remainder import Ending, Remainder, ending_of


def smallest_deciding(remainder: Remainder, actual: Mapping[str, int], answered: frozenset[str]) -> tuple[str, ...]:
    """A smallest set of answers that alone forces the advice, whatever else is answered; empty when none does.

    Looks for a way to come to other advice, and demands one of the answers that way departs from;
    the smallest set that meets every such demand is the answer.
    """
    now = ending_of(remainder.after(remainder.root, actual))
    demands: list[frozenset[str]] = []
    while True:
        chosen = _smallest_meeting(demands)
        rest = remainder.after(remainder.root, {name: actual[name] for name in chosen})
        departures = fewest_departures(remainder, rest, actual, now, answered)
        if departures is None:
            return tuple(name for name in actual if name in chosen)
        demand = frozenset(departures) & answered
        if not demand:
            return ()
        demands.append(demand)


def _smallest_meeting(demands: list[frozenset[str]]) -> frozenset[str]:
    """A smallest set with at least one name of each demand."""
    return next(found for size in count() if (found := _meeting(demands, size)) is not None)


def _meeting(demands: list[frozenset[str]], size: int) -> frozenset[str] | None:
    """A set of at most so many names that meets all demands; None when there is none."""
    if not demands:
        return frozenset()
    if not size:
        return None
    fewest: frozenset[str] = min(demands, key=len)
    for name in sorted(fewest):
        others = _meeting([demand for demand in demands if name not in demand], size - 1)
        if others is not None:
            return others | {name}
    return None


def fewest_departures(
    remainder: Remainder, diagram: Diagram, actual: Mapping[str, int], now: Ending, counted: Iterable[str]
) -> dict[str, int] | None:
    """A way to other advice that departs from the fewest counted answers, as the options departed to; None if none."""
    counting = frozenset(counted)
    best: dict[int, tuple[int, tuple[tuple[str, int], ...]] | None] = {}

    def visit(current: Diagram) -> tuple[int, tuple[tuple[str, int], ...]] | None:
        if isinstance(current, Leaf):
            return None if current.value == now else (0, ())
        if id(current) not in best:
            name = remainder.questions[current.question]
            ways = []
            for option, child in enumerate(current.children):
                way = visit(child)
                if way is not None:
                    departs = option != actual[name]
                    ways.append(
                        (way[0] + (departs and name in counting), ((name, option), *way[1]) if departs else way[1])
                    )
            best[id(current)] = min(ways, key=lambda way: way[0], default=None)
        return best[id(current)]

    way = visit(diagram)
    return None if way is None else dict(way[1])


def single_changes(remainder: Remainder, actual: Mapping[str, int]) -> Iterator[tuple[str, int, Ending]]:
    """Every option of every question that alone comes to other advice, all else as it is."""
    now = ending_of(remainder.after(remainder.root, actual))
    for name in actual:
        others = {other: option for other, option in actual.items() if other != name}
        rest = remainder.after(remainder.root, others)
        if isinstance(rest, Leaf):
            continue
        for option, child in enumerate(rest.children):
            if ending_of(child) != now:
                yield name, option, ending_of(child)
