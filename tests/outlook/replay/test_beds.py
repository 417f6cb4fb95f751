"""Beds in autumns worked out by hand."""

from random import Random

import pytest
from autumns_by_hand import STEADY, bed, warm_but

from assistant.model.readings import Span
from assistant.outlook.replay.beds import DAYS, NEVER, nature
from assistant.outlook.replay.yardstick import BULKING_BEGINS, GROWTH_FADES, NO_GROWTH_BELOW, View, warmth


def test_a_plant_gains_its_rate_each_day_from_the_beginning_to_the_end_of_growth() -> None:
    """Mild nights of 68 and days of 88 °F keep the soil at 78; from day 40 on 60 summer days' growth follow."""
    steady = bed(warm_but({}))
    day = 11 * warmth(78, 50)
    assert steady.plant_grams[40] == 0
    assert steady.plant_grams[41] == pytest.approx(day)
    assert steady.plant_grams[90] == pytest.approx(50 * day)
    assert steady.plant_grams[169] == pytest.approx(660, abs=day)
    assert steady.first_frost == NEVER


def test_the_first_frost_ends_growth_and_the_vines() -> None:
    frosted = bed(warm_but({80: 32}))
    assert frosted.first_frost == 80
    assert frosted.plant_grams[169] == frosted.plant_grams[80]
    assert [frosted.vines(day) for day in (79, 80)] == ["green", "frost-blackened"]
    assert [frosted.frost(day) for day in (79, 80)] == ["none", "light"]


def test_a_night_of_34_frosts_the_vines_three_times_in_five() -> None:
    autumn = warm_but({80: 34})
    assert bed(autumn, luck=0.59).first_frost == 80
    assert bed(autumn, luck=0.60).first_frost == NEVER


def test_what_a_light_frost_costs_hangs_on_the_view_and_on_the_day_dug() -> None:
    frosted = bed(warm_but({80: 32}))
    assert [frosted.kept[View.HARMLESS][day] for day in (79, 80, 84, 85)] == pytest.approx([1, 1, 1, 0.95])
    assert [frosted.kept[View.HURTS][day] for day in (79, 80, 81)] == pytest.approx([1, 0.9, 0.85])


def test_a_hard_freeze_halves_the_crop_under_both_views_and_a_deep_one_loses_it() -> None:
    frozen = bed(warm_but({80: 28, 90: 24}))
    assert frozen.kept[View.HARMLESS][80] == pytest.approx(0.5)
    assert frozen.kept[View.HURTS][80] == pytest.approx(0.5 * 0.9)
    assert frozen.kept[View.HARMLESS][90] == frozen.worth[View.HURTS][90] == 0
    assert frozen.frost(80) == "hard"


def test_cold_soil_ends_growth_and_after_three_days_hurts_the_roots() -> None:
    """Nights of 38 and days of 58 °F bring the soil to 48, below 50, without any frost."""
    cold = bed(warm_but(dict.fromkeys(range(100, 170), 38.0)))
    first = next(day for day in DAYS if cold.soil[day] < 50)
    assert cold.first_frost == NEVER
    assert cold.plant_grams[169] == cold.plant_grams[first]
    assert [cold.kept[View.HARMLESS][first + more] for more in (1, 2, 3)] == pytest.approx([1, 0.9, 0.85])


def test_vines_yellow_once_the_nights_of_a_week_average_below_50() -> None:
    cooling = bed(warm_but(dict.fromkeys(range(100, 170), 45.0)))
    assert cooling.vines(104) == "green"
    assert cooling.vines(106) == "yellowing"


def test_beds_are_drawn_from_the_published_ranges() -> None:
    drawn = [nature(Random(seed), Span(90, 110)) for seed in range(300)]
    for each in drawn:
        assert BULKING_BEGINS.low <= each.growth.begins <= BULKING_BEGINS.high
        assert GROWTH_FADES.low <= each.growth.fades <= GROWTH_FADES.high
        assert NO_GROWTH_BELOW.low <= each.growth.no_growth_below <= NO_GROWTH_BELOW.high
        assert 0 <= each.growth.rate <= 23
        assert 90 <= each.growth.full_days <= 110
        assert 3.4 <= each.roots <= 10
    assert sum(each.growth.rate for each in drawn) / len(drawn) == pytest.approx(34 / 3, rel=0.06)


def test_a_growth_that_fades_before_the_variety_has_had_its_days_fades_with_them() -> None:
    slow = nature(Random(1), Span(175, 180)).growth
    assert slow.fades == slow.full_days
    assert slow.pace(180, slow.full_days) == 0


def test_hills_dug_up_show_the_bed_on_average() -> None:
    """The roots of many hills weigh on average what the bed's do."""
    from assistant.reckoning.yields import root_grams

    grown, random = bed(warm_but({})), Random(7)
    hills = [grown.hill(120, random) for _ in range(4_000)]
    roots = [root_grams(diameter) for hill in hills for diameter in hill]
    assert sum(map(len, hills)) / len(hills) == pytest.approx(5, abs=0.1)
    assert sum(roots) / len(roots) == pytest.approx(grown.plant_grams[120] / 5, rel=0.05)


def test_a_slow_bed_is_worth_less_on_every_day_than_a_fast_one() -> None:
    slow, fast = (bed(warm_but({}), STEADY._replace(rate=rate)) for rate in (6, 12))
    assert all(one <= other for one, other in zip(slow.worth[View.HURTS], fast.worth[View.HURTS], strict=True))
