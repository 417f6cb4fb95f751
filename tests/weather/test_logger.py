"""Loggers' files in many layouts; gaps, duplicates and changes of the clock, by the time zones of the world."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.model.place import BadInput
from assistant.model.quantities import Units
from assistant.model.room_log import RoomLog, RoomReading
from assistant.weather.logger import read_log
from assistant.weather.logger_writing import add_reading

MINUTES = timedelta(minutes=1)


class Written:
    """A file to be read as a log."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def read(self, text: str, units: Units = Units.US) -> RoomLog:
        self.path.write_text(text, encoding="utf-8")
        return read_log(self.path, units)

    def refused(self, text: str, units: Units = Units.US) -> str:
        with pytest.raises(BadInput) as error:
            self.read(text, units)
        return str(error.value)


@pytest.fixture
def written(tmp_path: Path) -> Written:
    return Written(tmp_path / "room.csv")


LAYOUTS = {
    "plain": "time,temperature (F),humidity (%)\n2031-10-04 08:00,84.2,88\n2031-10-04 09:00,85.1,\n",
    "in °C": "Date/Time,Temp (°C),RH (%)\n2031-10-04T08:00:00,29,88\n2031-10-04T09:00:00,29.5,\n",
    "semicolons and decimal commas": "Date and time;Temperature °C;Humidity %rH\n04.10.2031 08:00;29,0;88,0\n"
    "04.10.2031 09:00;29,5;\n",
    "a preamble, a count and a dew point": "Logger 7\nSerial,12345\n#,Date,Time,Temp F,RH %,Dew Point F\n"
    "1,10/04/2031,8:00 AM,84.2 F,88 %,80\n2,10/04/2031,9:00 AM,85.1 F,NA,\n",
    "newest first": "timestamp,humidity,temp_f\n2031-10-04 09:00:00,,85.1\n2031-10-04 08:00:00,88,84.2\n",
    "in two zones": "time,temp (F),rh\n2031-10-04T08:00:00-04:00,84.2,88\n2031-10-04T13:00Z,85.1,\n",
    "tabs": "Time\tTemperature, F\tHumidity\n2031/10/04 08:00\t84.2\t88\n2031/10/04 09:00\t85.1\t\n",
}


@pytest.mark.parametrize("text", LAYOUTS.values(), ids=LAYOUTS.keys())
def test_every_layout_tells_the_same(written: Written, text: str) -> None:
    first, second = written.read(text).readings
    assert first == RoomReading(datetime(2031, 10, 4, 8), 84.2, 88)
    assert second == RoomReading(datetime(2031, 10, 4, 9), 85.1, None)


def test_the_units_said_hold_for_a_header_without_one(written: Written) -> None:
    assert written.read("time,temp,rh\n2031-10-04 08:00,29,88\n", Units.METRIC).readings[0].temperature == 84.2


@pytest.mark.parametrize(("units", "month"), [(Units.US, 10), (Units.METRIC, 4)])
def test_a_day_that_may_be_read_in_two_ways_is_read_as_usual_with_the_units(
    written: Written, units: Units, month: int
) -> None:
    assert written.read("time,temp (F),rh\n10/4/2031 08:00,84,88\n", units).start.month == month


def test_days_in_a_row_tell_the_order_of_day_and_month(written: Written) -> None:
    rows = "".join(f"{day:02d}/10/2031 08:00,84,88\n" for day in range(4, 9))
    log = written.read(f"time,temp (F),rh\n{rows}")
    assert (log.start, log.end) == (datetime(2031, 10, 4, 8), datetime(2031, 10, 8, 8))


ZONES = ["America/New_York", "America/Los_Angeles", "Europe/London", "Europe/Berlin", "Australia/Sydney", "UTC"]


# Where the clocks of a zone were changed is Python's own time zone data.
@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("every", [5, 15, 30, 60])
@pytest.mark.parametrize("year", [2019, 2024])
def test_a_log_across_every_change_of_the_clock_keeps_its_time(
    written: Written, zone: str, every: int, year: int
) -> None:
    start = datetime(year, 1, 5, tzinfo=timezone.utc)
    for changed in _changes(ZoneInfo(zone), start):
        moments = [changed + MINUTES * every * step for step in range(-30, 30)]
        rows = [f"{moment.astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M},84,88" for moment in moments]
        log = written.read("\n".join(["time,temp (F),rh", *rows]) + "\n")
        assert [reading.at - log.start for reading in log.readings] == [moment - moments[0] for moment in moments]
        assert sum(log.set_aside.values()) == 1
        assert not log.gaps


def _changes(zone: ZoneInfo, start: datetime) -> list[datetime]:
    """The hours of a year after which the zone's clock stands otherwise."""
    hours = (start + timedelta(hours=step) for step in range(365 * 24))
    return [
        hour + timedelta(hours=1)
        for hour in hours
        if hour.astimezone(zone).utcoffset() != (hour + timedelta(hours=1)).astimezone(zone).utcoffset()
    ]


def test_an_hour_left_out_in_summer_is_a_gap_in_time_and_no_change(written: Written) -> None:
    rows = [f"2031-07-06 {at},84,88" for at in ("01:30", "01:40", "01:50", "03:00", "03:10")]
    log = written.read("\n".join(["time,temp (F),rh", *rows]) + "\n")
    assert log.end == datetime(2031, 7, 6, 3, 10)
    assert log.set_aside == {}


def test_a_moment_told_twice_counts_once_and_not_at_all_when_it_differs(written: Written) -> None:
    rows = ["08:00,84,88", "09:00,84,88", "09:00,84,88", "10:00,84,88", "10:00,80,88", "11:00,84,88"]
    log = written.read("time,temp (F),rh\n" + "".join(f"2031-10-04 {row}\n" for row in rows))
    assert [reading.at.hour for reading in log.readings] == [8, 9, 11]
    assert log.set_aside == {"duplicate": 1, "differing duplicates": 1}


def test_two_files_joined_that_overlap_are_put_in_order(written: Written) -> None:
    hours = [*range(8, 14), *range(11, 17)]
    log = written.read("time,temp (F),rh\n" + "".join(f"2031-10-04 {hour:02d}:00,84,88\n" for hour in hours))
    assert [reading.at.hour for reading in log.readings] == list(range(8, 17))
    assert log.set_aside == {"duplicate": 3}


def test_a_gap_is_told_with_its_ends(written: Written) -> None:
    hours = [8, 9, 10, 18, 19]
    log = written.read("time,temp (F),rh\n" + "".join(f"2031-10-04 {hour:02d}:00,84,88\n" for hour in hours))
    assert [(gap.start.hour, gap.end.hour) for gap in log.gaps] == [(10, 18)]


def test_a_log_by_hand_twice_a_day_has_no_gaps(written: Written) -> None:
    rows = "".join(f"2031-10-{day:02d} {hour},84,88\n" for day in range(4, 9) for hour in ("07:30", "19:00"))
    assert written.read(f"time,temp (F),rh\n{rows}").gaps == ()


def test_what_no_logger_can_mean_is_counted_and_not_used(written: Written) -> None:
    rows = ["08:00,84,88", "09:00,999,88", "10:00,84,0", "11:00,120,88", "12:00,84,104", "13:00,84,110", "x,84,88"]
    log = written.read("time,temp (F),rh\n" + "".join(f"2031-10-04 {row}\n" for row in rows))
    assert [(reading.temperature, reading.humidity) for reading in log.readings] == [
        (84, 88), (None, 88), (84, None), (84, 100), (84, None)
    ]  # fmt: skip
    assert log.set_aside == {"impossible value": 3, "unreadable row": 1, "spike": 1}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("a,b\n1,2\n", "No line of this file names a time and a temperature."),
        ("time,temp\n" + "soon,warm\n" * 12, "12 of 12 rows of this log cannot be read."),
        ("time,temp\n2031-10-04 08:00,29\n2031-10-04 09:00,28\n", "this looks like °C"),
        ("time,temp (F)\n", "This file holds no reading that can be used."),
        ("time,temp (F)\n2031-10-04 08:00,\n", "This file holds no reading that can be used."),
        ("time,temp (F)\n2031-10-04 08:00,850\n", "No temperature of this log can be one."),
        ('time,temp (F)\n2031-10-04 08:00,85\n"2031-10-04 09:00,85\n2031-10-04 10:00,85\n', ":3:1: A quote is opened"),
        ("\0\1", "This is no text in UTF-8"),
    ],
)
def test_what_is_no_log_is_refused_with_its_place(written: Written, text: str, says: str) -> None:
    told = written.refused(text)
    assert says in told
    assert told.startswith(str(written.path))


def test_a_cold_log_whose_header_names_the_unit_is_believed(written: Written) -> None:
    assert written.read("time,temp (F)\n2031-10-04 08:00,38\n").readings[0].temperature == 38


# In months without a change of the clock, and no further apart than a heater brings a room.
moments = st.datetimes(datetime(2031, 6, 1), datetime(2031, 8, 31)).map(lambda at: at.replace(second=0, microsecond=0))
warmths = st.integers(7000, 9400).map(lambda hundredths: hundredths / 100)
added = st.dictionaries(moments, st.tuples(warmths, st.none() | st.integers(1, 100)), min_size=1, max_size=8)


@given(added)
def test_what_was_added_is_read_back(
    tmp_path_factory: pytest.TempPathFactory, told: dict[datetime, tuple[float, int | None]]
) -> None:
    path = tmp_path_factory.mktemp("log") / "room.csv"
    readings = tuple(RoomReading(at, *told[at]) for at in sorted(told))
    for reading in readings:
        add_reading(path, reading)
    assert read_log(path).readings == readings


def test_a_reading_goes_on_a_line_of_its_own(written: Written) -> None:
    written.path.write_text("time,temperature (F),humidity (%)\n2031-10-04 08:00,84,88", encoding="utf-8")
    add_reading(written.path, RoomReading(datetime(2031, 10, 4, 20), 85.5, None))
    lines = written.path.read_text(encoding="utf-8").splitlines()
    assert lines[1:] == ["2031-10-04 08:00,84,88", "2031-10-04 20:00,85.5,"]


def test_a_second_reading_of_one_minute_is_refused_at_the_first(written: Written) -> None:
    add_reading(written.path, RoomReading(datetime(2031, 10, 4, 20), 48, 88))
    with pytest.raises(BadInput, match=":2:1: This log has a reading of 2031-10-04 20:00 already"):
        add_reading(written.path, RoomReading(datetime(2031, 10, 4, 20), 84, 88))
    assert [reading.temperature for reading in read_log(written.path).readings] == [48]


def test_a_reading_is_never_added_to_another_file(written: Written) -> None:
    written.path.write_text("something,else\n", encoding="utf-8")
    with pytest.raises(BadInput, match="begun here"):
        add_reading(written.path, RoomReading(datetime(2031, 10, 4), 85, 88))
    assert written.path.read_text(encoding="utf-8") == "something,else\n"
