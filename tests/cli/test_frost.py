"""`digday frost`: the JSON of the contract, the page, and what cannot be used."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from stations import invented

from .conftest import Digday

CLEMSON = Path(__file__).parents[1] / "outside" / "data" / "clemson.csv"


@pytest.fixture
def station(tmp_path: Path) -> Path:
    """Eight years of an invented garden."""
    rows = [f"{day.on},{day.low:.2f},{day.high:.2f}" for day in invented(2021, 2028).days]
    path = tmp_path / "station.csv"
    path.write_text("\n".join(["DATE,TMIN,TMAX", *rows]) + "\n", encoding="utf-8")
    return path


def test_the_json_has_the_keys_of_the_contract(digday: Digday, station: Path) -> None:
    code, out, err = digday("frost", "--weather", station, "--json")
    assert (code, err) == (0, "")
    told = json.loads(out)
    assert told["autumns"] == 8
    assert set(told["thresholds"]) == {"36", "32", "28"}
    assert isinstance(told["set_aside"], dict)
    for sides in told["thresholds"].values():
        for side in ("first_fall", "last_spring"):
            found = sides[side]
            assert {"n", "mean_doy", "sd", "p10", "p50", "p90", "dates"} <= set(found)
            assert found["n"] == len(found["dates"])
            assert found["p10"] <= found["p50"] <= found["p90"]


def test_clemson_comes_out_as_it_is_known(digday: Digday) -> None:
    told = json.loads(digday("frost", "--weather", CLEMSON, "--json").out)
    first = told["thresholds"]["32"]["first_fall"]
    assert told["autumns"] == first["n"] == 91
    assert (first["mean_doy"], first["sd"]) == (305.24, 11.62)
    assert (first["p10"], first["p50"], first["p90"]) == (291, 307, 318)
    assert (first["p10_date"], first["p50_date"], first["p90_date"]) == ("10-18", "11-03", "11-14")
    assert (first["dates"]["1930"], first["dates"]["2020"]) == ("10-21", "11-03")
    assert told["set_aside"]["spike"] == 1


def test_none_so_far_makes_the_odds_those_of_the_autumns_that_had_none(digday: Digday) -> None:
    code, out, _ = digday("frost", "--weather", CLEMSON, "--none-by", "2031-10-25")
    assert code == 0
    assert "With none by 25 Oct, a first freeze (32 °F) comes by 28 Oct in 1 year of 10" in out.replace("\n", " ")
    assert "29 of 64 (34 to 57 %)" in out


ON_THE_PAGE = [
    "8 autumns known, 2021 to 2028", "First in fall", "Last in spring", "+ 36 °F   o 32 °F   x 28 °F", "of 8 (",
    "Missing or set aside", "Nothing; no day is missing.", "Wilson's", "Utah Climate Center",
]  # fmt: skip


def test_the_page_tells_dates_chances_what_is_missing_and_sources(digday: Digday, station: Path) -> None:
    code, out, err = digday("frost", "--weather", station)
    assert (code, err) == (0, "")
    for words in ON_THE_PAGE:
        assert words in out, words


@pytest.mark.parametrize("columns", [40, 60, 80, 100])
def test_no_line_is_wider_than_the_terminal(
    digday: Digday, station: Path, columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    out = digday("frost", "--weather", station, "--forecast", "44 40", "--on", "2031-10-04").out
    assert max(map(len, out.splitlines())) <= columns
    assert "9 in 10 by" in out
    assert "     low  36 °F  32 °F  28 °F\n" in out


def test_the_curves_are_drawn_in_characters_that_any_terminal_has(digday: Digday, station: Path) -> None:
    plot = [line for line in digday("frost", "--weather", station).out.splitlines() if line[6:7] == "|"]
    assert [line[:6].strip() for line in plot] == ["100 %", "", "80 %", "", "60 %", "", "40 %", "", "20 %", "", "0 %"]
    assert set("".join(plot)) <= set("0123456789 %|+ox")
    assert all(mark in "".join(plot) for mark in "+ox")


def test_typed_lows_and_a_forecast_file_give_the_odds_of_the_nights_ahead(digday: Digday, station: Path) -> None:
    code, out, _ = digday("frost", "--weather", station, "--forecast", "44 F, 31 F", "--on", "2031-10-04", "--json")
    told = json.loads(out)["forecast"]
    assert (code, told["source"], told["issued"]) == (0, "typed in", "2031-10-04")
    assert [night["morning"] for night in told["nights"]] == ["2031-10-05", "2031-10-06"]
    mild, cold = (night["chances"] for night in told["nights"])
    assert mild["32"] < 0.1 < cold["32"]
    assert cold["28"] < cold["32"] < cold["36"]
    bulletin = Path(station.parent, "mex.txt")
    head = " IAD   GFSX MOS GUIDANCE   3/05/2013  0000 UTC"
    bulletin.write_text(f"{head}\n FHR  24| 36\n X/N  47| 34\n", encoding="utf-8")
    out = digday("frost", "--weather", station, "--forecast", bulletin, "--on", "2013-03-05").out
    assert "The nights ahead (MEX bulletin for IAD)" in out
    assert "6 Mar      34 °F" in out


def test_metric_records_are_read_and_told_in_celsius(digday: Digday, tmp_path: Path) -> None:
    path = tmp_path / "metric.csv"
    rows = [f"{day.on},{(day.low - 32) / 1.8:.1f},{(day.high - 32) / 1.8:.1f}" for day in invented(2021, 2028).days
            if day.low is not None and day.high is not None]  # fmt: skip
    path.write_text("\n".join(["DATE,TMIN,TMAX", *rows]), encoding="utf-8")
    out = digday("frost", "--weather", path, "--units", "metric").out
    assert "+ 2.2 °C   o 0 °C   x -2.2 °C" in out


def test_ones_own_dates_give_odds_without_a_record(digday: Digday) -> None:
    code, out, _ = digday("frost", "--dates", "10-08", "10-20", "11-02")
    assert code == 0
    assert "9 Oct    12 %" in out
    later = digday("frost", "--dates", "10-08", "10-20", "11-02", "--none-by", "2031-10-20").out
    assert "21 Oct     8 %" in later


def test_old_years_can_be_left_out_and_the_page_says_how_dates_have_moved(digday: Digday) -> None:
    out = " ".join(digday("frost", "--weather", CLEMSON).out.split())
    assert "have come 0.9 days later a decade, give or take 0.9; --since leaves old years out" in out
    told = json.loads(digday("frost", "--weather", CLEMSON, "--since", "1991", "--json").out)
    first = told["thresholds"]["32"]["first_fall"]
    assert (first["n"], first["mean_doy"], first["sd"]) == (30, 307.87, 11.50)


def test_one_autumn_gives_dates_but_no_odds(digday: Digday) -> None:
    code, out, _ = digday("frost", "--weather", CLEMSON.parent / "lincoln.csv")
    assert code == 0
    assert "Too few for odds: 1 autumn" in out
    assert "12 Oct" in out
    assert "100 %" not in out


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ([], "name a station's record with --weather FILE"),
        (["--weather", "nowhere.csv"], "nowhere.csv: no such file or directory."),
        (["--dates", "10-08", "10-40", "11-02"], "'10-40' is no day of the year; write it as month-day, such as 10-20"),
        (["--dates", "11-08", "10-20", "11-02"], "must follow one another"),
        (["--dates", "10-08", "10-20", "11-02", "--json"], "need a station's record"),
        (["--weather", CLEMSON, "--since", "2031"], "the record ends in 2020, before 2031."),
        (["--weather", CLEMSON, "--forecast", "cold"], "there is no file 'cold', and"),
        (["--weather", CLEMSON, "--none-by", "10-25"], "write it as year-month-day"),
        (["--weather", CLEMSON, "--hemisphere", "east"], "'east' is none of north, south."),
    ],
)
def test_what_cannot_be_used_is_answered_in_one_sentence(
    digday: Digday, arguments: list[object], sentence: str
) -> None:
    code, out, err = digday("frost", *arguments)
    assert (code, out) == (2, "")
    assert sentence in err
    assert err.count("\n") == 1


def test_a_bad_file_is_refused_with_its_place(digday: Digday, tmp_path: Path) -> None:
    path = tmp_path / "bad.csv"
    path.write_text("DATE,TMIN,TMAX\n10/01/2031,50,70\n", encoding="utf-8")
    code, out, err = digday("frost", "--weather", path)
    assert (code, out) == (2, "")
    assert "bad.csv:2:1" in err
    assert "'10/01/2031' is no day" in err
    assert "Traceback" not in err


def test_a_clear_night_is_told_as_a_range_with_its_limits(digday: Digday) -> None:
    code, out, err = digday("frost", "--evening", "46 F", "30 F")
    assert (code, err) == (0, "")
    # .719 x 7.78 + .305 x -1.11 - 4.214 = 1.04 °C, give or take 1.2816 x 1.61 °C (the rule's own figures, by hand)
    assert "30 °F to 38 °F in 8 nights of 10" in " ".join(out.split())
    assert "clear, calm night only" in " ".join(out.split())
    code, out, _ = digday("frost", "--evening", "8", "-1", "--units", "metric")
    assert code == 0
    assert "°C in 8 nights of 10" in " ".join(out.split())


def test_a_dew_point_above_the_temperature_is_refused(digday: Digday) -> None:
    code, out, err = digday("frost", "--evening", "30", "46")
    assert (code, out) == (2, "")
    assert "never above the temperature" in err


def test_heat_units_are_added_up_by_every_method(digday: Digday, tmp_path: Path) -> None:
    # One day of Zalom et al. 1983, table 7, between 55 and 90 °F cannot be met here, where the base is 60 °F; so two
    # days by hand: 95/72 gives 30 by the sweet potato rule, 84/66 gives 24; their means less 60 are 21 and 15 °F days
    # (the first day's high cut to 90).
    path = tmp_path / "two.csv"
    rows = [f"2031-06-{day:02d},{high},{low}" for day, high, low in ((10, 95, 72), (11, 84, 66))]
    rows += [f"2030-{month:02d}-15,{60 + 5 * min(month, 13 - month)},{40 + 5 * min(month, 13 - month)}"
             for month in range(1, 13)]  # fmt: skip
    path.write_text("\n".join(["DATE,TMAX,TMIN", *sorted(rows)]) + "\n", encoding="utf-8")
    code, out, err = digday("frost", "--weather", path, "--heat-since", "2031-06-10", "--json")
    assert (code, err) == (0, "")
    heat = json.loads(out)["heat"]
    assert heat["sweet_potato_rule"] == 54
    assert heat["methods"]["average"] == 21 + 15
    assert heat["missing_days"] == 0
    assert "54" in digday("frost", "--weather", path, "--heat-since", "2031-06-10").out


def test_cool_nights_refuse_the_sweet_potato_rule(digday: Digday, station: Path) -> None:
    code, out, _ = digday("frost", "--weather", station, "--heat-since", "2028-01-01")
    assert code == 0
    assert "refused" in out
