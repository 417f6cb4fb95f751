"""The histogram of a test dig in plain characters."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.explain.histogram import bars, gauge, histogram_lines, size_words
from assistant.model.quantities import Units
from assistant.model.readings import Span
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.hills import Classes, Hill
from assistant.reckoning.ranges import Range
from assistant.reckoning.yields import Root

NO_1 = Span(1.75, 3.5)


def report_of(*hills: tuple[float, ...], wanted: Span = NO_1) -> DigReport:
    return DigReport(tuple(Hill(str(at), tuple(map(Root, hill))) for at, hill in enumerate(hills, start=1)), wanted)


REPORTS = st.lists(st.lists(st.integers(20, 700).map(lambda size: size / 100), min_size=1, max_size=9), min_size=1).map(
    lambda hills: report_of(*map(tuple, hills))
)


def test_each_quarter_inch_has_a_row_and_each_root_a_mark() -> None:
    assert histogram_lines(report_of((2.1, 1.6, 2.2), (1.8, 2.0, 2.24)), Units.US, 78) == [
        "      in   roots                of hill",
        "1½ to 1¾ │ ░░░░               1 1",
        " 1¾ to 2 ┃ ████               1 2",
        " 2 to 2¼ ┃ ████████████████   4 1 ×2, 2 ×2",
        "2¼ to 2½ ┃",
        "2½ to 2¾ ┃",
        " 2¾ to 3 ┃",
        " 3 to 3¼ ┃",
        "3¼ to 3½ ┃",
    ]


def test_a_row_that_the_wanted_size_cuts_shows_both_kinds() -> None:
    (row,) = [row for row in bars(report_of((1.8, 1.95), wanted=Span(1.9, 3.5)), Units.US, 30) if row.roots]
    assert (row.label, row.is_wanted, row.bar) == ("1¾ to 2", True, "░░░░████")


def test_the_rows_beyond_the_wanted_sizes_are_not_marked() -> None:
    rows = bars(report_of((1.6, 3.6)), Units.US, 30)
    assert [row.label for row in rows if not row.is_wanted] == ["1½ to 1¾", "3½ to 3¾"]


def test_sorted_roots_have_three_rows() -> None:
    report = DigReport((Hill("1", classes=Classes(3, 5, 1)), Hill("2", classes=Classes(0, 4, 0))), NO_1)
    assert [(row.label, row.roots, row.hills) for row in bars(report, Units.US, 30)] == [
        ("smaller", 3, "1 ×3"),
        ("wanted", 9, "1 ×5, 2 ×4"),
        ("bigger", 1, "1"),
    ]


@given(REPORTS, st.sampled_from(Units))
def test_every_root_is_in_one_row(report: DigReport, units: Units) -> None:
    assert sum(row.roots for row in bars(report, units, 30)) == report.root_count


@given(REPORTS, st.sampled_from(Units), st.integers(30, 100))
def test_no_line_is_wider_than_its_room(report: DigReport, units: Units, width: int) -> None:
    assert all(len(line) <= width for line in histogram_lines(report, units, width))


@given(REPORTS)
def test_wanted_and_other_roots_differ_by_shape(report: DigReport) -> None:
    rows = bars(report, Units.US, 30)
    assert any("█" in row.bar for row in rows) == (report.share.likely > 0)
    assert any("░" in row.bar for row in rows) == (report.share.likely < 1)


def test_one_huge_root_does_not_make_a_hundred_rows() -> None:
    assert len(bars(report_of((2.0, 29.0)), Units.US, 30)) <= 26


@pytest.mark.parametrize(
    ("share", "line"),
    [
        (Range(0.2, 0.5, 0.7), "··├──●─┤···"),
        (Range(0, 0, 0.5), "●────┤·····"),
        (Range(0.5, 1, 1), "·····├────●"),
    ],
)
def test_the_gauge_shows_the_range_and_the_likely_share(share: Range, line: str) -> None:
    assert gauge(share, 11) == line


@pytest.mark.parametrize(
    ("inches", "us", "metric"), [(1.75, "1¾", "4.4"), (0.5, "½", "1.3"), (2, "2", "5.1"), (2.1, "2.1", "5.3")]
)
def test_sizes_are_told_in_quarters_or_centimetres(inches: float, us: str, metric: str) -> None:
    assert size_words(inches, Units.US) == us
    assert size_words(inches, Units.METRIC) == metric


@given(REPORTS, st.integers(30, 120), st.integers(5, 30))
def test_a_histogram_keeps_to_its_room_and_to_all_its_roots(report: DigReport, width: int, height: int) -> None:
    lines = histogram_lines(report, Units.US, width, height)
    assert len(lines) <= height
    assert all(len(line) <= width for line in lines)
    assert sum(bar.roots for bar in bars(report, Units.US, 20, height - 1)) == report.root_count
