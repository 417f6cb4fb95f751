"""Laws of the outlook: chances are chances, more cold never makes waiting look safer, ranges hold the likely value."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from beds import ON, RULEBOOK, SMALL, bed, colder, dates_around, turned_over
from hypothesis import given, settings
from hypothesis import strategies as st
from stations import invented

from assistant.model.case import Case
from assistant.model.quantities import Units
from assistant.model.readings import Span, exactly, one_of
from assistant.model.weather import Day, StationRecord
from assistant.outlook.ahead import A_WEEK, RISK, SIX_WEEKS, End, Outlook, View, outlook
from assistant.outlook.cold import ColdAhead
from assistant.outlook.wording import week_words
from assistant.reckoning.frost_odds import THRESHOLDS
from assistant.reckoning.ranges import Range
from assistant.season import advise

STATION = invented(2000, 2031)
SHIFTED = turned_over(STATION)
LOWS = st.lists(st.integers(20, 70), min_size=1, max_size=8)
BEDS = st.builds(
    bed,
    on=st.dates(date(2031, 8, 20), date(2031, 11, 20)),
    lows=st.one_of(st.just(()), LOWS),
    record=st.sampled_from([None, STATION]),
    dates=st.one_of(st.none(), st.dates(date(2031, 9, 20), date(2031, 11, 20)).map(dates_around)),
)


def ahead(case: Case, risk: float = RISK) -> Outlook:
    return outlook(RULEBOOK, case, risk)


def by(case: Case, days: int = SIX_WEEKS) -> dict[int, list[float | None]]:
    cold = ColdAhead(case, frozenset())
    return {limit: cold.by(limit, days) for limit in THRESHOLDS}


@settings(max_examples=60, deadline=None)
@given(BEDS)
def test_chances_are_chances_and_never_fall_as_days_go_by(case: Case) -> None:
    for chances in by(case).values():
        known = [chance for chance in chances if chance is not None]
        assert all(0 <= chance <= 1 for chance in known)
        assert all(later >= sooner for sooner, later in pairwise(known))
        assert known == chances[: len(known)]  # what is not known comes last


@settings(max_examples=60, deadline=None)
@given(BEDS)
def test_a_killing_freeze_is_never_likelier_than_a_freeze_nor_that_than_a_frost(case: Case) -> None:
    for frost, freeze, killing in zip(*by(case).values(), strict=True):
        if frost is not None and freeze is not None and killing is not None:
            assert killing <= freeze <= frost


def test_a_garden_colder_than_its_station_has_no_fewer_frosts_than_freezes() -> None:
    """The station has had its frost of the season and will likely have others later than the garden its freeze."""
    mild = colder(STATION, -12)
    passed = [Day(day.on, 35.0 if day.on == date(2031, 9, 30) else day.low, day.high) for day in mild.days]
    chances = by(bed(record=StationRecord("Mild", tuple(passed)), dates=dates_around(date(2031, 10, 10))))
    assert all(frost >= freeze for frost, freeze in zip(chances[36], chances[32], strict=True))  # type: ignore[operator]


def test_beyond_the_forecast_there_are_two_ways_to_have_had_a_frost() -> None:
    """One the forecast's nights brought, or else one of the nights after them, with none before."""
    lows, record = [44, 42, 40, 38, 36, 37, 41], invented(2000, 2030)
    whole, after = by(bed(lows=lows, record=record)), by(bed(ON + timedelta(days=7), record=record))
    for limit in THRESHOLDS:
        near, far, both = whole[limit][7], after[limit][10], whole[limit][17]
        assert near is not None
        assert far is not None
        assert both == pytest.approx(1 - (1 - near) * (1 - far), abs=0.005)  # a night alone may be likelier


@settings(max_examples=60, deadline=None)
@given(BEDS, LOWS, st.data())
def test_a_colder_forecast_never_makes_waiting_look_safer(case: Case, lows: list[int], data: st.DataObject) -> None:
    falls = data.draw(st.lists(st.integers(0, 20), min_size=len(lows), max_size=len(lows)))
    record = case.weather.record if case.weather else None
    dates = case.garden.dates.get("first_frost")
    mild = by(bed(case.on, lows, record, dates))
    cold = by(bed(case.on, [low - fall for low, fall in zip(lows, falls, strict=True)], record, dates))
    for limit in THRESHOLDS:
        for milder, worse in zip(mild[limit], cold[limit], strict=True):
            assert milder is None or worse is None or worse >= milder - 1e-9


@settings(max_examples=40, deadline=None)
@given(st.dates(date(2031, 10, 1), date(2031, 11, 20)), st.integers(1, 20), st.dates(ON, date(2031, 10, 31)))
def test_earlier_frost_dates_never_make_waiting_look_safer(middle: date, sooner: int, on: date) -> None:
    late = by(bed(on, dates=dates_around(middle)))
    early = by(bed(on, dates=dates_around(middle - timedelta(days=sooner))))
    for limit in THRESHOLDS:
        assert all(
            later is not None and earlier is not None and earlier >= later - 1e-9
            for later, earlier in zip(late[limit], early[limit], strict=True)
        )


@pytest.mark.parametrize("on", [date(2031, 9, 10), date(2031, 10, 5), date(2031, 10, 20)])
def test_a_colder_station_never_makes_waiting_look_safer(on: date) -> None:
    mild, cold = (by(bed(on, record=record)) for record in (STATION, colder(STATION, 4)))
    for limit in THRESHOLDS:
        for milder, worse in zip(mild[limit], cold[limit], strict=True):
            assert milder is not None
            assert worse is not None
            assert worse >= milder - 0.01
    safe = [ahead(bed(on, record=record)).latest_safe(View.HARMLESS) for record in (STATION, colder(STATION, 4))]
    assert safe[0] is not None
    assert safe[1] is not None
    assert safe[1].on <= safe[0].on


@settings(max_examples=15, deadline=None)
@given(BEDS)
def test_a_longer_wait_never_risks_less_and_the_stricter_view_never_allows_more(case: Case) -> None:
    found = ahead(case)
    for view in View:
        known = [harm for day in found.days if (harm := day.harm[view]) is not None]
        assert all(later >= sooner for sooner, later in pairwise(known))
    harmless, hurts = (found.latest_safe(view) for view in (View.HARMLESS, View.HURTS))
    if harmless and hurts:
        assert hurts.on <= harmless.on


@settings(max_examples=10, deadline=None)
@given(BEDS)
def test_the_latest_safe_day_is_the_last_within_the_risk(case: Case) -> None:
    found = ahead(case)
    for view in View:
        safe = found.latest_safe(view)
        if safe is None or safe.end is not End.RISK:
            continue
        at = (safe.on - case.on).days
        before, after = found.days[at].harm[view], found.days[at + 1].harm[view] if at < SIX_WEEKS else None
        assert before is not None
        assert before <= RISK or at == 0
        assert after is None or after > RISK or before > RISK


@pytest.mark.parametrize("risks", [(0.02, 0.1), (0.1, 0.3), (0.3, 0.6)])
def test_who_accepts_more_risk_may_wait_longer(risks: tuple[float, float]) -> None:
    for view in View:
        low, high = (ahead(bed(record=STATION), risk).latest_safe(view) for risk in risks)
        assert low is not None
        assert high is not None
        assert low.on <= high.on


@settings(max_examples=8, deadline=None)
@given(BEDS.map(lambda case: bed(case.on, (), STATION, dig=SMALL)))
def test_every_range_holds_its_likely_value(case: Case) -> None:
    found = ahead(case)
    ranges: list[Range | None] = [found.week.grams, found.week.share]
    for day in found.days:
        ranges += [day.low, day.soil, *(day.roots or ())]
    assert all(each.low <= each.likely <= each.high for each in ranges if each is not None)


def test_today_is_advised_as_the_rulebook_advises() -> None:
    for case in (bed(), bed(lows=[50] * 7), bed(record=STATION, roots=one_of("right")), bed(frost=one_of("hard"))):
        assert ahead(case).days[0].advice == advise(RULEBOOK, case).advice


def test_a_week_may_gain_nothing_at_all_and_gains_nothing_under_dead_vines() -> None:
    assert ahead(bed(record=STATION)).week.grams.low == 0
    assert ahead(bed(record=STATION, vines=one_of("withered"))).week.grams == Range(0, 0, 0)
    assert ahead(bed(record=STATION, frost=one_of("light"))).week.grams == Range(0, 0, 0)


def test_a_week_gains_at_most_what_the_fastest_crop_gained() -> None:
    warm = ahead(bed(date(2031, 8, 20), record=STATION)).week.grams
    assert warm.high == pytest.approx(7 * 23)  # g a plant: best trial line of the New Hampshire summary, 60 days
    assert warm.likely == pytest.approx(7 * 11)


def test_a_frost_that_has_come_leaves_no_day_to_wait() -> None:
    for frost, ends in (("light", {View.HURTS}), ("hard", set(View))):
        found = ahead(bed(record=STATION, frost=one_of(frost)))
        for view in ends:
            safe = found.latest_safe(view)
            assert safe is not None
            assert safe.on == ON
            assert found.days[0].harm[view] == 1


def test_nothing_known_gives_no_latest_day_and_no_risk_of_a_week() -> None:
    found = ahead(bed())
    assert [found.latest_safe(view) for view in View] == [None, None]
    assert set(found.week.risk.values()) == {None}
    assert {chance for day in found.days for chance in day.night.values()} == {None}


def test_a_forecast_alone_tells_no_further_than_it_goes() -> None:
    found = ahead(bed(lows=[60] * 5))
    safe = found.latest_safe(View.HURTS)
    assert safe is not None
    assert (safe.on, safe.end) == (ON + timedelta(days=5), End.UNKNOWN)
    assert found.days[A_WEEK].by[32] is None


def test_the_coldest_night_answered_counts_as_a_forecast_lows_typed_in_stand_above_it_and_vague_ones_do_not() -> None:
    dates = dates_around(date(2031, 10, 25))
    answered = ahead(bed(date(2031, 10, 4), dates=dates, forecast_low=exactly(33), forecast_low_in=exactly(2)))
    assert answered.days[2].night[36] == pytest.approx(0.8, abs=0.05)  # 33 °F, erring by 3.3 on average
    for view in View:
        safe = answered.latest_safe(view)
        assert safe is not None
        assert safe.on == date(2031, 10, 6)
    unsaid = ahead(bed(date(2031, 10, 4), dates=dates)).days[2].night[36]
    vague = bed(date(2031, 10, 4), dates=dates, forecast_low=exactly(33), forecast_low_in=Span(0, 6))
    typed = bed(date(2031, 10, 4), (60,) * 7, dates=dates, forecast_low=exactly(33), forecast_low_in=exactly(2))
    assert ahead(vague).days[2].night[36] == unsaid
    assert ahead(typed).days[2].night[36] == pytest.approx(0, abs=1e-6)


def test_the_southern_autumn_looks_as_the_northern_one_half_a_year_later() -> None:
    north, south = ahead(bed(ON, record=STATION)), ahead(bed(ON + timedelta(days=182), record=SHIFTED))
    for limit in THRESHOLDS:
        ours = [day.by[limit] for day in north.days]
        theirs = [day.by[limit] for day in south.days]
        assert theirs == pytest.approx(ours, abs=0.02)


def test_a_season_over_new_year_goes_on_counting() -> None:
    found = ahead(bed(date(2031, 12, 10), dates=dates_around(date(2032, 1, 5))))
    chances = [day.by[32] for day in found.days]
    middle = (date(2032, 1, 5) - date(2031, 12, 10)).days
    assert chances[middle] == pytest.approx(0.5, abs=0.02)  # 5 years of 10 by the middle date, hardly any before today
    assert chances[-1] is not None
    assert chances[-1] > 0.9


def test_the_soil_cools_with_the_autumn_and_is_less_certain_the_further_off() -> None:
    soil = [day.soil for day in ahead(bed(record=STATION)).days]
    assert all(each is not None for each in soil)
    widths = [each.high - each.low for each in soil if each]
    assert widths[-1] > widths[0] + 1
    assert soil[-1].likely < soil[0].likely - 5  # type: ignore[union-attr]


def test_a_measured_soil_stands_today_and_is_left_behind_within_weeks() -> None:
    with_thermometer = ahead(bed(record=STATION, soil_temperature=exactly(40)))
    without = ahead(bed(record=STATION))
    first, then = with_thermometer.days[0].soil, with_thermometer.days[-1].soil
    assert first is not None
    assert then is not None
    assert first.likely == 40
    assert then.likely == pytest.approx(without.days[-1].soil.likely, abs=0.1)  # type: ignore[union-attr]


def test_roots_seen_small_may_be_right_a_week_later_and_never_shrink() -> None:
    found = ahead(bed(date(2031, 8, 25), lows=[60] * 7, record=STATION, roots=one_of("too-small")))
    assert found.days[0].advice == "wait"
    assert {day.advice for day in found.days[1:7]} == {"wait"}
    assert found.first_look is not None
    assert found.first_look > found.case.on + timedelta(days=A_WEEK)
    big = ahead(bed(date(2031, 8, 25), record=STATION, roots=one_of("too-big"), soil=one_of("workable")))
    assert {day.advice for day in big.days[:30]} == {"dig-now"}


def test_answers_of_the_weather_do_not_outlive_it() -> None:
    """A cold night that was forecast for this week is no reason to dig in three weeks, were there no frost."""
    cold = ahead(bed(date(2031, 9, 1), record=STATION, forecast_low=exactly(33), roots=one_of("too-small")))
    assert cold.days[0].advice == "dig-before-frost"
    assert "dig-before-frost" not in {day.advice for day in cold.days[1:10]}


def test_what_a_week_gains_is_told_in_the_units_of_the_garden() -> None:
    """23 g a plant a day at the most (New Hampshire 2015) is 161 g a week, and 5.7 oz of 28.35 g."""
    case = bed(record=STATION, soil_temperature=exactly(80))
    for units, words in ((Units.US, "at the most 5.7 oz a plant"), (Units.METRIC, "at the most 161 g a plant")):
        assert words in next(week_words(ahead(replace(case, units=units))))
