"""Station records in each layout: the same days whatever the file, and bad values counted, never used."""

from __future__ import annotations

import gzip
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

import pytest

from assistant.model.place import BadInput
from assistant.model.quantities import Units
from assistant.model.weather import Day, StationRecord
from assistant.weather import read_record

STATION = "USC00381770"
# Tenths of °C as GHCN-Daily keeps them, and the same in °F: low, high by day of October 2031.
TENTHS = {1: (-22, 189), 2: (0, 211), 3: (50, 250), 31: (-11, 150)}
DAYS = [
    Day(date(2031, 10, day), round(low * 0.18 + 32, 2), round(high * 0.18 + 32, 2))
    for day, (low, high) in TENTHS.items()
]


def dly_line(element: str, values: dict[int, str], station: str = STATION) -> str:
    """One month of a .dly file: column 22 on, eight characters a day, value and three flags."""
    return f"{station}203110{element}" + "".join(values.get(day, "-9999   ") for day in range(1, 32)) + "\n"


def dly_text() -> str:
    lows = {day: f"{low:5d}  7" for day, (low, _) in TENTHS.items()}
    highs = {day: f"{high:5d}  7" for day, (_, high) in TENTHS.items()}
    return dly_line("TMAX", highs) + dly_line("TMIN", lows) + dly_line("PRCP", {1: "    0  7"})


def by_station_text() -> str:
    rows = [
        f"{STATION},203110{day:02d},{element},{value},,,7,0800"
        for day, pair in TENTHS.items()
        for element, value in zip(("TMIN", "TMAX"), pair, strict=True)
    ]
    return "\n".join([*rows, f"{STATION},20311001,PRCP,0,,,7,"]) + "\n"


def csv_text(rows: Sequence[object] | None = None) -> str:
    rows = rows or [f"{on},{low},{high}" for on, low, high in DAYS]
    return "\n".join(["DATE,TMIN,TMAX", *map(str, rows)]) + "\n"


def quoted_text() -> str:
    rows = [f'"{STATION}","CLEMSON, SC","{on}","{high}","{low}"' for on, low, high in DAYS]
    return "\n".join(['"STATION","NAME","DATE","TMAX","TMIN"', *rows]) + "\n"


def read(tmp_path: Path, text: str, units: Units = Units.US) -> StationRecord:
    path = tmp_path / "station.csv"
    path.write_text(text, encoding="utf-8")
    return read_record(path, units)


LAYOUTS = {
    "plain CSV": csv_text(),
    "quoted CSV": quoted_text(),
    "columns in lower case and other order": "Tmax,x,tmin,date\n" + "".join(f"{h},9,{lo},{on}\n" for on, lo, h in DAYS),
    "days without hyphens": csv_text([f"{on:%Y%m%d},{low},{high}" for on, low, high in DAYS]),
    "Windows line ends and a byte-order mark": "\ufeff" + csv_text().replace("\n", "\r\n"),
    "blank lines": csv_text().replace("\n", "\n\n"),
    "newest first": csv_text([f"{on},{low},{high}" for on, low, high in reversed(DAYS)]),
    ".dly": dly_text(),
    ".dly, lows first": "".join(sorted(dly_text().splitlines(True), reverse=True)),
    "by station": by_station_text(),
}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_layout_gives_the_same_days(tmp_path: Path, layout: str) -> None:
    record = read(tmp_path, LAYOUTS[layout])
    assert list(record.days) == DAYS
    assert record.set_aside == {"missing day": 27}


def test_a_gzipped_file_is_read_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "USC00381770.csv.gz"
    path.write_bytes(gzip.compress(by_station_text().encode()))
    assert list(read_record(path).days) == DAYS


def test_metric_files_are_in_celsius_and_lows_keep_hundredths(tmp_path: Path) -> None:
    record = read(tmp_path, csv_text(["2031-10-01,-2.2,18.9"]), Units.METRIC)
    assert record.days == (Day(date(2031, 10, 1), 28.04, 66.02),)


def test_a_record_is_named_by_its_file_its_number_or_its_name(tmp_path: Path) -> None:
    assert read(tmp_path, csv_text()).name == "station"
    assert read(tmp_path, dly_text()).name == STATION
    assert read(tmp_path, quoted_text()).name == "CLEMSON, SC"


def test_the_columns_of_dly_are_where_noaa_says(tmp_path: Path) -> None:
    # NOAA readme: ID 1-11, YEAR 12-15, MONTH 16-17, ELEMENT 18-21, VALUE1 22-26, QFLAG1 28, VALUE31 262-266
    line = list(" " * 269 + "\n")
    line[0:21] = "USC00381770203112TMIN"
    line[21:26], line[261:266] = "  -11", " -106"
    record = read(tmp_path, "".join(line))
    assert [(day.on, day.low) for day in record.days] == [(date(2031, 12, 1), 30.02), (date(2031, 12, 31), 12.92)]
    line[27] = "S"
    assert read(tmp_path, "".join(line)).set_aside["flagged by the weather service"] == 1


def mild() -> Iterator[tuple[date, float, float]]:
    """A hundred days of one climate."""
    for step in range(100):
        on = date.fromordinal(date(2031, 7, 1).toordinal() + step)
        yield on, 60 + step % 5, 80 + step % 5


def rows_with(**changes: str) -> str:
    """The hundred days with some rows replaced, by day as `d_2031_07_18`."""
    rows = {f"d_{on:%Y_%m_%d}": f"{on},{low},{high}" for on, low, high in mild()}
    return csv_text([*(rows | changes).values()])


BAD_VALUES = {
    "colder than anything on earth": ("2031-07-18,-200,80", "impossible value", (None, 80.0)),
    "hotter than anything on earth": ("2031-07-18,60,140", "impossible value", (60.0, None)),
    "infinite": ("2031-07-18,-inf,80", "impossible value", (None, 80.0)),
    "low above high": ("2031-07-18,75,70", "low above high", None),
    "a lost minus the other way about": ("2031-07-18,-70,80", "spike", (None, 80.0)),
    "a lost digit": ("2031-07-18,6,80", "spike", (None, 80.0)),
    "not measured": ("2031-07-18,,80", "missing low", (None, 80.0)),
    "written as missing": ("2031-07-18,-9999,M", "missing day", None),
    "no number": ("2031-07-18,cold,80", "unreadable row", None),
    "no day": ("2031-02-30,60,80", "unreadable row", None),
    "cut short": ("2031-07-18,60", "unreadable row", None),
    "the same again": ("2031-07-18,62,82\n2031-07-18,62,82", "duplicate", (62.0, 82.0)),
    "told twice, differently": ("2031-07-18,62,82\n2031-07-18,61,82", "differing duplicates", None),
    "told three times": ("2031-07-18,62,82\n2031-07-18,61,82\n2031-07-18,62,82", "differing duplicates", None),
}


@pytest.mark.parametrize("what", BAD_VALUES)
def test_a_bad_value_is_counted_by_kind_and_not_used(tmp_path: Path, what: str) -> None:
    row, kind, left = BAD_VALUES[what]
    record = read(tmp_path, rows_with(d_2031_07_18=row))
    assert record.set_aside[kind] == 1
    day = record.by_date.get(date(2031, 7, 18))
    assert (day and (day.low, day.high)) == left
    assert len(record.days) == 100 - (left is None)


def test_values_no_such_season_ever_has_are_set_aside_even_when_they_go_on_for_a_week(tmp_path: Path) -> None:
    week = {date(2033, 7, day) for day in range(1, 8)}
    rows = [f"{on},{0 if on in week else low},{high}" for on, low, high in summers()]
    record = read(tmp_path, csv_text(rows))
    assert record.set_aside["out of season"] + record.set_aside["spike"] == 7
    assert all(record.by_date[on].low is None for on in week)


def summers() -> Iterator[tuple[date, float, float]]:
    for year in range(2031, 2036):
        for on, low, high in mild():
            yield on.replace(year=year), low, high


def test_a_cold_snap_is_no_spike(tmp_path: Path) -> None:
    """Three nights that fall by 25 °F, as fronts do."""
    snap = {f"d_2031_09_{day}": f"2031-09-{day},{low},70" for day, low in ((20, 37), (21, 35), (22, 40))}
    record = read(tmp_path, rows_with(**snap))
    assert record.set_aside == {}
    assert [record.by_date[date(2031, 9, day)].low for day in (20, 21, 22)] == [37, 35, 40]


def test_flagged_values_of_both_ghcn_files_are_not_used(tmp_path: Path) -> None:
    flagged = dly_line("TMIN", {1: "  -22 X7", 2: "    0  7"})
    assert [day.low for day in read(tmp_path, flagged).days] == [32.0]
    row = f"{STATION},20311001,TMIN,-22,,X,7,0800\n{STATION},20311002,TMIN,0,,,7,0800\n"
    record = read(tmp_path, row)
    assert [day.low for day in record.days] == [32.0]
    assert record.set_aside == {"flagged by the weather service": 1, "missing high": 1}


BAD_FILES = {
    "a quote not closed": (b'DATE,TMIN,TMAX\n2031-10-01,30,70\n"2031-10-02,31,70\n2031-10-03,32,70\n', ":3:1", "quote"),
    "empty": (b"", ":1:1", "empty"),
    "no column of lows": (b"DATE,TMAX\n2031-10-01,70\n", ":1:1", "no column TMIN"),
    "no header": (b"2031-10-01,50,70\n", ":1:1", "no columns DATE and TMIN and TMAX"),
    "semicolons": (b"DATE;TMIN;TMAX\n2031-10-01;50;70\n", ":1:1", "commas"),
    "a header alone": (b"DATE,TMIN,TMAX\n", ":1:1", "no low of any day"),
    "no low at all": (b"DATE,TMIN,TMAX\n2031-10-01,,70\n", ":1:1", "no low of any day"),
    "no low that can be": (b"DATE,TMIN,TMAX\n2031-10-01,-200,70\n2031-10-02,71,70\n", ":1:1", "no low of any day"),
    "binary": (bytes(range(256)) * 20, ":1:1", "no text"),
    "Latin-1": (b"DATE,TMIN,TMAX,NOTE\n2031-10-01,50,70,k\xfchl\n", ":", "no text"),
    "half a gzip": (gzip.compress(csv_text().encode() * 99)[:60], ":", "no text"),
    "one endless line": (b"DATE,TMIN,TMAX" + b"," * 100_000, ":1:1", "no text"),
    "days the American way": (b"DATE,TMIN,TMAX\n10/01/2031,50,70\n10/02/2031,50,70\n", ":2:1", "2 of 2 rows.*-06-20"),
    "words for numbers": (b'DATE,NAME,TMIN,TMAX\n2031-10-01,"A, B",cold,70\n', ":2:19", "'cold' is no temperature"),
    "two stations": (b"STATION,DATE,TMIN,TMAX\nA,2031-10-01,50,70\nB,2031-10-01,50,70\n", ":3:1", "second station, B"),
    "two .dly stations": (
        (dly_text() + dly_line("TMIN", {1: "  -22  7"}, "USC00381771")).encode(), ":4:1", "second station",
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", BAD_FILES)
def test_a_file_that_is_no_record_is_refused_with_its_place(tmp_path: Path, what: str) -> None:
    content, place, words = BAD_FILES[what]
    path = tmp_path / "bad.csv"
    path.write_bytes(content)
    with pytest.raises(BadInput, match=words) as refused:
        read_record(path)
    assert f"bad.csv{place}" in str(refused.value)


def test_a_folder_is_no_record(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="folder"):
        read_record(tmp_path)


def test_many_unreadable_rows_make_the_file_unusable(tmp_path: Path) -> None:
    good = [f"{on},{low},{high}" for on, low, high in mild()]
    assert read(tmp_path, csv_text([*good, *["?,?,?"] * 10])).set_aside["unreadable row"] == 10
    with pytest.raises(BadInput, match="20 of 120 rows"):
        read(tmp_path, csv_text([*good, *["?,?,?"] * 20]))


def test_a_year_that_is_never_warm_looks_like_celsius(tmp_path: Path) -> None:
    start = date(2031, 1, 1).toordinal()
    celsius = csv_text([f"{date.fromordinal(start + step)},{step % 20},{step % 20 + 10}" for step in range(365)])
    with pytest.raises(BadInput, match=r"looks like °C.*--units metric"):
        read(tmp_path, celsius)
    assert len(read(tmp_path, celsius, Units.METRIC).days) == 365


def test_fahrenheit_read_as_celsius_is_too_hot_to_be_true(tmp_path: Path) -> None:
    rows = csv_text([f"{on},{low},{high}" for on, low, high in mild()])
    with pytest.raises(BadInput, match=r"beyond anything ever measured.*leave out --units metric"):
        read(tmp_path, rows, Units.METRIC)


def test_tenths_of_celsius_are_too_hot_to_be_true(tmp_path: Path) -> None:
    rows = csv_text([f"{on},{low * 3},{high * 3}" for on, low, high in mild()])
    with pytest.raises(BadInput, match=r"tenths of °C.*dly"):
        read(tmp_path, rows)
