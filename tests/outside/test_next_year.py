"""The bed's rest, slips, rows, yields, feeding and planting dates against what is in print; source and tolerance beside
each. Codes are those of sources.yaml (the crop's, the rulebook's own), where `how:` says whether a figure was read."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from assistant.model.readings import Span, exactly, hull
from assistant.reckoning.frost_odds import Odds
from assistant.reckoning.planting import (
    AFTER_LAST_FROST,
    TO_SLIPS,
    TO_WAKE,
    Spring,
    at_least_once,
    dates_of,
    soil_warms,
    start_of_slips,
)
from assistant.reckoning.rotation import MANY, PUBLISHED, RESTS, SWEET_POTATOES, USUAL_REST, Season, held_until
from assistant.reckoning.slips import (
    NITROGEN_CEILING,
    POUNDS_PER_FOOT,
    SLIPS_PER_POUND,
    SLIPS_PER_ROOT,
    USABLE,
    Layout,
    kept,
    most_nitrogen,
    slip_plan,
    slips_from_boxes,
)
from assistant.reckoning.yields import GRAMS_PER_POUND, SQUARE_FEET_PER_ACRE, plants_per_foot, row_feet_per_acre
from assistant.rulebook import read_rulebook
from assistant.weather import read_record

CLEMSON = Path(__file__).parent / "data" / "clemson.csv"
ACRES_PER_HECTARE = 2.471054  # by definition of the international acre

# Years of rotation as printed (all read), and whether the source counts years away or once in so many. Exact.
ROTATION = {
    "R07e": (2, 3, "once in"),
    "R77": (4, MANY, "away"),
    "R83": (3, 3, "away"),
    "R22": (3, 4, "once in"),
    "R40": (4, 5, "once in"),
}


def test_the_rotations_in_print_are_kept_as_printed() -> None:
    assert {said.source: (said.years.low, said.years.high, said.counts) for said in PUBLISHED} == ROTATION


def test_three_seasons_of_rest_meet_every_rotation_in_print_but_that_after_black_rot() -> None:
    asks_for_more = [said.source for said in PUBLISHED if said.seasons_off.low > USUAL_REST]
    assert asks_for_more == ["R77"]
    assert next(said.seasons_off for said in PUBLISHED if said.source == "R40") == Span(3, 4)


@pytest.mark.parametrize("disease", ["black-rot", "scurf"])
def test_black_rot_and_scurf_rest_the_four_years_in_print(disease: str) -> None:
    assert RESTS[disease] == 4  # R77 at least 4, read; scurf the long end of 2 to 4, from memory
    held = held_until([Season(2031, SWEET_POTATOES, disease)])
    assert held is not None
    assert held.until == 2036  # 2032 to 2035 without


def test_the_rules_and_the_plan_rest_a_bed_alike() -> None:
    column = read_rulebook("sweetpotato/next-year").tables["diseases"].column("rest")
    assert column == {disease: Span(rest, rest) for disease, rest in RESTS.items()}


def test_the_plan_reckons_with_the_tables_that_the_rulebook_shows() -> None:
    tables = read_rulebook("sweetpotato/next-year").tables
    rows = tables["rotations"].rows.values()
    assert {row.sources[0]: row.values["seasons"] for row in rows} == {
        said.source: said.seasons_off for said in PUBLISHED
    }
    assert hull(tables["yields"].column("pounds").values()) == Span(POUNDS_PER_FOOT.low, POUNDS_PER_FOOT.high)
    assert tables["slips_of_a_pound"].column("slips")["box"] == Span(SLIPS_PER_POUND.low, SLIPS_PER_POUND.high)
    roots = hull(tables["slips_of_a_root"].column("slips").values())
    assert roots.low == SLIPS_PER_ROOT.low
    assert SLIPS_PER_ROOT.high == 25 < roots.high  # a big root's 50 are not counted on
    weeks = {name: (span.low, span.high) for name, span in tables["weeks"].column("weeks").items()}
    assert weeks == {
        "bedding": tuple(span.days / 7 for span in TO_SLIPS),
        "waking": tuple(span.days / 7 for span in TO_WAKE),
        "after-frost": (AFTER_LAST_FROST.days / 7,) * 2,
    }
    assert tables["nitrogen"].column("pounds")["ceiling"] == exactly(NITROGEN_CEILING)


def test_a_box_of_seed_gives_the_slips_in_print() -> None:
    slips = slips_from_boxes(1)  # 400 to 800 from 40 lb, R32b, read; exact
    assert (slips.low, slips.high) == (400, 800)


def test_an_acre_takes_the_old_bulletins_seed_only_at_more_slips_than_are_counted_today() -> None:
    """R40, read: 10 to 12 bushels an acre. It needs 21 to 29 slips a pound, more than R32b's 20 (known to differ)."""
    for plants, bushels in ((12_500, 12), (14_500, 10)):
        assert plants / (bushels * 50) > SLIPS_PER_POUND.high


# Slips from one garden root as printed (read): R93 4 to 5, R128 up to 20, R127 25 to 50 from a big one.
@pytest.mark.parametrize("slips", [4, 5, 20, 25])
def test_the_slips_of_a_root_cover_what_is_in_print(slips: float) -> None:
    assert SLIPS_PER_ROOT.low <= slips <= SLIPS_PER_ROOT.high


# Feet of row in an acre by the width of rows (in): 43,560 sq ft over the width, our arithmetic; to the foot.
@pytest.mark.parametrize(("width", "feet"), [(36, 14_520), (40, 13_068), (42, 12_446), (48, 10_890)])
def test_feet_of_row_in_an_acre(width: float, feet: float) -> None:
    assert row_feet_per_acre(width) == pytest.approx(feet, abs=0.5)


def test_plants_in_an_acre_at_a_foot_by_a_yard() -> None:
    assert row_feet_per_acre(36) * plants_per_foot(12) == pytest.approx(14_520)


# Pounds from a foot of row: R93, 6 to 15 lb from 10 ft; R31, 2.5 lb a plant at 12 in; R24, 438 bu of 50 lb an acre at
# 36 in; R44, 17,511 lb an acre, at its widest rows of 48 in and its narrowest of 36. All read; must lie in the range.
@pytest.mark.parametrize(
    "pounds", [0.6, 1.5, 2.5, 438 * 50 / 14_520, 17_511 / 14_520, 17_511 / 10_890], ids=lambda pounds: f"{pounds:.2f}"
)
def test_the_yield_of_a_foot_covers_what_is_in_print(pounds: float) -> None:
    assert POUNDS_PER_FOOT.low <= pounds <= POUNDS_PER_FOOT.high


def test_a_plant_at_the_us_mean_weighs_what_was_reckoned() -> None:
    assert pytest.approx(1.51, abs=0.005) == 438 * 50 / 14_520  # R24, our arithmetic


def test_the_share_of_no_1_is_that_of_oklahoma_over_the_us_mean() -> None:
    assert USABLE["sold"].likely == pytest.approx(300 / 438, abs=0.02)  # R91 over R24, both read
    assert USABLE["sold"].high == pytest.approx(350 / 438, abs=0.01)


def test_the_acre_of_the_us_mean_comes_back_from_its_pounds() -> None:
    """An acre's 21,900 lb, all of it used at once, takes 1.51/1.2 acres of row at the likely yield: within 1 %."""
    plan = slip_plan(21_900 * USABLE["eaten"].likely, "eaten", 0, Layout(12, 36))
    assert plan.row_feet.likely == pytest.approx(14_520 * (438 * 50 / 14_520) / POUNDS_PER_FOOT.likely, rel=0.01)
    assert plan.row_feet.low < 14_520 < plan.row_feet.high


def test_a_hundred_pounds_after_six_months_weigh_what_is_known() -> None:
    share = kept(6)  # 1 to 2 % a month compounded, R07b, our arithmetic: 88.6 to 94.1 lb
    assert (share.low * 100, share.high * 100) == pytest.approx((88.6, 94.1), abs=0.06)


def test_the_ceiling_of_nitrogen_is_the_same_in_both_units_in_print() -> None:
    assert NITROGEN_CEILING == 75  # R25, read
    kilograms = NITROGEN_CEILING * GRAMS_PER_POUND / 1000 * ACRES_PER_HECTARE
    assert kilograms == pytest.approx(84, abs=0.1)
    assert most_nitrogen(SQUARE_FEET_PER_ACRE) == pytest.approx(75)


def test_indianas_garden_feed_stays_below_the_ceiling() -> None:
    """3 lb of 5-10-10 to 100 sq ft (R22, from memory) is 65 lb of nitrogen an acre."""
    assert most_nitrogen(100) > 3 * 0.05
    assert pytest.approx(65.3, abs=0.05) == 3 * 0.05 * SQUARE_FEET_PER_ACRE / 100


# The last freeze already past (%), as printed at weather.gov/ilm (freezeFlorence, freezeMarion), read; the mean and
# spread are those of the normal curve fitted to it. The service adds no half day. Tolerance .06 points, the fit's own.
SPRINGS = {
    "Florence": (79.26, 14.296, "03-01 8.9 03-10 23.6 03-20 49.3 03-30 75.2 04-10 92.7"),
    "Marion": (89.03, 15.054, "03-10 9.2 03-20 25.3 03-30 49.9 04-10 76.7 04-20 91.8"),
}


@pytest.mark.parametrize("station", SPRINGS)
def test_planting_two_weeks_after_a_printed_date_leaves_the_chance_in_print(station: str) -> None:
    """The day two weeks before planting is the printed date of its own chance, to the day."""
    middle, spread, printed = SPRINGS[station]
    spring = Spring(Odds(middle + 0.5, spread, spread))
    words = printed.split()
    for day, percent in zip(words[::2], words[1::2], strict=True):
        planting = spring.plant_out(2031, float(percent) / 100)
        assert planting.plant_out is not None
        apart = planting.plant_out - timedelta(weeks=2) - date.fromisoformat(f"2031-{day}")
        assert abs(apart.days) <= 1, day


@pytest.mark.parametrize("station", SPRINGS)
def test_the_chance_of_a_later_freeze_is_what_the_printed_list_leaves(station: str) -> None:
    middle, spread, printed = SPRINGS[station]
    odds = Odds(middle + 0.5, spread, spread)
    words = printed.split()
    for day, percent in zip(words[::2], words[1::2], strict=True):
        left = 1 - odds.by(date.fromisoformat(f"2031-{day}"))
        assert left * 100 == pytest.approx(100 - float(percent), abs=0.06), day


# R = 1-(1-P)^n, FAO's frost handbook, vol. 2, from memory; values reckoned apart from this program. To 4 decimals.
RISKS = {
    0.01: (0.0199, 0.0490, 0.0956, 0.1821, 0.2603),
    0.05: (0.0975, 0.2262, 0.4013, 0.6415, 0.7854),
    0.10: (0.1900, 0.4095, 0.6513, 0.8784, 0.9576),
    0.20: (0.3600, 0.6723, 0.8926, 0.9885, 0.9988),
    0.50: (0.7500, 0.9688, 0.9990, 1, 1),
}


@pytest.mark.parametrize("chance", RISKS)
def test_the_chance_of_at_least_one_frost_in_some_seasons_is_the_handbooks(chance: float) -> None:
    found = tuple(round(at_least_once(chance, seasons), 4) for seasons in (2, 5, 10, 20, 30))
    assert found == pytest.approx(RISKS[chance], abs=0.00005)


def test_louisianas_roots_bedded_in_mid_march_are_slips_by_late_april() -> None:
    """R32c, read: bedded mid-March, six to eight weeks, planted from late April on. Within a week."""
    first, last = start_of_slips(date(2031, 5, 1)).bed
    assert first - timedelta(days=7) <= date(2031, 3, 15) <= last + timedelta(days=7)


def test_clemsons_soil_is_warm_when_clemson_says_to_plant() -> None:
    """R30, read: the Piedmont plants from 10 May, when the soil is above 65 °F. Our estimate from the air of bare soil
    is uncalibrated (3.6 °F) and has the 50 % date up to two weeks earlier; 10 May lies before its 90 % date."""
    warm = dates_of(soil_warms(read_record(CLEMSON)))
    assert warm is not None
    printed = date(2031, 5, 10)
    assert printed - timedelta(days=14) <= warm.p50.in_year(2031) <= printed <= warm.p90.in_year(2031)
