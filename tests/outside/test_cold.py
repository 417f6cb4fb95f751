"""Chilling, dig-by temperatures and freeze classes, against the published figures (°F unless said otherwise)."""

from __future__ import annotations

import pytest
from gardens import RULEBOOK, advice, finding, verdict

from assistant.model.quantities import Units, fahrenheit
from assistant.model.readings import Span

MILD = {"forecast_low": "45 F", "roots": "too-small", "recent_nights": "50 F"}


# Cotner 2000 (Texas A&M) and Byers 2013 (Missouri): dig before the soil falls to 50 F.
# NC SweetPotato Commission, Sumner (Georgia), Johnson (Delaware): injury begins below 55 F.
@pytest.mark.parametrize(
    ("soil", "found", "given"),
    [
        ("49.9 F", "chilling", "dig-at-once"),
        ("50 F", "cooling", "wait"),
        ("54.9 F", "cooling", "wait"),
        ("55 F", "warm", "wait"),
    ],
)
def test_the_soil_is_warned_of_below_55_and_acted_on_below_50(soil: str, found: str, given: str) -> None:
    signs = {**MILD, "soil_temperature": soil}
    assert finding("soil_warmth", signs) == found
    assert advice(signs) == given


def test_soil_between_50_and_55_carries_the_caution_and_the_dispute() -> None:
    cautions = {soil: verdict({**MILD, "soil_temperature": soil}).derivation.cautions for soil in ("54.9 F", "55 F")}
    assert "soil-below-55" in cautions["54.9 F"]
    assert "soil-below-55" not in cautions["55 F"]
    assert RULEBOOK.rule("soil-cooling").disputed == ("danger-temperature",)


# ONspecialtycrops 2020 and Filotas (Ontario): dig before the soil is at 10 to 12 °C.
@pytest.mark.parametrize(("soil", "given"), [("9.9 C", "dig-at-once"), ("10 C", "wait")])
def test_ten_degrees_celsius_is_the_limit_in_metric_gardens_too(soil: str, given: str) -> None:
    assert advice({**MILD, "soil_temperature": soil}, units=Units.METRIC) == given


def test_the_dig_by_temperatures_are_written_down_side_by_side() -> None:
    soil = RULEBOOK.tables["soil_limits"].column("soil")
    assert soil["dig-by"] == Span(50, 50)  # Texas A&M 2000, Missouri 2013
    assert soil["ontario-dig-by"] == Span(fahrenheit(10), fahrenheit(12))  # Ontario 2020: 10 to 12 °C
    assert soil["hardcore"] == Span(35, 50)  # Meyers 2015: 50 F three days, 35 F one day
    assert soil["carolina-injury"] == Span(40, 55)  # NC SweetPotato Commission: 55 F hours, below 40 F overnight severe
    assert soil["georgia-injury"] == Span(45, 55)  # Sumner: below 55 F, worse below 45 F


# Numbers in the words: Meyers 2015 (Mississippi), NC SweetPotato Commission, Ontario 2020.
def test_the_disagreement_over_the_danger_temperature_names_every_side() -> None:
    says = " ".join(side.says for side in RULEBOOK.disagreements["danger-temperature"].sides)
    for words in ("55 °F", "several hours", "40 °F", "50 °F", "10 to 12 °C", "three days", "35 °F", "one day"):
        assert words in says


# Light 29-32, moderate 25-28, severe 24 and below: NOAA wording, from memory, unverified.
def test_freezes_are_light_moderate_or_severe() -> None:
    low = RULEBOOK.tables["freezes"].column("low")
    assert (low["light"], low["moderate"], low["severe"].high) == (Span(29, 32), Span(25, 28), 24)


# weather.gov/jan/frostfreeze: 36, 32 and 28 F are first frost, freeze and hard freeze;
# NWS Blacksburg newsletter, fall 2007: frost advisory at 33 to 36 F, freeze warning at 32 F.
@pytest.mark.parametrize(
    ("low", "found"), [("28 F", "freeze"), ("32 F", "freeze"), ("33 F", "frost"), ("36 F", "frost"), ("37 F", "none")]
)
def test_frost_begins_at_36_and_freezing_at_32(low: str, found: str) -> None:
    assert finding("cold_threat", {"forecast_low": low}) == found


# A hard freeze begins at 28 F (weather.gov/jan/frostfreeze); a cover is trusted with the light class alone.
@pytest.mark.parametrize(("low", "given"), [("29 F", "cover-and-wait"), ("28 F", "dig-before-frost")])
def test_a_cover_is_trusted_with_a_light_freeze_only(low: str, given: str) -> None:
    assert advice({"forecast_low": low, "cover": "yes", "roots": "too-small", "cold_nights": "1"}) == given


# Ezell and Wilcox: harm seen 5 to 11 days after vines were killed.
def test_a_frost_five_days_old_carries_a_caution() -> None:
    shown = {days: verdict({"frost": "light", "frost_days_ago": days}).derivation.cautions for days in ("4", "5")}
    assert "frost-long-ago" in shown["5"]
    assert "frost-long-ago" not in shown["4"]


# LSU advice 2022 and NC State 2016: harm after two to three days of saturated soil, up to half of the crop.
@pytest.mark.parametrize(("days", "given"), [("1", "hold-for-soil"), ("2", "dig-at-once"), ("3", "dig-at-once")])
def test_water_that_stood_two_days_is_damage(days: str, given: str) -> None:
    signs = {"soil": "standing-water", "standing_water_days": days, "roots": "right", "forecast_low": "55 F"}
    assert advice(signs) == given
