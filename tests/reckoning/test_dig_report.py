"""What one test dig says, whichever way its roots were told."""

from __future__ import annotations

from assistant.model.readings import Span
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.hills import Classes, Hill
from assistant.reckoning.yields import Root, root_grams

NO_1 = Span(1.75, 3.5)


def hill(*diameters: float) -> Hill:
    return Hill("1", tuple(map(Root, diameters)))


def test_every_root_is_small_right_or_big() -> None:
    report = DigReport((hill(1.0, 2.0, 4.0), hill(2.0)), NO_1)
    assert report.counts("small") == ((1, 3), (0, 1))
    assert report.counts("right") == ((1, 3), (1, 1))
    assert report.counts("big") == ((1, 3), (0, 1))


def test_both_ends_of_what_is_wanted_are_wanted() -> None:
    report = DigReport((hill(1.74, 1.75, 3.5, 3.51),), NO_1)
    assert [report.counts(size) for size in ("small", "right", "big")] == [((1, 4),), ((2, 4),), ((1, 4),)]


def test_sorted_roots_give_the_same_share_as_measured_ones() -> None:
    measured = DigReport((hill(1.0, 2.0, 4.0), hill(2.0)), NO_1)
    counted = DigReport((Hill("1", classes=Classes(1, 1, 1)), Hill("2", classes=Classes(0, 1, 0))), NO_1)
    assert counted.share == measured.share
    assert counted.plan == measured.plan
    assert (counted.middle, counted.per_plant, counted.spread) == (None, None, None)


def test_roots_that_were_only_weighed_have_a_wider_range() -> None:
    sizes = (1.6, 1.9, 2.4), (1.7, 2.2)
    measured = DigReport(tuple(hill(*roots) for roots in sizes), NO_1)
    weighed = DigReport(tuple(Hill("", tuple(Root(grams=root_grams(size)) for size in roots)) for roots in sizes), NO_1)
    assert weighed.share.likely == measured.share.likely
    assert weighed.share.low < measured.share.low < measured.share.high < weighed.share.high


def test_the_hills_of_a_report_are_those_of_a_case() -> None:
    assert DigReport((hill(1.0, 2.0), hill()), NO_1).dig.hills == ((1.0, 2.0), ())


def test_grades_add_up_to_the_roots_dug() -> None:
    report = DigReport((hill(0.8, 1.2, 1.6, 2.1, 3.4, 4.0),), NO_1)
    assert report.grades == {"us-no-1": 2, "us-no-1-petite": 1, "us-no-2": 1, "canning-no-1": 1, "no-grade": 1}
    assert report.stricter == {"us-extra-no-1": 1, "research-no-1": 2}
    assert sum(report.trial.values()) == 6
