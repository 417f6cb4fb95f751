"""`digday replay`: the page, the JSON of the contract, and what cannot be used."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from autumns_by_hand import lively

from assistant.outlook.replay.thumbs import THUMBS

from .conftest import Digday

POLICY_KEYS = {
    "name",
    "value_mean",
    "value_p10",
    "crops_hurt",
    "crops_lost",
    "day_dug_median",
    "visits_mean",
    "hills_mean",
}


@pytest.fixture
def station(tmp_path: Path) -> Path:
    """Four invented years, the third without its September."""
    days = [day for day in lively(years=range(2001, 2005)).days if (day.on.year, day.on.month) != (2003, 9)]
    path = tmp_path / "hollow-creek.csv"
    path.write_text("DATE,TMIN,TMAX\n" + "".join(f"{on},{low:.1f},{high:.1f}\n" for on, low, high in days))
    return path


def test_the_json_has_the_keys_of_the_contract(digday: Digday, station: Path) -> None:
    run = digday("replay", "--weather", station, "--planted", "06-10", "--json")
    assert (run.code, run.err) == (0, "")
    data = json.loads(run.out)
    assert data["autumns"] == 3
    assert data["years"] == [2001, 2002, 2004]
    assert data["skipped"] == {"2003": "30 days in a row are not on record"}
    assert [view["frost"] for view in data["views"]] == ["harmless", "hurts"]
    for view in data["views"]:
        assert [policy["name"] for policy in view["policies"]] == ["assistant", *THUMBS, "hindsight"]
        assert all(set(policy) == POLICY_KEYS for policy in view["policies"])
        assert all(0 <= policy["value_p10"] <= 1 for policy in view["policies"])
    assert data["weekends"] is None
    assert all(each["says"] and each["sources"] for each in data["assumptions"])


def test_the_page_tells_who_does_best_what_was_left_out_and_what_it_rests_on(digday: Digday, station: Path) -> None:
    run = digday("replay", "--weather", station, "--planted", "06-10")
    assert run.code == 0
    assert "hollow-creek: 3 autumns from 2001 to 2004, beauregard planted Jun 10, seed 1" in run.out
    assert "keeps most of what hindsight would have had" in " ".join(run.out.split())
    assert "2003: 30 days in a row are not on record." in run.out
    assert "What this rests on" in run.out
    assert "If any frost on the vines costs keeping" in run.out
    assert all(len(line) <= 80 for line in run.out.splitlines())


def test_growers_who_dig_at_weekends_have_tables_of_their_own(digday: Digday, station: Path) -> None:
    plain, weekends = (
        digday("replay", "--weather", station, "--planted", "06-10", *more) for more in ((), ("--weekends",))
    )
    assert "weekends only" in weekends.out
    assert weekends.out.count("hindsight...") == 2 * plain.out.count("hindsight...")


def test_another_seed_is_another_garden_and_the_same_one_the_same(digday: Digday, station: Path) -> None:
    first, again, other = (
        digday("replay", "--weather", station, "--planted", "06-10", "--seed", seed, "--json").out for seed in "113"
    )
    assert first == again
    assert json.loads(first)["views"] != json.loads(other)["views"]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--planted", "13-40"], "--planted: '13-40' is no day of the year; write it as month-day, such as 10-20"),
        (["--planted", "06-10", "--variety", "beauregarde"], "beauregard"),
        (["--planted", "10-01"], "no autumn of this record can be followed"),
    ],
)
def test_what_cannot_be_used_is_refused_in_a_plain_sentence(
    digday: Digday, tmp_path: Path, arguments: list[str], says: str
) -> None:
    path = tmp_path / "short.csv"
    days = lively(years=range(2001, 2002)).days
    path.write_text("DATE,TMIN,TMAX\n" + "".join(f"{on},{low:.1f},{high:.1f}\n" for on, low, high in days))
    run = digday("replay", "--weather", path, *arguments)
    assert run.code == 2
    assert run.out == ""
    assert says in run.err
    assert "Traceback" not in run.err
