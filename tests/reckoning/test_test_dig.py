"""The range for a bed's middle root."""

from itertools import pairwise, product
from statistics import median

import pytest

from assistant.model.readings import Span
from assistant.reckoning.test_dig import median_range


@pytest.mark.parametrize(
    ("count", "rank", "coverage"),
    [
        # Exact coverage of the interval between the rank-th smallest and largest, from standard tables of the
        # sign-test interval for a median (from memory), and counted out below over every pattern of above and below.
        (5, 1, 0.9375),
        (6, 1, 0.96875),
        (8, 2, 0.9297),
        (10, 2, 0.9785),
    ],
)
def test_the_range_is_the_published_interval_for_a_median(count: int, rank: int, coverage: float) -> None:
    counted = sum(rank <= sum(pattern) <= count - rank for pattern in product((0, 1), repeat=count)) / 2**count
    assert counted == pytest.approx(coverage, abs=5e-5)
    assert median_range(list(map(float, range(1, count + 1)))) == Span(rank, count + 1 - rank)


def test_the_range_holds_the_sample_median_whatever_the_order() -> None:
    diameters = [2.1, 1.2, 3.0, 2.4, 2.2, 0.9, 2.6]
    middle = median_range(diameters)
    assert middle is not None
    assert middle.low <= median(diameters) <= middle.high
    assert median_range(diameters[::-1]) == middle


def test_more_confidence_never_narrows_the_range() -> None:
    diameters = [float(step) for step in range(1, 30)]
    ranges = [median_range(diameters, confidence) for confidence in (0.5, 0.8, 0.9, 0.99)]
    assert all(narrow and wide and narrow.within(wide) for narrow, wide in pairwise(ranges))


def test_fewer_than_five_roots_cannot_tell_with_nine_in_ten_confidence() -> None:
    assert median_range([2.2]) is None
    assert median_range([2.2, 2.3, 2.4, 2.5]) is None
    assert median_range([2.2, 2.3, 2.4, 2.5, 2.6]) == Span(2.2, 2.6)
