"""How long a lot lasts, when it sprouts and when to look: by hand, and the laws that nothing lengthens a life."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.readings import Span
from assistant.reckoning.keeping import degree_days, life_of, next_look, sprouting_in
from assistant.reckoning.spells import Spell
from assistant.reckoning.weight_loss import Cure

STORED, ON = date(2031, 10, 17), date(2032, 1, 15)
HOME, HELD = Span(120, 180), Span(180, 365)
spans = st.tuples(st.floats(0, 200), st.floats(200, 400)).map(lambda ends: Span(*ends))


def test_a_cured_lot_lasts_as_its_place_allows() -> None:
    life = life_of(HOME, None, Cure.FULL, STORED)
    assert (life.days, life.limits) == (HOME, ("place",))
    assert life.dates(STORED) == (date(2032, 2, 14), date(2032, 4, 14))


def test_each_limit_shortens_what_the_place_allows() -> None:
    assert life_of(HELD, Span(180, 240), Cure.FULL, STORED).days == Span(180, 240)
    assert life_of(HELD, None, Cure.NONE, STORED).days == Span(60, 150)
    sprouts = life_of(HELD, None, Cure.FULL, STORED, (STORED + timedelta(100), STORED + timedelta(400)))
    assert (sprouts.days, sprouts.limits) == (Span(100, 365), ("place", "warmth"))
    chilled = life_of(HELD, None, Cure.FULL, STORED, harmed_at=datetime(2031, 12, 1, 18))
    assert (chilled.days, chilled.limits) == (Span(45 + 52, 45 + 52), ("cold",))


@given(spans, st.none() | spans, st.sampled_from(Cure), st.none() | st.integers(0, 300))
def test_no_limit_ever_lengthens_a_life(place: Span, variety: Span | None, cure: Cure, days: int | None) -> None:
    harmed = None if days is None else datetime(2031, 10, 17) + timedelta(days=days)
    life = life_of(place, variety, cure, STORED, harmed_at=harmed)
    assert 0 <= life.days.low <= life.days.high
    assert life.days.low <= place.low
    assert life.days.high <= place.high
    assert life.limits


@given(st.floats(40, 90), st.floats(0, 30), st.floats(0, 700))
def test_warmer_roots_sprout_no_later(temperature: float, warmer: float, so_far: float) -> None:
    cool, warm = sprouting_in(so_far, temperature), sprouting_in(so_far, temperature + warmer)
    if cool is None:
        return
    assert warm is not None
    assert warm.low <= cool.low
    assert warm.high <= cool.high


def test_only_warmth_above_sixty_counts_towards_sprouts() -> None:
    spells = [Spell(datetime(2031, 11, 1), 24, temperature, None) for temperature in (59.0, 60.0, 70.0, None)]
    assert degree_days(spells) == 10
    assert sprouting_in(10, 70) == Span(20, 69)


@pytest.mark.parametrize(
    ("last", "advised", "harmed", "day"),
    [
        (date(2032, 1, 10), None, None, date(2032, 2, 7)),  # four weeks after the last look
        (date(2032, 1, 10), date(2032, 1, 18), None, date(2032, 1, 18)),  # as advised
        (date(2032, 1, 10), None, datetime(2031, 12, 5, 6), date(2032, 1, 23)),  # the seventh week after the cold
        (date(2032, 1, 10), None, datetime(2031, 11, 1), date(2032, 2, 7)),  # which is past by now
        (date(2031, 11, 1), date(2032, 2, 1), None, ON),  # overdue
        (None, None, None, ON),  # nobody ever looked
    ],
)
def test_the_next_look_is_the_soonest_that_is_asked_for(
    last: date | None, advised: date | None, harmed: datetime | None, day: date
) -> None:
    assert next_look(ON, last, advised, harmed) == day
