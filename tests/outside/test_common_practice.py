"""What home growers commonly do: common practice, no source."""

from __future__ import annotations

from datetime import timedelta

import pytest
from gardens import ON, RULEBOOK, advice, finding, verdict

LATE = ON.replace(month=10, day=1)


# Common practice, no source: 90 to 110 days to maturity by variety.
def test_a_crop_of_average_age_may_be_ready() -> None:
    for days, found in ((60, "too-early"), (100, "possible")):
        planted = (ON - timedelta(days=days)).isoformat()
        assert finding("maturity", {"planted_on": planted, "heave": "none", "vines": "green"}) == found


# Common practice, no source: vines yellow only once nights fall into the 40s F.
@pytest.mark.parametrize(("nights", "found"), [("48 F", "seen"), ("49 F", "seen"), ("50 F", "not-seen")])
def test_yellow_vines_count_once_nights_are_in_the_forties(nights: str, found: str) -> None:
    assert finding("cue", {"vines": "yellowing", "recent_nights": nights, "heave": "none"}) == found


# Common practice, no source: green vines in a mild autumn say nothing.
@pytest.mark.parametrize("size", ["too-small", "right", "too-big"])
def test_green_vines_in_mild_nights_change_nothing(size: str) -> None:
    known = {"roots": size, "recent_nights": "58 F", "forecast_low": "52 F"}
    assert advice({**known, "vines": "green"}) == advice(known)


# Common practice, no source: roots heaving out of the soil or mounded soil is the cue to look.
@pytest.mark.parametrize("heave", ["cracks", "mounded", "showing"])
def test_heaving_soil_is_the_cue_to_look(heave: str) -> None:
    young = (ON - timedelta(days=70)).isoformat()
    assert advice({"heave": heave, "planted_on": young, "forecast_low": "52 F"}) == "test-dig"
    assert advice({"heave": "none", "planted_on": young, "forecast_low": "52 F"}) == "wait"


# Common practice, no source: a light frost means dig at once, a deep freeze usually ruins the crop.
@pytest.mark.parametrize(("frost", "given"), [("none", "wait"), ("light", "dig-at-once"), ("hard", "sort-and-salvage")])
def test_a_light_frost_is_dug_at_once_and_a_deep_freeze_is_sorted(frost: str, given: str) -> None:
    assert advice({"frost": frost, "roots": "too-small", "forecast_low": "45 F"}) == given


# Common practice, no source: early beats late.
@pytest.mark.parametrize("size", ["too-small", "right", "too-big", "can't tell"])
@pytest.mark.parametrize("low", ["30 F", "29..40 F", "about 38 F"])
def test_early_beats_late_whatever_the_size(size: str, low: str) -> None:
    assert advice({"roots": size, "forecast_low": low, "forecast_low_in": "3"}, LATE) == "dig-before-frost"


# Common practice, no source: an unknown forecast late in the season is never taken for a mild one.
@pytest.mark.parametrize("size", ["too-small", "can't tell"])
def test_an_unknown_forecast_late_in_the_season_is_not_taken_for_a_mild_one(size: str) -> None:
    assert advice({"roots": size, "forecast_low": "can't tell", "recent_nights": "60 F"}, LATE) == "dig-before-frost"


# Common practice, no source: start the spade about a foot out, unwashed roots in one layer, nicked ones eaten first.
def test_digging_comes_with_the_customary_words() -> None:
    shown = verdict({"roots": "right", "forecast_low": "55 F"}).derivation.cautions
    assert {"spade-distance", "do-not-wash", "nicked-first"} <= set(shown)
    assert "a foot (30 cm)" in RULEBOOK.cautions["spade-distance"].text


# Common practice, no source: cure 7 to 10 days at 80 to 85 F.
def test_the_cure_is_the_customary_one() -> None:
    steps = " ".join(RULEBOOK.advice["dig-now"].steps)
    assert "7 to 10 days at 80 to 85 °F" in steps
