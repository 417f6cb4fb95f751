"""Days from setting out slips to the dig, against the published figures."""

from __future__ import annotations

from datetime import timedelta

import pytest
from gardens import ON, RULEBOOK, finding

from assistant.model.readings import Span


def _time(days: int, variety: str) -> str:
    planted = ON - timedelta(days=days)
    return finding("time", {"planted_on": planted.isoformat(), "variety": variety})


# Schultheis and others 1999, HortScience 34(7):1229-1233: acceptable from 90 days, best at 100 to 110 (North Carolina).
@pytest.mark.parametrize(
    ("days", "found"), [(89, "short"), (90, "uncertain"), (100, "uncertain"), (109, "uncertain"), (110, "reached")]
)
def test_beauregard_is_worth_a_look_from_90_days_and_has_had_its_days_at_110(days: int, found: str) -> None:
    assert _time(days, "beauregard") == found


# Granberry, Kelley and Boyhan, University of Georgia: Jewel takes 129 to 149 days.
@pytest.mark.parametrize(("days", "found"), [(128, "short"), (129, "uncertain"), (148, "uncertain"), (149, "reached")])
def test_jewel_takes_129_to_149_days(days: int, found: str) -> None:
    assert _time(days, "jewel") == found


# Ontario CropOp: 95 to 130 days for Covington and Beauregard there.
def test_covington_takes_95_to_130_days() -> None:
    assert RULEBOOK.tables["varieties"].rows["covington"].values["days"] == Span(95, 130)


# Release notes of Evangeline (2008) and Orleans (2012), HortScience; Bayou Belle: NC Crop Improvement Association.
@pytest.mark.parametrize("variety", ["evangeline", "orleans", "bayou-belle"])
def test_the_kin_of_beauregard_keep_its_days(variety: str) -> None:
    assert RULEBOOK.tables["varieties"].rows[variety].values["days"] == Span(90, 110)


# Release note of Murasaki-29, HortScience 43(6):1895: later than Beauregard in Louisiana.
def test_murasaki_is_later_than_beauregard() -> None:
    rows = RULEBOOK.tables["varieties"].rows
    assert rows["murasaki"].values["days"].low > rows["beauregard"].values["days"].low
    assert rows["murasaki"].values["days"].high > rows["beauregard"].values["days"].high


# University of Missouri Extension 2013: 130 to 170 days for the highest yield; Schultheis 1999: 100 to 110 for No. 1.
def test_the_three_end_points_are_kept_apart() -> None:
    column = RULEBOOK.tables["end_points"].column("days")
    assert column == {"first-roots": Span(90, 100), "most-no-1": Span(100, 110), "most-weight": Span(130, 170)}


# Minnesota (Dakota County): 90 days early kinds, 100 to 170 most others.
def test_an_unknown_variety_may_take_anything_from_90_to_170_days() -> None:
    unknown = {"planted_on": (ON - timedelta(days=89)).isoformat(), "variety": "can't tell"}
    assert finding("time", {**unknown, "variety": "other"}) == "short"
    for days, found in ((100, "uncertain"), (169, "uncertain"), (170, "reached")):
        assert finding("time", {**unknown, "planted_on": (ON - timedelta(days=days)).isoformat()}) == found


# Georgia Jet about 90 days: Dakota County Master Gardeners, Minnesota.
def test_georgia_jet_holds_its_90_days() -> None:
    days = RULEBOOK.tables["varieties"].rows["georgia-jet"].values["days"]
    assert days.low <= 90 <= days.high
