"""A bed dug bit by bit, and every pound of its lots accounted for."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from assistant.cases.notebooks import notebook_data
from assistant.garden.demo import TODAY
from assistant.garden.entries.corrections import change
from assistant.garden.entries.digs import record_dig
from assistant.garden.entries.gardens import size_bed
from assistant.garden.entries.lots import note_lot
from assistant.garden.entries.plantings import plant
from assistant.garden.entries.rooms import move_to_store
from assistant.garden.entries.taking_out import take_out_entry
from assistant.garden.entries.visits import frost_tonight
from assistant.garden.standing.accounts import account_of, account_words
from assistant.garden.standing.finding import find_bed
from assistant.garden.standing.stages import BedNow, Stage
from assistant.model.notebook import DigRow, LotEntryRow, LotRow, PlantingRow, StayRow, VisitRow
from assistant.model.quantities import NotAValue, Units
from assistant.notebook import Notebook
from assistant.reckoning.lot_ledger import DoesNotAddUp


def river(notebook: Notebook, on: date = TODAY) -> BedNow:
    return find_bed(notebook, "River bed", on)


def dig(notebook: Notebook, text: str, on: date = TODAY) -> BedNow:
    record_dig(notebook, river(notebook, on), text, on)
    return river(notebook, on)


def words_of_ground(now: BedNow) -> str:
    return next(need.words for need in now.needs if need.stage is Stage.DIG)


@pytest.mark.parametrize(
    ("size", "slips", "texts", "left"),
    [
        ("40 ft", "", ("12 ft, 30 lb", "20 ft", "8 ft, 9 lb"), ("28 ft left", "8 ft left")),
        ("", ", 50 slips", ("20 hills, 30 lb", "1 hill", "29 hills"), ("30 hills left", "29 hills left")),
        ("", "", ("part, 30 lb", "3 ft", "rest, 9 lb"), ("a part is left", "a part is left")),
        ("40 ft", "", ("12 ft, 30 lb", "part, 5 lb", "60 lb"), ("28 ft left", "at most 28 ft left")),
        ("40 ft", ", 50 slips", ("20 hills", "12 ft", ""), ("30 hills left", "12 ft left")),
        ("40 ft", ", 50 slips", ("12 ft", "20 hills", "15 hills"), ("28 ft left", "12 ft left")),
    ],
)
def test_a_bed_stays_to_be_dug_with_what_is_left_until_the_last_of_it_is_out(
    notebook: Notebook, size: str, slips: str, texts: tuple[str, ...], left: tuple[str, ...]
) -> None:
    [planting] = notebook.all(PlantingRow, bed=river(notebook).bed.id)
    change(notebook, river(notebook).bed, planting, f"2031-06-02, Beauregard{slips}")
    if size:
        size_bed(notebook, river(notebook).bed, size)
    for number, (text, still) in enumerate(zip(texts, left, strict=False), start=1):
        now = dig(notebook, text)
        assert words_of_ground(now) == f"Dig before the frost; {still}"
        assert (now.next.stage, len(now.lots)) == (Stage.DIG, number)
    now = dig(notebook, texts[-1])
    assert (now.planting, now.stage, len(now.lots)) == (None, Stage.CURING, 3)
    assert len({store.lot.name for store in now.lots}) == 3


def test_the_rest_of_a_bed_that_may_wait_stays_to_be_dug_when_it_was_to_be(notebook: Notebook) -> None:
    before = find_bed(notebook, "Orchard strip", TODAY)
    assert before.stage is Stage.WATCH
    record_dig(notebook, before, "part, 5 lb", TODAY)
    need = next(need for need in find_bed(notebook, "Orchard strip", TODAY).needs if need.by == before.next.by)
    assert (need.stage, need.words) == (Stage.DIG, f"{before.next.words}; a part is left")


def test_the_rest_is_visited_and_advised_on_and_the_frost_touches_nothing_else(notebook: Notebook) -> None:
    dig(notebook, "part, 30 lb")
    lots = notebook.all(LotRow), notebook.all(LotEntryRow), notebook.all(StayRow)
    frost_tonight(notebook, "29 F", TODAY + timedelta(days=2))
    now = river(notebook, TODAY + timedelta(days=2))
    assert now.visit
    assert now.visit.day == TODAY + timedelta(days=2)
    assert words_of_ground(now).startswith("Dig")
    assert (notebook.all(LotRow), notebook.all(LotEntryRow), notebook.all(StayRow)) == lots
    visits = len(notebook.all(VisitRow))
    dig(notebook, "rest", TODAY + timedelta(days=3))
    frost_tonight(notebook, "29 F", TODAY + timedelta(days=3))
    assert len(notebook.all(VisitRow)) == visits + 3  # of the four beds that had roots in the ground


def test_a_bed_that_is_yet_to_be_planted_has_nothing_for_the_frost(notebook: Notebook) -> None:
    plant(notebook, find_bed(notebook, "Beech", TODAY).bed, "2031-10-04", TODAY)
    assert all(visit.day <= TODAY for visit in notebook.all(VisitRow))
    before = {visit.bed for visit in notebook.all(VisitRow, day=TODAY - timedelta(days=1))}
    frost_tonight(notebook, "29 F", TODAY - timedelta(days=1))
    touched = {visit.bed for visit in notebook.all(VisitRow, day=TODAY - timedelta(days=1))} - before
    assert find_bed(notebook, "Beech", TODAY).bed.id not in touched
    assert len(touched) == 4


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("41 ft", "41 ft would be dug of 40 ft in River bed; check the lengths"),
        ("51 hills", "51 hills would be dug of 50 slips set"),
        ("0 hills", "is no weight"),
        ("12 ft, 3 ft", "tells the same twice"),
        ("12 ft 30 lb", "is no weight; write the weight of all that was dug"),
        ("-3 lb", "is no weight"),
    ],
)
def test_a_part_that_cannot_be_is_refused(notebook: Notebook, text: str, why: str) -> None:
    [planting] = notebook.all(PlantingRow, bed=river(notebook).bed.id)
    change(notebook, river(notebook).bed, planting, "2031-06-02, 50 slips")
    size_bed(notebook, river(notebook).bed, "40 ft")
    before = notebook_data(notebook)
    with pytest.raises(NotAValue, match=why):
        dig(notebook, text)
    assert notebook_data(notebook) == before


def test_taking_the_last_dig_out_leaves_its_part_in_the_ground(notebook: Notebook) -> None:
    size_bed(notebook, river(notebook).bed, "40 ft")
    dig(notebook, "12 ft, 30 lb")
    dig(notebook, "28 ft, 60 lb")
    last = notebook.recent(DigRow, 1)[0]
    take_out_entry(notebook, river(notebook).bed, last)
    assert words_of_ground(river(notebook)).endswith("28 ft left")
    with pytest.raises(NotAValue, match="12 ft would be dug of 10 ft in River bed"):
        size_bed(notebook, river(notebook).bed, "10 ft")


def test_a_dig_and_a_line_may_be_of_another_day(notebook: Notebook) -> None:
    note_lot(notebook, well(notebook), "2031-09-30, used 1 lb", TODAY)
    assert notebook.recent(LotEntryRow, 1)[0].day == date(2031, 9, 30)
    for text, why in (("2031-05-01, 30 lb", "was planted after"), ("2031-13-01", "there is no day 2031-13-01")):
        with pytest.raises(NotAValue, match=why):
            dig(notebook, text)
    dig(notebook, "2031-10-04, part")
    dig(notebook, "2031-10-06, 30 lb")
    assert [row.day for row in notebook.recent(DigRow, 2)] == [date(2031, 10, 6), date(2031, 10, 4)]


def test_of_several_lots_one_is_named(notebook: Notebook) -> None:
    dig(notebook, "part, 30 lb")
    now = dig(notebook, "60 lb", TODAY + timedelta(days=1))
    with pytest.raises(NotAValue, match=r"River bed has several lots: River bed 2031, River bed 2031 \(2\); write"):
        note_lot(notebook, now, "used 3 lb", TODAY + timedelta(days=1))
    with pytest.raises(NotAValue, match="'2030' is no one lot of River bed"):
        note_lot(notebook, now, "used 3 lb, 2030", TODAY + timedelta(days=1))
    for name in ("(2)", "River bed 2031"):
        note_lot(notebook, now, f"used 3 lb, {name}", TODAY + timedelta(days=1))
    left = {store.lot.name: store.account.left for store in river(notebook).lots if store.account}
    assert left == {"River bed 2031": 27, "River bed 2031 (2)": 57}
    cures = [need.words for need in river(notebook, TODAY + timedelta(days=1)).needs if need.stage is Stage.CURING]
    assert "Day 1 of the cure of River bed 2031 (2): read the air" in cures
    assert move_to_store(notebook, river(notebook), TODAY + timedelta(days=6)).name == "River bed 2031"
    assert move_to_store(notebook, river(notebook), TODAY + timedelta(days=8)).name == "River bed 2031 (2)"


def well(notebook: Notebook) -> BedNow:
    return find_bed(notebook, "Well bed", TODAY)


def test_every_pound_of_a_lot_is_accounted_for(notebook: Notebook) -> None:
    for text in ("apart 10 lb nicked", "used 4 lb nicked", "weighed 48 lb", "given 2 lb", "discarded 1 lb sound"):
        note_lot(notebook, well(notebook), text, TODAY)
    [store] = well(notebook).lots
    account = store.account
    assert account
    assert account.dug == pytest.approx(sum(account.out.values()) + account.shrunk + account.left)
    assert account_words(account, Units.US) == (
        "61 lb dug, 9.5 lb used, 2 lb given, 1 lb discarded, 3.5 lb shrunk, 45 lb left"
    )
    lot_ledger = account_of(store.lot, notebook.all(LotEntryRow, lot=store.lot.id))
    assert lot_ledger == account


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("used 56 lb", r"56 lb went out of the lot Well bed 2031 where 55.5 lb were left"),
        ("weighed 70 lb", "roots do not grow in store"),
        ("used 1 lb nicked", "1 lb of its nicked roots went out of the lot Well bed 2031 where 0.0 lb"),
        ("apart 5 lb", "which roots were set apart"),
        ("", "write looked, used"),
        ("used", "takes a weight"),
    ],
)
def test_a_line_that_does_not_add_up_is_refused_in_a_sentence(notebook: Notebook, text: str, why: str) -> None:
    before = notebook_data(notebook)
    with pytest.raises(NotAValue, match=why):
        note_lot(notebook, well(notebook), text, TODAY)
    assert notebook_data(notebook) == before


def test_a_line_before_the_dig_is_refused(notebook: Notebook) -> None:
    with pytest.raises(NotAValue, match="'looked' of 1 August 2031 would be before Well bed 2031 was dug"):
        note_lot(notebook, well(notebook), "looked", date(2031, 8, 1))


def test_a_lot_that_was_not_weighed_is_accounted_for_from_its_first_weighing(notebook: Notebook) -> None:
    now = dig(notebook, "")
    note_lot(notebook, now, "used 3 lb", TODAY)
    assert river(notebook).lots[0].account is None
    note_lot(notebook, now, "weighed 80 lb", TODAY + timedelta(days=1))
    note_lot(notebook, now, "used 5 lb", TODAY + timedelta(days=2))
    [store] = river(notebook).lots
    assert store.account
    assert (store.account.dug, store.account.left) == (80, 75)
    note_lot(notebook, now, "dug 90 lb", TODAY + timedelta(days=3))
    [store] = river(notebook).lots
    assert store.account
    assert (store.account.dug, store.account.shrunk, store.account.left) == (90, 7, 75)
    assert store.account.began == TODAY


def test_a_ledger_that_never_added_up_is_told_and_stands_in_no_way(notebook: Notebook) -> None:
    [store] = well(notebook).lots
    wrong = notebook.add(LotEntryRow(store.lot.id, date(2031, 9, 22), "used", "", 400))
    with pytest.raises(DoesNotAddUp):
        account_of(store.lot, notebook.all(LotEntryRow, lot=store.lot.id))
    assert well(notebook).next.words.startswith("Mend the ledger: 400 lb went out of the lot Well bed 2031")
    note_lot(notebook, well(notebook), "looked", TODAY)
    change(notebook, well(notebook).bed, wrong, "2031-09-22, used 4 lb")
    [store] = well(notebook).lots
    assert store.account
    assert store.account.left == 51.5
