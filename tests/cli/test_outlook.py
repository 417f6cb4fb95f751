"""`digday outlook`: the page, the plot, the JSON, weather options of the other commands, and what cannot be used."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import pytest
from stations import invented

from assistant.cli.output import width
from assistant.rulebook import read_rulebook

from .conftest import Digday

CASE = """\
case: A bed by the creek
rulebook: sweetpotato/when-to-dig
on: 2031-10-05
signs: {planted_on: 2031-06-25, variety: beauregard, vines: green, frost: none}
test_dig: {wanted: 1.75..3.5 in, hills: [[2.1, 1.2, 1.4], [1.6, 1.3, 1.9, 1.5], [1.2, 2.2, 1.6]]}
"""
DAY_KEYS = {"on", "low", "chance", "by", "counted", "soil", "share", "width", "harm", "advice"}
KEYS = {
    "case",
    "on",
    "risk",
    "days",
    "first_good_day",
    "first_look",
    "latest_safe_day",
    "latest_safe_because",
    "week",
    "missing",
    "assumptions",
}


@pytest.fixture
def case(tmp_path: Path) -> Path:
    path = tmp_path / "garden.yaml"
    path.write_text(CASE, encoding="utf-8")
    return path


@pytest.fixture
def station(tmp_path: Path) -> Path:
    days = invented(2015, 2031).days
    rows = [f"{day.on},{day.low:.2f},{day.high:.2f}" for day in days if day.on < date(2031, 10, 5)]
    path = tmp_path / "station.csv"
    path.write_text("\n".join(["DATE,TMIN,TMAX", *rows]) + "\n", encoding="utf-8")
    return path


def test_the_json_has_its_documented_keys_and_a_day_for_every_day(digday: Digday, case: Path, station: Path) -> None:
    code, out, err = digday("outlook", case, "--weather", station, "--lows", "58 55 52 50 49 53 55", "--json")
    told = json.loads(out)
    assert (code, err) == (0, "")
    assert set(told) == KEYS
    first = date(2031, 10, 5)
    assert [day["on"] for day in told["days"]] == [str(first + timedelta(days=ahead)) for ahead in range(43)]
    for day in told["days"]:
        assert set(day) == DAY_KEYS
        assert set(day["chance"]) == set(day["by"]) == {"36", "32", "28"}
        assert set(day["low"]) == set(day["soil"]) == set(day["share"]) == {"low", "likely", "high"}
    assert set(told["latest_safe_day"]) == set(told["week"]["risk"]) == {"harmless", "hurts"}
    assert all(each["says"] and each["sources"] for each in told["assumptions"])
    assert told["days"][0]["low"]["likely"] == 58


def test_every_key_of_the_json_is_explained_in_the_help(digday: Digday) -> None:
    told = digday("outlook", "--help").out
    assert [key for key in KEYS | DAY_KEYS if key not in told] == []


def test_the_page_fits_its_width_and_needs_no_colour(digday: Digday, case: Path, station: Path) -> None:
    code, out, _ = digday("outlook", case, "--weather", station)
    assert code == 0
    assert width() == 80
    assert max(map(len, out.splitlines())) <= 80
    assert "\x1b" not in out
    for heading in ("First good day", "Latest safe day, at a risk of 1 in 10", "Waiting a week", "What this rests on"):
        assert heading in out
    rows = [line for line in out.splitlines() if " % |" in line]
    assert len({row.index("|") for row in rows}) == 1
    assert any("+" in row for row in rows)


def test_plain_leaves_out_the_plot_and_keeps_the_days(digday: Digday, case: Path, station: Path) -> None:
    _, out, _ = digday("outlook", case, "--weather", station, "--plain")
    assert " % |" not in out
    assert "16 Nov" in out


def test_with_nothing_known_the_page_says_what_is_missing_and_what_it_can(digday: Digday, case: Path) -> None:
    code, out, _ = digday("outlook", case)
    assert code == 0
    assert "Not known; nothing tells of the coming nights." in " ".join(out.split())
    for option in ("--weather FILE", "--lows", "garden: {first_frost"):
        assert option in out
    assert "At the wanted size now" in out  # the test dig still says something


def test_a_question_not_asked_that_may_change_the_advice_is_named_until_it_is_answered(
    digday: Digday, case: Path, station: Path
) -> None:
    asked = "Not asked, though an answer may change the advice: "
    rot = read_rulebook("sweetpotato/when-to-dig").signs["rot_seen"].ask
    _, out, _ = digday("outlook", case, "--weather", station)
    assert rot in " ".join(out.split()).split(asked)[1]
    case.write_text(CASE.replace("signs: {", 'signs: {rot_seen: "no", '))
    _, out, _ = digday("outlook", case, "--weather", station)
    assert rot not in " ".join(out.split())


def test_frost_dates_alone_give_the_same_page(digday: Digday, case: Path) -> None:
    case.write_text(CASE + "garden: {first_frost: {p10: 10-08, p50: 10-20, p90: 11-02}}\n")
    _, out, _ = digday("outlook", case, "--json")
    told = json.loads(out)
    middle = told["days"][15]
    assert middle["on"] == "2031-10-20"
    assert middle["by"]["32"] == pytest.approx(0.5, abs=0.06)  # none by 5 October lifts it a little
    assert told["latest_safe_day"]["hurts"] < told["latest_safe_day"]["harmless"]


def test_more_risk_is_never_an_earlier_day(digday: Digday, case: Path, station: Path) -> None:
    found = []
    for risk in ("0.05", "20%"):
        _, out, _ = digday("outlook", case, "--weather", station, "--risk", risk, "--json")
        found.append(json.loads(out))
    assert [told["risk"] for told in found] == [0.05, 0.2]
    for view in ("harmless", "hurts"):
        assert found[0]["latest_safe_day"][view] <= found[1]["latest_safe_day"][view]


@pytest.mark.parametrize("risk", ["0", "1", "2", "-1", "often", "nan"])
def test_a_risk_that_is_no_chance_is_refused(digday: Digday, case: Path, risk: str) -> None:
    code, out, err = digday("outlook", case, f"--risk={risk}")
    assert (code, out) == (2, "")
    assert "between 0 and 1" in err


def test_both_a_forecast_and_lows_are_refused(digday: Digday, case: Path) -> None:
    code, _, err = digday("outlook", case, "--lows", "44", "--forecast", "forecast.json")
    assert code == 2
    assert "not both" in err


@pytest.mark.parametrize("command", ["outlook", "advise", "why"])
def test_weather_that_cannot_be_used_is_refused_in_a_sentence(digday: Digday, case: Path, command: str) -> None:
    code, out, err = digday(command, case, "--weather", "none.csv")
    assert (code, out) == (2, "")
    assert "none.csv" in err
    code, out, err = digday(command, case, "--lows", "warm")
    assert (code, out) == (2, "")
    assert "'warm'" in err
    code, out, err = digday(command, case, "--lows", " ")
    assert (code, out) == (2, "")
    assert "--lows holds no low" in err


def test_lows_typed_in_reach_the_advice_and_its_reasons(digday: Digday, case: Path) -> None:
    mild = digday("advise", case, "--lows", "58 55 52 50 49 53 55", "--json")
    cold = digday("advise", case, "--lows", "58 55 52 50 30 53 55", "--json")
    assert json.loads(cold.out)["advice"] == "dig-before-frost"
    assert json.loads(cold.out)["act_by"] == "2031-10-05"  # who knows when the next chance to dig comes
    case.write_text(CASE.replace("signs: {", "signs: {next_chance: tomorrow, "), encoding="utf-8")
    cold = digday("advise", case, "--lows", "58 55 52 50 30 53 55", "--json")
    assert json.loads(cold.out)["advice"] == "dig-before-frost"
    assert json.loads(cold.out)["act_by"] == "2031-10-09"  # by daylight, the last before the fifth night
    assert json.loads(mild.out)["advice"] != "dig-before-frost"
    assert "30 °F" in digday("why", case, "--lows", "58 55 52 50 30 53 55").out


def test_metric_lows_are_metric(digday: Digday, case: Path) -> None:
    _, out, _ = digday("outlook", case, "--lows", "10 4", "--units", "metric", "--json")
    assert json.loads(out)["days"][1]["low"]["likely"] == pytest.approx(39.2)


def test_a_visit_keeps_the_weather_it_was_given(digday: Digday, case: Path, station: Path) -> None:
    from assistant.cases import read_case

    digday("visit", "--plain", "--case", case, "--weather", station)
    assert read_case(case).weather is None  # nothing was answered, so nothing is saved


def test_a_verdict_without_weather_loads_nothing_of_the_outlook(case: Path) -> None:
    import subprocess
    import sys

    told = "from assistant.cli import main\nimport sys\nmain()\nprint(*sys.modules, file=sys.stderr)"
    run = subprocess.run([sys.executable, "-c", told, "advise", str(case)], capture_output=True, text=True, check=True)
    loaded = run.stderr.split()
    assert "assistant.season" in loaded
    rooms = ("assistant.outlook", "assistant.weather", "assistant.measures.weather")
    assert [name for name in loaded if name.startswith(rooms)] == []
