"""Ranges for a share, against published limits and a statistics library."""

from __future__ import annotations

import pytest
from scipy.stats import binomtest

from assistant.reckoning.intervals import exact_interval, wilson

# Newcombe 1998 (Stat. Med. 17:857), table I: 95 % limits of four shares, Wilson's and the exact ones (from memory).
NEWCOMBE = {
    (81, 263): ((0.2553, 0.3662), (0.2527, 0.3676)),
    (15, 148): ((0.0624, 0.1605), (0.0578, 0.1617)),
    (0, 20): ((0.0, 0.1611), (0.0, 0.1684)),
    (1, 29): ((0.0061, 0.1718), (0.0009, 0.1776)),
}


@pytest.mark.parametrize("share", NEWCOMBE)
def test_ranges_for_a_share_are_newcombes(share: tuple[int, int]) -> None:
    for found, published in zip((wilson(*share), exact_interval(*share)), NEWCOMBE[share], strict=True):
        assert (round(found.low, 4), round(found.high, 4)) == published


@pytest.mark.parametrize("number", [1, 2, 10, 30, 91, 1000])
@pytest.mark.parametrize("confidence", [0.8, 0.95, 0.99])
def test_ranges_for_a_share_are_scipys(number: int, confidence: float) -> None:
    for count in (0, 1, number // 3, number - 1, number):
        test = binomtest(count, number)
        for method, found in (("wilson", wilson), ("exact", exact_interval)):
            expected = test.proportion_ci(confidence, method=method)
            span = found(count, number, confidence)
            assert (span.low, span.high) == pytest.approx((expected.low, expected.high), abs=1e-9), (count, method)
