"""The rest of a bed by its history, and what can still be planted."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reckoning.rotation import (
    POTATOES,
    RESTS,
    SWEET_POTATOES,
    TAKERS,
    Fit,
    Season,
    held_until,
    last_disease,
    seasons_rested,
    takers,
)

SEASONS = st.builds(
    Season, st.integers(2000, 2040), st.sampled_from([SWEET_POTATOES, POTATOES, "garlic"]), st.sampled_from(list(RESTS))
)
HISTORIES = st.lists(SEASONS, max_size=8, unique_by=lambda season: season.year)


def _until(history: list[Season]) -> int:
    held = held_until(history)
    assert held is not None
    return held.until


def test_a_bed_that_never_had_any_is_not_held() -> None:
    assert held_until([Season(2031, "garlic"), Season(2030, POTATOES, "root-knot")][:1]) is None
    assert seasons_rested([Season(2031, "garlic")], 2032) is None


def test_the_longer_of_two_rests_counts_whichever_crop_it_comes_of() -> None:
    assert _until([Season(2028, SWEET_POTATOES, "wilt"), Season(2031, SWEET_POTATOES)]) == 2037
    assert _until([Season(2029, SWEET_POTATOES, "black-rot"), Season(2031, SWEET_POTATOES)]) == 2035


def test_potatoes_are_no_rest_after_root_knot_and_are_one_otherwise() -> None:
    after = [Season(2030, SWEET_POTATOES, "root-knot"), Season(2032, POTATOES)]
    assert (_until(after), seasons_rested(after, 2034)) == (2036, 1)
    clean = [Season(2030, SWEET_POTATOES), Season(2032, POTATOES)]
    assert (_until(clean), seasons_rested(clean, 2034)) == (2034, 3)


def test_a_bed_is_ready_just_when_it_has_rested_the_seasons_asked_for() -> None:
    history = [Season(2031, SWEET_POTATOES)]
    assert [seasons_rested(history, year) for year in (2032, 2035)] == [0, 3]
    assert _until(history) == 2035


@given(HISTORIES, SEASONS)
def test_one_more_crop_never_frees_a_bed_sooner(history: list[Season], season: Season) -> None:
    before, after = held_until(history), held_until([*history, season])
    assert before is None or (after is not None and after.until >= before.until)


@given(HISTORIES)
def test_the_order_in_which_a_history_is_written_does_not_matter(history: list[Season]) -> None:
    assert held_until(history[::-1]) == held_until(history)
    assert seasons_rested(history[::-1], 2041) == seasons_rested(history, 2041)


def test_the_disease_of_the_last_crop_counts_the_worst_where_two_are_written() -> None:
    history = [
        Season(2029, SWEET_POTATOES, "wilt"),
        Season(2031, SWEET_POTATOES, "scurf"),
        Season(2031, SWEET_POTATOES, "other-rot"),
        Season(2032, "garlic", "other-rot"),
    ]
    assert last_disease(history) == "scurf"


@pytest.mark.parametrize(("weeks", "fit"), [(9, Fit.EARLY), (8, Fit.NOW), (2, Fit.NOW), (1.9, Fit.LATE)])
def test_garlic_has_its_weeks(weeks: float, fit: Fit) -> None:
    assert dict((taker.name, found) for taker, found in takers(weeks))["garlic"] is fit


def test_after_root_knot_nothing_is_named_that_feeds_it() -> None:
    assert {taker.name for taker in TAKERS} - {taker.name for taker, _ in takers(10, root_knot=True)} == {
        "hairy vetch",
        "crimson clover",
    }


def test_a_window_ends_the_last_weeks_before_the_ground_freezes() -> None:
    garlic = TAKERS[0]
    assert garlic.window(date(2031, 12, 1)) == (date(2031, 10, 6), date(2031, 11, 17))
