"""Where each bed of an invented garden stands, and what moves it on."""

from __future__ import annotations

from datetime import timedelta

import pytest

from assistant.garden.demo import TODAY
from assistant.garden.entries.digs import record_dig
from assistant.garden.entries.gardens import add_bed
from assistant.garden.entries.lots import note_lot
from assistant.garden.entries.plantings import plant
from assistant.garden.entries.rooms import log_air, moment_of, move_to_store
from assistant.garden.standing.finding import find_bed
from assistant.garden.standing.overview import beds_now
from assistant.garden.standing.stages import BedNow, Stage
from assistant.garden.telling.timeline import timeline
from assistant.model.notebook import BedRow
from assistant.model.quantities import NotAValue
from assistant.notebook import Notebook

STAGES = {
    "River bed": Stage.DIG,
    "Gate bed": Stage.CURING,
    "Orchard strip": Stage.WATCH,
    "South wall": Stage.WATCH,
    "New ground": Stage.WATCH,
    "Well bed": Stage.KEEPING,
    "Beech corner": Stage.RESTING,
    "Old bed": Stage.RESTING,
}


def bed(notebook: Notebook, name: str) -> BedNow:
    return find_bed(notebook, name, TODAY)


def test_every_bed_stands_in_its_stage_and_the_frost_comes_first(notebook: Notebook) -> None:
    beds = beds_now(notebook, TODAY)
    assert {now.bed.name: now.stage for now in beds} == STAGES
    assert beds[0].bed.name == "River bed"
    assert [now.stage for now in beds[-2:]] == [Stage.RESTING] * 2


def test_of_two_beds_due_today_the_one_to_dig_comes_before_the_one_to_look_at(notebook: Notebook) -> None:
    order = [now.stage for now in beds_now(notebook, TODAY) if now.next.pressing(TODAY)[0] == TODAY]
    assert order == sorted(order, key=list(Stage).index)
    assert len(set(order)) == 3


def test_a_bed_goes_from_planting_to_store_and_to_rest(notebook: Notebook) -> None:
    made = add_bed(notebook, "  Far   end ")
    assert bed(notebook, "far end").next.words == "Free for sweet potatoes"
    planted = plant(notebook, made, "20 June, Beauregard", TODAY)
    assert (planted.planted_from.month, planted.planted_from.day, planted.variety) == (6, 20, "Beauregard")
    early = find_bed(notebook, "Far", planted.planted_from)
    assert (early.stage, early.next.by) == (Stage.GROWING, planted.planted_from + timedelta(days=80))
    record_dig(notebook, bed(notebook, "Far"), "40 lb", TODAY)
    assert bed(notebook, "Far").stage is Stage.CURING
    log_air(notebook, bed(notebook, "Far"), "84 F 88 %", moment_of(TODAY))
    assert bed(notebook, "Far").next.by == TODAY + timedelta(days=1)
    move_to_store(notebook, bed(notebook, "Far"), TODAY + timedelta(days=6))
    keeping = find_bed(notebook, "Far", TODAY + timedelta(days=7))
    assert keeping.stage is Stage.KEEPING
    assert keeping.next.by == TODAY + timedelta(days=6 + 28)  # a look every four weeks: assistant.reckoning.keeping
    note_lot(notebook, keeping, "used 40 lb", TODAY + timedelta(days=60))
    after = find_bed(notebook, "Far", TODAY + timedelta(days=60))
    assert (after.stage, after.next.words) == (Stage.RESTING, "Rests until 2035")  # three seasons off: 2032 to 2034


def test_a_bed_with_black_rot_rests_four_seasons(notebook: Notebook) -> None:
    assert bed(notebook, "Old bed").next.words == "Rests until 2034"  # dug in 2029, and 2030 to 2033 off


def test_a_cold_store_presses_at_once(notebook: Notebook) -> None:
    log_air(notebook, bed(notebook, "Well bed"), "45 F 85 %", moment_of(TODAY))
    need = bed(notebook, "Well bed").next
    assert need.words.startswith("Warm the store")
    assert need.by == TODAY


@pytest.mark.parametrize("text", ["", "x" * 61, "river BED"])
def test_a_bed_needs_a_name_of_its_own(notebook: Notebook, text: str) -> None:
    with pytest.raises(NotAValue):
        add_bed(notebook, text)
    assert len(notebook.all(BedRow)) == len(STAGES)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda notebook: record_dig(notebook, bed(notebook, "Old bed"), "", TODAY),
        lambda notebook: record_dig(notebook, bed(notebook, "River bed"), "much", TODAY),
        lambda notebook: log_air(notebook, bed(notebook, "River bed"), "84 F", moment_of(TODAY)),
        lambda notebook: log_air(notebook, bed(notebook, "Gate bed"), "warm", moment_of(TODAY)),
        lambda notebook: note_lot(notebook, bed(notebook, "Well bed"), "used 900 lb", TODAY),
        lambda notebook: note_lot(notebook, bed(notebook, "Well bed"), "danced", TODAY),
        lambda notebook: move_to_store(notebook, bed(notebook, "River bed"), TODAY),
        lambda notebook: plant(notebook, bed(notebook, "River bed").bed, "20 June", TODAY),
        lambda notebook: plant(notebook, bed(notebook, "Old bed").bed, "someday", TODAY),
        lambda notebook: plant(notebook, bed(notebook, "Old bed").bed, "can't tell", TODAY),
        lambda notebook: find_bed(notebook, "Nowhere", TODAY),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_and_leaves_no_trace(notebook: Notebook, wrong: object) -> None:
    before = notebook.last_entry
    assert callable(wrong)
    with pytest.raises(NotAValue):
        wrong(notebook)
    assert notebook.last_entry == before


def test_a_bed_dug_in_part_without_a_look_has_its_rest_to_be_dug(notebook: Notebook) -> None:
    new = bed(notebook, "New ground")
    assert new.next.words == "First look at the bed"
    record_dig(notebook, new, "part, 30 lb", TODAY)
    after = bed(notebook, "New ground")
    assert after.stage is Stage.DIG
    assert after.next.words.startswith("Dig the rest; ")
    assert after.next.by == TODAY


def test_the_invented_garden_is_there_for_good_and_what_is_entered_in_it_can_be_undone(notebook: Notebook) -> None:
    assert notebook.last_entry is None
    record_dig(notebook, bed(notebook, "New ground"), "30 lb", TODAY)
    assert notebook.undo_last() is not None
    assert notebook.undo_last() is None
    assert {now.bed.name for now in beds_now(notebook, TODAY)} == set(STAGES)


def test_what_grew_in_a_bed_is_told_without_the_hyphens_of_its_name(notebook: Notebook) -> None:
    told = [event.words for event in timeline(notebook, bed(notebook, "Old bed").bed)]
    assert "Grew sweet potatoes, with black rot" in told
