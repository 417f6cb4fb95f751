from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from a_season import everything, season, write_season

from assistant.interview.answers import parse_answer
from assistant.model.case import FrostDates, Garden, MonthDay, WeatherFiles
from assistant.model.notebook import (
    TABLES,
    AirRow,
    AnswerRow,
    BedRow,
    FrostRow,
    GardenRow,
    HillRow,
    LotRow,
    PlantingRow,
    Record,
    RootRow,
    VerdictRow,
    VisitRow,
    garden_of,
)
from assistant.model.place import BadInput
from assistant.model.quantities import Units
from assistant.notebook import Between, Notebook, open_notebook
from assistant.notebook.rows import table_of
from assistant.rulebook import read_rulebook

ON = date(2031, 10, 4)
WHEN_TO_DIG = "sweetpotato/when-to-dig"


def test_every_table_gives_back_the_record_that_was_written(notebook: Notebook) -> None:
    assert {table_of(record) for record in season()} == set(TABLES)
    for record in season():
        written = notebook.add(record)
        assert written == record._replace(id=written.id)  # type: ignore[attr-defined]
        assert notebook.get(type(record), written.id) == written


def test_what_was_written_is_there_when_the_notebook_is_opened_again(path: Path) -> None:
    with open_notebook(path) as notebook:
        write_season(notebook)
        before = everything(notebook)
    with open_notebook(path) as notebook:
        assert everything(notebook) == before


def test_the_answers_of_a_visit_are_on_the_disk_one_by_one(notebook: Notebook, path: Path) -> None:
    rulebook = read_rulebook(WHEN_TO_DIG)
    garden = notebook.add(GardenRow("Home"))
    visit = notebook.add(VisitRow(garden.id, ON, WHEN_TO_DIG, "A look"))
    told = {"planted_on": "about 2031-06-20", "vines": "green, yellowing", "recent_nights": "54..58 F", "roots": "?"}
    case = {}
    for sign, words in told.items():
        case[sign] = parse_answer(rulebook.signs[sign], words, ON, Units.US)
        notebook.answer(visit.id, sign, case[sign])
        with open_notebook(path) as another:
            assert {row.sign: row.known for row in another.all(AnswerRow, visit=visit.id)} == case


def test_an_answer_given_anew_keeps_its_place_and_the_notebook_holds_one(notebook: Notebook) -> None:
    sign = read_rulebook(WHEN_TO_DIG).signs["vines"]
    visit = notebook.add(VisitRow(notebook.add(GardenRow("Home")).id, ON, WHEN_TO_DIG, "A look"))
    first = notebook.answer(visit.id, "vines", parse_answer(sign, "green", ON, Units.US))
    notebook.answer(visit.id, "roots", parse_answer(sign, "?", ON, Units.US))
    again = notebook.answer(visit.id, "vines", parse_answer(sign, "withered", ON, Units.US))
    assert again.id == first.id
    kept = [(row.sign, row.written) for row in notebook.all(AnswerRow)]
    assert kept == [("vines", "withered"), ("roots", "can't tell")]


def test_records_come_in_the_order_in_which_they_were_entered_even_if_the_clock_is_set_back(
    notebook: Notebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    class SetBack(datetime):
        @classmethod
        def now(cls, tz: object = None) -> SetBack:
            return cls(1999, 1, 1)

    notebook.add(GardenRow("First"))
    monkeypatch.setattr("assistant.notebook.book.datetime", SetBack)
    notebook.add(GardenRow("Second"))
    assert [garden.name for garden in notebook.all(GardenRow)] == ["First", "Second"]
    last = notebook.last_entry
    assert last is not None
    assert last.at.year == 1999
    notebook.undo_last()
    assert [garden.name for garden in notebook.all(GardenRow)] == ["First"]


def test_a_number_is_never_given_twice(notebook: Notebook) -> None:
    first = notebook.add(GardenRow("First"))
    notebook.undo_last()
    assert notebook.add(GardenRow("Second")).id > first.id


def test_an_entry_of_several_records_goes_in_whole_or_not_at_all(notebook: Notebook) -> None:
    def half_an_entry() -> None:
        with notebook.entry("a garden with a bed"):
            garden = notebook.add(GardenRow("Home"))
            notebook.add(BedRow(garden.id, "Long bed"))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        half_an_entry()
    assert notebook.all(GardenRow) == ()
    assert notebook.last_entry is None


def test_what_is_refused_amid_an_entry_can_be_caught_and_the_rest_goes_in(notebook: Notebook) -> None:
    with notebook.entry("two gardens"):
        notebook.add(GardenRow("Home"))
        with pytest.raises(BadInput, match="There is one with this name already"):
            notebook.add(GardenRow("Home"))
        notebook.add(GardenRow("Away"))
    assert [garden.name for garden in notebook.all(GardenRow)] == ["Home", "Away"]
    notebook.undo_last()
    assert notebook.all(GardenRow) == ()


def test_taking_out_a_record_takes_all_that_belongs_to_it_and_tells_before_how_much(notebook: Notebook) -> None:
    write_season(notebook)
    bed = notebook.get(BedRow, 1)
    assert notebook.belonging(bed) == {
        "history": 1, "planting": 1, "visit": 1, "answer": 2, "verdict": 1, "test_dig": 1, "hill": 2, "root": 2,
        "dig": 1, "lot": 1, "stay": 1, "lot_entry": 2,
    }  # fmt: skip
    notebook.remove(bed)
    left = {table for table, rows in everything(notebook).items() if rows}
    assert left == {"garden", "frost", "bed", "room", "air"}


def test_control_characters_in_a_text_never_reach_the_file(notebook: Notebook) -> None:
    assert notebook.add(GardenRow("a\x1b[31mb\udc80\x00", note="two\nlines")).name == "a [31mb  "
    assert notebook.all(GardenRow)[0].note == "two\nlines"


GARDEN, BED = GardenRow("Home"), BedRow(1, "Long bed")
PLANTING = PlantingRow(1, date(2031, 6, 1), date(2031, 6, 3))
VISIT = VisitRow(1, ON, WHEN_TO_DIG, "A look")
IMPOSSIBLE: tuple[tuple[str, tuple[Any, ...]], ...] = (
    ("a garden without a name", (GardenRow(""),)),
    ("two gardens of one name", (GARDEN, GARDEN)),
    ("a bed of no garden", (BED,)),
    ("a bed of no length", (GARDEN, BED._replace(length=0.0))),
    ("a frost of no kind", (GARDEN, FrostRow(1, "frost", *[(10, 8)] * 3))),  # type: ignore[arg-type]
    ("planted after it was planted", (GARDEN, BED, PLANTING._replace(planted_to=date(2031, 5, 1)))),
    ("ended before it was planted", (GARDEN, BED, PLANTING._replace(ended=date(2031, 5, 1)))),
    ("a visit to a planting in no bed", (GARDEN, BED, PLANTING, VISIT._replace(planting=1))),
    ("a visit to a planting of another bed",
     (GARDEN, BED, BedRow(1, "Short bed"), PLANTING, VISIT._replace(planting=1, bed=2))),
    ("a visit to a bed of another garden", (GARDEN, GardenRow("Away"), BED, VISIT._replace(garden=2, bed=1))),
    ("an answer that says nothing", (GARDEN, VISIT, AnswerRow(1, "vines", "answered"))),  # type: ignore[arg-type]
    ("an answer from high to low", (GARDEN, VISIT, AnswerRow(1, "n", "answered", "", 2.0, 1.0))),  # type: ignore[arg-type]
    ("half a range", (GARDEN, VISIT, AnswerRow(1, "n", "answered", "", 2.0))),  # type: ignore[arg-type]
    ("a root of no size", (*season()[:13], RootRow(1, length=3.0))),
    ("some counts of a hill", (*season()[:13], HillRow(1, "2", small=1))),
    ("air that nobody measured", (*season()[:7], AirRow(1, datetime(2031, 10, 1)))),
    ("more than all water", (*season()[:7], AirRow(1, datetime(2031, 10, 1), humidity=101.0))),
    ("a lot of no name", (GARDEN, LotRow(1, ""))),
)  # fmt: skip


@pytest.mark.parametrize(("records"), [records for _, records in IMPOSSIBLE], ids=[what for what, _ in IMPOSSIBLE])
def test_what_cannot_be_is_refused_by_the_tables_and_leaves_no_trace(
    notebook: Notebook, records: tuple[Record, ...]
) -> None:
    for record in records[:-1]:
        notebook.add(record)
    before = everything(notebook)
    with pytest.raises(BadInput) as refusal:
        notebook.add(records[-1])
    assert refusal.value.problems[0].code in ("already-there", "belongs-to-nothing", "impossible")
    assert everything(notebook) == before


def test_a_cell_of_the_wrong_type_is_refused_by_the_table(notebook: Notebook) -> None:
    notebook.add(GARDEN)
    with pytest.raises(BadInput):
        notebook.add(BED._replace(length="long"))  # type: ignore[arg-type]


def test_a_record_that_is_gone_cannot_be_changed(notebook: Notebook) -> None:
    garden = notebook.add(GARDEN)
    notebook.remove(garden)
    with pytest.raises(BadInput, match="The garden is no longer in the notebook"):
        notebook.change(garden)


def test_a_garden_s_frost_dates_and_weather_files_come_back_as_a_case_has_them(notebook: Notebook) -> None:
    write_season(notebook)
    (garden,) = notebook.all(GardenRow)
    dates = FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))
    assert garden_of(notebook.all(FrostRow, garden=garden.id)) == Garden({"first_frost": dates})
    assert garden.weather_files == WeatherFiles("station.csv")
    assert notebook.add(GardenRow("Away")).weather_files is None


def test_records_are_found_by_any_of_their_fields(notebook: Notebook) -> None:
    write_season(notebook)
    assert [visit.id for visit in notebook.all(VisitRow, day=ON, planting=1)] == [1]
    assert notebook.all(VisitRow, day=date(2031, 10, 5)) == ()
    assert [answer.sign for answer in notebook.all(AnswerRow, choices=None)] == ["recent_nights"]


def test_a_derivation_comes_back_as_plain_data(notebook: Notebook) -> None:
    write_season(notebook)
    (verdict,) = notebook.all(VerdictRow, visit=1)
    assert verdict.derivation == {
        "fired": ["mild"], "because": {"recent_nights": "60 F"}, "year": 2031, "share": 0.25
    }  # fmt: skip


def test_records_are_found_by_a_range_of_what_they_hold(notebook: Notebook) -> None:
    garden = notebook.add(GardenRow("Home"))
    beds = [notebook.add(BedRow(garden.id, str(length), float(length))) for length in (10, 20, 30, 40)]
    assert notebook.all(BedRow, garden=garden.id, length=Between(20.0, 30.0)) == (beds[1], beds[2])
    assert notebook.all(BedRow, garden=garden.id + 1, length=Between(20.0, 30.0)) == ()
