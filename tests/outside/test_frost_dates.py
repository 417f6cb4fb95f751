"""First and last freezes against records whose dates are known, published chances, and a climate library."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from statistics import NormalDist, mean, stdev

import pytest
from scipy.stats import t

from assistant.model.case import FrostDates, MonthDay
from assistant.model.quantities import Units
from assistant.model.weather import StationRecord
from assistant.reckoning.frost_odds import THRESHOLDS, Odds, SeasonDates, freeze_dates
from assistant.weather import read_record

DATA = Path(__file__).parent / "data"


@pytest.fixture(scope="module")
def clemson() -> StationRecord:
    return read_record(DATA / "clemson.csv")


@pytest.fixture(scope="module")
def first_falls(clemson: StationRecord) -> dict[int, SeasonDates]:
    return {threshold: freeze_dates(clemson, threshold).first_fall for threshold in THRESHOLDS}


# The 91 first freezes (32 °F) of Clemson SC, worked out from the same record with pandas: low <= 32.4 from 1 August.
FIRST_FREEZES = """
1930:10-21 31:10-18 32:11-12 33:11-09 34:10-29 35:10-08 36:10-31 37:10-23 38:10-25 39:10-16 40:11-07 41:11-09 42:10-27
43:10-18 44:10-28 45:11-05 46:11-14 47:11-09 48:10-19 49:11-04 50:11-06 51:11-03 52:10-21 53:11-07 54:10-17 55:10-25
56:11-09 57:10-28 58:10-29 59:11-08 60:11-04 61:10-27 62:10-25 63:10-30 64:10-21 65:10-25 66:11-03 67:10-29 68:10-30
69:11-06 70:11-16 71:11-05 72:10-20 73:11-10 74:10-03 75:11-01 76:10-19 77:11-11 78:12-06 79:11-15 80:11-06 81:10-20
82:11-05 83:11-06 84:11-07 85:11-08 86:11-14 87:10-04 88:10-13 89:10-21 90:11-18 91:11-04 92:11-08 93:11-01 94:11-24
95:11-05 96:10-20 97:10-28 98:11-22 99:10-24 2000:10-09 01:10-18 02:11-14 03:11-14 04:11-15 05:11-11 06:10-15 07:10-30
08:10-29 09:10-19 10:11-06 11:10-30 12:11-09 13:10-26 14:11-02 15:11-14 16:11-15 17:11-20 18:11-11 19:11-03 20:11-03
"""


def test_the_first_freezes_of_all_91_autumns_are_those_worked_out_with_pandas(
    first_falls: dict[int, SeasonDates],
) -> None:
    published = [entry.split(":")[1] for entry in FIRST_FREEZES.split()]
    found = first_falls[32]
    assert list(found.dates) == list(range(1930, 2021))
    assert [f"{day:%m-%d}" for day in found.dates.values()] == published
    assert (found.without, found.unknown) == ((), ())


# Mean, standard deviation, numpy's linear percentiles, earliest and latest of the same dates, by threshold.
SUMMARIES = {
    36: (295.78, 10.65, (281, 296, 311), 273, 318),
    32: (305.24, 11.62, (291, 307, 318), 276, 340),
    28: (316.54, 12.25, (301, 317, 334), 289, 352),
}


@pytest.mark.parametrize("threshold", SUMMARIES)
def test_first_freezes_have_the_known_mean_spread_and_percentiles(
    first_falls: dict[int, SeasonDates], threshold: int
) -> None:
    middle, spread, tenths, earliest, latest = SUMMARIES[threshold]
    found = first_falls[threshold]
    days = found.day_numbers
    assert len(days) == 91
    assert (round(mean(days), 2), round(stdev(days), 2)) == (middle, spread)
    assert tuple(found.percentile(share) for share in (0.1, 0.5, 0.9)) == tenths
    assert (min(days), max(days)) == (earliest, latest)


# Mean and standard deviation of the first freezes (32 °F) of the thirty years of each climate normal.
NORMALS = {1961: (304.90, 13.42), 1971: (305.80, 14.92), 1981: (305.20, 13.21), 1991: (307.87, 11.50)}


@pytest.mark.parametrize("first", NORMALS)
def test_thirty_years_have_the_known_mean_and_spread(clemson: StationRecord, first: int) -> None:
    days = tuple(day for day in clemson.days if first <= day.on.year < first + 30)
    found = freeze_dates(StationRecord("Clemson", days), 32).first_fall.day_numbers
    assert (len(found), round(mean(found), 2), round(stdev(found), 2)) == (30, *NORMALS[first])


def test_first_freezes_come_nine_tenths_of_a_day_later_a_decade(first_falls: dict[int, SeasonDates]) -> None:
    # statsmodels 0.15.0, OLS on the year: .898 days a decade, p = .052 with 89 degrees of freedom
    trend = first_falls[32].trend()
    assert trend
    assert trend.days == pytest.approx(0.898, abs=5e-4)
    assert 2 * t.sf(trend.days / trend.error, 89) == pytest.approx(0.052, abs=5e-4)


SPRINGS = [(36, 106.14, 11.87), (32, 93.53, 12.42), (28, 80.22, 15.17)]


@pytest.mark.parametrize(("threshold", "middle", "spread"), SPRINGS)
def test_last_freezes_of_spring_have_the_known_mean_and_spread(
    clemson: StationRecord, threshold: int, middle: float, spread: float
) -> None:
    days = freeze_dates(clemson, threshold).last_spring.day_numbers
    assert (len(days), round(mean(days), 2), round(stdev(days), 2)) == (91, middle, spread)


# How many of the 91 autumns had frozen (32 °F) by a date, with Wilson's 95 % range from scipy.
BY_DATE = {
    (10, 10): (4, 0.017, 0.108),
    (10, 15): (6, 0.031, 0.137),
    (10, 20): (17, 0.120, 0.279),
    (10, 25): (27, 0.213, 0.397),
    (10, 31): (42, 0.363, 0.563),
    (11, 5): (56, 0.513, 0.709),
    (11, 10): (73, 0.709, 0.871),
    (11, 15): (85, 0.864, 0.969),
}


@pytest.mark.parametrize("by", BY_DATE)
def test_autumns_frozen_by_a_date_are_counted_with_their_range(
    first_falls: dict[int, SeasonDates], by: tuple[int, int]
) -> None:
    counted = first_falls[32].counted(MonthDay(*by))
    came, low, high = BY_DATE[by]
    assert (counted.came, counted.seasons) == (came, 91)
    assert (counted.range.low, counted.range.high) == pytest.approx((low, high), abs=6e-4)


def test_with_no_freeze_by_25_october_29_of_64_autumns_froze_by_5_november(
    first_falls: dict[int, SeasonDates],
) -> None:
    counted = first_falls[32].counted(MonthDay(11, 5), none_by=MonthDay(10, 25))
    assert (counted.came, counted.seasons) == (29, 64)
    odds = Odds.from_seasons(first_falls[32])
    assert odds
    # F(298.5) = .2809, F(309.5) = .6430 of the normal curve with mean 305.24 and spread 11.62
    chance = odds.after(date(2031, 10, 25)).by(date(2031, 11, 5))
    assert chance == pytest.approx((0.6430 - 0.2809) / (1 - 0.2809), abs=2e-4)
    assert round(chance, 4) == 0.5036


def test_the_july_night_of_72_below_is_set_aside_and_nothing_else_is(clemson: StationRecord) -> None:
    assert clemson.set_aside == {"missing day": 90, "missing low": 17, "missing high": 5, "spike": 1}
    assert clemson.by_date[date(1936, 7, 18)].low is None
    assert clemson.by_date[date(1936, 7, 18)].high == 91.94


def test_with_that_night_left_in_the_spread_would_be_16_days(clemson: StationRecord) -> None:
    night = date(1936, 7, 18)
    dirty = [day._replace(low=-72.04) if day.on == night else day for day in clemson.days]
    lows = {day.on: day.low for day in dirty if day.low is not None}
    firsts = [
        min((on for on, low in lows.items() if low < 32.5 and date(year, 7, 1) <= on < date(year + 1, 7, 1)))
        for year in range(1930, 2021)
    ]
    days = [on.timetuple().tm_yday for on in firsts]
    assert (round(mean(days), 2), round(stdev(days), 2), min(days)) == (304.09, 16.02, 200)


# Cold snaps that happened: the two nights of January 1985, and the nights farther than 27 °F from those around.
REAL = ["1985-01-21", "1985-01-22", "1940-01-26", "1939-01-05", "1956-03-07", "1957-12-12", "1964-12-05",
        "2011-11-18", "2012-02-24", "2016-11-30"]  # fmt: skip


@pytest.mark.parametrize("night", REAL)
def test_cold_snaps_that_happened_are_kept(clemson: StationRecord, night: str) -> None:
    assert clemson.by_date[date.fromisoformat(night)].low is not None


@pytest.mark.parametrize(("threshold", "differing"), [(36, 0), (32, 0), (28, 31)])
def test_without_rounding_31_of_91_autumns_would_have_another_first_hard_freeze(
    clemson: StationRecord, first_falls: dict[int, SeasonDates], threshold: int, differing: int
) -> None:
    unrounded = {
        year: min(
            day.on
            for day in clemson.days
            if day.low is not None and day.low <= threshold and date(year, 8, 1) <= day.on < date(year + 1, 8, 1)
        )
        for year in range(1930, 2021)
    }
    assert sum(unrounded[year] != day for year, day in first_falls[threshold].dates.items()) == differing


# Last of spring and first of fall, read off the records by hand with pandas. At 0.0 °C exactly Seattle froze in the
# falls of 2014 and 2015, New York in that of 2013.
LINCOLN = {36: ("05-14", "10-07"), 32: ("04-12", "10-12"), 28: ("04-09", "11-12")}
CITIES = {
    "seattle.csv": ["03-19/11-10", "03-04/11-21", "02-09/11-12", "03-04/11-23"],
    "new-york.csv": ["03-27/11-06", "04-04/11-12", "04-16/11-15", "03-29/11-24"],
}


@pytest.mark.parametrize("threshold", LINCOLN)
def test_the_one_year_of_lincoln_in_noaas_own_layout_has_the_known_dates(threshold: int) -> None:
    found = freeze_dates(read_record(DATA / "lincoln.csv"), threshold)
    dates = found.last_spring.dates[2016], found.first_fall.dates[2016]
    assert tuple(f"{day:%m-%d}" for day in dates) == LINCOLN[threshold]


@pytest.mark.parametrize("city", CITIES)
def test_two_cities_in_celsius_have_the_known_dates(city: str) -> None:
    found = freeze_dates(read_record(DATA / city, Units.METRIC), 32)
    assert list(found.first_fall.dates) == list(found.last_spring.dates) == [2012, 2013, 2014, 2015]
    pairs = zip(found.last_spring.dates.values(), found.first_fall.dates.values(), strict=True)
    assert [f"{last:%m-%d}/{first:%m-%d}" for last, first in pairs] == CITIES[city]


# xclim 0.62.0 on the same files (Clemson without its bad night), half a degree above each limit, e.g.
#   xclim.indices.first_day_temperature_below(tn, thresh="0.25 degC", op="<", after_date="08-01", freq="YS").sum()
#   xclim.indices.last_spring_frost(tn, thresh="0.25 degC", op="<", before_date="07-31", freq="YS").sum()
# with 2.5, 0.25 and -1.95 °C for 36, 32 and 28 °F: sums of days of the year.
XCLIM = {
    ("clemson.csv", 36): (26916, 9659),
    ("clemson.csv", 32): (27777, 8511),
    ("clemson.csv", 28): (28805, 7300),
    ("lincoln.csv", 36): (281, 135),
    ("lincoln.csv", 32): (286, 103),
    ("lincoln.csv", 28): (317, 100),
    ("seattle.csv", 36): (1271, 334),
    ("seattle.csv", 32): (1283, 245),
    ("new-york.csv", 36): (1222, 389),
    ("new-york.csv", 32): (1274, 375),
}


@pytest.mark.parametrize(("file", "threshold"), XCLIM)
def test_first_and_last_freezes_are_xclims(file: str, threshold: int) -> None:
    units = Units.METRIC if file in CITIES else Units.US
    found = freeze_dates(read_record(DATA / file, units), threshold)
    assert (sum(found.first_fall.day_numbers), sum(found.last_spring.day_numbers)) == XCLIM[file, threshold]


# The chance (%) that it has frozen by a date, as printed at weather.gov/ilm (freezeFlorence, freezeMarion), with the
# mean and spread of the normal curve fitted to each list. The service adds no half day, so the middle lies half a day
# later in our way of counting, by which the day itself is over.
PUBLISHED = {
    "Florence": (
        314.75,
        10.723,
        "10-15 .6 10-20 2.1 10-25 5.9 11-01 18.2 11-05 29.6 11-10 47.2 11-15 65.4 11-20 80.6 11-25 90.8 11-30 96.4 "
        "12-05 98.8 12-10 99.7",
    ),
    "Marion": (
        305.38,
        11.809,
        "10-01 .4 10-05 1.0 10-10 2.9 10-15 7.1 10-20 14.7 10-25 26.6 11-01 48.7 11-05 62.0 11-10 76.7 11-15 87.6 "
        "11-20 94.3 11-25 97.7 11-30 99.2",
    ),
    "Florence, spring": (79.26, 14.296, "03-01 8.9 03-10 23.6 03-20 49.3 03-30 75.2 04-10 92.7"),
    "Marion, spring": (89.03, 15.054, "03-10 9.2 03-20 25.3 03-30 49.9 04-10 76.7 04-20 91.8"),
}


@pytest.mark.parametrize("station", PUBLISHED)
def test_published_chances_by_date_are_those_of_a_normal_curve(station: str) -> None:
    middle, spread, printed = PUBLISHED[station]
    odds = Odds(middle + 0.5, spread, spread)
    words = printed.split()
    for day, percent in zip(words[::2], words[1::2], strict=True):
        assert odds.by(date.fromisoformat(f"2031-{day}")) * 100 == pytest.approx(float(percent), abs=0.06), day


# The dates printed beside them, by chance (%). They are cut off, not rounded: Florence's 95 and 99 % contradict its
# own list above and are left out.
PRINTED_DATES = {
    "Florence": {1: "10-16", 5: "10-24", 10: "10-28", 25: "11-03", 50: "11-10", 75: "11-17", 90: "11-24"},
    "Marion": {1: "10-04", 5: "10-12", 10: "10-17", 25: "10-24", 50: "11-01", 75: "11-09", 90: "11-16", 95: "11-20",
               99: "11-28"},
}  # fmt: skip


@pytest.mark.parametrize("station", PRINTED_DATES)
def test_published_dates_are_the_days_in_which_the_normal_curve_reaches_the_chance(station: str) -> None:
    middle, spread, _ = PUBLISHED[station]
    odds = Odds(middle, spread, spread)
    for percent, printed in PRINTED_DATES[station].items():
        number = odds.quantile_number(percent / 100)
        assert number
        assert date.fromordinal(date(2031, 1, 1).toordinal() + int(number) - 1) == date.fromisoformat(f"2031-{printed}")


@pytest.mark.parametrize(
    ("dates", "spread"), [((MonthDay(9, 12), MonthDay(9, 24), MonthDay(10, 5)), 9.0),
                          ((MonthDay(9, 17), MonthDay(10, 4), MonthDay(10, 20)), 12.9)],
)  # fmt: skip
def test_three_dates_of_north_platte_have_the_spread_that_is_known_of_it(
    dates: tuple[MonthDay, MonthDay, MonthDay], spread: float
) -> None:
    # weather.gov/lbf/climate_fall_freeze: 10, 50 and 90 % dates at 32 and at 28 °F
    odds = Odds.from_dates(FrostDates(*dates))
    assert (odds.early_spread + odds.late_spread) / 2 == pytest.approx(spread, abs=0.06)


def test_the_error_of_a_ten_percent_date_is_the_published_formulas() -> None:
    # spread 11.6 days, 30 seasons: 2.9 days, sd * sqrt(1/n + z^2 / (2 (n - 1))), z = 1.2816
    odds = Odds(305, 11.6, 11.6, 1.0, 30, 30)
    assert odds.standard_error(0.1) == pytest.approx(2.9, abs=0.05)
    z = NormalDist().inv_cdf(0.9)
    assert odds.standard_error(0.9) == pytest.approx(11.6 * (1 / 30 + z**2 / 58) ** 0.5)
