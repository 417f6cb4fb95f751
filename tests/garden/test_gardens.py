"""Several gardens in one notebook: names, units, frost dates, what is shown, and beds that move."""

from __future__ import annotations

from datetime import date

import pytest

from assistant.cases.notebooks import notebook_data
from assistant.garden.demo import GARDEN, TODAY
from assistant.garden.entries.gardens import (
    add_bed,
    add_garden,
    change_garden,
    frost_words,
    move_bed,
    rename_bed,
    size_bed,
)
from assistant.garden.entries.plantings import plant
from assistant.garden.entries.rooms import log_air, moment_of
from assistant.garden.entries.soundness import faults
from assistant.garden.entries.taking_out import take_out_garden
from assistant.garden.entries.visits import begin, frost_tonight
from assistant.garden.standing.finding import find_bed, find_garden
from assistant.garden.standing.overview import beds_now
from assistant.garden.telling.timeline import timeline
from assistant.model.notebook import AirRow, AnswerRow, BedRow, GardenRow, VisitRow
from assistant.model.quantities import NotAValue, Units
from assistant.notebook import Notebook


@pytest.fixture
def hill(notebook: Notebook) -> GardenRow:
    """A second garden, in metric units, with a bed of a name that the first has too."""
    garden = change_garden(notebook, add_garden(notebook, "  Hill  "), "metric")
    add_bed(notebook, "Hill/River bed")
    return garden


def test_beds_of_one_name_in_two_gardens_are_told_apart(notebook: Notebook, hill: GardenRow) -> None:
    with pytest.raises(NotAValue, match="'river bed' is more than one bed; write Otter Bend/River bed or Hill/River"):
        find_bed(notebook, "river bed", TODAY)
    assert find_bed(notebook, "hill/river BED", TODAY).bed.garden == hill.id
    assert find_bed(notebook, "ott/riv", TODAY).garden == find_garden(notebook, GARDEN)
    notebook.show(hill.id)
    assert find_bed(notebook, "River bed", TODAY).bed.garden == hill.id
    assert find_bed(notebook, "Gate", TODAY).bed.garden != hill.id


def test_no_name_is_the_name_of_nothing(notebook: Notebook) -> None:
    for find in (lambda: find_bed(notebook, " ", TODAY), lambda: find_garden(notebook, "")):
        with pytest.raises(NotAValue, match="is no"):
            find()


def test_all_beds_are_shown_or_those_of_one_garden(notebook: Notebook, hill: GardenRow) -> None:
    assert [now.bed.name for now in beds_now(notebook, TODAY, hill.id)] == ["River bed"]
    everywhere = beds_now(notebook, TODAY)
    assert len(everywhere) == 9
    assert {now.garden.name for now in everywhere if now.garden} == {"Hill", GARDEN}


def test_a_new_bed_goes_into_the_garden_that_is_named_or_shown(notebook: Notebook, hill: GardenRow) -> None:
    with pytest.raises(NotAValue, match="there are 2 gardens; write which, such as Otter Bend/Top"):
        add_bed(notebook, "Top")
    notebook.show(hill.id)
    assert add_bed(notebook, "Top").garden == hill.id
    assert add_bed(notebook, "otter bend/Top").garden != hill.id
    with pytest.raises(NotAValue, match="there is a bed named top already in Hill"):
        add_bed(notebook, "top")


@pytest.mark.parametrize("text", ["", "x" * 61, "hill", "a/b"])
def test_a_garden_needs_a_name_of_its_own(notebook: Notebook, hill: GardenRow, text: str) -> None:
    with pytest.raises(NotAValue):
        add_garden(notebook, text)
    with pytest.raises(NotAValue):
        change_garden(notebook, notebook.all(GardenRow)[0], f"name {text}")
    assert len(notebook.all(GardenRow)) == 2


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("first frost 09-25 10-05 10-20", "first frost 09-25 10-05 10-20"),
        ("last frost 04-12 04-28 05-12", "last frost 04-12 04-28 05-12"),
        ("first frost 12-20 01-10 02-05", "first frost 12-20 01-10 02-05"),
    ],
)
def test_each_garden_has_its_own_frost_dates(notebook: Notebook, hill: GardenRow, text: str, told: str) -> None:
    first = notebook.all(GardenRow)[0]
    before = frost_words(notebook, first)
    change_garden(notebook, hill, text)
    change_garden(notebook, hill, text)
    assert (frost_words(notebook, hill), frost_words(notebook, first)) == (told, before)
    change_garden(notebook, hill, f"{' '.join(text.split()[:2])} none")
    assert frost_words(notebook, hill) == "no frost dates"


@pytest.mark.parametrize(
    "text",
    ["", "furlongs", "first frost", "first frost 10-08", "first frost 10-20 10-08 11-02", "last frost 13-40 1-1 2-2"],
)
def test_what_no_garden_has_is_refused(notebook: Notebook, hill: GardenRow, text: str) -> None:
    before = notebook_data(notebook)
    with pytest.raises(NotAValue):
        change_garden(notebook, hill, text)
    assert notebook_data(notebook) == before


def test_a_garden_of_metric_units_is_written_and_told_in_them(notebook: Notebook, hill: GardenRow) -> None:
    from assistant.garden.entries.digs import record_dig
    from assistant.garden.entries.lots import note_lot

    plant(notebook, find_bed(notebook, "Hill/River", TODAY).bed, "2031-06-01", TODAY)
    kept = begin(notebook, find_bed(notebook, "Hill/River", TODAY), TODAY)
    assert kept.row.units is Units.METRIC
    record_dig(notebook, find_bed(notebook, "Hill/River", TODAY), "40", TODAY)
    log_air(notebook, find_bed(notebook, "Hill/River", TODAY), "29 88", moment_of(TODAY))
    note_lot(notebook, find_bed(notebook, "Hill/River", TODAY), "used 2", TODAY)
    assert notebook.recent(AirRow, 1)[0].temperature == pytest.approx(84.2)
    words = [event.words for event in timeline(notebook, find_bed(notebook, "Hill/River", TODAY).bed)]
    with pytest.raises(NotAValue, match=r"50 kg went out of the lot River bed 2031 where 38.01 kg were left"):
        note_lot(notebook, find_bed(notebook, "Hill/River", TODAY), "used 50", TODAY)
    assert {"Dug: 40 kg", "Air: 29 °C 88 %", "River bed 2031: used 2 kg"} <= set(words)


def test_frost_tonight_reaches_the_garden_that_is_meant(notebook: Notebook, hill: GardenRow) -> None:
    plant(notebook, find_bed(notebook, "Hill/River", TODAY).bed, "2031-06-01", TODAY)
    visits = len(notebook.all(VisitRow))
    frost_tonight(notebook, "-1", TODAY, hill.id)
    assert len(notebook.all(VisitRow)) == visits + 1
    assert notebook.recent(AnswerRow, 2)[1].low == pytest.approx(30.2)
    with pytest.raises(NotAValue, match="write 31 F or -1 C"):
        frost_tonight(notebook, "-1", TODAY)
    assert len(frost_tonight(notebook, "31 F", TODAY)) == 9


def test_a_bed_moves_with_its_visits_and_lots_and_undoing_moves_it_back(notebook: Notebook, hill: GardenRow) -> None:
    before = notebook_data(notebook)
    for name in ("River", "Gate", "Well", "Old"):
        now = find_bed(notebook, f"Otter/{name}", TODAY)
        stage, needs = now.stage, now.needs
        if name == "River":
            with pytest.raises(NotAValue, match="there is a bed named River bed already in Hill"):
                move_bed(notebook, now.bed, hill)
            rename_bed(notebook, now.bed, "Brook bed")
        move_bed(notebook, notebook.get(BedRow, now.bed.id), hill)
        moved = find_bed(notebook, f"Hill/{'Brook' if name == 'River' else name}", TODAY)
        assert (moved.stage, len(moved.needs), faults(notebook, moved.bed)) == (stage, len(needs), ())
        assert {store.lot.garden for store in moved.lots} <= {hill.id}
        assert notebook.check() == ()
    with pytest.raises(NotAValue, match="Old bed is in Hill already"):
        move_bed(notebook, find_bed(notebook, "Old", TODAY).bed, hill)
    for _ in range(5):
        notebook.undo_last()
    assert notebook_data(notebook) == before
    assert notebook.check() == ()


def test_a_garden_goes_only_when_nothing_is_in_it(notebook: Notebook, hill: GardenRow) -> None:
    first = notebook.all(GardenRow)[0]
    with pytest.raises(NotAValue, match="Hill has 1 bed; move or take out River bed first"):
        take_out_garden(notebook, hill)
    for bed in notebook.all(BedRow, garden=first.id):
        move_bed(notebook, rename_bed(notebook, bed, f"{bed.name} moved"), hill)
    with pytest.raises(NotAValue, match="Gate bed 2031 lay or lies in a room of Otter Bend"):
        take_out_garden(notebook, first)
    empty = add_garden(notebook, "Empty")
    notebook.show(empty.id)
    take_out_garden(notebook, empty)
    assert notebook.shown is None


def test_a_bed_has_a_length(notebook: Notebook, hill: GardenRow) -> None:
    bed = find_bed(notebook, "Hill/River", date(2031, 1, 1)).bed
    assert size_bed(notebook, bed, "12").length == pytest.approx(12 / 0.0254)
    assert size_bed(notebook, bed, "40 ft").length == 480
    with pytest.raises(NotAValue, match="no distance in a bed"):
        size_bed(notebook, bed, "long")
