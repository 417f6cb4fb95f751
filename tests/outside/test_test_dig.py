"""The arithmetic of a test dig against published figures, closed forms and a statistics library.

Tolerances stand beside each check. `from memory` marks what was not seen again when the check was written.
"""

from __future__ import annotations

from math import log, sqrt

import numpy as np
import pytest
from scipy import stats

from assistant.model.readings import Span
from assistant.reckoning import grades, yields
from assistant.reckoning.growth import SEASON_GROWTH
from assistant.reckoning.ranges import mean_range, pooled_spread, student_t
from assistant.reckoning.sampling import Plan, hill_chance, hills_for_share, hills_for_weight, prospect
from assistant.reckoning.test_dig import MOST_ALIKE, Counts, chance_of_most, share_range
from assistant.reckoning.yields import GRAMS_PER_POUND, Root

EVER = 10_000  # hills after which a plan without an end would still go on; none here does


# --- ranges, against scipy ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 8, 13, 30, 120])
@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.9, 0.95, 0.99])
def test_students_t_is_scipys(freedom: int, confidence: float) -> None:
    assert student_t(freedom, confidence) == pytest.approx(stats.t.ppf((1 + confidence) / 2, freedom), rel=1e-9)


# One root a hill: how alike the roots of a hill are does not come in, and the range is the beta distribution's,
# to within half a cell of its grid (0.005).
@pytest.mark.parametrize(("some", "of"), [(1, 2), (3, 5), (7, 9), (1, 12), (15, 30)])
def test_with_one_root_a_hill_the_range_is_the_beta_distributions(some: int, of: int) -> None:
    share = share_range(((1, 1),) * some + ((0, 1),) * (of - some))
    assert share.low == pytest.approx(stats.beta.ppf(0.05, some + 1, of - some + 1), abs=0.005)
    assert share.high == pytest.approx(stats.beta.ppf(0.95, some + 1, of - some + 1), abs=0.005)


# The exact (Clopper-Pearson) and Wilson intervals for single roots: the exact one is the wider by design, so ours is to
# lie within it by a hair, and within 0.04 of Wilson's ends.
@pytest.mark.parametrize(("some", "of"), [(3, 10), (9, 20), (24, 40)])
def test_with_one_root_a_hill_the_range_is_near_the_usual_intervals(some: int, of: int) -> None:
    share = share_range(((1, 1),) * some + ((0, 1),) * (of - some))
    exact = stats.binomtest(some, of).proportion_ci(0.90, "exact")
    wilson = stats.binomtest(some, of).proportion_ci(0.90, "wilson")
    assert exact.low - 0.005 <= share.low <= share.high <= exact.high + 0.005
    assert (share.low, share.high) == pytest.approx((wilson.low, wilson.high), abs=0.04)


# The same model worked out by scipy's beta-binomial on a grid four times as fine: within 0.005.
@pytest.mark.parametrize("hills", [((3, 5), (2, 4)), ((0, 3), (4, 6), (2, 2)), ((8, 9), (7, 8), (5, 9), (6, 6))])
def test_the_range_is_that_of_the_beta_binomial_model(hills: Counts) -> None:
    cells, steps = 400, 40
    shares = (np.arange(cells) + 0.5)[:, None] / cells
    around = 1 / ((np.arange(steps) + 0.5)[None, :] / steps * MOST_ALIKE) - 1
    fit = np.ones((cells, steps))
    for some, of in hills:
        fit *= stats.betabinom.pmf(some, of, shares * around, (1 - shares) * around)
    below = np.cumsum(fit.sum(axis=1)) / fit.sum()
    share = share_range(hills)
    for end, chance in ((share.low, 0.05), (share.high, 0.95)):
        assert end == pytest.approx(np.searchsorted(below, chance) / cells, abs=0.005)
    assert chance_of_most(hills) == pytest.approx(1 - below[cells // 2 - 1], abs=0.005)


@pytest.mark.parametrize(("some", "of", "share", "alike"), [(0, 4, 0.3, 0.1), (3, 5, 0.65, 0.25), (7, 7, 0.9, 0.5)])
def test_the_law_of_a_hill_is_scipys_beta_binomial(some: int, of: int, share: float, alike: float) -> None:
    around = 1 / alike - 1
    expected = stats.betabinom.pmf(some, of, share * around, (1 - share) * around)
    assert hill_chance(some, of, share, alike) == pytest.approx(expected, rel=1e-9)


def test_roots_that_are_not_alike_follow_the_binomial_law() -> None:
    assert hill_chance(3, 8, 0.4, 0.0) == pytest.approx(stats.binom.pmf(3, 8, 0.4), rel=1e-9)


# Without the usual spread beside it, the range of a mean is Student's t on the scale of ratios.
def test_the_range_of_a_mean_is_students_t() -> None:
    weights = [38.2, 40.4, 32.1]
    found = mean_range(weights, usual_spread=0.5, weight=0)
    low, high = stats.t.interval(0.90, 2, loc=36.9, scale=stats.sem(weights))
    assert found is not None
    assert log(found.high / found.likely) == pytest.approx((high - low) / 2 / 36.9)


# --- the sequential plan, against Wald's closed forms ---------------------------------------------------------------

# NIST/SEMATECH e-Handbook of Statistical Methods, section 6.2.6 (from memory): p1 .01, p2 .10, alpha .05, beta .10
# accept below -0.939 + 0.0397 n and reject above 1.205 + 0.0397 n defectives. Rounded there to three figures.
NIST = Plan(few=0.01, most=0.10, wrong_most=0.05, wrong_few=0.10, likeness=0.0, most_hills=EVER)


def test_the_lines_of_a_plan_are_the_published_ones() -> None:
    a_defective, a_good_one = NIST.weight(1, 1), NIST.weight(0, 1)
    assert NIST.lower / (a_defective - a_good_one) == pytest.approx(-0.939, abs=0.0005)
    assert NIST.upper / (a_defective - a_good_one) == pytest.approx(1.205, abs=0.0005)
    assert -a_good_one / (a_defective - a_good_one) == pytest.approx(0.0397, abs=0.00005)


class Wald:
    """Wald 1947, Sequential Analysis (from memory): chance of `few` and mean number of roots, overshoot neglected."""

    def __init__(self, plan: Plan, power: float) -> None:
        p0, p1 = plan.few, plan.most
        up, down = p1 / p0, (1 - p1) / (1 - p0)
        upper, lower = (1 - plan.wrong_few) / plan.wrong_most, plan.wrong_few / (1 - plan.wrong_most)
        self.share = (1 - down**power) / (up**power - down**power)
        self.few = (upper**power - 1) / (upper**power - lower**power)
        drift = self.share * log(up) + (1 - self.share) * log(down)
        self.roots = (self.few * log(lower) + (1 - self.few) * log(upper)) / drift


# Roots one by one that are not alike. The exact walk passes the boundaries by up to one step, which Wald neglects: with
# close alternatives (steps of 0.04 to 0.11 against boundaries of 2.25 and 2.89) the chance is within 0.02 and the
# number within 5 % of his.
CLOSE = Plan(few=0.48, most=0.52, wrong_most=0.05, wrong_few=0.10, likeness=0.0, most_hills=EVER)


@pytest.mark.parametrize("power", [2.0, 1.0, 0.5, -0.5, -1.0, -2.0])
def test_the_plan_has_walds_operating_characteristic_and_average_number(power: float) -> None:
    wald = Wald(CLOSE, power)
    exact = prospect(CLOSE, wald.share, 1)
    assert exact.few == pytest.approx(wald.few, abs=0.02)
    assert exact.hills == pytest.approx(wald.roots, rel=0.05)


# A walk that lands on its boundaries has no overshoot, and Wald's closed forms are exact: p0 = 1 - p1, boundaries a
# whole number of steps away (here 3), as in the ruin of a gambler (Feller, An Introduction to Probability, vol. 1).
@pytest.mark.parametrize("power", [1.5, 1.0, 0.3, -0.7, -1.0])
def test_without_overshoot_walds_closed_forms_are_exact(power: float) -> None:
    odds = 2.0
    wrong = 1 / (1 + odds**3) + 1e-12
    plan = Plan(few=1 / 3, most=2 / 3, wrong_most=wrong, wrong_few=wrong, likeness=0.0, most_hills=EVER)
    wald = Wald(plan, power)
    exact = prospect(plan, wald.share, 1)
    assert exact.few == pytest.approx(wald.few, abs=1e-6)
    assert exact.hills == pytest.approx(wald.roots, rel=1e-6)


# Wald: the true errors are at most a / (1 - b) and b / (1 - a); the standing plan keeps even the stated ones, since it
# stops after 8 hills. At any number of roots a hill.
@pytest.mark.parametrize("roots", [2, 3, 5, 8])
def test_the_standing_plan_errs_no_more_than_it_says(roots: int) -> None:
    plan = Plan()
    assert prospect(plan, plan.few, roots).most <= plan.wrong_most
    assert prospect(plan, plan.most, roots).few <= plan.wrong_few
    assert prospect(plan, 0.5, roots).hills <= plan.most_hills


# Sample sizes, 1.645 and 1.96 standard errors: 17 plants for 20 % at 90 %, and 15.4 for 25 % at 95 %, where plants
# spread by half; a uniformity trial asked for plots of 13 to 16 plants (Humada González, Agrociencia).
def test_as_many_plants_as_the_arithmetic_of_sampling_asks() -> None:
    assert hills_for_weight(0.20, 0.50) == 17
    assert hills_for_weight(0.25, 0.50, 0.95) == 16
    assert hills_for_share(0.1, 0.5, roots=1, likeness=0.0) == 68  # 1.645^2 x .25 / .01 = 67.6
    assert hills_for_share(0.1, 0.5, roots=5, likeness=1.0) == 68  # five alike are as good as one


# --- yields ---------------------------------------------------------------------------------------------------------

# Plots of 50 plants of four treatments, kg, of the International Potato Center at Tacna: `sweetpotato` in the R package
# agricolae. Mean 27.625, mean square 22.489, coefficient of variation 17.17 %; of the last treatment alone 11.7 %.
CIP_PLOTS = [[28.5, 21.7, 23.0], [14.9, 10.6, 13.1], [41.8, 39.2, 28.0], [38.2, 40.4, 32.1]]


def test_the_spread_of_plots_is_the_published_coefficient_of_variation() -> None:
    mean = sum(map(sum, CIP_PLOTS)) / 12
    assert mean == pytest.approx(27.625)
    assert (pooled_spread(CIP_PLOTS) * mean) ** 2 == pytest.approx(22.489, abs=0.0005)
    assert pooled_spread(CIP_PLOTS) == pytest.approx(0.1717, abs=0.00005)
    assert pooled_spread(CIP_PLOTS[3:]) == pytest.approx(0.117, abs=0.0005)


# Geometry: 43,560 square feet to the acre.
@pytest.mark.parametrize(("width", "feet"), [(36, 14_520), (40, 13_068), (42, 12_446), (48, 10_890)])
def test_feet_of_row_in_an_acre(width: float, feet: float) -> None:
    assert yields.row_feet_per_acre(width) == pytest.approx(feet, abs=0.5)


@pytest.mark.parametrize(("width", "bushels"), [(36, 29.04), (40, 26.14), (42, 24.89), (48, 21.78)])
def test_bushels_an_acre_for_a_pound_in_ten_feet(width: float, bushels: float) -> None:
    assert yields.bushels_per_acre(1, 10, width) == pytest.approx(bushels, abs=0.005)


def test_fifteen_pounds_in_ten_feet_of_36_inch_rows() -> None:
    assert yields.bushels_per_acre(15, 10, 36, yields.BUSHELS["50 lb"]) == pytest.approx(435.6)
    assert yields.bushels_per_acre(15, 10, 36, yields.BUSHELS["55 lb"]) == pytest.approx(396.0)


# Northern Plains Potato Growers Association, Measurements: factors from pounds in ten feet to hundredweight an acre.
# Right for rows of 34 and 36 in; its 16.4 for 33 in is not what rows of 33 in give, but nearly what 32 in would.
@pytest.mark.parametrize(("width", "published", "agrees"), [(36, 14.5, True), (34, 15.4, True), (33, 16.4, False)])
def test_the_published_ten_foot_factors_but_one(width: float, published: float, agrees: bool) -> None:
    factor = yields.row_feet_per_acre(width) / 10 / 100
    assert (factor == pytest.approx(published, abs=0.05)) is agrees
    assert yields.row_feet_per_acre(32) / 1000 == pytest.approx(16.4, abs=0.1)


# Dawling 2016, slides for growers: 276 to 805 lb in 1,000 square feet are 6 to 17.5 short tons an acre.
@pytest.mark.parametrize(("pounds", "tons"), [(276, 6.0), (805, 17.5)])
def test_pounds_in_a_thousand_square_feet(pounds: float, tons: float) -> None:
    row_feet = 1000 / 3  # rows 36 in apart
    assert pounds / row_feet * yields.row_feet_per_acre(36) / 2000 == pytest.approx(tons, abs=0.05)


# New Hampshire research summary 2015: 438 bushels of 50 lb an acre, at 36 by 12 in 1.51 lb a plant (our arithmetic).
# Mississippi State Extension: 394 million lb from 22,500 acres in 2012, 17,511 lb or 350 bushels an acre.
def test_bushels_an_acre_and_pounds_a_plant() -> None:
    bed = yields.Bed(spacing=12, row_width=36)
    plant = mean_range([1.51], 0.5)
    assert plant is not None
    acre = bed.per_acre(plant)
    assert acre is not None
    assert acre.likely / 50 == pytest.approx(438, abs=1)
    assert round(394e6 / 22_500 / yields.BUSHELS["50 lb"]) == 350


# The same summary: the mean U.S. crop and the best trial line, over 60 days of bulking at 14,520 plants an acre; to
# half a gram.
@pytest.mark.parametrize(("bushels", "grams"), [(438, SEASON_GROWTH.likely), (887, SEASON_GROWTH.high)])
def test_growth_in_a_day_is_that_of_the_published_crops(bushels: float, grams: float) -> None:
    assert bushels * 50 * GRAMS_PER_POUND / 14_520 / 60 == pytest.approx(grams, abs=0.5)


# Mean length, width (mm) and volume (ml) of two kinds: Adetola and others 2021, Turkish Journal of Agricultural
# Engineering Research 2(1):230 (abstract read). The ellipsoid is to be within the error that is told, 20 %.
@pytest.mark.parametrize(("length", "width", "volume"), [(110.68, 61.40, 187.78), (68.46, 59.32, 137.83)])
def test_the_ellipsoid_is_as_near_to_measured_volumes_as_is_told(length: float, width: float, volume: float) -> None:
    found = yields.root_grams(width / 25.4, length / 25.4)
    assert found == pytest.approx(volume, rel=yields.WEIGHT_ERROR["length"])


# Geometric mean diameter (mm) and sphericity (%) of four varieties: Obomeghei and Ebabhamiegbebho 2020 (abstract read).
# Sphericity is that mean over the length, so length and the mean of the other two follow.
@pytest.mark.parametrize(("mean", "sphericity"), [(82.02, 54.15), (95.17, 55.82), (84.33, 59.31), (77.03, 54.75)])
def test_the_usual_length_of_a_root_is_that_of_four_varieties(mean: float, sphericity: float) -> None:
    length = mean / (sphericity / 100)
    across = sqrt(mean**3 / length)
    assert length / across == pytest.approx(yields.LENGTH_OF_A_ROOT, rel=0.10)


# --- grades ---------------------------------------------------------------------------------------------------------


# LSU AgCenter, Smith 2009: U.S. No. 1 is 1 3/4 to 3 1/2 in across, 3 to 9 in long, at most 20 oz (567 g).
@pytest.mark.parametrize(
    ("root", "is_no_1"),
    [
        (Root(1.75), True),
        (Root(1.74), False),
        (Root(3.5), True),
        (Root(3.51), False),
        (Root(2.5, 3.0), True),
        (Root(2.5, 2.9), False),
        (Root(2.5, 9.0), True),
        (Root(2.5, 9.1), False),
        (Root(2.5, 6.0, 566.9), True),
        (Root(2.5, 6.0, 568.0), False),
    ],
)
def test_us_no_1_takes_the_published_sizes(root: Root, is_no_1: bool) -> None:
    assert (grades.grade_counts([root])["us-no-1"] == 1) is is_no_1


# USDA AMS, canning or freezing: 1 to 2 1/4 in, 2 to 7 in. Release of Orleans, HortScience 47:1817: 5.1 to 8.9 cm.
# Extra No. 1 to 3 1/4 in and 18 oz, Petite 1 1/2 to 2 1/4 in and 3 to 7 in, No. 2 from 1 1/2 in to 36 oz: from memory.
def test_the_other_grades_have_their_published_sizes() -> None:
    sizes = {grade.name: grade for grade in (*grades.GRADES, *grades.STRICTER)}
    assert sizes["canning-no-1"][1:3] == (Span(1, 2.25), Span(2, 7))
    trial = sizes["research-no-1"].diameter
    assert (trial.low, trial.high) == pytest.approx((5.1 / 2.54, 8.9 / 2.54), abs=0.02)
    assert (sizes["us-extra-no-1"].diameter.high, sizes["us-extra-no-1"].ounces) == (3.25, 18)
    assert sizes["us-no-1-petite"][1:3] == (Span(1.5, 2.25), Span(3, 7))
    assert (sizes["us-no-2"].diameter.low, sizes["us-no-2"].ounces) == (1.5, 36)


# Bornt and others 2010, Cornell Cooperative Extension: cull under 1/4 lb or 1 1/2 in, small to 1 lb, large to 2 lb,
# jumbo from 2 lb.
@pytest.mark.parametrize(
    ("pounds", "name"), [(0.24, "cull"), (0.25, "small"), (0.99, "small"), (1.0, "large"), (2.0, "jumbo")]
)
def test_a_trial_graded_by_weight(pounds: float, name: str) -> None:
    assert grades.trial_counts([Root(2.5, grams=pounds * GRAMS_PER_POUND + 1e-6)])[name] == 1
    assert grades.trial_counts([Root(1.4, grams=pounds * GRAMS_PER_POUND)])["cull"] == 1
