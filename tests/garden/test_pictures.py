"""What there is to draw of a bed: only its own, only of its time, and the same in words."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from assistant.garden import demo
from assistant.garden.standing.overview import beds_now
from assistant.garden.standing.stages import BedNow
from assistant.garden.telling.pictures import Picture, pictures
from assistant.garden.telling.records import air_of, nights_of, report_of
from assistant.model.notebook import (
    AirRow,
    GardenRow,
    HillRow,
    PlantingRow,
    RootRow,
    StayRow,
    TrialRow,
    VisitRow,
)
from assistant.model.quantities import Units
from assistant.model.readings import Choices, Known, Origin, Span, exactly
from assistant.notebook import Notebook

ON = demo.TODAY


def bed(notebook: Notebook, name: str) -> BedNow:
    return next(now for now in beds_now(notebook, ON) if now.bed.name == name)


def of(notebook: Notebook, name: str) -> tuple[Picture, ...]:
    return pictures(notebook, bed(notebook, name), ON)


def headings(notebook: Notebook, name: str) -> list[str]:
    return [picture.draw(76, 12)[0].split(",")[0].split(" (")[0] for picture in of(notebook, name)]


@pytest.mark.parametrize(
    ("name", "drawn"),
    [
        ("River bed", ["Nights", "Roots", "Mean root"]),
        ("Orchard strip", ["Nights"]),
        ("South wall", []),
        ("New ground", []),
        ("Gate bed", ["Warmth", "Damp"]),
        ("Well bed", ["Warmth", "Damp"]),
        ("Old bed", []),
    ],
)
def test_each_bed_has_the_pictures_that_its_records_can_give(kept: Notebook, name: str, drawn: list[str]) -> None:
    assert headings(kept, name) == drawn


def test_air_counts_only_from_the_day_a_lot_came_to_the_day_it_left(kept: Notebook) -> None:
    room = kept.all(StayRow)[0].room
    stay = StayRow(1, room, "cure", date(2031, 10, 1), date(2031, 10, 2))
    kept.add(AirRow(room, datetime(2031, 10, 2, 20), 70, 60))
    assert [(each.at.day, each.temperature) for each in air_of(kept, stay, ON)] == [(1, 84), (2, 85), (2, 70)]
    assert [each.at.day for each in air_of(kept, stay._replace(until=None), date(2031, 10, 1))] == [1]


def test_of_very_many_readings_the_last_ones_are_looked_through(kept: Notebook) -> None:
    store = bed(kept, "Gate bed").lots[0]
    assert [each.temperature for each in air_of(kept, store.stay, ON, 2)] == [85, 83]


def test_a_night_that_nobody_can_tell_is_not_drawn(kept: Notebook) -> None:
    now = bed(kept, "Orchard strip")
    assert now.planting is not None
    before = nights_of(kept, now.planting)
    visit = kept.add(
        VisitRow(now.bed.garden, ON, "sweetpotato/when-to-dig", "", bed=now.bed.id, planting=now.planting.id)
    )
    kept.answer(visit.id, "recent_nights", Known(Span(10, 90), Origin.CANT_TELL))
    kept.answer(visit.id, "frost", Known(Choices(frozenset({"none"})), Origin.ANSWERED, "none"))
    assert nights_of(kept, now.planting) == before
    kept.answer(visit.id, "forecast_low", Known(exactly(31), Origin.ANSWERED, "31"))
    kept.answer(visit.id, "forecast_low_in", Known(Span(1, 2), Origin.ANSWERED, "1..2"))
    (new,) = nights_of(kept, now.planting)[len(before) :]
    assert new == (True, date(2031, 10, 5), date(2031, 10, 6), Span(31, 31))


def test_a_sorted_test_dig_has_its_counts_and_no_growth(kept: Notebook) -> None:
    now = bed(kept, "River bed")
    assert now.planting is not None
    trial = kept.add(TrialRow(now.planting.id, date(2031, 10, 9), 1.75, 3.5))
    kept.add(HillRow(trial.id, "1", small=2, wanted=5, big=1))
    report = report_of(kept, trial)
    assert (report.root_count, report.only_counted) == (8, True)
    assert "5 of wanted" in of(kept, "River bed")[1].tell()[1]
    assert headings(kept, "River bed") == ["Nights", "Roots", "Mean root"]


def test_a_new_planting_begins_with_no_pictures_of_the_old(kept: Notebook) -> None:
    now = bed(kept, "River bed")
    assert now.planting is not None
    kept.change(now.planting._replace(ended=ON))
    kept.add(PlantingRow(now.bed.id, ON, ON))
    assert headings(kept, "River bed") == []


def test_two_digs_of_one_day_tell_of_no_growth(kept: Notebook) -> None:
    now = bed(kept, "Orchard strip")
    assert now.planting is not None
    for _ in range(2):
        hill = kept.add(HillRow(kept.add(TrialRow(now.planting.id, ON, 1.75, 3.5)).id, "1"))
        kept.add(RootRow(hill.id, 2.0))
    assert headings(kept, "Orchard strip") == ["Nights", "Roots"]


def test_a_garden_in_metric_units_is_drawn_in_them(kept: Notebook) -> None:
    kept.change(kept.all(GardenRow)[0]._replace(units=Units.METRIC))
    nights, roots, growth = of(kept, "River bed")
    assert nights.draw(76, 12)[0].startswith("Nights, °C")
    assert "○1" in "".join(nights.draw(76, 12))  # 33 °F
    assert roots.draw(76, 12)[0].startswith("Roots, cm")
    assert "5.5●" in "".join(growth.draw(76, 16))  # a mean of 2.18 in
    assert of(kept, "Gate bed")[0].draw(76, 12)[0].startswith("Warmth, °C (· 26.7 to 32.2")


def test_where_a_bed_is_dug_the_air_comes_first_and_the_ground_stays_to_be_seen(kept: Notebook) -> None:
    moved = bed(kept, "River bed")._replace(planting=None, lots=bed(kept, "Gate bed").lots)
    assert [picture.of.partition(" since")[0] for picture in pictures(kept, moved, ON)] == ["Curing place"] * 2 + [
        ""
    ] * 3
