"""One entry of a bed's story changed or taken out, what rests on it, and undoing."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from assistant.cases.notebooks import notebook_data
from assistant.garden.demo import TODAY
from assistant.garden.entries.corrections import change, change_answer, written
from assistant.garden.entries.digs import record_dig
from assistant.garden.entries.lots import note_lot
from assistant.garden.entries.plantings import plant
from assistant.garden.entries.rooms import log_air, moment_of, move_to_store
from assistant.garden.entries.soundness import faults
from assistant.garden.entries.taking_out import take_out_answer, take_out_entry, what_goes
from assistant.garden.entries.visits import begin
from assistant.garden.standing.finding import find_bed
from assistant.garden.standing.stages import BedNow, Stage
from assistant.garden.telling.timeline import timeline, visit_story
from assistant.model.notebook import (
    AirRow,
    AnswerRow,
    BedRow,
    DigRow,
    HistoryRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    Record,
    StayRow,
    TrialRow,
    VerdictRow,
    VisitRow,
)
from assistant.model.quantities import NotAValue, Units
from assistant.notebook import Notebook


def words_of(notebook: Notebook, visit: VisitRow) -> dict[str, str]:
    """What is told of a visit, by label."""
    return {told.label: told.words for told in visit_story(notebook, visit)}


def bed(notebook: Notebook, name: str, on: date = TODAY) -> BedNow:
    return find_bed(notebook, name, on)


def entry(notebook: Notebook, name: str, kind: type[Record], words: str = "") -> Record:
    """The latest entry of a kind in a bed's story that tells something."""
    events = timeline(notebook, bed(notebook, name).bed)
    return next(event.record for event in events if isinstance(event.record, kind) and words in event.words)


def changed(notebook: Notebook, name: str, record: Record, text: str) -> str:
    """The entry as it is written after a change."""
    row = bed(notebook, name).bed
    change(notebook, row, record, text)
    return written(notebook, row, notebook.get(type(record), record.id))


def test_every_entry_of_every_story_is_written_as_it_can_be_typed_again(notebook: Notebook) -> None:
    before, kinds = notebook_data(notebook), set()
    for row in notebook.all(BedRow):
        for event in timeline(notebook, row):
            assert changed(notebook, row.name, event.record, written(notebook, row, event.record))
            kinds.add(type(event.record))
    assert notebook_data(notebook) == before
    assert kinds == {PlantingRow, VisitRow, TrialRow, DigRow, LotEntryRow, StayRow, AirRow, HistoryRow}


def test_a_dig_of_another_day_takes_its_cure_its_weight_and_the_end_of_the_planting_along(notebook: Notebook) -> None:
    dig = entry(notebook, "Gate bed", DigRow)
    assert changed(notebook, "Gate bed", dig, "2031-09-29, 90 lb") == "2031-09-29, 90 lb"
    now = bed(notebook, "Gate bed")
    [store] = now.lots
    assert (store.stay.since, store.account and store.account.dug) == (date(2031, 9, 29), 90)
    [planting] = notebook.all(PlantingRow, bed=now.bed.id)
    assert planting.ended == date(2031, 9, 29)
    assert faults(notebook, now.bed) == ()


def test_a_dig_of_all_that_was_of_a_part_leaves_the_rest_in_the_ground(notebook: Notebook) -> None:
    dig = entry(notebook, "Gate bed", DigRow)
    assert changed(notebook, "Gate bed", dig, "2031-09-30, part, 96 lb") == "2031-09-30, part, 96 lb"
    assert bed(notebook, "Gate bed").planting is not None
    assert changed(notebook, "Gate bed", dig, "2031-09-30, 96 lb") == "2031-09-30, 96 lb"
    assert bed(notebook, "Gate bed").planting is None


def test_a_weight_below_what_was_used_is_refused_and_says_so(notebook: Notebook) -> None:
    dig = entry(notebook, "Well bed", DigRow)
    before = notebook_data(notebook)
    with pytest.raises(NotAValue, match=r"5.5 lb went out of the lot Well bed 2031 where 5.0 lb were left, on 21 Sept"):
        change(notebook, bed(notebook, "Well bed").bed, dig, "2031-08-26, 5 lb")
    assert notebook_data(notebook) == before


@pytest.mark.parametrize(
    ("name", "kind", "text", "why"),
    [
        ("Well bed", DigRow, "2031-09-05, 61 lb", "was moved on on 2 September 2031; change that day first"),
        ("Well bed", PlantingRow, "2031-09-01", "was dug on 26 August 2031, before that"),
        ("River bed", PlantingRow, "2031-10-01", "the visit of 18 September 2031 would be before the planting"),
        ("Gate bed", StayRow, "2031-10-03", "the reading of 30 September 2031 .* would be of no roots"),
        ("Well bed", LotEntryRow, "2031-08-20, used 5.5 lb", "nothing of the lot Well bed 2031 had been dug|before"),
        ("Well bed", LotEntryRow, "2031-09-21, used 70 lb", "70 lb went out of the lot Well bed 2031 where 61.0 lb"),
        ("Well bed", LotEntryRow, "2031-09-21, dug 70 lb", "on the day of the dig"),
        ("Well bed", LotEntryRow, "soon, used 5 lb", "is not a date"),
        ("Gate bed", AirRow, "2031-10-01 25:00, 84 F", "is no time of day"),
        ("Gate bed", AirRow, "2031-10-01, warm", "is no reading"),
        ("River bed", VisitRow, "2031-05-01", "would be before the planting"),
        ("River bed", TrialRow, "2031-10-04, 2.1; much", "is no root"),
        ("Old bed", HistoryRow, "2029", "is no season"),
    ],
)
def test_a_change_that_cannot_be_is_refused_with_what_rests_on_it(
    notebook: Notebook, name: str, kind: type[Record], text: str, why: str
) -> None:
    record, before = entry(notebook, name, kind), notebook_data(notebook)
    with pytest.raises(NotAValue, match=why):
        change(notebook, bed(notebook, name).bed, record, text)
    assert notebook_data(notebook) == before


def test_a_planting_day_that_was_wrong_is_mended_in_the_visits_that_took_it_over(notebook: Notebook) -> None:
    planting = entry(notebook, "Orchard strip", PlantingRow)
    verdicts = notebook.all(VerdictRow)
    changed(notebook, "Orchard strip", planting, "2031-06-10, Beauregard")
    visit = bed(notebook, "Orchard strip").visit
    assert visit
    told = {answer.sign: answer.written for answer in notebook.all(AnswerRow, visit=visit.id)}
    assert (told["planted_on"], told["variety"]) == ("2031-06-10", "beauregard")
    assert notebook.all(VerdictRow) == verdicts


def test_an_answer_of_a_past_visit_is_changed_or_rubbed_out_and_its_verdict_stays(notebook: Notebook) -> None:
    visit = bed(notebook, "Orchard strip").visit
    assert visit
    then, verdicts = words_of(notebook, visit), notebook.all(VerdictRow)
    change_answer(notebook, visit, "forecast_low", "30 F")
    now = words_of(notebook, visit)
    assert now != then
    assert "dig" in now["by today's rules"].lower()
    take_out_answer(notebook, visit, "forecast_low")
    assert not notebook.all(AnswerRow, visit=visit.id, sign="forecast_low")
    assert notebook.all(VerdictRow) == verdicts
    for _ in range(2):
        notebook.undo_last()
    assert words_of(notebook, visit) == then


@pytest.mark.parametrize("deed", ["change", "take out"])
def test_an_answer_that_is_none_is_refused(notebook: Notebook, deed: str) -> None:
    visit = bed(notebook, "Orchard strip").visit
    assert visit
    with pytest.raises(NotAValue, match=r"'weather' is no (question|answer) of this visit; its answers are planted_on"):
        change_answer(notebook, visit, "weather", "fine") if deed == "change" else take_out_answer(
            notebook, visit, "weather"
        )


def test_a_dig_on_the_wrong_bed_goes_with_its_lot_and_its_readings_and_comes_back(notebook: Notebook) -> None:
    before = notebook_data(notebook)
    dig = entry(notebook, "Gate bed", DigRow)
    assert what_goes(notebook, dig) == "1 lot, 1 line of a ledger, 4 readings of the air"
    take_out_entry(notebook, bed(notebook, "Gate bed").bed, dig)
    now = bed(notebook, "Gate bed")
    assert (now.planting is not None, now.lots) == (True, ())
    assert now.stage is Stage.WATCH
    notebook.undo_last()
    assert notebook_data(notebook) == before


def test_a_dig_on_the_wrong_bed_moves_to_the_right_one_with_all_that_was_noted_of_it(notebook: Notebook) -> None:
    before, readings = notebook_data(notebook), notebook.all(AirRow)
    change(notebook, bed(notebook, "Gate bed").bed, entry(notebook, "Gate bed", DigRow), "bed New ground")
    new, gate = bed(notebook, "New ground"), bed(notebook, "Gate bed")
    assert (new.planting, new.stage, [store.lot.name for store in new.lots]) == (
        None,
        Stage.CURING,
        ["New ground 2031"],
    )
    assert (gate.stage, gate.lots) == (Stage.WATCH, ())
    assert notebook.all(AirRow) == readings
    notebook.undo_last()
    assert notebook_data(notebook) == before


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("Old bed", "nothing grew in Old bed on 30 September 2031; record its planting first"),
        ("River bed", "the visit of 4 October 2031 would be after the last was dug"),
        ("Nowhere", "is no bed"),
    ],
)
def test_a_dig_does_not_move_where_it_cannot_be(notebook: Notebook, name: str, why: str) -> None:
    change(notebook, bed(notebook, "Gate bed").bed, entry(notebook, "Gate bed", DigRow), "2031-09-30, 96 lb")
    begin(notebook, bed(notebook, "River bed"), TODAY)
    before = notebook_data(notebook)
    with pytest.raises(NotAValue, match=why):
        change(notebook, bed(notebook, "Gate bed").bed, entry(notebook, "Gate bed", DigRow), f"bed {name}")
    assert notebook_data(notebook) == before


def test_a_reading_that_other_roots_share_stays(notebook: Notebook) -> None:
    record_dig(notebook, bed(notebook, "River bed"), "30 lb", TODAY)
    log_air(notebook, bed(notebook, "River bed"), "84 F 88 %", moment_of(TODAY))
    dig = entry(notebook, "Gate bed", DigRow)
    assert "4 readings" in what_goes(notebook, dig)  # today's is of the River bed as well
    take_out_entry(notebook, bed(notebook, "Gate bed").bed, dig)
    told = [event for event in timeline(notebook, bed(notebook, "River bed").bed) if isinstance(event.record, AirRow)]
    assert [event.day for event in told] == [TODAY]


def test_a_dig_is_not_taken_out_of_a_bed_that_was_planted_again(notebook: Notebook) -> None:
    plant(notebook, bed(notebook, "Well bed").bed, "2031-10-01", TODAY)
    dig = entry(notebook, "Well bed", DigRow)
    with pytest.raises(NotAValue, match="planted again on 1 October 2031"):
        take_out_entry(notebook, bed(notebook, "Well bed").bed, dig)


def test_a_lot_moved_into_the_store_by_mistake_goes_on_with_its_cure(notebook: Notebook) -> None:
    before = notebook_data(notebook)
    move_to_store(notebook, bed(notebook, "Gate bed"), TODAY)
    take_out_entry(notebook, bed(notebook, "Gate bed").bed, entry(notebook, "Gate bed", StayRow, "to keep"))
    assert bed(notebook, "Gate bed").stage is Stage.CURING
    for _ in range(2):
        notebook.undo_last()
    assert notebook_data(notebook) == before


def test_a_lot_cannot_be_left_lying_nowhere(notebook: Notebook) -> None:
    with pytest.raises(NotAValue, match="Gate bed 2031 would lie nowhere; take out the dig it came from instead"):
        take_out_entry(notebook, bed(notebook, "Gate bed").bed, entry(notebook, "Gate bed", StayRow))


def test_what_was_set_apart_cannot_go_while_some_of_it_was_used(notebook: Notebook) -> None:
    note_lot(notebook, bed(notebook, "Well bed"), "apart 10 lb nicked", TODAY)
    note_lot(notebook, bed(notebook, "Well bed"), "used 8 lb nicked", TODAY)
    row = bed(notebook, "Well bed").bed
    with pytest.raises(NotAValue, match=r"8 lb of its nicked roots went out of the lot Well bed 2031 where 0.0 lb"):
        take_out_entry(notebook, row, entry(notebook, "Well bed", LotEntryRow, "apart"))
    take_out_entry(notebook, row, entry(notebook, "Well bed", LotEntryRow, "used 8 lb"))
    take_out_entry(notebook, row, entry(notebook, "Well bed", LotEntryRow, "apart"))


def test_the_weight_that_was_dug_stays_while_lines_rest_on_it(notebook: Notebook) -> None:
    [line] = notebook.all(LotEntryRow, what="dug", lot=notebook.all(LotRow, name="Well bed 2031")[0].id)
    with pytest.raises(NotAValue, match="'used' of 21 September 2031 rests on the weight that was dug"):
        take_out_entry(notebook, bed(notebook, "Well bed").bed, line)


def test_a_reading_keeps_what_was_not_typed_anew(notebook: Notebook) -> None:
    reading = entry(notebook, "Gate bed", AirRow)
    assert isinstance(reading, AirRow)
    garden = bed(notebook, "Gate bed").garden
    assert garden
    notebook.change(garden._replace(units=Units.METRIC))
    told = written(notebook, bed(notebook, "Gate bed").bed, reading)
    assert "°C" in told
    change(notebook, bed(notebook, "Gate bed").bed, reading, told.replace("08:00", "09:15"))
    now = notebook.get(AirRow, reading.id)
    assert (now.temperature, now.at) == (reading.temperature, datetime(2031, 10, 3, 9, 15))


def test_a_visit_of_another_day_takes_its_test_dig_along(notebook: Notebook) -> None:
    visit = entry(notebook, "River bed", VisitRow)
    changed(notebook, "River bed", visit, "2031-10-03")
    assert {trial.day for trial in notebook.all(TrialRow, visit=visit.id)} == {date(2031, 10, 3)}


def test_hills_typed_anew_replace_those_that_were(notebook: Notebook) -> None:
    trial = entry(notebook, "River bed", TrialRow)
    now = changed(notebook, "River bed", trial, "2031-10-04, 2.1 1.6; 3 2.5x6; small:3 right:2 big:0")
    assert now == "2031-10-04, 2.1in 1.6in; 3in 2.5x6in; small:3 right:2 big:0"
