"""A case may name its weather: files beside it and lows typed in."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from assistant.cases import read_case, save_case
from assistant.model.place import BadInput

HEAD = "case: A bed\nrulebook: sweetpotato/when-to-dig\non: 2031-09-20\n"


def a_record(folder: Path) -> None:
    days = (date(2031, 7, 1) + timedelta(days=number) for number in range(82))
    rows = [f"{day.isoformat()},85,62" for day in days]
    (folder / "station.csv").write_text("\n".join(["DATE,TMAX,TMIN", *rows]) + "\n")


def a_case(folder: Path, weather: str) -> Path:
    path = folder / "case.yaml"
    path.write_text(f"{HEAD}weather: {weather}\n")
    return path


def test_the_record_is_read_from_beside_the_case_and_named_again_when_saved(tmp_path: Path) -> None:
    a_record(tmp_path)
    case = read_case(a_case(tmp_path, '{record: station.csv, lows: "50 44 40 38 41 45 50"}'))
    assert case.weather is not None
    assert case.weather.record is not None
    assert case.weather.forecast is not None
    assert (len(case.weather.record.days), case.weather.forecast.nights[3].low) == (82, 38)
    save_case(case, tmp_path / "again.yaml")
    again = read_case(tmp_path / "again.yaml")
    assert again.weather_files == case.weather_files


def test_lows_follow_the_units_of_the_case(tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    path.write_text(f'{HEAD}units: metric\nweather: {{lows: "10 4"}}\n')
    weather = read_case(path).weather
    assert weather is not None
    assert weather.forecast is not None
    assert [night.low for night in weather.forecast.nights] == [50, 39.2]


@pytest.mark.parametrize(
    ("weather", "place", "words"),
    [
        ('{lows: "warm"}', "case.yaml:4:17", "warm"),
        ("{record: none.csv}", "case.yaml:4:10", "none.csv cannot be read: no such file"),
        ("{}", "case.yaml:4:10", "at least 1"),
        ("{record_units: kelvin, record: a.csv}", "case.yaml:4:25", "kelvin"),
    ],
)
def test_bad_weather_is_refused_at_its_place(tmp_path: Path, weather: str, place: str, words: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_case(a_case(tmp_path, weather))
    assert place in str(refused.value)
    assert words in str(refused.value)


def test_lows_stay_those_of_the_day_they_were_typed_in(tmp_path: Path) -> None:
    case = read_case(a_case(tmp_path, '{lows: "50 44 40 38 41 45 50"}'))
    save_case(replace(case, on=case.on + timedelta(days=3)), tmp_path / "later.yaml")
    later = read_case(tmp_path / "later.yaml")
    assert later.weather is not None
    assert case.weather is not None
    assert later.weather.forecast == case.weather.forecast
