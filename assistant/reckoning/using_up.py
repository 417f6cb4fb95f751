"""In what order to eat what is in store, by when it will be gone, and how much is too much or too little."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from math import exp, expm1, log1p
from typing import NamedTuple

from assistant.reckoning.ranges import Range

PARTS = ("nicked", "chilled", "sprouting", "small", "sound")
"""In the order in which they are eaten: wounds first, then what the cold has touched, what sprouts, what dries out
soonest for its size, and last the sound (nicked first is common practice, the rest our judgement)."""
LONGEST = timedelta(days=730)
"""No plan looks further ahead."""
NO_LOSS = Range(0.0, 0.0, 0.0)


class Portion(NamedTuple):
    """One kind of root of one lot: pounds, the day it was stored, and the first and last day it is hoped to keep."""

    lot: str
    part: str
    pounds: float
    stored: date
    keeps: tuple[date, date]


class Turn(NamedTuple):
    """When a portion is eaten, from its first day to its last, None while some is left at the end of all plans; and
    the pounds of it that are still there on the first and on the last day it is hoped to keep."""

    portion: Portion
    begins: date
    gone: date | None
    left_at: tuple[float, float]


class Plan(NamedTuple):
    """The turns in order, the last day on which there is any, and pounds too many by the first and the last days.

    Of what is past its first day already, what is left on its last counts for both.
    """

    turns: tuple[Turn, ...]
    gone: date | None
    too_much: tuple[float, float]


def in_order(portions: Iterable[Portion]) -> tuple[Portion, ...]:
    """By kind of root, and among equals the oldest first."""
    return tuple(sorted(portions, key=lambda each: (PARTS.index(each.part), each.stored, each.lot)))


def plan_of(portions: Sequence[Portion], on: date, per_day: float, daily_loss: float = 0.0) -> Plan:
    """Eating so many pounds a day from `on`, portion after portion, while all of it loses a share a day.

    Raises `ValueError` for a rate that is not above 0 or a loss that is no share.
    """
    if per_day <= 0 or not 0 <= daily_loss < 1:
        raise ValueError("roots are eaten at a rate above 0, and lose a share of their weight")
    day, turns = 0.0, []
    for portion in in_order(portions):
        begins, day = day, day + _days_to_eat(portion.pounds * (1 - daily_loss) ** day, per_day, daily_loss)
        left = (_left(portion, begins, per_day, daily_loss, (keeps - on).days) for keeps in portion.keeps)
        gone = on + timedelta(days=int(day)) if day < LONGEST.days else None
        turns.append(Turn(portion, on + timedelta(days=int(min(begins, LONGEST.days))), gone, (next(left), next(left))))
    first = sum(turn.left_at[turn.portion.keeps[0] <= on] for turn in turns)
    last = sum(turn.left_at[1] for turn in turns)
    return Plan(tuple(turns), turns[-1].gone if turns else on, (first, last))


def rate_to_finish(
    portions: Sequence[Portion], on: date, daily_loss: float = 0.0, latest: bool = False
) -> float | None:
    """Pounds a day with which every portion is gone by the first (or last) day it is hoped to keep.

    Those that are past it already are eaten first and set no pace; None when all are.
    """
    pacing = {portion for portion in portions if portion.keeps[latest] > on}
    if not pacing:
        return None
    low, high = 0.0, sum(portion.pounds for portion in portions)
    for _ in range(50):
        middle = (low + high) / 2
        turns = plan_of(portions, on, middle, daily_loss).turns
        enough = all(turn.left_at[latest] < 1e-6 for turn in turns if turn.portion in pacing)
        low, high = (low, middle) if enough else (middle, high)
    return high


def short_by(plan: Plan, until: date, per_day: float) -> float:
    """Pounds too few to go on eating at the rate until a day."""
    return 0.0 if plan.gone is None else max((until - plan.gone).days, 0) * per_day


def _days_to_eat(pounds: float, per_day: float, loss: float) -> float:
    """Days for pounds that shrink as they are eaten: the solution of w' = -kw - r, with k = -ln(1 - loss)."""
    k = -log1p(-loss)
    return pounds / per_day if k == 0 else log1p(k * pounds / per_day) / k


def _left(portion: Portion, begins: float, per_day: float, loss: float, after: float) -> float:
    """Pounds of a portion that are left so many days from now."""
    after = max(after, 0)
    waited = min(begins, after)
    k, days = -log1p(-loss), after - waited
    eaten = per_day * days if k == 0 else -per_day * expm1(-k * days) / k
    return max(portion.pounds * exp(-k * after) - eaten, 0.0)
